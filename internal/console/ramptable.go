package console

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/powerup/internal/session"
)

// rampParts show what the circuit says of every step of the ramp: as a table, and
// the same figures of HT1 as a plot.
func rampParts(r session.Ramp) []Part {
	if len(r.Steps) == 0 && len(r.Unknown) == 0 {
		return nil
	}
	table := Part{
		ID:    "ramp-table",
		Rows:  []session.Row{{Label: "RAMP", Text: "computed for a healthy set at the volts of each step; a session computes again at the volts read"}},
		Drawn: slices.Clone(rampHead),
		Cells: [][]string{rampColumns},
		Notes: []session.Row{
			{Label: "Columns", Text: "mains A: at the set's primary. HT1 passes: the window. HT1 cold: at most so much while cathodes are cold. Ripple: what a meter shows on a.c. volts, not peak to peak"},
			{Label: "Two-sided", Text: twoSidedWords(r)},
		},
	}
	for _, s := range r.Steps {
		cells := rampCells(s)
		table.Drawn, table.Cells = append(table.Drawn, rampRow(cells)), append(table.Cells, cells)
	}
	if len(r.Unknown) > 0 {
		table.Notes = append(table.Notes, session.Row{Label: "Not known", Text: strings.Join(r.Unknown, ", ") + ": not computed, so not shown"})
	}
	return []Part{table, plotPart(r)}
}

// rampColumns head the cells of a step, and rampHead the same in a row of text.
var rampColumns = []string{"step of tap", "set V", "lamp", "mains A", "lamp V", "HT1 expect V", "HT1 passes V", "HT1 cold V", "HT2 V", "ripple at HT1 V"}

var rampHead = []string{
	"  step    set       mains  lamp      HT1          HT1      HT1   HT2   ripple",
	" of tap     V  lamp     A     V  expect V     passes V  cold V     V  at HT1 V",
}

// rampCells are one step. A one-sided step has no least: its window begins at
// nothing.
func rampCells(s session.RampStep) []string {
	f, lamp := s.Figures, "out"
	if s.Lamp != nil {
		lamp = "in"
	}
	least := "0"
	if s.TwoSided {
		least = figure(s.HT1.Pass.Lo)
	}
	return []string{
		fmt.Sprintf("%g %%", float64(s.Rung)), fmt.Sprintf("%.1f", f.Set.X), lamp, fmt.Sprintf("%.3f", f.Primary.X), figure(f.Lamp.X),
		figure(f.HT1.X), least + " to " + figure(s.HT1.Pass.Hi), figure(float64(f.Cold)), figure(f.HT2.X), figure(float64(f.Shown)),
	}
}

// rampRow lays cells out under rampHead.
func rampRow(c []string) string {
	return fmt.Sprintf("%7s  %5s  %-4s %5s %5s  %8s  %11s  %6s  %4s  %9s", c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8], c[9])
}

// figure prints volts with three digits, none of them after whole hundreds.
func figure(v float64) string {
	switch {
	case v == 0:
		return "0"
	case math.Abs(v) < 9.995:
		return fmt.Sprintf("%.2f", v)
	case math.Abs(v) < 99.95:
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}

// twoSidedWords says in which steps HT1 can be too low.
func twoSidedWords(r session.Ramp) string {
	var steps []string
	for _, s := range r.Steps {
		if !s.TwoSided {
			continue
		}
		text := fmt.Sprintf("%g %%", float64(s.Rung))
		if s.Lamp != nil {
			text += " lamp in"
		}
		steps = append(steps, text)
	}
	if len(steps) == 0 {
		return fmt.Sprintf("from %v of the tap: none of these steps; 0 V passes at every one and proves nothing", r.TwoSidedFrom)
	}
	return fmt.Sprintf("from %v of the tap: %s. Below, 0 V passes and proves nothing", r.TwoSidedFrom, strings.Join(steps, ", "))
}

func plotPart(r session.Ramp) Part {
	points := make([]plotPoint, len(r.Steps))
	for i, s := range r.Steps {
		points[i] = pointOf(s)
	}
	part := Part{ID: "ramp-plot", Joined: true}
	lines, drawn, err := plotHT(points, float64(r.Rating))
	if err != nil {
		part.Rows = []session.Row{{Label: "Plot", Text: "none: " + err.Error()}}
		return part
	}
	part.Drawn = append([]string{"HT1 in V, upward, against volts at the set, to the right"}, lines...)
	part.Notes = []session.Row{{Label: "Marks", Text: "* expected, L least and M most that pass with : between, C at most while cathodes are cold; * hides M, M hides L, L hides C"}}
	switch {
	case drawn:
		part.Notes = append(part.Notes, session.Row{Text: fmt.Sprintf("= lowest capacitor rating, %v", r.Rating)})
	case r.Rating > 0:
		part.Notes = append(part.Notes, session.Row{Text: fmt.Sprintf("lowest capacitor rating, %v, is above the plot", r.Rating)})
	default:
		part.Notes = append(part.Notes, session.Row{Text: "no capacitor rating on the sheet: no line for it"})
	}
	return part
}

func pointOf(s session.RampStep) plotPoint {
	p := plotPoint{set: s.Figures.Set.X, expected: s.Figures.HT1.X, most: s.HT1.Pass.Hi, cold: float64(s.Figures.Cold)}
	if s.TwoSided {
		p.least = s.HT1.Pass.Lo
	}
	return p
}
