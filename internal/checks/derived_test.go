package checks

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

// with is full mains with readings of the output stage and the HT.
func with(ht1, ht2, opt, vk float64) Case {
	c := fullMains(230)
	return c.had("ht-reservoir", unit.KindVolt, ht1).had("ht-smoothed", unit.KindVolt, ht2).
		had("opt-volts@V4", unit.KindVolt, opt).had("output-cathode@V4", unit.KindVolt, vk)
}

// 7.3 V over 135 ohm is 54.07 mA, of which 48/53.5 goes to the anode: 48.5 mA
// (valve data). The second route, 48.5 mA through 380 ohm, must say the same.
func TestCurrentsByTwoRoutes(t *testing.T) {
	c := with(264, 224, 0.04851*380, 7.3)
	if x := derivedValue(t, "cathode-current", c); !(math.Abs(x-54.07e-3) <= 0.05e-3) {
		t.Errorf("cathode current %.4g A, want 54.07 mA", x)
	}
	if x := derivedValue(t, "ia-ratio", c); !(math.Abs(x-0.897) <= 0.001) {
		t.Errorf("ratio %.4g, want 0.897", x)
	}
	// 12.5 V, 49.5 mA, 252.5 ohm, of which 45 mA to the anode (data of a beam
	// valve, from memory): each resistor with its own figure, ratio 0.909.
	c.Model.Output.CathodeR = 252.5
	c = c.had("opt-volts@V4", unit.KindVolt, 0.045*380).had("output-cathode@V4", unit.KindVolt, 12.5)
	if x := derivedValue(t, "ia-ratio", c); !(math.Abs(x-45.0/49.5) <= 1e-4) {
		t.Errorf("ratio %.4g, want %.4g", x, 45.0/49.5)
	}
}

// Rows of the reference radio at 230 V (ngspice): cathode bypass shorted, Vk 0,
// cathode current 95.7 mA, OPT 32.6 V, Pa 16.4 W (137 %); bypass leaking,
// 67 ohm left, Vk 4.07 V ("30 mA"), current 60.2 mA, OPT 20.5 V, Pa 12.2 W.
func TestWhatTheCathodeAloneWouldHide(t *testing.T) {
	for _, s := range []struct {
		fault             string
		ht1, opt, vk      float64
		amps, watts       float64
		ratio, current, p engine.Verdict
	}{
		{"shorted", 223.95, 32.627, 0.01, 95.7e-3, 16.43, engine.Stop, engine.Stop, engine.Stop},
		{"leaking", 250.91, 20.529, 4.065, 60.2e-3, 12.23, engine.Stop, engine.Query, engine.Pass},
		{"healthy", 263.77, 15.239, 6.034, 44.7e-3, 9.72, engine.Pass, engine.Pass, engine.Pass},
	} {
		c := with(s.ht1, s.ht1-39, s.opt, s.vk)
		if x := derivedValue(t, "cathode-current", c); !(math.Abs(x-s.amps) <= 0.01*s.amps) {
			t.Errorf("%s: %.4g A, want %.4g", s.fault, x, s.amps)
		}
		if x := derivedValue(t, "anode-dissipation", c); !(math.Abs(x-s.watts) <= 0.01*s.watts) {
			t.Errorf("%s: %.4g W, want %.4g", s.fault, x, s.watts)
		}
		for id, want := range map[string]engine.Verdict{"ia-ratio": s.ratio, "cathode-current": s.current, "anode-dissipation": s.p} {
			if got := verdict(t, id, c, derivedValue(t, id, c)); got != want {
				t.Errorf("%s %s: %v, want %v", s.fault, id, got, want)
			}
		}
	}
	c := with(264, 224, 15, 0)
	if x := derivedValue(t, "ia-ratio", c); x != mostRatio {
		t.Errorf("no cathode volts at all: ratio %g", x)
	}
	c = with(264, 224, 0, 0)
	if _, err := deriveIaRatio(c); !errors.Is(err, ErrNoData) {
		t.Errorf("no current by either route says nothing of the two: %v", err)
	}
}

