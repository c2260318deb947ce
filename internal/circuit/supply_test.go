package circuit

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/unit"
)

func TestNoLoadHT(t *testing.T) {
	// √2 V_oc m (computed).
	for _, c := range []struct{ secondary, mains, nominal, want float64 }{
		{275, 230, 230, 388.9},
		{275, 253, 230, 427.8},
		{275, 127, 117, 422.1},
		{250 * 1.15, 230, 230, 406.6},
		{250 * 1.15, 253, 230, 447.2},
		{250, 230, 230, 353.6},
		{350, 230, 230, 495.0},
	} {
		s := Supply{Nominal: unit.Volt(c.nominal), Secondary: unit.Volt(c.secondary)}
		about(t, "V", float64(s.NoLoadHT(unit.Volt(c.mains))), c.want, 0.1)
	}
}

// HT1 with the rectifier hot and the valves cold. Source: ngspice-39, the
// reference table radio with its heaters drawing and 220 kΩ on HT2.
func TestValvesCold(t *testing.T) {
	s := tableRadio()
	for set, want := range map[unit.Volt]float64{57.5: 90, 115: 182, 138: 219, 161: 256, 184: 294, 207: 331, 230: 367.8, 253: 405.1} {
		got, err := s.ValvesCold(set)
		if err != nil {
			t.Fatal(err)
		}
		about(t, "V", float64(got), want, 0.7)
		if top := s.NoLoadHT(set); !(got < top) {
			t.Errorf("%v with the valves cold, %v with no load at all", got, top)
		}
	}
	s.Bleed = 0
	got, err := s.ValvesCold(230)
	if err != nil || !(got > 368 && got < s.NoLoadHT(230)) {
		t.Errorf("without a bleeder %v, %v: want between 368 V and the no-load figure", got, err)
	}
}

// The supply line of the table radio (computed by a time-domain solver that
// agrees with ngspice to 0.02 %).
func TestLine(t *testing.T) {
	s := tableRadio()
	for ma, want := range map[unit.Ampere]float64{34: 306, 46: 292, 60: 277, 73: 264, 88: 250, 119: 224} {
		got, err := s.Line(230, ma/1e3)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "V", float64(got), want, 0.005)
	}
	p, err := s.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Line(230, p.HTCurrent)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "the healthy set lies on its own line", float64(got), float64(p.HT1), 1e-6)
	if _, err := s.Line(230, 10); !errors.Is(err, ErrNoAnswer) {
		t.Errorf("10 A out of a radio's HT winding: %v", err)
	}
}

// Charge the capacitor supplies alone, over the load's charge of one half-cycle
// (a whole cycle, half-wave): 0.54 to 0.69 with a full-wave valve and 180 to
// 250 Ω, 0.57 for the table radio, 0.73 to 0.85 half-wave (ngspice-39). The
// textbook's 1 is an upper bound only.
func TestRippleIsBelowTheTextbook(t *testing.T) {
	s := tableRadio()
	p, err := s.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	textbook := float64(p.HTCurrent) / (2 * 50 * 32e-6)
	about(t, "k", float64(p.Ripple)/textbook, 0.571, 0.01)
	for _, row := range readTable(t, "testdata/cases.csv") {
		if row["load"] != "cathode" {
			continue
		}
		s, lamp := caseSupply(t, row)
		p, err := s.AtSet(unit.Volt(number(t, row, "ng_V_set")), lamp)
		if err != nil {
			t.Fatal(err)
		}
		if row["id"] == "c61" {
			continue // overloaded: the pulses are wider
		}
		times, lo, hi := 2.0, 0.54, 0.69
		switch row["topology"] {
		case "HW":
			times, lo, hi = 1, 0.68, 0.85
		case "BRIDGE":
			lo, hi = 0.6, 0.79
		}
		k := float64(p.Ripple) * times * number(t, row, "f_Hz") * float64(s.Reservoir) / float64(p.HTCurrent)
		if lamp != nil {
			lo -= 0.12 // the lamp's ohms spread the pulses
		}
		if !(k >= lo && k <= hi) {
			t.Errorf("%s: k %.3f, want %.2f to %.2f", row["id"], k, lo, hi)
		}
	}
}

// Behind a lamp the same set volts give the same set, whichever way they were
// come by; with a lamp the crest is flatter and HT1 lower.
func TestAtSetAgreesWithAtMains(t *testing.T) {
	s := tableRadio()
	for _, w := range []float64{25, 40, 60, 100, 150} {
		l := lamp(w)
		a, err := s.AtMains(230, &l)
		if err != nil {
			t.Fatal(err)
		}
		b, err := s.AtSet(a.Set, &l)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "HT1", float64(b.HT1), float64(a.HT1), 1e-5)
		within(t, "lamp", float64(b.Lamp), float64(a.Lamp), 1e-5)
		c, err := s.AtSet(a.Set, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !(c.HT1 > a.HT1 && c.Lamp == 0) {
			t.Errorf("%v W: HT1 %v behind the lamp, %v without", w, a.HT1, c.HT1)
		}
		if got, err := s.Ceiling(l, 230); err != nil || got != a.Set {
			t.Errorf("ceiling %v, %v, want %v", got, err, a.Set)
		}
	}
}

