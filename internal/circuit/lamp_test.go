package circuit

import (
	"math"
	"testing"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

func lamp(w float64) Lamp { return Lamp{Watts: unit.Watt(w), Volts: 230} }

// I_n = W/V and R = V²/W (computed).
func TestLampByItsLabel(t *testing.T) {
	about(t, "60 W 230 V: A", float64(lamp(60).Rated()), 0.261, 0.0005)
	about(t, "60 W 230 V hot: Ω", float64(lamp(60).Hot()), 882, 0.5)
	about(t, "60 W 120 V: A", float64(Lamp{60, 120}.Rated()), 0.5, 0)
	about(t, "60 W at rated volts: A", float64(lamp(60).Current(230)), 0.261, 0.0005)
	about(t, "no volts, no current", float64(lamp(60).Current(0)), 0, 0)
	about(t, "no volts, no real current", float64(lamp(60).Real(-1)), 0, 0)
	lo, hi := lamp(100).Cold()
	about(t, "100 W 230 V cold, least (hot/15): Ω", float64(lo), 35.3, 0.05)
	about(t, "100 W 230 V cold, most (hot/10): Ω", float64(hi), 52.9, 0.05)
	about(t, "the law's exponent is that of the list of limits", lampExponent, limits.Lookup("lamp-exponent").Value.Value, 0)
	// Published: a cold lamp has about 1/14 of its hot ohms; 5.2 and 8.6 A at the
	// crest of 230 V for 60 and 100 W (computed with 14).
	for w, amps := range map[float64]float64{60: 5.2, 100: 8.6} {
		about(t, "inrush at the crest: A", 325.27*14/float64(lamp(w).Hot()), amps, 0.05)
	}
}

// atCurrent is the volts at which the curve passes i.
func atCurrent(curve func(unit.Volt) unit.Ampere, i unit.Ampere) float64 {
	lo, hi := unit.Volt(0), unit.Volt(230)
	for range 60 {
		if mid := (lo + hi) / 2; curve(mid) < i {
			lo = mid
		} else {
			hi = mid
		}
	}
	return float64(lo)
}

// Lamp volts at small currents: by the law (computed), and for tungsten
// (computed from resistivity and emissivity, testdata/tungsten.csv).
func TestLampAtSmallCurrents(t *testing.T) {
	for _, c := range []struct{ watts, ma, law, tungsten float64 }{
		{25, 40, 37.4, 45.3},
		{40, 40, 15.9, 7.8},
		{60, 40, 7.6, 3.3},
		{100, 40, 3.0, 1.7},
		{40, 50, 23.8, 14.5},
		{25, 30, 22, 29},
		{40, 30, 9.4, 4.0},
		{60, 30, 4.5, 2.1},
		{100, 30, 1.8, 1.3},
		{25, 50, 56, 65},
		{60, 50, 11.4, 4.8},
		{100, 50, 4.5, 2.1},
	} {
		l := lamp(c.watts)
		about(t, "law", atCurrent(l.Current, unit.Ampere(c.ma/1e3)), c.law, max(0.01*c.law, 0.06))
		about(t, "tungsten", atCurrent(l.Real, unit.Ampere(c.ma/1e3)), c.tungsten, max(0.02*c.tungsten, 0.15))
	}
	// Read backwards the law understates: 5 V on a 60 W lamp is 51 mA, not 32.
	about(t, "60 W at 5 V by the law: mA", float64(lamp(60).Current(5))*1e3, 32, 0.5)
	about(t, "60 W at 5 V, tungsten: mA", float64(lamp(60).Real(5))*1e3, 51, 0.5)
}

func TestTungstenTable(t *testing.T) {
	rows := readTable(t, "testdata/tungsten.csv")
	for _, row := range rows {
		l := lamp(60)
		if row["lamp"] == "vacuum" {
			l = lamp(25)
		}
		got := float64(l.Real(l.Volts*unit.Volt(number(t, row, "V_over_V0"))) / l.Rated())
		within(t, row["lamp"]+" at "+row["V_over_V0"], got, number(t, row, "I_over_I0"), 1e-9)
	}
	// Between the rows the current only rises.
	for _, w := range []float64{25, 60} {
		last := unit.Ampere(0)
		for v := unit.Volt(0.1); v < 300; v += 0.1 {
			if i := lamp(w).Real(v); !(i > last) {
				t.Fatalf("%v W: the current falls at %v", w, v)
			} else {
				last = i
			}
		}
	}
	// Above half the rated volts the law is within 4 % of a vacuum lamp, 1 % of a
	// gas-filled one.
	for v := unit.Volt(115); v <= 230; v += 5 {
		within(t, "vacuum", float64(lamp(25).Current(v)), float64(lamp(25).Real(v)), 0.04)
		within(t, "gas-filled", float64(lamp(60).Current(v)), float64(lamp(60).Real(v)), 0.01)
	}
}

// Lamp limiter with a plain resistance and with a transformer alone (computed).
func TestTransformerOnly(t *testing.T) {
	v, _ := TransformerOnly(230, lamp(60), 60, 0)
	about(t, "60 W of plain resistance behind 60 W: lamp V", float64(v), 91.5, 0.05)
	about(t, "and its current: A", float64(lamp(60).Current(v)), 0.157, 0.0005)
	for _, c := range []struct{ lamp, watts, law, tungsten float64 }{
		{25, 6.6, 42.7, 49.1},
		{25, 13.75, 63.9, 69.4},
		{40, 6.6, 20.7, 12.3},
		{40, 13.75, 35.0, 29.3},
		{60, 6.6, 10.4, 4.5},
		{60, 13.75, 19.0, 10.9},
	} {
		// These figures have the 46 Ω of the primary in them.
		law, tungsten := TransformerOnly(230, lamp(c.lamp), unit.Watt(c.watts), 0.04)
		about(t, "law", float64(law), c.law*1.01, 0.02*c.law)
		about(t, "tungsten", float64(tungsten), c.tungsten*1.01, max(0.03*c.tungsten, 0.15))
	}
	// The table radio's own iron, 5 W and 40 mA.
	for _, c := range []struct{ lamp, law, tungsten float64 }{{25, 39, 46}, {40, 18, 10}, {60, 9.2, 4.0}, {100, 3.7, 1.9}} {
		law, tungsten := TransformerOnly(230, lamp(c.lamp), 5, 0.04)
		about(t, "law", float64(law), c.law, 0.7)
		about(t, "tungsten", float64(tungsten), c.tungsten, 0.7)
	}
	law, tungsten := TransformerOnly(230, lamp(40), 0, 0)
	about(t, "nothing behind the lamp", float64(law+tungsten), 0, 1e-9)
}

func TestIdleLines(t *testing.T) {
	// A 55 VA transformer: pass at 12 % of its size, stop at 25 % (common
	// practice, no source); by the law or for tungsten, whichever is safer.
	for _, c := range []struct{ lamp, pass, stop float64 }{{40, 20.7, 29.3}, {25, 49, 64}, {60, 10.4, 10.9}} {
		pass, stop := IdleLines(230, lamp(c.lamp), 55, 0.04)
		about(t, "pass", float64(pass), c.pass*1.01, 0.02*c.pass)
		about(t, "stop", float64(stop), c.stop*1.01, 0.03*c.stop)
	}
	if pass, stop := IdleLines(230, lamp(100), 55, 0.04); stop > pass {
		t.Errorf("100 W: pass %v, stop %v: it cannot tell a bad 55 VA transformer from a good one", pass, stop)
	}
}

// The heaters of the table radio behind a lamp, HT inhibited (computed with a
// time-domain solver that agrees with ngspice).
func TestHeatersOnly(t *testing.T) {
	for _, c := range []struct{ mains, lamp, law, tungsten, heater float64 }{
		{230, 25, 112, 115, 3.32},
		{230, 40, 70, 68, 4.52},
		{230, 60, 41, 37, 5.32},
		{230, 100, 19, 11, 5.95},
	} {
		s := tableRadio()
		law, tungsten, heater, err := s.HeatersOnly(unit.Volt(c.mains), lamp(c.lamp))
		if err != nil {
			t.Fatal(err)
		}
		about(t, "law", float64(law), c.law, 0.6)
		about(t, "tungsten", float64(tungsten), c.tungsten, 1)
		about(t, "heater", heater*6.3, c.heater, 0.02)
	}
	bare := tableRadio()
	bare.HeaterPower = 0
	law, _, _, err := bare.HeatersOnly(230, lamp(40))
	if err != nil {
		t.Fatal(err)
	}
	about(t, "no heaters: the transformer alone", float64(law), 18.4, 0.5)
	for _, mains := range []unit.Volt{0, -1, unit.Volt(math.NaN())} {
		if _, _, _, err := tableRadio().HeatersOnly(mains, lamp(40)); err == nil {
			t.Errorf("%v of mains gave an answer", mains)
		}
	}
}

func TestChooseLamps(t *testing.T) {
	s := tableRadio()
	at := []Lamp{lamp(25), lamp(40), lamp(60), lamp(100)}
	c, err := ChooseLamps(s, at, 230, 55)
	if err != nil {
		t.Fatal(err)
	}
	// 0.11 to 0.17 A for the transformer alone (common practice, no source): of the
	// two, 40 W has its lines further apart.
	if c.First == nil || c.First.Watts != 40 {
		t.Errorf("first lamp %v, want 40 W", c.First)
	}
	if c.Ramp == nil || c.Ramp.Watts != 100 || !c.TwoSided {
		t.Errorf("ramp lamp %v, two-sided %v: want 100 W, which carries the set to 79.7 %%", c.Ramp, c.TwoSided)
	}
	within(t, "ceiling", float64(c.Ceiling), 183.33, ModelError)
	if len(c.Refused) != 2 {
		t.Errorf("refused %q: want 60 W for its current and 100 W for its lines", c.Refused)
	}
	if c, err = ChooseLamps(s, at[:3], 230, 55); err != nil || c.TwoSided {
		t.Errorf("60 W carries the set to 65 %% only: two-sided %v, %v", c.TwoSided, err)
	}
	if c, err = ChooseLamps(s, nil, 230, 55); err != nil || c.First != nil || c.Ramp != nil || c.TwoSided {
		t.Errorf("no lamps: %+v, %v", c, err)
	}
	if _, err := ChooseLamps(s, []Lamp{{}}, 230, 55); err == nil {
		t.Error("a lamp without watts was taken")
	}
}