// Pa 9.72, 11.15 and 11.96 W at 230, 245 and 253 V is one healthy set: at
// nominal mains, by m^2.2, the same 9.7 W (ngspice). 12 W is the valve's limit
// (valve data).
func TestDissipationIsJudgedAtNominalMains(t *testing.T) {
	for mains, watts := range map[unit.Volt]float64{207: 7.73, 230: 9.72, 245: 11.15, 253: 11.96} {
		if got := verdict(t, "anode-dissipation", fullMains(mains), watts); got != engine.Pass {
			t.Errorf("%g W at %v: %v", watts, mains, got)
		}
	}
	for _, s := range []struct {
		mains unit.Volt
		watts float64
		want  engine.Verdict
		why   string
	}{
		{230, 12.0, engine.Pass, "designers ran valves at their limit"},
		{230, 13.5, engine.Query, "112 %"},
		{230, 14.5, engine.Stop, "over 120 %"},
		{230, 6.0, engine.Query, "under-run: no danger, tired"},
		{230, -3, engine.Query, "output transformer open"},
		{253, 14.0, engine.Pass, "117 % raw, 95 % at nominal"},
		{253, 15.0, engine.Query, "tap: over 120 % raw"},
		{253, 15.7, engine.Stop, "tap: over 130 % raw"},
		{207, 11.6, engine.Stop, "122 % once brought to nominal mains"},
	} {
		if got := verdict(t, "anode-dissipation", fullMains(s.mains), s.watts); got != s.want {
			t.Errorf("%g W at %v: %v, want %v: %s", s.watts, s.mains, got, s.want, s.why)
		}
	}
	// An anode fed from HT2 takes its volts from there.
	c := with(264, 224, 15.2, 6)
	c.Model.Output.FromHT1 = false
	if x := derivedValue(t, "anode-dissipation", c); !(math.Abs(x-(224-15.2-6)*15.2/380) <= 1e-9) {
		t.Errorf("fed from HT2: %g W", x)
	}
}

// HT1 of the reference radio when the supply is fixed and the load is not:
// 306, 292, 277, 264, 250, 224 V at 34, 46, 60, 73, 88, 119 mA (computed,
// agrees with ngspice to 0.02 %).
func TestSupplyLine(t *testing.T) {
	for ma, ht1 := range map[float64]float64{34: 306, 46: 292, 60: 277, 73: 264, 88: 250, 119: 224} {
		opt := ma * 0.55e-3 * 380
		c := with(ht1, ht1-ma*0.45e-3*1200, opt, 6)
		x := derivedValue(t, "supply-line", c)
		if !(math.Abs(x) <= 1) {
			t.Errorf("%g V at %g mA is %.2f %% off the line", ht1, ma, x)
		}
		if got := verdict(t, "supply-line", c, x); got != engine.Pass {
			t.Errorf("%g mA: %v", ma, got)
		}
	}
	// ngspice-39: half dead, 12 kΩ leak, silicon, wrong tap; then what the corners
	// leave open (common practice, no source: -6 and +9 %).
	for x, want := range map[float64]engine.Verdict{-18: engine.Stop, -7.2: engine.Stop, 12.3: engine.Stop, 19.4: engine.Stop, -5.2: engine.Query, 7: engine.Query} {
		if got := verdict(t, "supply-line", fullMains(230), x); got != want {
			t.Errorf("%g %%: %v, want %v", x, got, want)
		}
	}
	c := fullMains(230)
	c.Taken = map[string]unit.Quantity{}
	if w := windowOf(t, "supply-line", c); !near(w.Pass.Hi, 9.5, 1e-9) || !near(w.Pass.Lo, -9.5, 1e-9) {
		t.Errorf("with the sheet alone: pass %v", w.Pass)
	}
	if _, err := supplyLineRule(behindLamp(60, 148)); !errors.Is(err, ErrWindow) {
		t.Errorf("behind a lamp: %v", err)
	}
	// A bleeder drawn at HT1 is a current that is known.
	c = with(264, 225, 15.2, 6)
	before := derivedValue(t, "supply-line", c)
	c.Model.Leak = 100e3
	if after := derivedValue(t, "supply-line", c); !(after > before+0.5) {
		t.Errorf("2.6 mA of bleeder at HT1 moves the line from %.2f to %.2f %%", before, after)
	}
	c.Model.Smoothing = 0
	if _, err := deriveSupplyLine(c); !errors.Is(err, ErrNoData) {
		t.Errorf("without smoothing: %v", err)
	}
}

