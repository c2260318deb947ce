package checks

import (
	"fmt"
	"math"
	"strings"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// ReviewPrinted queries the sheet, before anything is touched, where a printed
// voltage and the circuit at the volts of the tap do not agree, and names the
// likelier cause. It compares with the parts as they will be known once they
// are read, and with two circuits: one made without the printed volts, so that
// one wrong figure does not bend what the others are held against, and the one
// that the windows come from. A sheet without printed volts, tap or circuit has
// nothing to compare; other remarks say so.
func ReviewPrinted(set *sheet.Set, p limits.Profile) []sheet.Remark {
	points := comparePrinted(set, p)
	var out []sheet.Remark
	for i, c := range points {
		if !c.off {
			continue
		}
		out = append(out, sheet.Remark{
			Field: "printed." + c.field, Severity: sheet.Warn,
			What: fmt.Sprintf("%s: %s; computed %s to %s: they do not agree", c.name, c.words, volts(c.computed.Lo), volts(c.computed.Hi)),
			Hint: likelier(set, points, i) + "; settle it before the set is touched, or no reading there passes",
		})
	}
	return out
}

// compared is one printed figure beside the circuit's.
type compared struct {
	printedPoint
	point    int
	ratio    float64 // printed over computed, as mains would have to differ
	off      bool
	words    string
	computed Interval
	source   unit.Ohm
}

func comparePrinted(set *sheet.Set, profile limits.Profile) []compared {
	c := Case{Set: set, Profile: profile, Rung: 100}
	tap, err := c.tap()
	if err != nil || set.Printed == nil {
		return nil
	}
	alone, errAlone := solvedFor(withoutPrinted(set), profile, tap)
	own, errOwn := solvedFor(set, profile, tap)
	if errAlone != nil || errOwn != nil {
		return nil
	}
	var out []compared
	for i, p := range printedPoints() {
		if p.of(set.Printed) == nil || c.workedBack(i) {
			continue
		}
		b, err := c.bring(p, p.source(alone.sources), tap)
		if err != nil {
			continue
		}
		x := alone.window(p)
		off := !b.agrees(x)
		if !off && !b.agrees(own.window(p)) {
			x, off = own.window(p), true
		}
		ratio := b.at / p.computed(alone.Bounds, alone.output).X
		out = append(out, compared{p, i, math.Pow(ratio, 1/p.power()), off, b.words, x, p.source(alone.sources)})
	}
	return out
}

// computedSet is a set's circuit at the volts of its tap.
type computedSet struct {
	circuit.Bounds
	output  circuit.Valve
	sources sources
}

func solvedFor(set *sheet.Set, p limits.Profile, tap unit.Volt) (computedSet, error) {
	m, _, err := circuit.FromSheet(set, p, nil)
	if err != nil {
		return computedSet{}, err
	}
	b, err := m.BoundsAtSet(tap, nil, circuit.Known)
	if err != nil {
		return computedSet{}, err
	}
	from, err := sourcesOf(m, b.Point)
	return computedSet{b, m.Output, from}, err
}

// window is the pass window that a point of the circuit has.
func (s computedSet) window(p printedPoint) Interval {
	b := p.computed(s.Bounds, s.output)
	return Interval{b.Lo, b.Hi}.widened(s.Err)
}

// withoutPrinted is the sheet without its printed volts, but for what the
// winding is worked back from where nothing else gives it.
func withoutPrinted(set *sheet.Set) *sheet.Set {
	bare := *set
	bare.Printed = &sheet.Printed{Mains: set.Printed.Mains}
	if set.HTWinding == nil {
		bare.Printed.HT1 = set.Printed.HT1
	}
	return &bare
}

// likelier is the likelier cause of points[i] being off. All points off in one
// ratio have one cause, mains or winding; a point low by itself is a meter if
// one with no less than 1000 Ω/V can have pulled it so far; else it is what
// feeds that point.
func likelier(set *sheet.Set, points []compared, i int) string {
	if ratio, ok := oneRatio(points); ok {
		return mainsOrWinding(set, ratio)
	}
	c := points[i]
	if in, ok := pulledBy(set, c); ok {
		return fmt.Sprintf("likelier: printed with a meter of about %s, low for this point", unit.Round(in.Quantity(), 2))
	}
	return "likelier: " + ownCause(points, c)
}

// oneRatio is the common ratio of printed to computed, where three points or
// more have one.
func oneRatio(points []compared) (float64, bool) {
	if len(points) < 3 {
		return 0, false
	}
	least, most, sum := math.Inf(1), 0.0, 0.0
	for _, c := range points {
		least, most, sum = min(least, c.ratio), max(most, c.ratio), sum+c.ratio
	}
	return sum / float64(len(points)), most/least <= 1+number("printed-volts")/100
}

// mainsOrWinding: figures printed on another tap or at other mains, or winding
// volts whose state was taken for the other one.
func mainsOrWinding(set *sheet.Set, ratio float64) string {
	mains := *set.Mains.Tap
	if set.Printed.Mains != nil {
		mains = *set.Printed.Mains
	}
	at := mains * unit.Volt(ratio)
	causes := []string{fmt.Sprintf("printed at %s mains, or on another tap", unit.Round(at.Quantity(), 2))}
	if w := set.HTWinding; w != nil {
		switch {
		case w.Taken == sheet.Open && ratio > 1:
			causes = append(causes, "winding volts on load taken as open")
		case w.Taken == sheet.OnLoad && ratio < 1:
			causes = append(causes, "winding volts open taken as on load")
		default:
			causes = append(causes, "the volts of another winding")
		}
	}
	return fmt.Sprintf("likelier, all being %.3g x: %s", ratio, strings.Join(causes, "; or "))
}

// pulledBy is the input resistance of a meter that would have shown so little,
// where meters have that much.
func pulledBy(set *sheet.Set, c compared) (unit.Ohm, bool) {
	if !(c.ratio < 1) {
		return 0, false
	}
	part := math.Pow(c.ratio, c.power())
	in := c.source * unit.Ohm(part/(1-part))
	v := *c.of(set.Printed)
	least := float64(meter.Loaded(1, c.source, unit.Ohm(number("sheet-meter")*float64(v))))
	return in, part >= least
}

// ownCause is what lies between one point and those that are right.
func ownCause(points []compared, c compared) string {
	off := map[int]bool{}
	for _, p := range points {
		off[p.point] = p.off
	}
	switch {
	case c.point == printedHT1:
		return "this figure misread, or the HT winding's volts"
	case c.point == printedHT2 || c.point == printedScreen && off[printedHT2]:
		return "the smoothing's ohms, what HT2 feeds, or this figure misread"
	case c.point == printedAnode:
		return "where the anode is fed from, the output transformer's ohms, or this figure misread"
	case c.point == printedScreen:
		return "the screen resistor's ohms, or this figure misread"
	}
	return "the cathode resistor's ohms, another output valve, or this figure misread"
}
