package circuit

import (
	"testing"

	"example.com/powerup/internal/unit"
)

// From 350 V through a bleeder, or through 5 MΩ of leakage alone: t = R C ln(V0/V1)
// and ½CV² (computed).
func TestWorkedDischarges(t *testing.T) {
	for _, c := range []struct {
		c                unit.Farad
		r                unit.Ohm
		to60, to50, to30 float64
		joules           float64
	}{
		{64e-6, 220e3, 24.8, 27.4, 34.6, 3.92},
		{100e-6, 470e3, 82.9, 91.5, 115.5, 6.13},
		{50e-6, 100e3, 8.82, 9.73, 12.3, 3.06},
		{64e-6, 5e6, 564, 623, 786, 3.92},
	} {
		for to, want := range map[unit.Volt]float64{60: c.to60, 50: c.to50, 30: c.to30} {
			within(t, "s", float64(Decay(350, to, c.r, c.c)), want, 0.003)
		}
		within(t, "J", float64(Energy(c.c, 350)), c.joules, 0.002)
	}
}

// The same supply integrated with both its sections: with cold valves through the
// bleeder (R C ln, computed), through hot valves by the steepest law, 55 mA at
// 220 V as the 3/2 power (2C/K (V1^-½ - V0^-½), computed), and with both. A
// section beyond a small smoothing resistor changes little.
func TestSectionsFallTogether(t *testing.T) {
	cold := func() *Supply {
		s := tableRadio()
		s.Output.K, s.Others, s.Rest = 0, nil, 0
		return s
	}
	steep := cold()
	steep.Bleed, steep.Smoothing = 0, 20
	steep.Lumped = Lumped{Current: 0.055, Volts: 220, Power: 1.5}
	uneven := cold()
	uneven.Reservoir, uneven.Second = 16e-6, 100e-6
	for _, c := range []struct {
		what   string
		s      *Supply
		v0, v1 unit.Volt
		want   float64
	}{
		{"cold, from 381 V", cold(), 381, 60, 26.0},
		{"to 10 V", cold(), 381, 10, 51.3},
		{"cold, from 428 V", cold(), 428, 60, 27.7},
		{"to 10 V", cold(), 428, 10, 52.9},
		{"hot by the steepest law", steep, 350, 60, 0.5745},
		{"to 30 V", steep, 350, 30, 0.9806},
		{"16 and 100 µF", uneven, 428, 60, 50.1}, // 220 kΩ x 116 µF x ln 7.13
	} {
		got, err := c.s.HotDecay(Point{HT1: c.v0, HT2: c.v0}, c.v1)
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		within(t, c.what, float64(got), c.want, 0.01)
	}
}
