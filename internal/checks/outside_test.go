package checks

import (
	"math"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// An old carbon resistor that has gone high by more than a fifth is replaced,
// one within a fifth is thought about, one within a tenth is left alone: common
// practice, no source.
func TestCarbonResistorsMayDriftByAFifth(t *testing.T) {
	at := func(ohms unit.Ohm) Case {
		s := fullRadio()
		s.Output.CathodeR, s.Output.ScreenR = &ohms, &ohms
		s.Smoothing.Resistance = &ohms
		return caseFor(t, s, "V4")
	}
	for _, id := range []string{"cathode-resistor", "screen-resistor", "smoothing-resistor"} {
		w := windowOf(t, id, at(1000))
		for what, x := range map[string][2]float64{
			"pass from": {w.Pass.Lo, 900}, "pass to": {w.Pass.Hi, 1100},
			"stop under": {w.Query.Lo, 800}, "stop over": {w.Query.Hi, 1200},
		} {
			if !near(x[0], x[1], 1e-6*x[1]) {
				t.Errorf("%s %s: %g Ω, want %g", id, what, x[0], x[1])
			}
		}
	}
	// New old stock as found: 4.7 kΩ read 5.4 kΩ, 100 kΩ read 107 to 122 kΩ (trade
	// notes, seen).
	for _, c := range []struct {
		ohms  unit.Ohm
		typed string
		want  engine.Verdict
	}{
		{4.7e3, "4k7", engine.Pass},
		{4.7e3, "5k4", engine.Query},
		{100e3, "107k", engine.Pass},
		{100e3, "122k", engine.Stop},
		{100e3, "119.9k", engine.Query}, // the number itself counts: class E
		{100e3, "120.1k", engine.Stop},
		{100e3, "79.9k", engine.Stop},
	} {
		if got := verdictOf(t, "screen-resistor", at(c.ohms), digital(), c.typed); got != c.want {
			t.Errorf("%v reads %s: %v, want %v", c.ohms, c.typed, got, c.want)
		}
	}
}

// R = (V - v) Rg/v, computed: on 250 V and 470 kΩ 0.1 V is 1.17 GΩ, 0.5 V 235 MΩ.
func TestCouplingCapacitorOnTwoHundredAndFiftyVolts(t *testing.T) {
	s := fullRadio()
	s.Output.Coupling.RailVolts = new(unit.Volt(250))
	k := caseFor(t, s, "V4")
	k.Meter = tester()
	w := windowOf(t, "coupling-capacitor", k)
	if !near(w.Pass.Lo, 1.17e9, 0.005e9) || !near(w.Query.Lo, 235e6, 0.5e6) {
		t.Errorf("pass from %g, stop under %g; want 1.17 GΩ and 235 MΩ", w.Pass.Lo, w.Query.Lo)
	}
}

// What a leak of 12 kΩ draws at 264 V, 22.0 mA (computed), is far beyond any
// line of the HT leakage test.
func TestALeakThatBurnsIsFarBeyondTheLine(t *testing.T) {
	i := 264.0 / 12e3
	if !near(i, 22.0e-3, 0.05e-3) {
		t.Fatalf("264 V over 12 kΩ is %g A", i)
	}
	k := caseFor(t, fullRadio(), "")
	check, _ := Find("ht-leak")
	if got := windowOf(t, "ht-leak", k).Judge(meter.Read(i, 0), check.Crit).Verdict; got != engine.Stop {
		t.Errorf("22 mA: %v", got)
	}
}

// A core on its way to a rise of 40 K gains 1.17, 1.23, 1.14 K in five minutes at
// the slope it has after an hour, for time constants of 45, 60, 90 minutes
// (computed: 40 K/tau exp(-60/tau)): a rule of 1 K in five minutes would stop
// each of them, reckoning to the end passes each.
func TestAHealthyCoreStillGainsAtTheHour(t *testing.T) {
	for tau, want := range map[float64]float64{45: 1.17, 60: 1.23, 90: 1.14} {
		core := func(minutes float64) float64 { return 19 + 40*(1-math.Exp(-minutes/tau)) }
		if gain := 5 * (core(60.5) - core(59.5)); !near(gain, want, 0.005) || !(gain > 1) {
			t.Errorf("time constant %g min: %.3f K in five minutes, want %g", tau, gain, want)
		}
		c := series(fullMains(230), "core", unit.KindCelsius, map[int]float64{30: core(30), 45: core(45), 60: core(60)})
		if x := derivedValue(t, "core-end", c); !near(x, 59, 1e-6) || verdict(t, "core-end", c, x) != engine.Pass {
			t.Errorf("time constant %g min: the core ends at %.3f °C and does not pass", tau, x)
		}
	}
}

// The limit of insulation with the worst tester, as it stands in the window:
// 1 MΩ earthed shows 1.43 MΩ, 2 MΩ unearthed 2.86 MΩ (computed, L/(1 - 0.3);
// VDE 0701-0702 and IET practice, seen; IEC 61557-2:2019, seen).
func TestInsulationIsJudgedByWhatIsShown(t *testing.T) {
	for _, c := range []struct {
		set   *sheet.Set
		typed string
		want  engine.Verdict
	}{
		{earthedRadio(), "1.42 MΩ", engine.Stop},
		{earthedRadio(), "1.43 MΩ", engine.Query},
		{fullRadio(), "2.85 MΩ", engine.Stop},
		{fullRadio(), "2.86 MΩ", engine.Query},
		{fullRadio(), "1 MΩ", engine.Stop},
		{earthedRadio(), "20 MΩ", engine.Pass},
	} {
		if got := verdictOf(t, "mains-insulation", caseFor(t, c.set, ""), wideTester(), c.typed); got != c.want {
			t.Errorf("%d cores, %s shown: %v, want %v", c.set.Flex.Cores, c.typed, got, c.want)
		}
	}
}

// wideTester errs by 30 %, as much as its standard allows.
func wideTester() *sheet.Meter {
	m := tester()
	for i := range m.Functions {
		m.Functions[i].Percent = 30
	}
	return m
}

// Dissipation by two routes, Ia = V/R of the transformer's primary and the
// anode's own volts (computed): the table radio's EL84 has 9.7 W healthy, 16.4 W
// with its cathode bypass shorted (137 %), 12.2 W with the bypass leaking
// (ngspice-39); 12 W is the valve's limit (valve data, seen).
func TestDissipation(t *testing.T) {
	v, ok := limits.ValveOf("EL84")
	if !ok {
		t.Fatal("no EL84")
	}
	for _, c := range []struct {
		why               string
		ht1, opt, vk      float64
		watts, ofTheLimit float64
	}{
		{"healthy", 263.77, 15.239, 6.034, 9.72, 0.81},
		{"bypass shorted", 223.95, 32.627, 0.01, 16.43, 1.37},
		{"bypass leaking", 250.91, 20.529, 4.065, 12.23, 1.02},
	} {
		byHand := c.opt / 380 * (c.ht1 - c.opt - c.vk)
		got := derivedValue(t, "anode-dissipation", with(c.ht1, c.ht1-39, c.opt, c.vk))
		if !near(got, byHand, 1e-9) || !near(got, c.watts, 0.01) || !near(got/float64(v.Output.PaMax), c.ofTheLimit, 0.005) {
			t.Errorf("%s: %.3f W, by hand %.3f, want %g W, %g of the limit", c.why, got, byHand, c.watts, c.ofTheLimit)
		}
	}
}

// Guarded acceptance with an error of normal shape: a reading anywhere in PASS
// has a true value beyond the limit with less than 2.5 % chance when the guard
// is U, and up to half when there is none (ILAC-G8:09/2019, seen; the chances
// are computed here with the normal distribution).
func TestGuardOfAnyPassingReading(t *testing.T) {
	const limit = 250.0
	w, err := NewWindow(unit.KindVolt, Interval{openDown, limit}, Interval{openDown, 300}, limits.High)
	if err != nil {
		t.Fatal(err)
	}
	w.Grade = Sheet
	beyond := func(x, u float64) float64 { return math.Erfc((limit-x)/(u/2)/math.Sqrt2) / 2 }
	worst := map[engine.Crit]float64{}
	for _, u := range []float64{0.1, 1, 2.54, 10} {
		for n := range 4001 {
			x := limit - 2*u + u*float64(n)/1000
			for _, crit := range []engine.Crit{engine.S, engine.G, engine.E} {
				if w.Judge(meter.Read(x, u), crit).Verdict == engine.Pass {
					worst[crit] = max(worst[crit], beyond(x, u))
				}
			}
		}
	}
	for _, crit := range []engine.Crit{engine.S, engine.G} {
		if got := worst[crit]; !(got > 0.02 && got < 0.025) {
			t.Errorf("class %v: %.2f %% at worst, want just under 2.5", crit, got*100)
		}
	}
	if got := worst[engine.E]; !near(got, 0.5, 1e-3) {
		t.Errorf("class E: %.2f %% at worst, want 50", got*100)
	}
}
