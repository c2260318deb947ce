package circuit

import (
	"math"
	"testing"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// Crests of the mains itself, √2 V (computed): what a set without a transformer
// charges its reservoir to.
func TestCrestOfTheMains(t *testing.T) {
	s := Supply{Nominal: 230, Secondary: 230}
	for mains, want := range map[unit.Volt]float64{230: 325.3, 253: 357.8} {
		about(t, "crest: V", float64(s.NoLoadHT(mains)), want, 0.05)
	}
}

// t = R C ln(V0/V1), computed; the limits of 34 V in 1 s and 0.1 µF for a
// capacitor across the mains are those of safety standards, seen.
func TestMoreDecays(t *testing.T) {
	about(t, "0.1 µF across the mains, 325 V to 34 V over 4.43 MΩ: s", float64(Decay(325, 34, 4.43e6, 0.1e-6)), 1, 0.005)
	about(t, "100 µF over 470 kΩ, five time constants: s", float64(Decay(1, unit.Volt(math.Exp(-5)), 470e3, 100e-6)), 235, 1e-9)
	about(t, "64 µF over 220 kΩ, five time constants: s", float64(Decay(1, unit.Volt(math.Exp(-5)), 220e3, 64e-6)), 70.4, 1e-9)
}

// drawing makes the supply deliver so many amperes, by the K of its output
// valve, and gives the point at tap volts.
func drawing(t *testing.T, s *Supply, valve *Valve, amps unit.Ampere) Point {
	t.Helper()
	lo, hi := 0.0, 0.1
	var p Point
	for range 60 {
		valve.K = (lo + hi) / 2
		var err error
		if p, err = s.AtSet(s.Nominal, nil); err != nil {
			t.Fatal(err)
		}
		if p.HTCurrent < amps {
			lo = valve.K
		} else {
			hi = valve.K
		}
	}
	about(t, "HT current: A", float64(p.HTCurrent), float64(amps), 1e-6)
	return p
}

// Ripple of 60 mA: the textbook's I/(2 f C) and I/(f C) are upper bounds
// (computed); a real pulse lasts, which leaves 0.54 to 0.69 of it with a
// full-wave valve and 0.73 to 0.85 half-wave (ngspice-39).
func TestRippleOfSixtyMilliamperes(t *testing.T) {
	full := tableRadio()
	p := drawing(t, full, &full.Output, 60e-3)
	about(t, "textbook, 32 µF, 100 Hz: V", 60e-3/(2*50*32e-6), 18.75, 1e-9)
	if !(p.Ripple >= 10.1*(1-RippleError) && p.Ripple <= 12.9*(1+RippleError)) {
		t.Errorf("full wave, 32 µF: %v, want 10.1 to 12.9 V", p.Ripple)
	}
	half := simple(230, 230, 0.001, 150, 2300, 1.2298374e-3, 50e-6, 1200, Valve{Mu: 1}, Valve{Mu: 1})
	half.HalfB = open
	p = drawing(t, half, &half.Others[0], 60e-3)
	about(t, "textbook, 50 µF, 50 Hz: V", 60e-3/(50*50e-6), 24, 1e-9)
	if !(p.Ripple >= 17.5*(1-RippleError) && p.Ripple <= 20.4*(1+RippleError)) {
		t.Errorf("half wave, 50 µF: %v, want 17.5 to 20.4 V", p.Ripple)
	}
}

// A leak of 12 kΩ draws 22.0 mA and burns 5.8 W at 264 V, 12.6 W at the no-load
// 388.9 V (computed).
func TestALeakOfTwelveKilohms(t *testing.T) {
	s := tableRadio()
	without := draw{kind: working}.at(s, 224)
	s.Leak = 12e3
	with := draw{kind: working}.at(s, 224)
	leak := (with.amps - without.amps) * 264 / with.ht1
	about(t, "leak at 264 V: A", leak, 22.0e-3, 0.05e-3)
	about(t, "leak at 264 V: W", leak*264, 5.8, 0.05)
	top := float64(s.NoLoadHT(230))
	about(t, "leak at the no-load HT: W", leak/264*top*top, 12.6, 0.05)
}

// The volts an idle anode stands off: both crests, 2 √2 × 275 V, 778 V at 230
// and 856 V at 253 V of mains at the most (computed), 631 V at work (ngspice-39);
// the rectifier's own limit is 1000 V (valve data).
func TestPeakInverse(t *testing.T) {
	s := tableRadio()
	v, ok := limits.ValveOf("EZ80")
	if !ok {
		t.Fatal("no EZ80")
	}
	for mains, want := range map[unit.Volt]float64{230: 778, 253: 856} {
		most := 2 * s.NoLoadHT(mains)
		about(t, "bound: V", float64(most), want, 0.5)
		if !(most < v.Rectifier.PIV) {
			t.Errorf("%v stands across a valve of %v", most, v.Rectifier.PIV)
		}
	}
	c, _, err := s.settle(230, nil, true, draw{kind: working})
	if err != nil {
		t.Fatal(err)
	}
	// The pulse through the other anode lowers the crest by its drop in the primary.
	i := 0.0
	for range 60 {
		i = (c.crest-c.ht1-math.Pow(i/s.Perveance, 2.0/3))/c.halfA*0.5 + i*0.5
	}
	within(t, "at work: V", c.ht1+c.crest-i*(c.halfA-float64(s.HalfA)), 631, 0.005)
}

// Cathode volts of the table radio by the volts at its primary (ngspice-39).
func TestCathodeVoltsByTheMains(t *testing.T) {
	for percent, want := range map[unit.Volt]float64{50: 2.635, 70: 3.951, 85: 4.98, 100: 6.034, 110: 6.750} {
		p, err := tableRadio().AtSet(230*percent/100, nil)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "cathode", float64(p.Cathode), want, ModelError)
	}
}

