package checks

import (
	"math"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Parts of the output stage whose ohms are read off the part where the sheet does
// not give them. That comes before they are measured, so that no window is made to
// fit a reading.
const (
	markedCathode  = "cathode resistor"
	markedGridLeak = "grid leak"
)

func markedOhms() Check {
	return Check{
		ID: "marked-ohms", Title: "Ohms marked on the part: {item}", Short: "marked",
		Crit: engine.E, Life: engine.Lasting, Kind: unit.KindOhm,
		Method: "Read its bands or print, beside the output valve. - where nobody can read them.",
		Causes: []string{
			"a band discoloured by heat: the part's own reading shows it",
			"a part fitted from another set: the diagram of a sister set shows it",
		},
		Void: "r", Cautions: []string{"plug-out"},
		Items: func(s *sheet.Set) []string {
			var out []string
			if _, _, ok := outputItem(s); !ok {
				return nil
			}
			if s.Output.CathodeR == nil {
				out = append(out, markedCathode)
			}
			if s.Output.GridLeak == nil {
				out = append(out, markedGridLeak)
			}
			return out
		},
		Rule: func(Case) (Window, error) {
			d := draft{
				kind: unit.KindOhm, danger: limits.Neither, pass: Interval{0, math.Inf(1)}, query: Interval{0, math.Inf(1)},
				sum: "what is marked is taken as it is: the part is held against it when it is measured",
			}
			return d.window()
		},
	}
}

// cathodeR is the cathode resistor as the sheet gives it, or as it is marked; nil
// where nobody knows.
func (c Case) cathodeR() (r *unit.Ohm, by string) {
	return c.marked(c.Set.Output.CathodeR, markedCathode)
}

// gridLeakR is cathodeR for the grid leak.
func (c Case) gridLeakR() (r *unit.Ohm, by string) {
	return c.marked(c.Set.Output.GridLeak, markedGridLeak)
}

func (c Case) marked(onSheet *unit.Ohm, part string) (r *unit.Ohm, by string) {
	if onSheet != nil {
		return onSheet, "sheet " + onSheet.String()
	}
	if q, ok := c.Taken["marked-ohms@"+part]; ok && q.Value > 0 {
		r := unit.Ohm(q.Value)
		return &r, "marked " + r.String()
	}
	return nil, ""
}
