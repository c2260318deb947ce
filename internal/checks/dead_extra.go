package checks

import (
	"fmt"
	"strconv"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// extraChecks are those of single parts that a procedure may name and the
// shipped one does not. They come after the others of their kind.
func extraChecks() []Check {
	return []Check{coils(), valveHeaters(), capacitance()}
}

// windingInsulation tests the HT winding against the rest of the transformer.
// Where an end of it returns to the chassis the test of the mains insulation
// goes through it already, and this one would read the chassis.
func windingInsulation() Check {
	return Check{
		ID: "winding-insulation", Title: "HT winding to the other windings at 500 V", Short: "HT ins",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Lasting, Retest: true,
		Kind: unit.KindOhm, Function: sheet.Insulation, Range: "500 V", Danger: limits.Low,
		Red: "HT winding: rectifier anode a", Black: "two-clip lead: primary at the transformer, and a heater pin",
		Method:   "Rectifier out, centre tap free of the chassis and of a bias resistor. Both clips on the transformer's own tags: no switch lies between. A minute; hands off. Close the centre tap again; the pins are proved dead after.",
		Meaning:  "mains on the HT winding, or HT on the heaters: the transformer is done for",
		Cautions: []string{"insulation-test", "plug-out"},
		Void:     "x", Path: "rectifier", Charges: []sheet.Node{pinsNode},
		Items: func(s *sheet.Set) []string {
			if s.HTMinus == sheet.HTMinusChassis {
				return nil
			}
			return once(s)
		},
		Rule: func(Case) (Window, error) {
			return insulated(number("winding-insulation"), limits.Lookup("winding-insulation").Cite())
		},
	}
}

func coils() Check {
	return Check{
		ID: "coils", Title: "Coils that feed an anode or a screen", Short: "coils",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "200 Ω range", Danger: limits.High,
		Red: "HT end of the coil", Black: "anode or screen end of the same coil",
		Method:  "Each in turn, in circuit, leads nulled. Type the highest; if one reads near nothing, type that one.",
		Meaning: "open: its valve has no anode or screen volts, and a screen left alone glows",
		Causes: []string{
			"a resistor in series with the coil: its own ohms, from its two ends, show it",
			"a coil of many turns, or of few: the diagram's ohms, or its twin's in the set, show it",
		},
		Cautions: []string{"stored-charge"},
		Void:     "p", Path: "signal",
		Rule: func(Case) (Window, error) {
			return drafted("coils", unit.KindOhm, 1, "").guess("a radio or intermediate frequency coil").window()
		},
	}
}

func valveHeaters() Check {
	return Check{
		ID: "valve-heaters", Title: "Heater, cold", Short: "heater",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.Both,
		Red: "one heater pin of {item}", Black: "its other heater pin",
		Method:  "Valve out of its socket and cold, pins clean, leads nulled: they are a good part of one ohm.",
		Meaning: "open: the valve stays dark. Low: another type than on the sheet, or its heater shorted",
		Causes: []string{
			"still warm from running: the same pins after half an hour show it",
			"dull pins or leads not nulled: cleaned and nulled, the same reading shows it",
		},
		Cautions: []string{"glass"},
		Void:     "v", Path: "heaters",
		Items: heaterItems, Rule: valveHeaterRule,
	}
}

const rectifierItem = "rectifier"

// heaterItems are the valves whose heater the data gives.
func heaterItems(s *sheet.Set) []string {
	var items []string
	for i := range s.Valves {
		items = append(items, "V"+strconv.Itoa(i+1))
	}
	var known []string
	for _, item := range append(items, rectifierItem) {
		if _, ok := heaterOf(s, item); ok {
			known = append(known, item)
		}
	}
	return known
}

// heaterOf is the data of the valve at an item, where it gives the heater.
func heaterOf(s *sheet.Set, item string) (limits.Valve, bool) {
	name := ""
	if item == rectifierItem {
		name = s.Rectifier
	}
	for i, v := range s.Valves {
		if item == "V"+strconv.Itoa(i+1) {
			name = v
		}
	}
	v, ok := limits.ValveOf(name)
	return v, ok && v.HeaterVolts > 0 && v.HeaterCurrent > 0
}

func valveHeaterRule(c Case) (Window, error) {
	v, ok := heaterOf(c.Set, c.Item)
	if !ok {
		return Window{}, fmt.Errorf("%w: heater volts and current of %s", ErrNoData, c.Item)
	}
	hot := float64(v.HeaterVolts) / float64(v.HeaterCurrent)
	return drafted("valve-heaters", unit.KindOhm, hot, fmt.Sprintf("%s: %v / %v = %s hot", v.Type, v.HeaterVolts, v.HeaterCurrent, ohms(hot))).window()
}

// The two electrolytics of the HT line, as items.
const (
	reservoirItem = "reservoir"
	secondItem    = "second"
)

func electrolytics(*sheet.Set) []string { return []string{reservoirItem, secondItem} }

// capacitance counts no path: it never stops, and two old capacitors off their
// marking are no two signs of one fault.
func capacitance() Check {
	return Check{
		ID: "capacitance", Title: "Capacitance", Short: "capacity",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindFarad, Function: sheet.Capacitance, Danger: limits.Neither,
		Red: "{item} capacitor +, its leg free", Black: "its own -",
		Method:  "Discharged through the tool and proved dead: a charge ruins the meter. One leg free. It says nothing of the leak. Close the leg again.",
		Meaning: "low: dried up, it hums. High: it leaks, or an old one is still in parallel",
		Causes: []string{
			"an old can still in parallel: the same reading with that one off shows it",
			"a wide tolerance, as old ones had: ripple at full mains shows whether it is enough",
		},
		Cautions: []string{"stored-charge"},
		Void:     "h",
		Items:    electrolytics, Rule: capacitanceRule,
	}
}

func capacitanceRule(c Case) (Window, error) {
	f := c.electrolytic().Capacitance
	if f == nil {
		return drafted("capacitance.typical", unit.KindFarad, 1, "").guess("an electrolytic of an HT line").window()
	}
	return drafted("capacitance", unit.KindFarad, float64(*f), fmt.Sprintf("sheet %v", *f)).window()
}

// electrolytic is the capacitor at the item, as the sheet gives it.
func (c Case) electrolytic() sheet.Capacitor {
	if c.Item == secondItem {
		return c.Set.Second
	}
	return c.Set.Reservoir
}

// reservoirSize is worked out from the sheet, and asks nothing.
func reservoirSize() Check {
	return Check{
		ID: "reservoir-size", Title: "Reservoir against what the rectifier may charge", Short: "size",
		Crit: engine.E, Life: engine.Lasting, Answer: Derived,
		Kind: unit.KindFarad, Danger: limits.High,
		Method:  "Follows from the sheet: the reservoir's capacitance, and the rectifier's data.",
		Meaning: "too large a reservoir draws peaks that wear the rectifier out, or make it flash over",
		Causes: []string{
			"resistors in the anode leads: their ohms, against the valve's data for this reservoir, show it",
			"the maker's own choice, on his diagram: HT1 of a cold start at full mains shows how the rectifier takes it",
		},
		Cautions: []string{"venting"},
		Void:     "hv", Path: "rectifier",
		Items: func(s *sheet.Set) []string { // a sheet without it is told so by its review
			if _, err := reservoirOnSheet(Case{Set: s}); err != nil {
				return nil
			}
			return once(s)
		},
		Derive: reservoirOnSheet, Rule: reservoirSizeRule,
	}
}

// reservoirOnSheet is the sheet's reservoir, where there is something to hold
// it against.
func reservoirOnSheet(c Case) (unit.Quantity, error) {
	if _, err := c.reservoirMost(); err != nil {
		return unit.Quantity{}, err
	}
	f := c.Set.Reservoir.Capacitance
	if f == nil {
		return unit.Quantity{}, fmt.Errorf("%w: the reservoir's capacitance\nhint: reservoir.capacitance on the set sheet", ErrNoData)
	}
	return f.Quantity(), nil
}

func (c Case) reservoirMost() (unit.Farad, error) {
	if v, ok := limits.ValveOf(c.Set.Rectifier); ok && v.Rectifier != nil && v.Rectifier.CMax > 0 {
		return v.Rectifier.CMax, nil
	}
	return 0, fmt.Errorf("%w: the largest reservoir of the rectifier %s", ErrNoData, c.Set.Rectifier)
}

func reservoirSizeRule(c Case) (Window, error) {
	allowed, err := c.reservoirMost()
	if err != nil {
		return Window{}, err
	}
	far := number("reservoir-most")
	d := most(unit.KindFarad, far*float64(allowed), "", limits.Lookup("reservoir-most").Cite())
	d.pass.Hi = float64(allowed)
	d.sum = fmt.Sprintf("%s may charge %v; pass up to that, stop over %.4g x", c.Set.Rectifier, allowed, far)
	return d.window()
}