func TestSmoothingDrop(t *testing.T) {
	for _, s := range []struct {
		ht1, ht2 float64
		want     engine.Verdict
	}{
		{263.8, 224.4, engine.Pass},
		{256.1, 201.1, engine.Stop}, // leak after the resistor
		{264, 215, engine.Query},
		{270.1, 243.3, engine.Query}, // a small valve not drawing
	} {
		c := with(s.ht1, s.ht2, 15, 6)
		if got := verdict(t, "smoothing-drop", c, derivedValue(t, "smoothing-drop", c)); got != s.want {
			t.Errorf("%g less %g V: %v, want %v", s.ht1, s.ht2, got, s.want)
		}
	}
}

// Output transformer open: the screen carries the current, 33 V over 1 kΩ,
// 5.64 W of 2 (ngspice); healthy 0.98 W.
func TestScreenDissipation(t *testing.T) {
	for _, s := range []struct {
		ht2, drop, vk, watts float64
		want                 engine.Verdict
	}{
		{224.45, 4.6, 6.034, 0.98, engine.Pass},
		{206.37, 33.53, 4.526, 5.64, engine.Stop},
		{224, 10.5, 6, 2.18, engine.Query},
	} {
		c := with(264, s.ht2, 15, s.vk).had("screen-drop@V4", unit.KindVolt, s.drop)
		x := derivedValue(t, "screen-dissipation", c)
		if !(math.Abs(x-s.watts) <= 0.01*s.watts) {
			t.Errorf("%.4g W, want %.4g", x, s.watts)
		}
		if got := verdict(t, "screen-dissipation", c, x); got != s.want {
			t.Errorf("%.4g W: %v, want %v", x, got, s.want)
		}
	}
	c := with(264, 224, 15, 6)
	if _, err := deriveScreenDissipation(c); !errors.Is(err, ErrNoData) {
		t.Errorf("screen not read: %v", err)
	}
	c.Model.Output.ScreenR = 0
	if _, err := deriveScreenDissipation(c.had("screen-drop", unit.KindVolt, 5)); !errors.Is(err, ErrNoData) {
		t.Errorf("no screen resistor: %v", err)
	}
}

// series keeps readings under their minutes.
func series(c Case, id string, k unit.Kind, values map[int]float64) Case {
	for minutes, x := range values {
		c = c.had(TimedSlot(id, minutes), k, x)
	}
	return c
}

// 2 and 5 % of 0.5 V a minute are 10 and 25 mV a minute.
func TestGridSlope(t *testing.T) {
	for _, s := range []struct {
		why    string
		values map[int]float64
		want   engine.Verdict
	}{
		{"flat", map[int]float64{1: 0.02, 3: 0.02, 5: 0.02}, engine.Pass},
		{"falling as a capacitor forms", map[int]float64{1: 0.2, 3: 0.15, 5: 0.1}, engine.Pass},
		{"8 mV a minute", map[int]float64{1: 0.02, 3: 0.036, 5: 0.052}, engine.Pass},
		{"20 mV a minute", map[int]float64{1: 0.02, 3: 0.06, 5: 0.10}, engine.Query},
		{"30 mV a minute: 0.5 V in a quarter of an hour", map[int]float64{1: 0.02, 3: 0.08, 5: 0.14}, engine.Stop},
	} {
		c := series(fullMains(230), "output-grid@V4", unit.KindVolt, s.values)
		if got := verdict(t, "grid-slope", c, derivedValue(t, "grid-slope", c)); got != s.want {
			t.Errorf("%s: %v, want %v", s.why, got, s.want)
		}
	}
	for why, values := range map[string]map[int]float64{
		"two readings":   {1: 0.02, 5: 0.02},
		"within seconds": {1: 0.02, 2: 0.02},
		"none":           {},
	} {
		if _, err := deriveGridSlope(series(fullMains(230), "output-grid@V4", unit.KindVolt, values)); !errors.Is(err, ErrNoData) {
			t.Errorf("%s: %v", why, err)
		}
	}
	c := series(fullMains(230), "output-grid@V4", unit.KindVolt, map[int]float64{1: 0.02, 3: 0.02, 5: math.NaN()})
	if _, err := deriveGridSlope(c); !errors.Is(err, ErrNoData) {
		t.Errorf("a reading that is no number does not count: %v", err)
	}
}

