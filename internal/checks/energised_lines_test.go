package checks

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

// Lines worked out beforehand for the table radio, at 230 V on the set: pass
// lines from every corner of the toleranced parts, rounded outward; stop lines
// from the multiples of the healthy figure (computed, a solver that agrees with
// ngspice to 0.02 %). The program's own corners may differ by 2 % of the
// healthy figure, 3 % where that is below 20, and by the formula's error.
func TestLinesAtFullMains(t *testing.T) {
	open := math.NaN()
	for _, l := range []struct {
		id                               string
		healthy                          float64
		passLo, passHi, queryLo, queryHi float64
	}{
		{"ht-reservoir", 263.8, 250, 277, 237, 292},
		{"ht-smoothed", 224.4, 209, 240, 196, 254},
		{"opt-volts", 15.24, 12.7, 17.6, 5.03, 19.8},
		{"output-cathode", 6.03, 5.2, 6.8, 4.22, 7.84},
		{"output-grid", 0.25, -0.5, 0.25, open, 0.5},
		{"screen-drop", 4.59, 3.5, 5.7, open, 9.2},
		{"smoothing-drop", 39.3, 34, 45, open, 52},
		{"ripple", 13.0 / 3.15, 7.5 / 3.15, 19 / 3.15, open, 26.7 / 3.15},
		{"ia-ratio", 0.897, 0.80, 1.05, 0.70, 1.15},
		{"cathode-current", 55e-3, open, 55e-3, open, 65e-3},
		{"anode-dissipation", 12, 7.2, 12.6, open, 14.4},
		{"screen-dissipation", 2, open, 2, open, 2.4},
		{"heater-volts", 6.3, 5.86, 6.80, 5.67, 7.06},
		{"heater-tap", 6.3, 5.86, 6.74, open, 6.93},
		{"half-volts", 275, 265.7, 282.1, 257.9, 290.7}, // 5.5 and 8 % of 275, then 3 and 6 % off the other half's 273.8
	} {
		c := fullMains(230)
		if l.id == "half-volts" {
			c.Item = "a"
		}
		w := windowOf(t, l.id, c)
		part := 0.02
		if l.healthy < 20 {
			part = 0.03
		}
		line := func(what string, got, want float64) {
			if math.IsNaN(want) {
				return
			}
			err := circuit.ModelError
			if l.id == "ripple" {
				err = circuit.RippleError
			}
			if !(math.Abs(got-want) <= part*l.healthy+err*math.Abs(want)) {
				t.Errorf("%s %s: got %.4g, want %.4g", l.id, what, got, want)
			}
		}
		line("pass from", w.Pass.Lo, l.passLo)
		line("pass to", w.Pass.Hi, l.passHi)
		line("stop under", w.Query.Lo, l.queryLo)
		line("stop over", w.Query.Hi, l.queryHi)
		if w.Grade != Sheet || w.Typical != "" {
			t.Errorf("%s: grade %d, typical %q: everything is on the sheet", l.id, w.Grade, w.Typical)
		}
	}
}

