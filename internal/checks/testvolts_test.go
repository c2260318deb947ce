package checks

import (
	"strings"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

func TestLineIsNotTestedAboveItsCapacitors(t *testing.T) {
	for _, rating := range []unit.Volt{450, 200} {
		s := fullRadio()
		s.Second.Rating = new(rating)
		k := caseFor(t, s, "")
		_, err := leakRule(k)
		if got := err != nil && strings.Contains(err.Error(), "INV-34"); got != (rating < 250) {
			t.Errorf("rated %v: %v", rating, err)
		}
	}
}

// INV-34: no test puts more on a part than it stands.
func TestCouplingCapacitorIsNotTestedAboveItsRating(t *testing.T) {
	tester := &sheet.Meter{Name: "tester", Kind: sheet.Tester, AutoRange: true, Functions: []sheet.Span{
		{Function: sheet.Insulation, Test: new(unit.Volt(500))},
		{Function: sheet.Insulation, Test: new(unit.Volt(250))},
	}}
	for _, c := range []struct {
		name    string
		sheet   *unit.Volt
		stamped float64 // 0: not read
		refused bool
	}{
		{"rated for it", new(unit.Volt(400)), 400, false},
		{"the sheet says less", new(unit.Volt(160)), 0, true},
		{"the stamp says less than the sheet", new(unit.Volt(400)), 160, true},
		{"nobody knows", nil, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := fullRadio()
			s.Output.Coupling.Rating = c.sheet
			k := caseFor(t, s, "V4")
			k.Meter = tester
			if c.stamped > 0 {
				k.Taken = map[string]unit.Quantity{"stamped-volts@coupling": {Kind: unit.KindVolt, Value: c.stamped}}
			}
			_, err := couplingRule(k)
			if got := err != nil && strings.Contains(err.Error(), "INV-34"); got != c.refused {
				t.Errorf("couplingRule: %v, refused wanted: %v", err, c.refused)
			}
		})
	}
}
