package circuit

import (
	"math"
	"testing"

	"example.com/powerup/internal/unit"
)

// Currents of a capacitor input: r.m.s. of a half over the mean 1.11 to 1.34 with
// a full-wave valve, of the winding 2.1 to 2.4 with a silicon bridge and 2.26 to
// 2.9 half-wave; peak over mean 3.1 to 4.6, 5.3 to 7.0 and 6.5 to 10.5
// (ngspice-39; curves of the kind by O. H. Schade, Proc. IRE, July 1943, from
// memory).
func TestCurrentsOfACapacitorInput(t *testing.T) {
	for id, c := range map[string]struct{ rmsLo, rmsHi, peakLo, peakHi float64 }{
		"c14": {1.11, 1.34, 3.1, 4.6},
		"c36": {2.05, 2.45, 5.3, 7.0},
		"c44": {2.26, 2.9, 6.5, 10.5},
	} {
		s, lamp := caseSupply(t, caseRow(t, id))
		p, err := s.Solve(s.Nominal, lamp)
		if err != nil {
			t.Fatal(err)
		}
		if k := float64(p.Secondary / p.HTCurrent); !(k >= c.rmsLo && k <= c.rmsHi) {
			t.Errorf("%s: r.m.s. over mean %.2f, want %.2f to %.2f", id, k, c.rmsLo, c.rmsHi)
		}
		if k := float64(p.RectifierPeak / p.HTCurrent); !(k >= c.peakLo && k <= c.peakHi) {
			t.Errorf("%s: peak over mean %.2f, want %.1f to %.1f", id, k, c.peakLo, c.peakHi)
		}
	}
}

// HT over the r.m.s. volts of the half without load: 1.10 for the radio with an
// EZ80, 1.20 to 1.29 for silicon, √2 with next to no load, 0.96 for the table
// radio with its long windings (ngspice-39).
func TestHTOverWindingVolts(t *testing.T) {
	over := func(s *Supply) float64 {
		p, err := s.Solve(s.Nominal, nil)
		if err != nil {
			t.Fatal(err)
		}
		return float64(p.HT1 / s.Secondary)
	}
	of := func(id string) *Supply {
		s, _ := caseSupply(t, caseRow(t, id))
		return s
	}
	about(t, "table radio", over(tableRadio()), 0.96, 0.005)
	about(t, "silicon bridge", over(of("c36")), 1.25, 0.05)
	idle := of("c38")
	idle.Bleed = 10e6
	about(t, "silicon, next to no load", over(idle), math.Sqrt2, 0.02)
}

// A tester's constant current charges C to V in C V/I (computed; IEC 61557-2, from
// memory: 1 mA at the least), and through R what is lacking falls to a hundredth
// in 4.6 R C.
func TestChargingAtAnInsulationTest(t *testing.T) {
	about(t, "1 MΩ, 0.1 µF: s", float64(Decay(100, 1, 1e6, 0.1e-6)), 0.46, 0.002)
	about(t, "10 MΩ, 1 µF: s", float64(Decay(100, 1, 10e6, 1e-6)), 46, 0.1)
	// A reading taken too early: 1 MΩ and 1 µF charging beside 100 MΩ on 500 V, the
	// current of charging being that of the volts still lacking.
	for after, want := range map[float64]float64{1: 2.6e6, 5: 59.7e6, 10: 99.5e6} {
		lo, hi := unit.Volt(1e-9), unit.Volt(500) // what is lacking after that time
		for range 100 {
			if mid := (lo + hi) / 2; float64(Decay(500, mid, 1e6, 1e-6)) > after {
				lo = mid
			} else {
				hi = mid
			}
		}
		shown := 500 / (float64(lo)/1e6 + 500/100e6)
		within(t, "shown: Ω", shown, want, 0.02)
	}
}

// With one half open the other carries all, as a winding with one anode does.
func TestOneHalfCarriesAll(t *testing.T) {
	one := tableRadio()
	one.HalfB = open
	half := *one
	half.Topology = HalfWave
	a, err := one.Solve(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := half.Solve(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "r.m.s. of the winding", float64(a.Secondary), float64(b.Secondary), 1e-9)
	within(t, "its watts", float64(a.Losses.Secondary), float64(a.Secondary*a.Secondary)*260, 1e-9)
}
