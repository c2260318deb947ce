package sheet

import (
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// Position names the place of a valve among Valves, counted from 0: "V1" first.
// It names a place, so that two valves of one type can be told apart.
func Position(i int) string { return fmt.Sprintf("V%d", i+1) }

// OutputValve gives the data and the position of the one output valve. It is an
// error when the sheet has none of which there is data, or more than one.
func (s *Set) OutputValve() (v limits.Valve, position string, err error) {
	var found []int
	for i, name := range s.Valves {
		data, known := limits.ValveOf(name)
		switch {
		case s.Output.Valve != "" && s.Output.Valve != name:
		case s.Output.Valve != "" && (!known || data.Output == nil):
			return limits.Valve{}, "", fmt.Errorf("there is no data of %s as an output valve\nhint: known output valves are %s", name, types(isOutput))
		case known && data.Output != nil:
			found, v = append(found, i), data
		}
	}
	switch len(found) {
	case 1:
		return v, Position(found[0]), nil
	case 0:
		return limits.Valve{}, "", fmt.Errorf("no output valve is among the valves\nhint: known output valves are %s", types(isOutput))
	}
	return limits.Valve{}, "", fmt.Errorf("%d output valves are among the valves, and only a set with one can be guided\nhint: name the one in output-stage.valve if the others serve something else", len(found))
}

// RectifierValve gives the data of the rectifier. It is an error when there is
// none, or when it is no full-wave valve, which is all a double-wound set's
// windows are computed for.
func (s *Set) RectifierValve() (limits.Valve, error) {
	if s.Rectifier == "" {
		return limits.Valve{}, fmt.Errorf("the rectifier is missing\nhint: known ones are %s", types(isRectifier))
	}
	v, known := limits.ValveOf(s.Rectifier)
	if !known || !isRectifier(v) {
		return limits.Valve{}, fmt.Errorf("there is no data of %s as a full-wave rectifier\nhint: known ones are %s", s.Rectifier, types(isRectifier))
	}
	return v, nil
}

func isOutput(v limits.Valve) bool    { return v.Output != nil }
func isRectifier(v limits.Valve) bool { return v.Rectifier != nil && v.Rectifier.FullWave }

// types lists the types of the valve data that match.
func types(match func(limits.Valve) bool) string {
	var all []string
	for _, v := range limits.Valves() {
		if match(v) {
			all = append(all, v.Type)
		}
	}
	return strings.Join(all, ", ")
}

// heaterLoad is what draws from the heater winding. The rectifier is 0 where its
// heater must have a winding of its own.
type heaterLoad struct {
	volts                    unit.Volt // of the first valve with data
	valves, rectifier, lamps unit.Ampere
	unknown                  []string // valves without data, which do not count
}

func (l heaterLoad) all() unit.Ampere { return l.valves + l.rectifier + l.lamps }

func (s *Set) heaterLoad() (load heaterLoad) {
	for _, name := range s.Valves {
		v, known := limits.ValveOf(name)
		if !known {
			load.unknown = append(load.unknown, name)
			continue
		}
		if load.volts == 0 {
			load.volts = v.HeaterVolts
		}
		load.valves += v.HeaterCurrent
	}
	if v, err := s.RectifierValve(); err == nil && v.HeaterVolts == load.volts && !v.Rectifier.DirectlyHeated {
		load.rectifier = v.HeaterCurrent
	}
	if d := s.DialLamps; d != nil {
		load.lamps = unit.Ampere(d.Count) * d.Current
	}
	return load
}

// heaters checks that the valves fit one winding, and the winding carries them.
func (r *review) heaters() {
	load := r.set.heaterLoad()
	for i, name := range r.set.Valves {
		if slices.Contains(load.unknown, name) {
			r.note(fmt.Sprintf("valves[%d]", i), "there is no data of "+name, "its heater is not counted, and its part of the HT current is typical")
			continue
		}
		if v, _ := limits.ValveOf(name); v.HeaterVolts != load.volts {
			r.refuse(fmt.Sprintf("valves[%d]", i), fmt.Sprintf("the heater of %s takes %v, that of the valves before %v", name, v.HeaterVolts, load.volts),
				"heaters on one winding are made for the same volts: look at the types again")
		}
	}
	outer := limits.Lookup("heater-outer").Value.Value / 100
	if p := r.set.Printed; p != nil && p.Heater != nil && load.volts > 0 && !within(float64(*p.Heater/load.volts), 1-outer, 1+outer) {
		r.refuse("printed.heater", fmt.Sprintf("the heater volts are printed as %v, and the valves are made for %v", *p.Heater, load.volts), "one of the two is not this set's")
	}
	rating := r.set.Transformer.Heaters
	if rating == nil {
		return
	}
	most := *rating * 1.005 // both are rounded figures
	const hint = "look at the types, at the dial lamps and at the winding's rating"
	switch {
	case load.all() <= most:
	case load.valves+load.lamps <= most:
		r.warn("transformer.heater-rating", fmt.Sprintf("with the rectifier's heater on the same winding it gives %v of %v", amps(load.all()), *rating), hint)
	default:
		r.refuse("transformer.heater-rating", fmt.Sprintf("valves and dial lamps draw %v, and the heater winding gives %v", amps(load.valves+load.lamps), *rating), hint)
	}
}

// amps rounds a sum for words.
func amps(i unit.Ampere) unit.Quantity { return unit.Round(i.Quantity(), 3) }

// within is false for a value that is not a number.
func within(v, low, high float64) bool { return v >= low && v <= high }