// Lines that are plain values or multiples of one simple sum, to the digit.
// Common practice, no source, but the heaters' (trade article of 1962).
func TestPlainLines(t *testing.T) {
	open := math.Inf(1)
	rung := behindLamp(60, 115)
	rung.Rung = 50
	lampOut := fullMains(230)
	lampOut.Rung = 0
	room := fullMains(230).had("room", unit.KindCelsius, 20)
	late := behindLamp(40, 220).had("lamp-early", unit.KindVolt, 12)
	heaters := behindLamp(60, 190)
	law, _, _, err := heaters.Model.HeatersOnly(230, *heaters.Lamp)
	if err != nil {
		t.Fatal(err)
	}
	x := float64(law)
	half := fullMains(230)
	half.Item = "a"
	half.Taken = map[string]unit.Quantity{"half-volts@b": {Kind: unit.KindVolt, Value: 275}}
	guessed := caseFor(t, sparseRadio(), "a")
	guessed.AtSet = 230
	winding := float64(guessed.Model.Secondary)
	for _, l := range []struct {
		id          string
		c           Case
		pass, query Interval
	}{
		{"set-volts", rung, Interval{115 - 4.6, 115 + 4.6}, Interval{-open, 1.15 * 230}},
		{"set-volts", lampOut, Interval{115, 253}, Interval{-open, 264.5}},
		{"set-volts", behindLamp(60, 148), Interval{57.5, 253}, Interval{-open, 264.5}},
		{"idle-watts", lampOut, Interval{0, 0.12 * 55}, Interval{-open, 0.25 * 55}},
		{"lamp-late", late, Interval{-open, 1.05*12 + 0.5}, Interval{-open, 1.05*12 + 0.5}},
		{"half-volts", half, Interval{275 * 0.985 / 1.015, 275 * 1.015 / 0.985}, Interval{275 * 0.97 / 1.03, 275 * 1.03 / 0.97}},
		{"half-volts", guessed, Interval{0.90 * winding, 1.055 * winding}, Interval{0.1 * winding, open}},
		{"core-warm", room, Interval{-open, 30}, Interval{-open, 35}},
		{"lamp-off", lampOut, Interval{-open, 1}, Interval{-open, 3}},
		{"lamp-heaters", heaters, Interval{0.6 * x, 1.2 * x}, Interval{-open, 1.7 * x}},
		{"output-grid", behindLamp(60, 148), Interval{-open, 0.25}, Interval{-open, 0.5}},
		{"output-grid", fullMains(230), Interval{-0.5, 0.25}, Interval{-open, 0.5}},
		{"grid-slope", lampOut, Interval{-open, 2}, Interval{-open, 5}},
		{"cathode-slope", lampOut, Interval{-open, 2}, Interval{-open, 5}},
		{"core", lampOut, Interval{-open, 60}, Interval{-open, 80}},
	} {
		w := windowOf(t, l.id, l.c)
		for what, x := range map[string][2]float64{
			"pass from": {w.Pass.Lo, l.pass.Lo}, "pass to": {w.Pass.Hi, l.pass.Hi},
			"stop under": {w.Query.Lo, l.query.Lo}, "stop over": {w.Query.Hi, l.query.Hi},
		} {
			if !near(x[0], x[1], 1e-4*math.Abs(x[1])) {
				t.Errorf("%s %s: got %g, want %g", l.id, what, x[0], x[1])
			}
		}
	}
}

