package sheet_test

import (
	"math"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"

	"pgregory.net/rapid"
)

func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func TestNoLoadHT(t *testing.T) {
	onLoad := func(s *sheet.Set) { s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad} }
	printed := func(s *sheet.Set) { s.HTWinding = nil }
	for _, c := range []struct {
		why     string
		change  func(*sheet.Set)
		mains   unit.Volt
		want    float64 // each computed by the formula beside it
		tol     float64
		typical bool
	}{
		{"open volts at nominal mains: root 2 x 275", func(*sheet.Set) {}, 230, 388.909, 1e-3, false},
		{"and at top mains: x 253/230", func(*sheet.Set) {}, 253, 427.800, 1e-3, false},
		{"open volts are for the tap in use: x 253/215", func(s *sheet.Set) { s.Mains.Tap = to[unit.Volt](215) }, 253, 457.646, 1e-3, false},
		// 52 x 46/230² + (52 - 6.3 x 2.91)/2 x 272.5/250² = 0.11861
		{"on load with the ohms: the computed regulation", onLoad, 230, 395.489, 1e-3, false},
		{"on load without ohms: 15 %, common practice", func(s *sheet.Set) { onLoad(s); s.Transformer.HalfA = nil }, 230, 406.586, 1e-3, true},
		{"heaters that would take all the watts leave none for HT", func(s *sheet.Set) { onLoad(s); s.Watts = to[unit.Watt](10) }, 230, 250 * math.Sqrt2 * (1 + 10*46/52900.), 1e-6, false},
		{"printed HT1: 1.5 x 264", printed, 230, 396, 1e-9, true},
		{"printed HT1 at other mains: x 230/220", func(s *sheet.Set) { printed(s); s.Printed.Mains = to[unit.Volt](220) }, 230, 414, 1e-9, true},
		{"printed HT1 without its mains: those of the tap", func(s *sheet.Set) { printed(s); s.Printed.Mains = nil }, 253, 435.6, 1e-9, true},
	} {
		got, typical, ok := radio(t, c.change).NoLoadHT(c.mains)
		if !ok || typical != c.typical || !near(float64(got), c.want, c.tol) {
			t.Errorf("%s: got %v, typical %v, %v; want %v, typical %v", c.why, got, typical, ok, c.want, c.typical)
		}
	}
	for why, change := range map[string]func(*sheet.Set){
		"primary": func(s *sheet.Set) { s.Transformer.Primary = nil },
		"half a":  func(s *sheet.Set) { s.Transformer.HalfA = nil },
		"half b":  func(s *sheet.Set) { s.Transformer.HalfB = nil },
		"watts":   func(s *sheet.Set) { s.Watts = nil },
	} {
		if _, typical, _ := radio(t, func(s *sheet.Set) { onLoad(s); change(s) }).NoLoadHT(230); !typical {
			t.Errorf("regulation without %s: not typical", why)
		}
	}
	for why, change := range map[string]func(*sheet.Set){
		"no winding and no printed HT1": func(s *sheet.Set) { s.HTWinding, s.Printed = nil, nil },
		"no tap in use":                 func(s *sheet.Set) { s.Mains.Tap = nil },
		"printed HT1 and no tap":        func(s *sheet.Set) { s.HTWinding, s.Mains.Tap = nil, nil },
	} {
		if got, _, ok := radio(t, change).NoLoadHT(230); ok || got != 0 {
			t.Errorf("%s: got %v, want nothing known", why, got)
		}
	}
}

// A worked-back figure guards capacitors: it must not come out below the truth.
// Truth of the example: 275 V open gives 250 V on load, 264 V printed (simulated).
func TestWorkedBackIsOnTheSafeSide(t *testing.T) {
	truth, _, _ := radio(t, func(*sheet.Set) {}).NoLoadHT(230)
	for why, change := range map[string]func(*sheet.Set){
		"on load, computed": func(s *sheet.Set) { s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad} },
		"on load, typical": func(s *sheet.Set) {
			s.HTWinding, s.Transformer.Primary = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad}, nil
		},
		"printed": func(s *sheet.Set) { s.HTWinding = nil },
	} {
		got, _, _ := radio(t, change).NoLoadHT(230)
		if over := float64(got / truth); !(over >= 1 && over <= 1.05) {
			t.Errorf("%s: %v is %.3f of the %v it should be, want 1 to 1.05", why, got, over, truth)
		}
	}
}

func TestNoLoadHTGoesWithMains(t *testing.T) {
	s := radio(t, func(*sheet.Set) {})
	rapid.Check(t, func(t *rapid.T) {
		mains := rapid.Float64Range(90, 300).Draw(t, "mains")
		one, _, _ := s.NoLoadHT(unit.Volt(mains))
		two, _, _ := s.NoLoadHT(unit.Volt(2 * mains))
		if !near(float64(two), 2*float64(one), 1e-9*float64(two)) {
			t.Fatalf("twice the mains gives %v, once %v", two, one)
		}
	})
}

func TestRatedAmps(t *testing.T) {
	got, ok := radio(t, func(*sheet.Set) {}).RatedAmps()
	if !ok || !near(float64(got), 0.226087, 1e-6) { // computed: 52 W / 230 V
		t.Errorf("got %v, want 226 mA", got)
	}
	for why, change := range map[string]func(*sheet.Set){
		"no watts": func(s *sheet.Set) { s.Watts = nil },
		"no tap":   func(s *sheet.Set) { s.Mains.Tap = nil },
	} {
		if _, ok := radio(t, change).RatedAmps(); ok {
			t.Errorf("%s: still known", why)
		}
	}
}

func TestOutputValve(t *testing.T) {
	for _, c := range []struct {
		why, want string
		change    func(*sheet.Set)
	}{
		{"the only one", "EL84 V4", func(*sheet.Set) {}},
		{"by its other name", "EL84 V4", func(s *sheet.Set) { s.Valves[3] = "6bq5" }},
		{"where it stands", "EL84 V1", func(s *sheet.Set) { s.Valves = []string{"EL84", "EF89"} }},
		{"the one that is named", "EL84 V5", func(s *sheet.Set) {
			s.Valves, s.Output.Valve = []string{"ECH81", "EF89", "EABC80", "EL34", "EL84"}, "EL84"
		}},
		{"two of one type, and the name does not tell", "", func(s *sheet.Set) {
			s.Valves, s.Output.Valve = []string{"EL84", "EL84"}, "EL84"
		}},
		{"named and not fitted", "", func(s *sheet.Set) { s.Output.Valve = "EL34" }},
		{"none", "", func(s *sheet.Set) { s.Valves = nil }},
	} {
		v, position, err := radio(t, c.change).OutputValve()
		got := ""
		if err == nil {
			got = v.Type + " " + position
		}
		if got != c.want {
			t.Errorf("%s: got %q, %v; want %q", c.why, got, err, c.want)
		}
	}
}
