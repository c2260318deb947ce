package checks

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Every real number has a verdict, and no step down or up in goodness is
// skipped on the way from far below to far above.
func TestEveryWindowCoversTheLine(t *testing.T) {
	cases := []Case{fullMains(207), fullMains(253), behindLamp(40, 116.8), behindLamp(100, 172.5)}
	sparse := caseFor(t, sparseRadio(), "V4")
	sparse.AtSet, sparse.TwoSided = 230, true
	cases = append(cases, sparse)
	built := 0
	for _, c := range cases {
		for _, check := range append(energisedChecks(), derivedChecks()...) {
			if check.Rule == nil {
				continue
			}
			if check.ID == "half-volts" {
				c.Item = "a"
			}
			w, err := check.Rule(c)
			if err != nil {
				continue // said by TestRulesSayWhatIsMissing
			}
			built++
			for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				if got := w.Judge(meter.Read(x, 0), check.Crit).Verdict; got != engine.Stop {
					t.Errorf("%s: %g is a %v", check.ID, x, got)
				}
			}
			width := max(math.Abs(w.Pass.Hi), math.Abs(w.Pass.Lo), 1)
			if math.IsInf(width, 1) {
				width = 1000
			}
			var order []engine.Verdict
			for i := -4000; i <= 4000; i++ {
				v := w.Judge(meter.Read(float64(i)/1000*width, 0), check.Crit).Verdict
				if len(order) == 0 || order[len(order)-1] != v {
					order = append(order, v)
				}
			}
			if !rises(order) {
				t.Errorf("%s: verdicts along the line %v", check.ID, order)
			}
		}
	}
	if built < 100 {
		t.Errorf("%d windows built, want them all", built)
	}
}

// rises tells whether verdicts get better up to one place and then worse.
func rises(order []engine.Verdict) bool {
	top := slices.Index(order, slices.Max(order))
	up, down := order[:top+1], order[top:]
	return slices.IsSorted(up) && slices.IsSortedFunc(down, func(a, b engine.Verdict) int { return int(b) - int(a) }) &&
		order[top] == engine.Pass
}

// A sparse sheet finishes: its windows are typical, never stop but at the
// absolute lines, and say what stood in.
func TestTypicalWindowsStopAtAbsoluteLinesOnly(t *testing.T) {
	c := caseFor(t, sparseRadio(), "V4")
	c.AtSet, c.Mains, c.TwoSided, c.Settled, c.Rung = 230, 230, true, true, 100
	for _, id := range []string{"ht-reservoir", "ht-smoothed", "output-cathode", "opt-volts", "cold-start-peak", "ia-ratio", "cathode-current", "supply-line"} {
		w := windowOf(t, id, c)
		if w.Grade != Typical || w.Typical == "" {
			t.Errorf("%s: grade %d, typical %q", id, w.Grade, w.Typical)
		}
	}
	for _, s := range []struct {
		why  string
		id   string
		x    float64
		want engine.Verdict
	}{
		{"HT1 as printed", "ht-reservoir", 264, engine.Pass},
		{"HT1 a fifth low: nobody knows this winding", "ht-reservoir", 200, engine.Query},
		{"cathode low", "output-cathode", 3.5, engine.Query},
		{"whole HT across the output transformer: open primary", "opt-volts", 250, engine.Stop},
		{"too much across it", "opt-volts", 25, engine.Query},
		{"grid: plain values, never typical", "output-grid", 0.6, engine.Stop},
		{"HT1 negative", "ht-reservoir", -100, engine.Stop},
	} {
		if got := verdict(t, s.id, c, s.x); got != s.want {
			t.Errorf("%s: %v, want %v", s.why, got, s.want)
		}
	}
	if got := verdict(t, "output-cathode", c.had("opt-volts", unit.KindVolt, 15), 0.05); got != engine.Stop {
		t.Errorf("a dead short stops even a typical window: %v", got)
	}
}