// Lines that rest on the circuit, as parts of what it computes; 1 % for the
// formula lies on top.
func TestMultiplesOfTheCircuit(t *testing.T) {
	sheetOnly := func(c Case) Case { c.Taken = map[string]unit.Quantity{}; return c }
	step := behindLamp(60, 148.6)
	fresh := step
	fresh.Settled = false
	full := fullMains(230)
	lamp, err := step.Model.AtSet(148.6, step.Lamp)
	if err != nil {
		t.Fatal(err)
	}
	cold, err := step.Model.ValvesCold(148.6)
	if err != nil {
		t.Fatal(err)
	}
	hot, err := full.Model.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	const less, more = 1 - circuit.ModelError, 1 + circuit.ModelError
	window := func(id string, c Case) Window { return windowOf(t, id, c) }
	for _, l := range []struct {
		what      string
		got, want float64
	}{
		{"HT1 with cold valves: pass", window("ht-reservoir", fresh).Pass.Hi, more * float64(cold)},
		{"HT1 with cold valves: stop", window("ht-reservoir", fresh).Query.Hi, more * 1.01 * float64(cold)},
		{"HT1 settled: pass", window("ht-reservoir", step).Pass.Hi, more * 1.07 * float64(lamp.HT1)},
		{"HT1 under zero: query", window("ht-reservoir", step).Pass.Lo, -1},
		{"HT1 under zero: stop", window("ht-reservoir", step).Stop.Lo, -20},
		{"HT1 at full mains: stop under", window("ht-reservoir", full).Query.Lo, less * 0.90 * float64(hot.HT1)},
		{"HT1 at full mains: stop over", window("ht-reservoir", full).Query.Hi, more * 1.105 * float64(hot.HT1)},
		{"HT2: stop under", window("ht-smoothed", full).Query.Lo, less * 0.875 * float64(hot.HT2)},
		{"HT2: stop over", window("ht-smoothed", full).Query.Hi, more * 1.13 * float64(hot.HT2)},
		{"HT2 at a step: the pass line of HT1", window("ht-smoothed", step).Pass.Hi, more * 1.07 * float64(lamp.HT1)},
		{"cathode: stop under", window("output-cathode", full).Query.Lo, less * 0.70 * float64(hot.Cathode)},
		{"cathode: stop over", window("output-cathode", full).Query.Hi, more * 1.30 * float64(hot.Cathode)},
		{"cathode, leads reversed", window("output-cathode", step).Pass.Lo, -1},
		{"cathode short", window("output-cathode", step.had("opt-volts", unit.KindVolt, 9)).Stop.Lo, 0.1},
		{"OPT: stop under", window("opt-volts", full).Query.Lo, less * 0.33 * float64(hot.OPT)},
		{"OPT: stop over", window("opt-volts", full).Query.Hi, more * 1.30 * float64(hot.OPT)},
		{"OPT, sheet alone: stop under", window("opt-volts", sheetOnly(full)).Query.Lo, less * 0.33 * float64(hot.OPT)},
		{"OPT, sheet alone: stop over", window("opt-volts", sheetOnly(full)).Query.Hi, more * 1.41 * float64(hot.OPT)},
		{"OPT at a step: stop over", window("opt-volts", step).Query.Hi, more * 1.30 * float64(lamp.OPT)},
		{"OPT at a step, sheet alone", window("opt-volts", sheetOnly(step)).Query.Hi, more * 1.32 * float64(lamp.OPT)},
		{"OPT open", window("opt-volts", full).Stop.Hi, 0.5 * float64(hot.HT1)},
		{"screen resistor", window("screen-drop", full).Query.Hi, more * 2 * float64(hot.HT2-hot.Screen)},
		{"ripple", window("ripple", full).Query.Hi, (1 + circuit.RippleError) * 2.05 * float64(hot.Ripple) / 3.15},
		{"dead short behind the lamp", window("lamp", step).Stop.Hi, 9 * 148.6},
	} {
		if !near(l.got, l.want, 1e-3*math.Abs(l.want)) {
			t.Errorf("%s: got %g, want %g", l.what, l.got, l.want)
		}
	}
	low, err := step.lampAt(148.6, 0.45)
	if err != nil {
		t.Fatal(err)
	}
	if got := window("lamp", step).Pass.Lo; !near(got, low*(1-circuit.ModelError/0.55), 1e-3*low) {
		t.Errorf("lamp low: pass from %g, want %g", got, low)
	}
}

// The same behind the 60 W lamp with 148.6 V on the set, one-sided. The ripple's
// corners there are on fixed mains; with the volts at the set held they are a
// little wider.
func TestLinesBehindALamp(t *testing.T) {
	c := behindLamp(60, 148.6)
	for _, l := range []struct {
		id              string
		healthy         float64
		passHi, queryHi float64
	}{
		{"ht-reservoir", 164.9, 1.19 * 148.6, 1.62 * 148.6},
		{"opt-volts", 8.76, 10.1, 11.4},
		{"output-cathode", 3.47, 3.9, 4.5},
		{"output-grid", 0.25, 0.25, 0.5},
		{"ripple", 6.4 / 3.15, 8.8 / 3.15, 13.1 / 3.15},
	} {
		w := windowOf(t, l.id, c)
		for what, x := range map[string][2]float64{"pass to": {w.Pass.Hi, l.passHi}, "stop over": {w.Query.Hi, l.queryHi}} {
			if !(math.Abs(x[0]-x[1]) <= 0.03*l.healthy+3*circuit.RippleError*x[1]) {
				t.Errorf("%s %s: got %.4g, want %.4g", l.id, what, x[0], x[1])
			}
		}
	}
}

// Lamp lines are fixed on the mains before the lamp: 1.06 and 1.15 of 83.4 V
// there. A reading on the line comes with less on the set, and the line worked
// out at that must be the same one.
func TestLampLinesHoldAtOneMains(t *testing.T) {
	healthy := circuit.Point{}
	for _, k := range []float64{1.06, 1.15} {
		model := tableRadioModel()
		lamp := &circuit.Lamp{Watts: 60, Volts: 230}
		var err error
		if healthy, err = model.AtMains(230, lamp); err != nil {
			t.Fatal(err)
		}
		over := unit.Volt(k) * healthy.Lamp
		got, err := behindLamp(60, healthy.Set-(over-healthy.Lamp)).lampAt(healthy.Set-(over-healthy.Lamp), k)
		if err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(got-float64(over)) <= 1e-3*float64(over)) {
			t.Errorf("%g x: line %.2f V, want %.2f V", k, got, float64(over))
		}
	}
}

