package checks

import (
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// HT1 of the table radio with the rectifier hot and the valves cold, by the step
// (ngspice-39): it bounds the window from above, within 1 %, while nothing at all
// is as good a reading. Silicon in the rectifier's place gives more from the
// first second (computed), and stops at every one of these steps.
func TestColdValvesBoundHTFromAbove(t *testing.T) {
	silicon := tableRadioModel()
	silicon.Junction = &circuit.Junction{Is: 1e-9, N: 1.68, Series: 0.03}
	for rung, cold := range map[unit.Percent]float64{25: 90, 50: 182, 60: 219, 70: 256, 80: 294} {
		c := fullMains(unit.Volt(rung) / 100 * 230)
		c.Rung, c.TwoSided, c.Settled = rung, false, false
		w := windowOf(t, "ht-reservoir", c)
		if !(math.Abs(w.Pass.Hi-cold) <= 0.01*cold) {
			t.Errorf("%v: passes up to %g V, want %g", rung, w.Pass.Hi, cold)
		}
		if got := verdict(t, "ht-reservoir", c, 0); got != engine.Pass {
			t.Errorf("%v: a cold rectifier's 0 V is a %v", rung, got)
		}
		if w.Query.Lo > 0 {
			t.Errorf("%v: stops under %g V before anything emits", rung, w.Query.Lo)
		}
		hot, err := silicon.ValvesCold(c.AtSet)
		if err != nil {
			t.Fatal(err)
		}
		if got := verdict(t, "ht-reservoir", c, float64(hot)); got != engine.Stop {
			t.Errorf("%v: silicon gives %v with cold valves, which is a %v", rung, hot, got)
		}
	}
}

// The first cold start is bounded by the no-load HT of the mains there is, and
// its window says when HT comes: 35 s for an EZ80 (seen), some 5 s for a filament
// (from memory).
func TestFirstColdStartSaysWhenHTComes(t *testing.T) {
	for _, c := range []struct{ rectifier, want string }{
		{"EZ80", "after about 35 s (EZ80, indirectly heated)"},
		{"5Y3GT", "after about 5 s (5Y3GT, directly heated, before the other valves draw)"},
		{"bridge", "no data of the rectifier: HT may come at once"},
	} {
		k := fullMains(253)
		k.Set.Rectifier = c.rectifier
		w := windowOf(t, "cold-start-peak", k)
		if !strings.Contains(w.Sum, c.want) {
			t.Errorf("%s: %q", c.rectifier, w.Sum)
		}
		if !(math.Abs(w.Pass.Hi-427.8) <= 0.1) || w.Query.Hi != w.Pass.Hi {
			t.Errorf("%s: %v and %v, want 427.8 V at 253 V (computed) and nothing over it", c.rectifier, w.Pass, w.Query)
		}
	}
}

// No-load HT goes by the open-circuit volts of the half, the regulation where
// only volts on load are printed, and the profile's top mains (computed: 427.8 V
// for 275 V open; 250 V on load with 15 % of regulation, 447.2 V). A capacitor
// that stands less is a stop before any mains.
func TestRatingIsHeldAgainstTheNoLoadHT(t *testing.T) {
	load := func(s *sheet.Set) {
		s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad}
		s.Transformer.HalfA = nil
	}
	for _, c := range []struct {
		why    string
		change func(*sheet.Set)
		stamp  float64
		want   engine.Verdict
	}{
		{"275 V open", func(*sheet.Set) {}, 428, engine.Pass},
		{"a can of 400 V", func(*sheet.Set) {}, 400, engine.Stop},
		{"just under", func(*sheet.Set) {}, 427, engine.Stop},
		{"250 V on load, 15 % taken", load, 450, engine.Pass},
		{"the same, under the likely figure", load, 430, engine.Query},
		{"the same, under 353.6 V x 1.1 however it is regulated", load, 385, engine.Stop},
	} {
		s := fullRadio()
		c.change(s)
		if got := verdict(t, "stamped-volts", caseFor(t, s, "reservoir"), c.stamp); got != c.want {
			t.Errorf("%s: %g V stamped is a %v, want %v (%s)", c.why, c.stamp, got, c.want, windowOf(t, "stamped-volts", caseFor(t, s, "reservoir")).Sum)
		}
	}
}