// Volts left on the table radio by each lamp, and on the lamp (ngspice-39).
func TestVoltsBehindEachLamp(t *testing.T) {
	for _, c := range []struct{ watts, set, lamp float64 }{
		{25, 81.4, 150.0},
		{40, 116.8, 115.1},
		{60, 148.6, 83.4},
		{100, 183.3, 48.4},
		{150, 203.0, 28.2},
	} {
		l := lamp(c.watts)
		p, err := tableRadio().AtMains(230, &l)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "set", float64(p.Set), c.set, ModelError)
		within(t, "lamp", float64(p.Lamp), c.lamp, ModelError)
	}
}

// The 6.3 V winding of the table radio by its load (ngspice-39): 6.88 V open,
// 6.85 with iron and magnetising, 6.46 with the heaters, 6.31 with HT too.
func TestHeaterVoltsByTheLoad(t *testing.T) {
	s := tableRadio()
	about(t, "open: V", 6.3*s.HeaterOpen, 6.88, 0.005)
	about(t, "idle: V", 6.3*s.HeaterOpen/s.idleDrop(), 6.85, 0.005)
	_, _, heaters, err := s.HeatersOnly(230, Lamp{Watts: 1e7, Volts: 230}) // as good as no lamp
	if err != nil {
		t.Fatal(err)
	}
	about(t, "heaters only: V", 6.3*heaters, 6.46, 0.005)
	p, err := s.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	about(t, "all on: V", 6.3*p.Heater, 6.31, 0.005)
}

// A short of 0.6 Ω on the heater line, with the winding's 0.09 Ω, is 771 Ω at
// the primary and 69 W (computed): it puts 125 V on the 60 W lamp where the
// heaters alone leave 41.
func TestHeaterLineShort(t *testing.T) {
	seen := (0.6 + 0.09) * math.Pow(230/6.88, 2)
	about(t, "as seen at the primary: Ω", seen, 771, 0.5)
	about(t, "at 230 V: W", 230*230/seen, 69, 0.5)
	s := tableRadio()
	s.Idle += unit.Watt(230 * 230 / seen)
	law, _, _, err := s.HeatersOnly(230, lamp(60))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "lamp", float64(law), 125, 0.03)
}

// Rated currents of two lamps, which a dead short behind them draws (computed:
// W/V); cold they pass fourteen times as much for a moment.
func TestLampsAtFullVolts(t *testing.T) {
	for w, amps := range map[float64]float64{60: 0.26, 100: 0.43} {
		about(t, "A", float64(lamp(w).Current(230)), amps, 0.005)
	}
}

// A push-pull amplifier with fixed bias, two valves of the EL34 type: at -36 V
// 44.8 mA and 16.7 W each with 432.6 V at HT1 (ngspice-39); with nine tenths of
// the bias on one of them that one draws 68.5 mA and burns 25.1 W of its 25
// (computed by a time-domain solver).
func TestFixedBiasHasNoRoom(t *testing.T) {
	for _, c := range []struct {
		grid    unit.Volt
		ma, ht1 float64
		pa, rel float64
	}{
		{-36, 44.8, 432.6, 16.7, 0.02},
		{-32.4, 68.5, 0, 25.1, 0.02},
	} {
		valve := Valve{K: 2.30e-3, Mu: 9.7, CathodeR: 10, ScreenR: 1000, Share: 15.0 / 115, AnodeR: 75, FromHT1: true, Grid: -36}
		s := simple(230, 358, 6, 60, 230*230/45.0, 3.21e-3, 50e-6, 39, valve, valve)
		s.Rest = 17e3 // the choke has 80 Ω, but here it carries one of the anodes too
		s.Output.Grid = c.grid
		p, err := s.AtSet(230, nil)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "cathode current, mA", float64(p.CathodeCurrent)*1e3, c.ma, c.rel)
		within(t, "anode dissipation", float64(p.HT1-p.OPT-p.Cathode)*float64(p.AnodeCurrent), c.pa, c.rel)
		if c.ht1 > 0 {
			within(t, "HT1", float64(p.HT1), c.ht1, ModelError)
		}
	}
}
