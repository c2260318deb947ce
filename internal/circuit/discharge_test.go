package circuit

import (
	"math"
	"testing"

	"example.com/powerup/internal/unit"
)

// t = R C ln(V0/V1) (computed).
func TestDecay(t *testing.T) {
	for _, c := range []struct {
		what   string
		v0, v1 unit.Volt
		r      unit.Ohm
		c      unit.Farad
		want   float64
		tol    float64
	}{
		{"64 µF over 220 kΩ to 60 V", 350, 60, 220e3, 64e-6, 24.8, 0.05},
		{"to 50 V", 350, 50, 220e3, 64e-6, 27.4, 0.05},
		{"to 30 V", 350, 30, 220e3, 64e-6, 34.6, 0.05},
		{"100 µF over 470 kΩ", 350, 60, 470e3, 100e-6, 82.9, 0.05},
		{"50 µF over 100 kΩ", 350, 60, 100e3, 50e-6, 8.82, 0.005},
		{"leakage of 5 MΩ only", 350, 60, 5e6, 64e-6, 564, 0.6},
		{"a 10 MΩ meter only, to 50 V", 350, 50, 10e6, 64e-6, 1245, 1},
		{"five time constants", 1, unit.Volt(math.Exp(-5)), 220e3, 64e-6, 70.4, 1e-9},
		{"table radio, valves cold, from 381 V", 381, 60, 220e3, 64e-6, 26.0, 0.05},
		{"to 10 V", 381, 10, 220e3, 64e-6, 51.3, 0.05},
		{"at 253 V of mains", 428, 60, 220e3, 64e-6, 27.7, 0.05},
		{"to 10 V", 428, 10, 220e3, 64e-6, 52.9, 0.05},
		{"the 10 kΩ tool from 389 V", 389, 10, 10e3, 64e-6, 2.34, 0.005},
		{"the 10 kΩ tool from 428 V", 428, 10, 10e3, 64e-6, 2.40, 0.005},
		{"bleed for 60 V within 5 s", 350, 60, 44.3e3, 64e-6, 5.0, 0.01},
		{"already there", 50, 60, 220e3, 64e-6, 0, 0},
	} {
		about(t, c.what, float64(Decay(c.v0, c.v1, c.r, c.c)), c.want, c.tol)
	}
	for what, got := range map[string]unit.Second{
		"no path":          Decay(350, 60, 0, 64e-6),
		"a path of NaN":    Decay(350, 60, unit.Ohm(math.NaN()), 64e-6),
		"never to nothing": Decay(350, 0, 220e3, 64e-6),
	} {
		if !math.IsInf(float64(got), 1) {
			t.Errorf("%s: %v, want for ever", what, float64(got))
		}
	}
}

// C V²/2 (computed); 350 mJ is the harmless line of EN 50191:2010 1.2 d.
func TestEnergy(t *testing.T) {
	about(t, "64 µF at 350 V: J", float64(Energy(64e-6, 350)), 3.92, 0.005)
	about(t, "32 µF at 147.9 V: J", float64(Energy(32e-6, 147.9)), 0.350, 0.0005)
	about(t, "47 nF after a 500 V insulation test: J", float64(Energy(47e-9, 500)), 5.9e-3, 5e-5)
	about(t, "1 µF after it: J", float64(Energy(1e-6, 500)), 0.125, 1e-9)
}

// Down to 10 V and never under 5 s (common practice, no source).
func TestToolTime(t *testing.T) {
	about(t, "64 µF from 350 V", float64(ToolTime(350, 10e3, 64e-6)), 5, 0)
	about(t, "220 µF from 350 V", float64(ToolTime(350, 10e3, 220e-6)), 7.8, 0.05)
	about(t, "reads nothing", float64(ToolTime(0, 10e3, 64e-6)), 5, 0)
	if got := ToolTime(350, 0, 64e-6); !math.IsInf(float64(got), 1) {
		t.Errorf("no tool: %v", float64(got))
	}
}

// The table radio's plug pulled while it works: its valves discharge it
// (computed, integrated by another program).
func TestHotDecay(t *testing.T) {
	s := tableRadio()
	from, err := s.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	bigger := tableRadio()
	bigger.Reservoir, bigger.Second = 48e-6, 48e-6
	for _, c := range []struct {
		s    *Supply
		to   unit.Volt
		want float64
	}{{s, 60, 0.31}, {s, 10, 0.85}, {bigger, 60, 0.46}, {bigger, 10, 1.27}} {
		got, err := c.s.HotDecay(from, c.to)
		if err != nil {
			t.Fatal(err)
		}
		about(t, "s", float64(got), c.want, 0.01)
	}
	still := tableRadio()
	still.Output.K, still.Others, still.Bleed, still.Rest = 0, nil, 0, 0
	if _, err := still.HotDecay(from, 60); err == nil {
		t.Error("nothing draws, yet the HT fell")
	}
	if _, err := s.HotDecay(from, 0); err == nil {
		t.Error("the HT fell to nothing")
	}
}

// Two capacitors with next to nothing between them fall as one: no ringing.
func TestHotDecayWithLittleBetweenTheCapacitors(t *testing.T) {
	s := tableRadio()
	p, err := s.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	var last unit.Second
	for _, ohms := range []unit.Ohm{1200, 300, 80, 10, 2} {
		s.Smoothing = ohms
		got, err := s.HotDecay(p, 60)
		if err != nil || !(got > 0.1 && got < 0.6) || last > 0 && !(got > last*0.8 && got < last*1.6) {
			t.Errorf("%v: %v after %v, %v", ohms, got, last, err)
		}
		last = got
	}
}
