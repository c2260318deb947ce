package circuit

import (
	"testing"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// rampRadio is the radio of testdata/ramp_bounds.csv. Hot, the drop over 1.2 kΩ
// there shows 58 mA at 220 V by the 3/2-power law; cold, 220 kΩ.
func rampRadio() *Supply {
	return &Supply{
		Nominal: 230, Frequency: 50, Secondary: 250, Primary: 30, HalfA: 180, HalfB: 180,
		HeaterPower: 16.4, HeaterExp: 0.4, Perveance: 1.00623e-3,
		Reservoir: 32e-6, Smoothing: 1200, Second: 32e-6,
		Lumped: Lumped{Current: 0.058, Volts: 220, Power: 1.5},
	}
}

// Both edges of HT while cathodes warm, with a valve rectifier and with silicon,
// at every step, within 1 %. Source: computed, testdata/ramp_bounds.csv.
func TestEdgesOfTheRamp(t *testing.T) {
	rows := readTable(t, "testdata/ramp_bounds.csv")
	if len(rows) < 11 {
		t.Fatalf("%d steps, want 11", len(rows))
	}
	for _, row := range rows {
		set := unit.Volt(230 * number(t, row, "ramp"))
		valve, silicon := rampRadio(), rampRadio()
		silicon.Junction = &Junction{Is: 1e-9, N: 1.68, Series: 0.03}
		for column, s := range map[string]*Supply{"valve_rect_hot": valve, "silicon_hot": silicon} {
			p, err := s.AtMains(set, nil)
			if err != nil {
				t.Fatal(err)
			}
			within(t, column+" reservoir", float64(p.HT1), number(t, row, column+"_reservoir"), 0.01)
			within(t, column+" smoothed", float64(p.HT2), number(t, row, column+"_smoothed"), 0.01)
		}
		for column, s := range map[string]*Supply{"valve_rect_hot_valves_drawing_nothing": valve, "silicon_valves_cold_reservoir": silicon} {
			s.Bleed = 220e3
			got, err := s.ValvesCold(set)
			if err != nil {
				t.Fatal(err)
			}
			within(t, column, float64(got), number(t, row, column), 0.01)
			if top := s.NoLoadHT(set); !(got < top) {
				t.Errorf("%v: valves cold %v, nothing at all drawn %v", set, got, top)
			}
		}
	}
}

// Where the windows begin to count on emission, the cathodes have it: none below
// the step from which HT may come, some at the two-sided steps, all of it where
// the other readings get a low side.
func TestWindowsCountOnEmissionWhereThereIsSome(t *testing.T) {
	part := func(id string) float64 { return limits.Lookup(id).Value.Value / 100 }
	for _, row := range readTable(t, "testdata/ramp_bounds.csv") {
		ramp, class := number(t, row, "ramp"), row["emission_class"]
		switch {
		case ramp < part("emits-from") && class != "none":
			t.Errorf("at %g of the volts cathodes emit: %s", ramp, class)
		case ramp >= part("two-sided-direct") && (class == "none" || class == "starting"):
			t.Errorf("at %g of the volts HT gets a low side, and emission is %s", ramp, class)
		case ramp >= part("emitting") && class != "full":
			t.Errorf("at %g of the volts every reading gets a low side, and emission is %s", ramp, class)
		}
	}
	// A dwell outlasts the warm-up of every rectifier there is data of, 30 to 35 s
	// indirectly heated and about 5 s for a filament (EZ80 seen, else from memory).
	for _, v := range limits.Valves() {
		if r := v.Rectifier; r != nil && !(r.WarmUp > 0 && float64(r.WarmUp) <= limits.Lookup("two-sided-dwell").Value.Value) {
			t.Errorf("%s gives HT after %v, and a low side is judged before", v.Type, r.WarmUp)
		}
	}
}

// The table radio's valves-cold figures at every step, within 1 %, and the same
// with silicon in the rectifier's place: 373 V at 230 V and 410 V at 253 V from
// the first second (computed).
func TestSiliconGivesUnloadedHTAtOnce(t *testing.T) {
	s := tableRadio()
	s.Junction = &Junction{Is: 1e-9, N: 1.68, Series: 0.03}
	valve := tableRadio()
	for set, want := range map[unit.Volt]float64{230: 373, 253: 410} {
		got, err := s.ValvesCold(set)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "silicon", float64(got), want, 0.01)
	}
	for _, set := range []unit.Volt{57.5, 115, 138, 161, 184, 207, 230, 253} {
		got, err := s.ValvesCold(set)
		if err != nil {
			t.Fatal(err)
		}
		with, err := valve.ValvesCold(set)
		if err != nil {
			t.Fatal(err)
		}
		if stop := with * unit.Volt(limits.BandOf("ht-reservoir.cold").QueryHi*(1+ModelError)); !(got > stop) {
			t.Errorf("silicon at %v: %v, stop line of the valve rectifier's cold figure %v", set, got, stop)
		}
	}
}