// A reading narrows the corners and ends what was typical.
func TestMeasuredPartsNarrowTheCorners(t *testing.T) {
	c := fullMains(230)
	c.Taken = map[string]unit.Quantity{}
	wide := windowOf(t, "ht-reservoir", c)
	for id := range measured() {
		if id == "primary-winding@230 V" {
			continue
		}
		c.Taken = measured()
		delete(c.Taken, id)
		if got := windowOf(t, "ht-reservoir", c); got.Pass != wide.Pass {
			t.Errorf("without %s the corners are those of the sheet: %v, want %v", id, got.Pass, wide.Pass)
		}
	}
	c.Taken = measured()
	narrow := windowOf(t, "ht-reservoir", c)
	if !(narrow.Pass.Lo > wide.Pass.Lo && narrow.Pass.Hi < wide.Pass.Hi) || narrow.Query != wide.Query {
		t.Errorf("measured: pass %v in %v, stop lines %v as %v", narrow.Pass, wide.Pass, narrow.Query, wide.Query)
	}
	// The sheet alone: pass lines from all corners, worked out beforehand
	// (computed): HT1 239 to 288, cathode 4.7 to 7.4, OPT 10.8 to 20.8 with its
	// stop at 1.41 x 15.24.
	c.Taken = map[string]unit.Quantity{}
	for id, want := range map[string]Interval{"ht-reservoir": {239, 288}, "output-cathode": {4.7, 7.4}, "opt-volts": {10.8, 20.8}} {
		got := windowOf(t, id, c).Pass
		if !(math.Abs(got.Lo-want.Lo) <= 0.05*want.Hi && math.Abs(got.Hi-want.Hi) <= 0.05*want.Hi) {
			t.Errorf("%s: pass %v, want %v", id, got, want)
		}
	}
	if got := windowOf(t, "opt-volts", c).Query.Hi; !(math.Abs(got-21.5) <= 0.6) {
		t.Errorf("OPT stops over %.4g, want 21.5", got)
	}
}

// A needle that rests a hand's breadth off zero is not a reversed lead.
func TestMovingCoilMayRestBelowZero(t *testing.T) {
	c := behindLamp(60, 57.5)
	c.Meter = &sheet.Meter{Kind: sheet.MovingCoil}
	check, _ := Find("ht-reservoir")
	if got := windowOf(t, "ht-reservoir", c).Judge(meter.Read(0, 7), check.Crit).Verdict; got != engine.Pass {
		t.Errorf("0 V on a needle that errs by 7 V: %v", got)
	}
}

func TestSpreadIsSaid(t *testing.T) {
	c := fullMains(230)
	if w := windowOf(t, "output-cathode", c); !strings.Contains(w.Sum, "measured parts") || w.Source != limits.BandOf("output-cathode").Cite() {
		t.Errorf("sum %q, source %q", w.Sum, w.Source)
	}
	c.Taken = nil
	if w := windowOf(t, "output-cathode", c); !strings.Contains(w.Sum, "sheet alone") {
		t.Errorf("sum %q", w.Sum)
	}
}

// A healthy set whose parts lie anywhere in their tolerances never stops, and
// with its parts measured passes what is typed (the formula is both sides of
// this; that it agrees with a simulation is tested elsewhere).
func TestNoHealthyRadioStops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		part := func(name string, tolerance float64) float64 {
			return 1 + rapid.Float64Range(-tolerance, tolerance).Draw(t, name)
		}
		m := tableRadioModel()
		m.Secondary *= unit.Volt(part("winding", 0.01))
		m.Perveance *= part("rectifier", 0.2)
		m.Output.K *= part("output", 0.2)
		m.Output.CathodeR *= unit.Ohm(part("cathode resistor", 0.02))
		m.Output.AnodeR *= unit.Ohm(part("output transformer", 0.02))
		m.Smoothing *= unit.Ohm(part("smoothing", 0.02))
		for i := range m.Others {
			m.Others[i].K *= part("small valve", 0.2)
		}
		c := fullMains(unit.Volt(rapid.Float64Range(207, 253).Draw(t, "mains")))
		if rapid.Bool().Draw(t, "lamp in") {
			c = behindLamp(rapid.SampledFrom([]unit.Watt{40, 60, 100}).Draw(t, "lamp"), 0)
			p, err := m.AtMains(unit.Volt(rapid.Float64Range(80, 253).Draw(t, "mains")), c.Lamp)
			if err != nil {
				t.Fatal(err)
			}
			c.AtSet, c.Mains = p.Set, 253
		}
		p, err := m.AtSet(c.AtSet, c.Lamp)
		if err != nil {
			t.Fatal(err)
		}
		for id, x := range map[string]unit.Volt{
			"lamp": p.Lamp, "ht-reservoir": p.HT1, "ht-smoothed": p.HT2, "output-cathode": p.Cathode, "opt-volts": p.OPT,
			"screen-drop": p.HT2 - p.Screen,
		} {
			if id == "lamp" && c.Lamp == nil {
				continue
			}
			check, _ := Find(id)
			w, err := check.Rule(c)
			if err != nil {
				t.Fatalf("%s: %v", id, err)
			}
			if got := w.Judge(meter.Read(float64(x), 0), check.Crit).Verdict; got != engine.Pass {
				t.Errorf("%s %v is a %v, pass %v", id, x, got, w.Pass)
			}
		}
	})
}