func TestNoAnswerIsSaid(t *testing.T) {
	nan := math.NaN()
	for what, spoil := range map[string]func(*Supply){
		"no tap volts":          func(s *Supply) { s.Nominal = 0 },
		"no winding":            func(s *Supply) { s.Secondary = 0 },
		"winding of NaN":        func(s *Supply) { s.Secondary = unit.Volt(nan) },
		"no frequency":          func(s *Supply) { s.Frequency = 0 },
		"no reservoir":          func(s *Supply) { s.Reservoir = 0 },
		"no rectifier":          func(s *Supply) { s.Perveance = 0 },
		"windings of no ohms":   func(s *Supply) { s.HalfA = 0 },
		"no screen factor":      func(s *Supply) { s.Output.Mu = 0 },
		"cathode resistor NaN":  func(s *Supply) { s.Output.CathodeR = unit.Ohm(nan) },
		"smoothing of NaN":      func(s *Supply) { s.Smoothing = unit.Ohm(nan) },
		"primary of NaN":        func(s *Supply) { s.Primary = unit.Ohm(nan) },
		"signal valve of NaN":   func(s *Supply) { s.Others[0].K = nan },
		"magnetising of NaN":    func(s *Supply) { s.Magnetising = unit.Ampere(nan) },
		"a heater that is none": func(s *Supply) { s.HeaterR = unit.Ohm(nan) },
	} {
		s := tableRadio()
		spoil(s)
		if p, err := s.AtSet(230, nil); !errors.Is(err, ErrNoAnswer) || p != (Point{}) {
			t.Errorf("%s: %+v, %v", what, p, err)
		}
		if _, err := s.BoundsAtSet(230, nil, All); !errors.Is(err, ErrNoAnswer) {
			t.Errorf("%s: bounds gave %v", what, err)
		}
	}
	for _, v := range []unit.Volt{0, -230, unit.Volt(nan), unit.Volt(math.Inf(1))} {
		s := tableRadio()
		if _, err := s.AtMains(v, nil); !errors.Is(err, ErrNoAnswer) {
			t.Errorf("%v of mains: %v", float64(v), err)
		}
		if _, err := s.ValvesCold(v); !errors.Is(err, ErrNoAnswer) {
			t.Errorf("%v at the set, valves cold: %v", float64(v), err)
		}
	}
	for _, l := range []Lamp{{}, {60, 0}, {unit.Watt(nan), 230}} {
		if _, err := tableRadio().AtMains(230, &l); !errors.Is(err, ErrNoAnswer) {
			t.Errorf("lamp %+v: %v", l, err)
		}
	}
}

// Whatever the set: HT1 stays between HT2 and the no-load figure, rises with
// the mains and falls with the load, and the volts of lamp and set never exceed
// the mains by more than they must to add up as vectors.
func TestPlausibleSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(what string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		s := tableRadio()
		s.Secondary = unit.Volt(draw("secondary", 150, 450))
		s.Primary = unit.Ohm(draw("primary", 5, 150))
		s.HalfA, s.HalfB = unit.Ohm(draw("half a", 40, 600)), unit.Ohm(draw("half b", 40, 600))
		s.Perveance = draw("perveance", 1e-4, 4e-3)
		s.Smoothing = unit.Ohm(draw("smoothing", 50, 5000))
		s.Output.CathodeR = unit.Ohm(draw("cathode", 0.1, 1000))
		s.Output.K = draw("K", 1e-4, 1e-2)
		s.Output.Grid = unit.Volt(draw("grid", -20, 8))
		s.HeaterPower = unit.Watt(draw("heaters", 0, 60))
		mains := unit.Volt(draw("mains", 20, 280))
		var l *Lamp
		if rapid.Bool().Draw(t, "lamp in") {
			l = &Lamp{Watts: unit.Watt(draw("lamp", 15, 300)), Volts: 230}
		}
		p, err := s.AtMains(mains, l)
		if err != nil {
			t.Fatal(err)
		}
		if !(p.HT2 > 0 && p.HT2 <= p.HT1 && p.HT1 < s.NoLoadHT(mains)) {
			t.Fatalf("HT1 %v, HT2 %v, no load %v", p.HT1, p.HT2, s.NoLoadHT(mains))
		}
		if !(p.Set <= mains*(1+1e-4) && p.Lamp <= mains && p.Set+p.Lamp >= mains*(1-1e-4) && p.Input > 0) {
			t.Fatalf("set %v, lamp %v, mains %v, %v", p.Set, p.Lamp, mains, p.Input)
		}
		more, err := s.AtMains(mains*1.01, l)
		if err != nil {
			t.Fatal(err)
		}
		if !(more.HT1 > p.HT1 && more.Primary > p.Primary) {
			t.Fatalf("more mains, less HT1: %v, %v", p.HT1, more.HT1)
		}
		s.Leak = 20e3
		loaded, err := s.AtMains(mains, l)
		if err != nil {
			t.Fatal(err)
		}
		if !(loaded.HT1 < p.HT1) {
			t.Fatalf("a leak raised HT1 from %v to %v", p.HT1, loaded.HT1)
		}
	})
}

// A solve allocates nothing.
func TestSolvingAllocatesNothing(t *testing.T) {
	s, lamp := tableRadio(), Lamp{Watts: 60, Volts: 230}
	for _, l := range []*Lamp{nil, &lamp} {
		if n := testing.AllocsPerRun(20, func() {
			if _, err := s.AtMains(230, l); err != nil {
				t.Fatal(err)
			}
		}); n > 0 {
			t.Errorf("%v allocations", n)
		}
	}
}