// Over a soak from 5 to 60 minutes; the stop line is 1.3 x 6.03 V.
func TestCathodeSlope(t *testing.T) {
	flat := map[int]float64{5: 6.0, 15: 6.02, 30: 6.03, 45: 6.03, 60: 6.02}
	creep := map[int]float64{5: 6.0, 15: 8.5, 30: 12.3, 45: 16, 60: 20}
	c := series(fullMains(230), "output-cathode", unit.KindVolt, flat)
	if x := derivedValue(t, "cathode-slope", c); !(math.Abs(x) <= 0.02) || verdict(t, "cathode-slope", c, x) != engine.Pass {
		t.Errorf("steady cathode: %g %% a minute", x)
	}
	c = series(fullMains(230), "output-cathode", unit.KindVolt, creep)
	if x := derivedValue(t, "cathode-slope", c); !(math.Abs(x-100*0.254/7.85) <= 0.1) || verdict(t, "cathode-slope", c, x) != engine.Query {
		t.Errorf("a quarter of a volt a minute: %g %%", x)
	}
}

// A core that rises by T (1 - exp(-t/tau)) is reckoned to its end exactly
// (computed): the rises of equal times are a geometric series.
func TestCoreEnd(t *testing.T) {
	for _, tau := range []float64{45, 60, 90} {
		core := func(minutes float64) float64 { return 20 + 40*(1-math.Exp(-minutes/tau)) }
		c := series(fullMains(230), "core", unit.KindCelsius, map[int]float64{30: core(30), 45: core(45), 60: core(60)})
		if x := derivedValue(t, "core-end", c); !(math.Abs(x-60) <= 1e-6) {
			t.Errorf("time constant %g min: ends at %.3f °C, want 60", tau, x)
		}
		if x := derivedValue(t, "core-end", c.had("room", unit.KindCelsius, 20)); !(math.Abs(x-65) <= 1e-6) {
			t.Errorf("in a room of 20 °C: %.3f °C at 25, want 65", x)
		}
	}
	for _, s := range []struct {
		why      string
		readings map[int]float64
		end      float64
	}{
		{"no longer rising: as it stands", map[int]float64{30: 40, 45: 44, 60: 44}, 44},
		{"small rises: three degrees on top", map[int]float64{30: 40, 45: 42, 60: 43.9}, 46.9},
		{"the last three count", map[int]float64{30: 40, 45: 48, 60: 52, 75: 54}, 56},
		{"a late reading counts with its own time", map[int]float64{30: 40, 45: 48, 66: 53.6}, 57.6},
	} {
		c := series(fullMains(230), "core", unit.KindCelsius, s.readings)
		if x := derivedValue(t, "core-end", c); !(math.Abs(x-s.end) <= 0.01) {
			t.Errorf("%s: %.2f °C, want %.2f", s.why, x, s.end)
		}
	}
	for _, s := range []struct {
		why      string
		readings map[int]float64
		want     error
	}{
		{"gains as fast as before", map[int]float64{30: 40, 45: 46, 60: 52}, ErrUnsettled},
		{"jumps after a rest", map[int]float64{30: 40, 45: 41, 60: 50}, ErrUnsettled},
		{"fell, then rises", map[int]float64{30: 45, 45: 41, 60: 50}, ErrUnsettled},
		{"one missed", map[int]float64{30: 40, 60: 52}, ErrNoData},
		{"too close together", map[int]float64{30: 40, 45: 48, 50: 49}, ErrNoData},
		{"too far apart", map[int]float64{15: 40, 45: 48, 60: 49}, ErrNoData},
	} {
		c := series(fullMains(230), "core", unit.KindCelsius, s.readings)
		if _, err := deriveCoreEnd(c); !errors.Is(err, s.want) {
			t.Errorf("%s: %v", s.why, err)
		}
	}
	if w := windowOf(t, "core-end", fullMains(230)); w.Pass.Hi != 60 || w.Query.Hi != 80 {
		t.Errorf("pass up to %g, stop over %g °C", w.Pass.Hi, w.Query.Hi)
	}
}

func TestTimedSlotsAreTold(t *testing.T) {
	c := fullMains(230)
	c = c.had(TimedSlot("output-grid@V4", 3), unit.KindVolt, 0.3).had(TimedSlot("output-grid@V4", 1), unit.KindVolt, 0.1)
	c = c.had("output-grid@V4", unit.KindVolt, 9).had("output-grid@V4#raise-60", unit.KindVolt, 9)
	c = c.had("output-grid@V4#at-soon", unit.KindVolt, 9).had(TimedSlot("output-grid@V3", 2), unit.KindVolt, 9)
	if got := fmt.Sprint(c.samples("output-grid")); got != "[{1 0.1} {3 0.3}]" {
		t.Errorf("samples %s", got)
	}
}
