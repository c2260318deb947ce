package sheet

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/limits"
)

// missing notes what the sheet does not say, each with what that costs.
func (r *review) missing() {
	s := r.set
	t, o := s.Transformer, s.Output
	for _, m := range []struct {
		gone  bool
		field string
		what  string
		cost  string
	}{
		{s.HTWinding == nil, "ht-winding", "the HT winding's volts", "worked back from printed HT1; the reading with the transformer alone takes their place, and the capacitor ratings are judged then"},
		{t.Primary == nil, "transformer.primary", "the primary's ohms", "a typical window; the order of the taps is still judged"},
		{t.HalfA == nil || t.HalfB == nil, "transformer.half-a", "the ohms of the HT winding's halves", "a typical window; their balance is still judged"},
		{t.Rating == nil, "transformer.rating", "the transformer's size", "taken from the set's watts"},
		{t.Heaters == nil, "transformer.heater-rating", "the heater winding's rating", "whether it carries the valves is not judged"},
		{s.Reservoir.Capacitance == nil, "reservoir.capacitance", "the reservoir's capacitance", "waits and ripple are typical: read it off the can and write it here"},
		{s.Reservoir.Rating == nil, "reservoir.rating", "the reservoir's rating", "read off the can at the bench; without it there is no HT"},
		{s.Smoothing.Resistance == nil, "smoothing.resistance", "the smoothing's ohms", "a typical window; the current through it is not judged"},
		{s.Second.Capacitance == nil, "second.capacitance", "the second capacitor's capacitance", "waits are typical: read it off the can and write it here"},
		{s.Second.Rating == nil, "second.rating", "the second capacitor's rating", "read off the can at the bench; without it there is no HT"},
		{s.Bleed == nil, "bleed", "whether a path discharges the HT line", "taken as none: the HT line's ohms end in a query at most, and the discharge tool is used after every wait"},
		{s.HTMinus == "", "ht-minus", "where the HT negative is", "a proof of dead to the chassis does not count: it is made across each capacitor"},
		{s.OutputTransformer.Primary == nil, "output-transformer.primary", "the output transformer's ohms", "a typical window; the ohms read dead take their place"},
		{s.OutputTransformer.Speaker == nil, "output-transformer.speaker", "the loudspeaker's impedance", "a typical window for its coil"},
		{o.CathodeR == nil, "output-stage.cathode-resistor", "the output valve's cathode resistor", "what is marked on it is asked before it is measured; else typical for the valve"},
		{o.GridLeak == nil, "output-stage.grid-leak", "the output valve's grid leak", "what is marked on it is asked before it is measured; else typical"},
		{o.ScreenR == nil, "output-stage.screen-resistor", "the output valve's screen resistor", "typical; its current is not judged"},
		{o.Coupling == nil || o.Coupling.Rating == nil, "output-stage.coupling", "the coupling capacitor's rating", "read off the part at the bench before it is tested at volts"},
		{s.DialLamps == nil, "dial-lamps", "whether there are dial lamps", "taken as none: the heater winding may carry more than is counted; count: 0 says that there are none"},
		{len(s.Renewed) == 0, "renewed", "what was renewed", "every capacitor counts as an old one"},
	} {
		if m.gone {
			r.note(m.field, m.what+": not on the sheet", m.cost)
		}
	}
	r.missingRail()
	r.missingPrinted()
	r.missingStages()
}

func (r *review) missingRail() {
	if k := r.set.Output.Coupling; k == nil || k.Rail == "" && k.RailVolts == nil {
		r.note("output-stage.coupling.rail", "which rail feeds the driver: not on the sheet", "HT1 is taken for it: no rail is higher")
	}
}

func (r *review) missingPrinted() {
	p := r.set.Printed
	if p == nil {
		r.note("printed", "printed volts: not on the sheet", "no second source: all windows come from the computed circuit alone")
		return
	}
	var gone []string
	for _, v := range []struct {
		name string
		gone bool
	}{
		{"ht1", p.HT1 == nil},
		{"ht2", p.HT2 == nil},
		{"anode", p.Anode == nil},
		{"screen", p.Screen == nil},
		{"cathode", p.Cathode == nil},
		{"heater", p.Heater == nil},
	} {
		if v.gone {
			gone = append(gone, v.name)
		}
	}
	if len(gone) > 0 {
		r.note("printed", "printed volts of "+strings.Join(gone, ", ")+": not on the sheet", "their windows come from the computed circuit alone")
	}
	if p.Mains == nil {
		r.note("printed.mains", "the mains at which the volts were printed: not on the sheet", "taken as the volts of the tap in use")
	}
	if p.Meter == nil && p.PerVolt == nil {
		r.note("printed.meter-input", "the meter of the printed volts: not on the sheet",
			fmt.Sprintf("taken as %v or %v, and only what both allow passes", limits.Lookup("sheet-meter").Value, limits.Lookup("voltmeter-input").Value))
	}
}

// missingStages notes small valves whose resistors are typical.
func (r *review) missingStages() {
	given := map[string]bool{}
	for _, stage := range r.set.Signal {
		given[stage.Valve] = stage.CathodeR != nil && stage.ScreenR != nil
	}
	var gone []string
	for _, name := range r.set.Valves {
		if v, known := limits.ValveOf(name); known && v.Signal != nil && !given[name] {
			gone = append(gone, name)
		}
	}
	if len(gone) > 0 {
		r.note("signal-stages", "resistors of "+strings.Join(gone, ", ")+": not on the sheet", "typical for the valve: the windows of the HT line become wider")
	}
}
