package limits

import (
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/unit"
)

// Limits of standards that are not ours must not be undercut: what this project
// lets a person touch lies at or below every one of them.
func TestTouchLimitsAreBelowThoseOfOtherStandards(t *testing.T) {
	for _, c := range []struct {
		id     string
		most   float64
		source string
	}{
		{"no-danger-dc", 60, "ES1 steady volts d.c., IEC 62368-1 table 4, from memory"},
		{"no-danger-dc", 120, "ES2 steady volts d.c., IEC 62368-1 table 4, from memory"},
		{"no-danger-ac", 30, "ES1 steady volts a.c., IEC 62368-1 table 4, from memory"},
		{"no-danger-ac", 50, "ES2 steady volts a.c., IEC 62368-1 table 4, from memory"},
		{"harmless-current-dc", 25e-3, "ES2 current d.c., IEC 62368-1, from memory"},
		{"harmless-current-ac", 5e-3, "ES2 current a.c., IEC 62368-1, from memory"},
		{"uk-touch", 0.5e-3, "ES1 current a.c., IEC 62368-1, from memory"},
		{"eu-touch", 2e-3, "ES1 current d.c., IEC 62368-1, from memory"},
		{"reform-current", 2e-3, "ES1 current d.c., IEC 62368-1, from memory: a forming supply that is touched"},
		{"discharge-tool", 100e3, "discharge with less than the forming resistor, capacitor maker's note 1993, seen"},
	} {
		if !(value(c.id) > 0 && value(c.id) <= c.most) {
			t.Errorf("%s is %v, above %v (%s)", c.id, Lookup(c.id).Value, c.most, c.source)
		}
	}
}

// The network of IEC 60990 Fig. 4 (seen): 1500 Ω with 0.22 µF across, 500 Ω in
// series, read through 10 kΩ and 22 nF.
func TestTouchNetworkIsThatOfTheStandard(t *testing.T) {
	for _, p := range Profiles() {
		for _, part := range []string{"1.5 kΩ", "0.22 µF", "500 Ω", "10 kΩ", "22 nF"} {
			if !strings.Contains(p.TouchNetwork(), part) {
				t.Errorf("%s: the network has no %s: %q", p.ID, part, p.TouchNetwork())
			}
		}
		// A reading of 0.35 V peak over its 500 Ω is 0.7 mA peak (IEC 60065 and
		// 60990, seen): our limit is an r.m.s. one and its crest is the same current.
		crest := math.Sqrt2 * p.Touch().Value.Value
		if !near(crest, 0.7e-3, 0.01e-3) || !near(crest*500, 0.35, 0.005) {
			t.Errorf("%s: the touch limit is %v A at its crest, %v V over 500 Ω; want 0.7 mA and 0.35 V", p.ID, crest, crest*500)
		}
	}
}

// Trade rules for what an old plain or etched foil electrolytic may leak, 0.15
// and 0.5 C V µA with C in µF (seen), differ four to one. Ours, the published
// table, stays under the stricter of the two.
func TestOldLeakIsStricterThanTheTradeRules(t *testing.T) {
	for _, c := range []struct {
		factor, want float64
		kind         string
	}{
		{0.15, 1.08e-3, "plain foil"},
		{0.5, 3.6e-3, "etched foil"},
	} {
		rule := c.factor * 16 * 450 * 1e-6 // A, computed: 16 µF, 450 V
		if !near(rule, c.want, 1e-9) {
			t.Fatalf("%s: %v A, want %v", c.kind, rule, c.want)
		}
		if got := float64(OldLeak(16e-6, 450)); !(got > 0 && got < rule) {
			t.Errorf("16 µF 450 V, %s: we allow %v A, the trade rule %v", c.kind, got, rule)
		}
	}
}

// Copper to 20 °C is 1/254.5 per kelvin (computed from 234.5 °C; an
// electrical-engineering formula page has 0.00393, seen): the rise of a winding
// by 20 % of its ohms is 50.9 K in a room that stayed as it was.
func TestCopperByTheCoefficient(t *testing.T) {
	for _, c := range []struct {
		r2     unit.Ohm
		room2  unit.Celsius
		want   float64
		source string
	}{
		{36, 20, 50.9, "computed: 0.2/0.00393"},
		{36, 24, 46.9, "computed: the same less 4 K of room"},
		{33, 20, 25.45, "computed: 0.1/0.00393"},
	} {
		byCoefficient := (float64(c.r2)/30-1)/0.00393 - float64(c.room2-20)
		got := float64(CopperRise(30, c.r2, 20, 20, c.room2))
		if !near(got, c.want, 0.05) || !near(got, byCoefficient, 0.05) {
			t.Errorf("30 Ω to %v: %v K, %v by the coefficient, want %v (%s)", c.r2, got, byCoefficient, c.want, c.source)
		}
	}
}
