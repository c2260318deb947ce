package casefile

import (
	"strconv"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/unit"
)

// Result is one thing the model gives for a case.
type Result struct {
	Name, What string
	cathode    bool // with load cathode only
	of         func(*circuit.Solution) unit.Quantity
}

// results, in the order of the reference table.
var results = []Result{
	{"Vres_dc", "on the reservoir", false, func(s *circuit.Solution) unit.Quantity { return s.HT1.Quantity() }},
	{"Vout_dc", "on the second capacitor", false, func(s *circuit.Solution) unit.Quantity { return s.HT2.Quantity() }},
	{"Vres_peak", "highest instant on the reservoir", false, func(s *circuit.Solution) unit.Quantity { return s.HT1Peak.Quantity() }},
	{"rip_res_pp", "ripple on the reservoir, peak to peak", false, func(s *circuit.Solution) unit.Quantity { return s.Ripple.Quantity() }},
	{"rip_res_rms", "the same, r.m.s.", false, func(s *circuit.Solution) unit.Quantity { return s.RippleRMS.Quantity() }},
	{"rip_out_pp", "ripple on the second capacitor, peak to peak", false, func(s *circuit.Solution) unit.Quantity { return s.Ripple2.Quantity() }},
	{"rip_out_rms", "the same, r.m.s.", false, func(s *circuit.Solution) unit.Quantity { return s.Ripple2RMS.Quantity() }},
	{"I_rect_dc", "rectifier, mean", false, func(s *circuit.Solution) unit.Quantity { return s.HTCurrent.Quantity() }},
	{"I_rect_peak", "rectifier, highest instant", false, func(s *circuit.Solution) unit.Quantity { return s.RectifierPeak.Quantity() }},
	{"I_sec_rms", "one half of the winding, or the whole", false, func(s *circuit.Solution) unit.Quantity { return s.Secondary.Quantity() }},
	{"I_pri_ht_rms", "primary, the HT's part", false, func(s *circuit.Solution) unit.Quantity { return s.PrimaryHT.Quantity() }},
	{"I_pri_total_rms", "primary", false, func(s *circuit.Solution) unit.Quantity { return s.Primary.Quantity() }},
	{"P_in", "from the mains, the lamp's too", false, func(s *circuit.Solution) unit.Quantity { return s.Source.Quantity() }},
	{"Vk", "cathode of the output valve", true, func(s *circuit.Solution) unit.Quantity { return s.Cathode.Quantity() }},
	{"Ik", "its cathode current", true, func(s *circuit.Solution) unit.Quantity { return s.CathodeCurrent.Quantity() }},
	{"Ia", "its anode current", true, func(s *circuit.Solution) unit.Quantity { return s.AnodeCurrent.Quantity() }},
	{"Ig2", "its screen current", true, func(s *circuit.Solution) unit.Quantity { return s.ScreenCurrent.Quantity() }},
	{"Vg2", "its screen", true, func(s *circuit.Solution) unit.Quantity { return s.Screen.Quantity() }},
	{"Va", "its anode", true, func(s *circuit.Solution) unit.Quantity { return s.Anode.Quantity() }},
	{"Pa", "its anode's watts", true, func(s *circuit.Solution) unit.Quantity { return s.AnodePower.Quantity() }},
	{"V_set", "at the primary's leads", false, func(s *circuit.Solution) unit.Quantity { return s.Set.Quantity() }},
	{"V_lamp", "across the lamp", false, func(s *circuit.Solution) unit.Quantity { return s.Lamp.Quantity() }},
	{"Vp_rms", "behind the primary's resistance", false, func(s *circuit.Solution) unit.Quantity { return s.Behind.Quantity() }},
}

// Results are the names of all results with what they mean, in the order in
// which they are written.
func Results() []Named {
	var all []Named
	for _, r := range results {
		all = append(all, Named{r.Name, r.What})
	}
	return append(all,
		Named{"residual", "how far the state was from one that returns, of crest"},
		Named{"converged", "true: there is no answer otherwise"},
		Named{"periods", "how many were integrated"},
	)
}

// digits of a number: the model is good for four.
const digits = 9

// JSON is the answer as one object in one line, without a line end.
func (a Answer) JSON() []byte {
	line := appendText([]byte(`{"id":`), a.ID)
	for _, v := range a.Values {
		line = appendNumber(line, v.Name, v.Quantity.Value)
	}
	line = appendNumber(line, "residual", a.Residual)
	line = append(line, `,"converged":true,"periods":`...)
	return append(strconv.AppendInt(line, int64(a.Periods), 10), '}')
}

func appendNumber(line []byte, name string, x float64) []byte {
	line = append(append(append(line, `,"`...), name...), `":`...)
	return strconv.AppendFloat(line, x, 'g', digits, 64)
}
