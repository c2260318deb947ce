package console

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawn is a set whose HT goes up with its mains, as every set's does.
func drawn(t *rapid.T) []plotPoint {
	n := rapid.IntRange(1, 12).Draw(t, "steps")
	set, ht := 0.0, 0.0
	var points []plotPoint
	for range n {
		set += rapid.Float64Range(0.5, 60).Draw(t, "more volts")
		ht += rapid.Float64Range(0, 90).Draw(t, "more HT")
		low := rapid.Float64Range(0, 1).Draw(t, "least")
		points = append(points, plotPoint{set: set, least: low * ht, expected: ht, most: 1.1 * ht, cold: 1.4 * ht})
	}
	points[n-1].cold++ // never all nothing
	return points
}

// inside gives the cells within the frame, the lowest row first.
func inside(t interface{ Fatalf(string, ...any) }, lines []string) [][]rune {
	if len(lines) != plotRows+2 {
		t.Fatalf("%d lines, want %d", len(lines), plotRows+2)
	}
	var cells [][]rune
	for i := plotRows - 1; i >= 0; i-- {
		_, row, ok := strings.Cut(lines[i], "|")
		if !ok || strings.Index(lines[i], "|") != 7 {
			t.Fatalf("the frame is broken at %q", lines[i])
		}
		cells = append(cells, []rune(row))
	}
	return cells
}

func TestEveryMarkIsInsideTheFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawn(t)
		lines, _, err := plotHT(points, rapid.Float64Range(0, 2000).Draw(t, "rating"))
		if err != nil {
			t.Fatalf("%v", err)
		}
		for _, line := range lines {
			if len(line) > 76 {
				t.Fatalf("%d columns: %q", len(line), line)
			}
		}
		expected := 0
		for _, row := range inside(t, lines) {
			if len(row) > plotColumns {
				t.Fatalf("%d cells", len(row))
			}
			expected += strings.Count(string(row), string(markExpected))
		}
		if expected == 0 || expected > len(points) {
			t.Fatalf("%d expected values for %d steps", expected, len(points))
		}
	})
}

// HT that goes up with the mains is never drawn going down.
func TestMonotoneValuesAreDrawnMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines, _, err := plotHT(drawn(t), 0)
		if err != nil {
			t.Fatalf("%v", err)
		}
		last := 0
		cells := inside(t, lines)
		for column := range plotColumns {
			lowest, highest := -1, -1
			for row := range cells {
				if column < len(cells[row]) && cells[row][column] == markExpected {
					if lowest < 0 {
						lowest = row
					}
					highest = row
				}
			}
			if lowest < 0 {
				continue
			}
			if lowest < last {
				t.Fatalf("falls at column %d:\n%s", column, strings.Join(lines, "\n"))
			}
			last = highest
		}
	})
}

func TestAPlotRefusesWhatIsNoVoltage(t *testing.T) {
	t.Parallel()
	good := plotPoint{set: 115, least: 60, expected: 129, most: 184, cold: 182}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e300} {
		for name, change := range map[string]func(*plotPoint){
			"set":      func(p *plotPoint) { p.set = bad },
			"least":    func(p *plotPoint) { p.least = bad },
			"expected": func(p *plotPoint) { p.expected = bad },
			"most":     func(p *plotPoint) { p.most = bad },
			"cold":     func(p *plotPoint) { p.cold = bad },
		} {
			p := good
			change(&p)
			if lines, _, err := plotHT([]plotPoint{good, p}, 0); err == nil || lines != nil {
				t.Errorf("%s %g is drawn", name, bad)
			}
		}
	}
	if _, _, err := plotHT(nil, 450); err == nil {
		t.Error("a plot of nothing is drawn")
	}
}

// The rating is drawn across, or said not to be.
func TestTheRatingIsDrawnWhereItHasARow(t *testing.T) {
	t.Parallel()
	points := []plotPoint{{set: 230, least: 237, expected: 264, most: 291, cold: 368}} // rows of 30 V, the top one 390 V
	for _, c := range []struct {
		rating float64
		want   bool
	}{{350, true}, {390, true}, {410, false}, {450, false}, {0, false}, {math.NaN(), false}, {math.Inf(1), false}, {1e300, false}} {
		lines, rated, err := plotHT(points, c.rating)
		across := strings.Count(strings.Join(lines, "\n"), "=")
		if err != nil || rated != c.want || (across >= plotColumns-1) != c.want {
			t.Errorf("%g V: told %v, %d marks, %v", c.rating, rated, across, err)
		}
	}
}