// A small lamp cannot be brought above what the mains gives: a dead short
// behind it puts all 230 V on it, and that must stop.
func TestDeadShortStopsBehindEveryLamp(t *testing.T) {
	for _, w := range []unit.Watt{25, 40, 60, 100, 150} {
		for _, set := range []unit.Volt{0.5, 5, 20} {
			c := behindLamp(w, set)
			if got := verdict(t, "lamp", c, 230-float64(set)); got != engine.Stop {
				t.Errorf("%v lamp, %v on the set: %v", w, set, got)
			}
			sparse := caseFor(t, sparseRadio(), "V4") // a dead short stops even by typical values
			sparse.Lamp, sparse.AtSet, sparse.Mains = c.Lamp, set, 230
			if got := verdict(t, "lamp", sparse, 230-float64(set)); got != engine.Stop {
				t.Errorf("sparse sheet, %v lamp, %v on the set: %v", w, set, got)
			}
		}
	}
}

// Until the cathodes are known to emit no reading has a low side: HT that is
// not there yet proves nothing.
func TestOneSidedStepsHaveNoLowSide(t *testing.T) {
	for _, set := range []unit.Volt{57.5, 115, 148.6, 172.5, 230} {
		for _, settled := range []bool{false, true} {
			c := behindLamp(60, set)
			c.Settled = settled
			for _, id := range []string{"ht-reservoir", "ht-smoothed", "output-grid", "output-cathode", "opt-volts"} {
				if got := verdict(t, id, c, 0); got != engine.Pass {
					t.Errorf("%s 0 V at %v, settled %v: %v; a cold cathode gives nothing", id, set, settled, got)
				}
			}
		}
	}
}

// HT1 over the steps: what each step can know.
func TestHT1ByTheStep(t *testing.T) {
	step := func(rung unit.Percent, two, settled bool, lamp float64) Case {
		c := behindLamp(100, unit.Volt(rung)/100*230)
		c.Rung, c.TwoSided, c.Settled = rung, two, settled
		if lamp > 0 {
			c = c.had("lamp", unit.KindVolt, lamp)
		}
		return c
	}
	for _, s := range []struct {
		why  string
		c    Case
		volt float64
		want engine.Verdict
	}{
		{"valves cold, first minutes: up to the cold figure", step(60, false, false, 0), 215, engine.Pass},
		{"the same after three minutes: the valves should draw", step(60, false, true, 0), 215, engine.Query},
		{"above the cold figure: cannot be this winding", step(60, false, false, 0), 230, engine.Stop},
		{"far below with a dark lamp: the rectifier is cold", step(60, false, true, 20), 40, engine.Pass},
		{"far below with a bright lamp: overload", step(60, false, true, 60), 40, engine.Stop},
		{"the same in the first minutes: still warming", step(60, false, false, 60), 40, engine.Pass},
		{"two-sided: seven tenths and more", step(75, true, true, 0), 150, engine.Pass},
		{"two-sided: less is a query, worn or still warming", step(75, true, true, 0), 120, engine.Query},
		{"two-sided: nothing at all is a query", step(75, true, true, 0), 0, engine.Query},
		{"two-sided with a bright lamp: overload", step(75, true, true, 70), 90, engine.Stop},
		{"negative: reversed leads or a positive earth", step(60, false, true, 0), -65, engine.Stop},
		{"a little under zero: ask where the leads are", step(60, false, true, 0), -5, engine.Query},
		{"by the step, not by the digit read: 85 % emits", step(85, true, true, 0), 190, engine.Stop},
	} {
		if got := verdict(t, "ht-reservoir", s.c, s.volt); got != s.want {
			t.Errorf("%s: %g V is a %v, want %v (%s)", s.why, s.volt, got, s.want, windowOf(t, "ht-reservoir", s.c).Sum)
		}
	}
}

