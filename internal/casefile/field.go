package casefile

import "strings"

// Named is a name of the reference table with what it means.
type Named struct{ Name, What string }

// within says which values a number may have.
type within uint8

const (
	finite      within = iota
	notNegative        // zero or more
	positive           // above zero
	share              // 0 to 1
)

// says is w in words.
func (w within) says() string {
	return [...]string{"any number", "zero or more", "above zero", "from 0 to 1"}[w]
}

func (w within) holds(x float64) bool {
	switch w {
	case notNegative:
		return x >= 0
	case positive:
		return x > 0
	case share:
		return x >= 0 && x <= 1
	}
	return true
}

// field is one parameter: a number with its range, or one of some words, or,
// with neither, whatever anybody likes to write.
type field struct {
	name, what string
	number     bool
	within     within
	words      []string
}

// free tells whether the field is for people and not for the model.
func (f field) free() bool { return !f.number && f.words == nil }

// fields, in the order of the reference table.
var fields = []field{
	{name: "id", what: "given back as it is"},
	word("topology", "two anodes, bridge, one anode", "FW_CT", "BRIDGE", "HW"),
	{name: "rectifier", what: "its name, not used"},
	word("rect_law", "P v^1.5, or Is (exp(v/(N 25.85 mV)) - 1)", "valve", "junc"),
	num("perveance_A_V15", positive, "P of one anode"),
	num("diode_Is_A", positive, "Is"),
	num("diode_N", positive, "N"),
	num("diode_Rs_ohm", notNegative, "in series with the junction"),
	num("conducting_anodes", positive, "2, or 1 where the other is dead"),
	num("f_Hz", positive, "mains frequency"),
	num("mains_nominal_V", positive, "tap volts"),
	num("ramp", positive, "mains over tap volts, 1 if left out"),
	num("v_sec_oc_V", positive, "open circuit, of a half or of the whole winding"),
	num("ratio", positive, "v_sec_oc_V over mains_nominal_V"),
	num("r_pri_ohm", notNegative, "primary"),
	num("r_sec_ohm", positive, "one half, or the whole HT winding"),
	num("r_heater_ref_pri_ohm", positive, "heaters, as seen at the primary"),
	num("C1_uF", positive, "reservoir"),
	word("smoothing", "by a resistor, or a choke", "RC", "LC"),
	num("R_sm_ohm", notNegative, "of the resistor or the choke"),
	num("L_sm_H", positive, "of the choke"),
	num("C2_uF", notNegative, "second capacitor"),
	word("load", "resistor, lumped, tapped, valves", "R", "P15", "P15T", "cathode"),
	num("RL_ohm", positive, "load R"),
	num("I0_A", notNegative, "P15, P15T: I0 (V/V0)^1.5 from the second capacitor"),
	num("V0_V", positive, "P15, P15T: V0"),
	num("Ia0_tap_A", notNegative, "P15T: the same from the reservoir"),
	num("R_leak1_ohm", positive, "across the reservoir"),
	{name: "note", what: "not used"},
	num("R_fix_ohm", positive, "cathode: the load's resistive part"),
	num("v1_K_A_V15", notNegative, "output valve: Ik = K (Vg + Vg2/mu - Ik Rk)^1.5"),
	num("v1_mu", positive, "of the screen"),
	num("v1_Rk_ohm", notNegative, "in the cathode"),
	num("v1_Vg_V", finite, "grid to chassis, 0 if left out"),
	num("v1_Rg2_ohm", notNegative, "in the screen, 0 if left out"),
	num("v1_screen_share", share, "the screen's part of Ik, 0 if left out"),
	word("v1_anode_from", "where the anode is fed from", "reservoir", "smoothed"),
	num("v1_Ra_ohm", notNegative, "in the anode, 0 if left out"),
	num("v2_K_A_V15", notNegative, "signal valve on the second capacitor"),
	num("v2_mu", positive, "of the screen"),
	num("v2_Rk_ohm", notNegative, "in the cathode"),
	num("v2_Rg2_ohm", notNegative, "in the screen, 0 if left out"),
	num("v2_screen_share", share, "the screen's part of Ik, 0 if left out"),
	num("v3_K_A_V15", notNegative, "another"),
	num("v3_mu", positive, "of the screen"),
	num("v3_Rk_ohm", notNegative, "in the cathode"),
	num("v3_Rg2_ohm", notNegative, "in the screen, 0 if left out"),
	num("v3_screen_share", share, "the screen's part of Ik, 0 if left out"),
	num("heater_exp", notNegative, "heater ohms go as volts to it, 0 if left out"),
	num("R_const_pri_ohm", positive, "constant, beside the heaters"),
	num("lamp_W", positive, "lamp in front of the set"),
	num("lamp_rated_V", positive, "its rated volts"),
}

func word(name, what string, words ...string) field {
	return field{name: name, what: what, words: words}
}

func num(name string, w within, what string) field {
	return field{name: name, what: what, number: true, within: w}
}

// right says what would be right for the field.
func (f field) right() string {
	if f.words != nil {
		return "one of " + strings.Join(f.words, ", ") + ": " + f.what
	}
	return f.within.says() + ": " + f.what
}

// Parameters are the names of all parameters with what they mean, in the order
// of the reference table.
func Parameters() []Named {
	var all []Named
	for _, f := range fields {
		what := f.what
		if f.words != nil {
			what = strings.Join(f.words, ", ") + ": " + f.what
		}
		all = append(all, Named{f.name, what})
	}
	return all
}

func names() []string {
	var all []string
	for _, f := range fields {
		all = append(all, f.name)
	}
	return all
}

// find gives a parameter by its exact name.
func find(name string) (field, bool) {
	for _, f := range fields {
		if f.name == name {
			return f, true
		}
	}
	return field{}, false
}
