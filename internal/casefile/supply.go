package casefile

import (
	"math"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/unit"
)

// ratioSlack is how far a ratio may be from the volts it follows from: rounding.
const ratioSlack = 0.001

// build makes the supply of the row, or tells all that is wrong with it.
func (w *row) build() (*Case, error) {
	c := &Case{ID: w.id, Number: w.number}
	s := &c.Supply
	w.transformer(s)
	w.rectifier(s)
	w.smoothing(s)
	c.cathode = w.load(s)
	c.Mains = s.Nominal * unit.Volt(w.or("ramp", 1))
	if watts, given := w.optional("lamp_W"); given {
		c.Lamp = &circuit.Lamp{Watts: unit.Watt(watts), Volts: unit.Volt(w.need("lamp_rated_V"))}
	}
	if len(w.errs) == 0 { // else nobody knows what goes with what
		w.unused()
	}
	if len(w.errs) > 0 {
		return nil, w.errs
	}
	return c, nil
}

func (w *row) transformer(s *circuit.Supply) {
	s.Nominal = unit.Volt(w.need("mains_nominal_V"))
	s.Frequency = unit.Hertz(w.need("f_Hz"))
	s.Secondary = unit.Volt(w.need("v_sec_oc_V"))
	s.Primary = unit.Ohm(w.need("r_pri_ohm"))
	s.HalfA = unit.Ohm(w.need("r_sec_ohm"))
	s.HalfB = s.HalfA
	s.HeaterExp = w.or("heater_exp", 0)
	s.HeaterPower = w.atTap("r_heater_ref_pri_ohm", s.Nominal)
	s.Idle = w.atTap("R_const_pri_ohm", s.Nominal)
	ratio, given := w.optional("ratio")
	if turns := float64(s.Secondary / s.Nominal); given && turns > 0 && !(math.Abs(ratio/turns-1) <= ratioSlack) {
		w.fail("ratio", "leave it out: it follows from the two", "%v is not v_sec_oc_V over mains_nominal_V, %.6g", ratio, turns)
	}
}

// atTap is the watts that ohms across the primary take at tap volts.
func (w *row) atTap(name string, tap unit.Volt) unit.Watt {
	if ohms, given := w.optional(name); given {
		return unit.Watt(float64(tap*tap) / ohms)
	}
	return 0
}

func (w *row) rectifier(s *circuit.Supply) {
	topology := w.needWord("topology")
	s.Topology = map[string]circuit.Topology{"BRIDGE": circuit.Bridge, "HW": circuit.HalfWave}[topology]
	switch w.needWord("rect_law") {
	case "valve":
		s.Perveance = w.need("perveance_A_V15")
	case "junc":
		s.Junction = &circuit.Junction{
			Is: unit.Ampere(w.need("diode_Is_A")), N: w.need("diode_N"), Series: unit.Ohm(w.or("diode_Rs_ohm", 0)),
		}
	}
	switch n := w.or("conducting_anodes", 2); {
	case n == 1 && topology == "FW_CT": // the other half is as good as open
		s.HalfB = unit.Ohm(math.Inf(1))
	case n == 1 && topology == "BRIDGE":
		w.fail("conducting_anodes", "2, or leave it out", "1 is not computed for a bridge")
	case n != 1 && n != 2:
		w.fail("conducting_anodes", "2, or 1 where the other is dead", "%v is neither 1 nor 2", n)
	}
}

func (w *row) smoothing(s *circuit.Supply) {
	s.Reservoir = microfarads(w.need("C1_uF"))
	s.Leak = unit.Ohm(w.or("R_leak1_ohm", 0))
	if w.needWord("smoothing") == "LC" {
		s.Choke = circuit.Henry(w.need("L_sm_H"))
	}
	s.Smoothing = unit.Ohm(w.need("R_sm_ohm"))
	s.Second = microfarads(w.need("C2_uF"))
}

func microfarads(x float64) unit.Farad { return unit.Farad(x * 1e-6) }

// load sets what hangs on the supply, and tells whether it is valves.
func (w *row) load(s *circuit.Supply) bool {
	load := w.needWord("load")
	switch load {
	case "R":
		s.Bleed = unit.Ohm(w.need("RL_ohm"))
	case "P15", "P15T":
		s.Lumped = circuit.Lumped{Current: unit.Ampere(w.need("I0_A")), Volts: unit.Volt(w.need("V0_V")), Power: 1.5}
		if load == "P15T" {
			s.Lumped.FromHT1 = unit.Ampere(w.need("Ia0_tap_A"))
		}
	case "cathode":
		w.valves(s)
	}
	return load == "cathode"
}

func (w *row) valves(s *circuit.Supply) {
	s.Rest = unit.Ohm(w.or("R_fix_ohm", 0))
	w.need("v1_K_A_V15")
	s.Output = w.valve("v1")
	s.Output.Grid = unit.Volt(w.or("v1_Vg_V", 0))
	s.Output.AnodeR = unit.Ohm(w.or("v1_Ra_ohm", 0))
	s.Output.FromHT1 = w.needWord("v1_anode_from") == "reservoir"
	for _, name := range []string{"v2", "v3"} {
		if _, given := w.optional(name + "_K_A_V15"); given {
			s.Others = append(s.Others, w.valve(name))
		}
	}
}

func (w *row) valve(name string) circuit.Valve {
	return circuit.Valve{
		K: w.numbers[name+"_K_A_V15"], Mu: w.need(name + "_mu"), CathodeR: unit.Ohm(w.need(name + "_Rk_ohm")),
		ScreenR: unit.Ohm(w.or(name+"_Rg2_ohm", 0)), Share: w.or(name+"_screen_share", 0),
	}
}