// The capacitors' own rating, whatever the circuit says: with the lamp out 1.0
// of it, behind a lamp 1.1 at any instant (the interlock on HT over rating).
func TestCapacitorRatingIsAbsolute(t *testing.T) {
	low := fullRadio()
	low.Reservoir.Rating, low.Second.Rating = new(unit.Volt(350)), new(unit.Volt(200))
	out := fullMains(138)
	out.Set, out.Rung, out.TwoSided, out.Settled = low, 60, false, false
	for volt, want := range map[float64]engine.Verdict{190: engine.Pass, 199: engine.Pass, 201: engine.Stop} {
		if got := verdict(t, "ht-reservoir", out, volt); got != want {
			t.Errorf("lamp out, %g V on capacitors of 200 V: %v, want %v", volt, got, want)
		}
	}
	in := behindLamp(100, 161)
	in.Set, in.Settled = low, false
	for volt, want := range map[float64]engine.Verdict{190: engine.Pass, 199: engine.Pass, 201: engine.Stop} {
		if got := verdict(t, "ht-reservoir", in, volt); got != want {
			t.Errorf("lamp in, %g V on capacitors of 200 V: %v, want %v", volt, got, want)
		}
	}
	if got := verdict(t, "ht-smoothed", in, 221); got != engine.Stop {
		t.Errorf("HT2 221 V on capacitors of 200 V: %v", got)
	}
	in.Set.Reservoir.Rating, in.Set.Second.Rating = nil, nil
	in.Taken = map[string]unit.Quantity{"stamped-volts@second": {Kind: unit.KindVolt, Value: 200}}
	if got := verdict(t, "ht-reservoir", in, 201); got != engine.Stop {
		t.Errorf("201 V on a can stamped 200 V: %v", got)
	}
	in.Taken = nil
	if w := windowOf(t, "ht-reservoir", in); !strings.Contains(w.Sum, "no capacitor rating") {
		t.Errorf("no rating on the sheet must be said: %q", w.Sum)
	}
}

func TestFirstColdStart(t *testing.T) {
	// No-load HT of 275 V per half: 388.9 V at 230, 427.8 V at 253 (computed:
	// √2 × 275 × mains/tap). Healthy peaks: 368 and 405 V (ngspice).
	for _, s := range []struct {
		mains unit.Volt
		volt  float64
		want  engine.Verdict
	}{
		{230, 368, engine.Pass},
		{253, 405, engine.Pass},
		{230, 388, engine.Pass},
		{230, 390, engine.Stop},
		{253, 428, engine.Stop},
	} {
		c := fullMains(s.mains)
		if got := verdict(t, "cold-start-peak", c, s.volt); got != s.want {
			t.Errorf("%g V at %v: %v, want %v", s.volt, s.mains, got, s.want)
		}
	}
	c := fullMains(230)
	c.Set.Reservoir.Rating = new(unit.Volt(350))
	if got := verdict(t, "cold-start-peak", c, 368); got != engine.Stop {
		t.Errorf("368 V on a capacitor of 350 V: %v", got)
	}
	c.Model = nil
	if _, err := coldStartRule(c); !errors.Is(err, ErrNoData) {
		t.Errorf("without a circuit: %v", err)
	}
}

// Nearly no cathode volts with anode current is a short at any step, whichever
// of the two was read first.
func TestShortedCathodeAtAnyStep(t *testing.T) {
	c := behindLamp(60, 133.8)
	if got := verdict(t, "output-cathode", c.had("opt-volts", unit.KindVolt, 15.2), 0.004); got != engine.Stop {
		t.Errorf("cathode 4 mV after 15.2 V across the output transformer: %v", got)
	}
	c = behindLamp(60, 133.8)
	if got := verdict(t, "output-cathode", c, 0.004); got != engine.Pass {
		t.Errorf("cathode 4 mV alone at a one-sided step: %v", got)
	}
	if got := verdict(t, "opt-volts", c.had("output-cathode@V4", unit.KindVolt, 0.004), 5); got != engine.Stop {
		t.Errorf("5 V across the output transformer after 4 mV at the cathode: %v", got)
	}
}
