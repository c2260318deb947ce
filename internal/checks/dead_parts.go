package checks

import (
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// partChecks are the ohms of single parts behind the HT line.
func partChecks() []Check {
	return []Check{
		heaterWinding(), cathodeResistor(), gridLeak(), outputTransformer(), smoothingResistor(), screenResistor(),
		halfWinding(), speechCoil(), electrodes(),
	}
}

func heaterWinding() Check {
	return Check{
		ID: "heater-winding", Title: "Heater winding to chassis", Short: "heater",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.High,
		Red: "a heater pin of the output valve's socket", Black: "chassis, clipped",
		Method:  "Valves and dial lamps out, leads nulled. It proves a path, never that no turn is shorted.",
		Meaning: "the winding floats: a rectifier's heater then stands at HT, and its insulation gives way",
		Causes: []string{
			"a hum control is drawn between winding and chassis: its own ohms show it",
			"a dirty joint at the chassis tag: cleaned, the same ohms show it",
		},
		Cautions: []string{"plug-out"},
		Void:     "x", Path: "rectifier",
		Rule: func(Case) (Window, error) {
			return drafted("heater-winding", unit.KindOhm, 1, "").guess("one end or the centre tap of the winding on chassis").window()
		},
	}
}

func cathodeResistor() Check {
	return Check{
		ID: "cathode-resistor", Title: "Cathode resistor", Short: "Rk",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "200 Ω or 2 kΩ range", Danger: limits.Both,
		Red: "cathode pin of {item}", Black: "chassis, clipped",
		Method:  "Valve out. Low can be its bypass capacitor: lift a leg and read again before you blame the resistor.",
		Meaning: "low: too much current through the output valve. High or open: its current cannot be told from its cathode volts",
		Causes: []string{
			"the meter still charging the bypass capacitor: a reading a minute later shows it",
			"another value fitted by the maker: the cathode volts at full mains show it",
		},
		Cautions: []string{"stored-charge"},
		Void:     "r", Path: "output-stage", Follows: []string{"marked-ohms"},
		Items: func(s *sheet.Set) []string {
			if _, data, ok := outputItem(s); ok && data.TypicalRk == 0 && s.Output.CathodeR == nil {
				return nil
			}
			return outputOnce(s)
		},
		Rule: func(c Case) (Window, error) {
			if r, by := c.cathodeR(); r != nil {
				return drafted("cathode-resistor", unit.KindOhm, float64(*r), by).window()
			}
			_, data, _ := outputItem(c.Set)
			return drafted("cathode-resistor.typical", unit.KindOhm, float64(data.TypicalRk), "valve data "+data.TypicalRk.String()).
				guess("cathode resistor from the valve data").window()
		},
	}
}

func gridLeak() Check {
	return Check{
		ID: "grid-leak", Title: "Grid leak", Short: "grid leak",
		Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "2 MΩ range", Danger: limits.Both,
		Red: "grid pin of {item}", Black: "chassis, clipped",
		Method:  "Valve out, coupling capacitor's leg closed. At the pin, past the stopper, so that stopper and joint are read too.",
		Meaning: "open or high: nothing holds the grid, and the valve runs away as it warms. Low: the coupling capacitor or the socket leaks",
		Causes: []string{
			"a volume or tone control is part of the path: its two ends read apart show it",
			"an old carbon resistor gone high, within what the valve allows: grid volts at the lamp's ceiling show it",
		},
		Cautions: []string{"stored-charge"},
		Void:     "r", Path: "bias",
		Items: outputOnce, Follows: []string{"marked-ohms"}, Rule: gridLeakRule,
	}
}

// gridLeakRule ends the high side at the most the valve allows.
func gridLeakRule(c Case) (Window, error) {
	r, by := c.gridLeakR()
	d := sizedBy("grid-leak", r, by, "grid leak of an output stage")
	d.query.Hi = c.gridLeakMost()
	d.pass = d.pass.meet(d.query)
	d.sum += "; over the valve's maximum " + ohms(d.query.Hi) + " is a stop"
	return d.window()
}

func outputTransformer() Check {
	return Check{
		ID: "output-transformer", Title: "Output transformer, primary", Short: "OPT",
		Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "2 kΩ range", Danger: limits.Both,
		Red: "anode pin of the output valve", Black: "HT1, clipped",
		Method:  "Valve out. The winding kicks when the leads come off. Ohms between the two points in circuit: never 500 V from primary to core.",
		Meaning: "open: the screen carries the whole current and glows. Low: turns shorted, or a capacitor across the winding",
		Causes: []string{
			"another transformer than the diagram's: volts across it at full mains show its current",
			"the anode fed from HT2: the ohms from there, less the smoothing resistor, show it",
		},
		Cautions: []string{"stored-charge"},
		Void:     "o", Path: "output-stage",
		Rule: func(c Case) (Window, error) {
			return sized("output-transformer", c.Set.OutputTransformer.Primary, "primary ohms of an output transformer").window()
		},
	}
}

func smoothingResistor() Check {
	return Check{
		ID: "smoothing-resistor", Title: "Smoothing, HT1 to HT2", Short: "smoothing",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "2 kΩ or 20 kΩ range", Danger: limits.Both,
		Red: "HT2, second capacitor +", Black: "HT1, clipped",
		Method:  "Both capacitors discharged first: a charge left on one reads as anything. A field coil is read through its plug.",
		Meaning: "the current worked out from its drop would lie. Open: no HT behind it",
		Causes: []string{
			"the meter charges one capacitor through it: a reading a minute later shows it",
			"a resistor drifted with age: the drop across it at full mains shows it",
		},
		Cautions: []string{"stored-charge"},
		Void:     "r", Path: "ht",
		Rule: func(c Case) (Window, error) {
			id, s := "smoothing-resistor", c.Set.Smoothing
			if s.Resistance != nil && (s.Kind == sheet.Choke || s.Kind == sheet.Field) {
				id += ".wound"
			}
			return sized(id, s.Resistance, "ohms of the smoothing").window()
		},
	}
}

func screenResistor() Check {
	return Check{
		ID: "screen-resistor", Title: "Screen resistor", Short: "Rg2",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "2 kΩ or 20 kΩ range", Danger: limits.Both,
		Red: "screen pin of {item}", Black: "HT2, second capacitor +",
		Method:  "Valve out. Low can be a decoupler; lift a leg and read again.",
		Meaning: "high or open: no screen volts, a weak set, a resistor that smokes",
		Causes: []string{
			"a carbon resistor gone high: the screen volts at full mains show it",
			"another value fitted by the maker: the drop across it at full mains shows it",
		},
		Cautions: []string{"stored-charge"},
		Void:     "r", Path: "output-stage",
		Items: func(s *sheet.Set) []string {
			if r := s.Output.ScreenR; r == nil || *r == 0 {
				return nil
			}
			return outputOnce(s)
		},
		Rule: func(c Case) (Window, error) {
			r := c.Set.Output.ScreenR
			if r == nil || *r == 0 {
				return Window{}, fmt.Errorf("%w: the screen resistor", ErrNoData)
			}
			return drafted("screen-resistor", unit.KindOhm, float64(*r), fmt.Sprintf("sheet %v", *r)).window()
		},
	}
}

func halfWinding() Check {
	return Check{
		ID: "half-winding", Title: "HT winding, half to centre tap", Short: "half",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "2 kΩ range", Danger: limits.Both,
		Red: "rectifier anode {item}", Black: "centre tap of the HT winding",
		Method:  "Rectifier out. The winding kicks when the leads come off. The outer half is longer wire and reads a little more.",
		Meaning: "OL: half the supply is missing and hums at mains frequency. Far apart: turns shorted in one half",
		Causes: []string{
			"the outer half of a winding in layers: the halves' volts with the transformer alone show it",
			"a resistor in the anode lead: its own ohms show it",
		},
		Cautions: []string{"plug-out"},
		Void:     "x", Path: "rectifier",
		Items:   func(*sheet.Set) []string { return []string{"a", "b"} },
		Follows: []string{"half-winding"},
		Rule:    halfRule,
	}
}

// halfRule judges one half by the sheet, and against the other once that is
// read: their difference over their mean.
func halfRule(c Case) (Window, error) {
	nominal, other := c.Set.Transformer.HalfA, "b"
	if c.Item == "b" {
		nominal, other = c.Set.Transformer.HalfB, "a"
	}
	d := sized("half-winding", nominal, "ohms of the HT winding")
	x, ok := c.taken("half-winding", other)
	if !ok {
		return d.window()
	}
	b := limits.BandOf("half-winding.balance")
	apart := func(percent float64) float64 { // (y - x) over the mean is this: y
		p := percent / 200
		return x * (1 + p) / (1 - p)
	}
	d = d.within(Interval{apart(b.PassLo), apart(b.PassHi)}, Interval{apart(b.QueryLo), apart(b.QueryHi)})
	d.sum += fmt.Sprintf("; the other half %s: pass %.4g %% of their mean apart, stop over %.4g %%", ohms(x), b.PassHi, b.QueryHi)
	return d.window()
}

func speechCoil() Check {
	return Check{
		ID: "speech-coil", Title: "Speech coil", Short: "coil",
		Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.Both,
		Red: "one lead of the coil, off the transformer", Black: "the other lead",
		Method:  "Leads nulled; it clicks. Put it back at once and tug at it: with no load the output transformer flashes over.",
		Meaning: "OL: no load. Low: the coil or its leads shorted",
		Causes: []string{
			"a speaker of another impedance: the number printed on it shows it",
			"thin leads counted in: nulled at the tags, the same reading shows it",
		},
		Cautions: []string{"plug-out"},
		Void:     "o", Path: "speaker",
		Rule: func(c Case) (Window, error) {
			return sized("speech-coil", c.Set.OutputTransformer.Speaker, "speaker of 2 to 16 Ω").window()
		},
	}
}

func electrodes() Check {
	return Check{
		ID: "electrodes", Title: "Between electrodes, valve cold", Short: "pins",
		Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "20 MΩ range or more", Danger: limits.Low,
		Red: "first electrode of {item}", Black: "second electrode of {item}",
		Method:  "Valve out of its socket, pins clean, fingers off. Tap it lightly. Of two anodes type the lower.",
		Meaning: "a short inside the valve: HT on its heater, or no bias",
		Causes: []string{
			"dirt or moisture on the base: cleaned and dried, the same pins show it",
			"getter metal on the mica: the same pins with the valve warm show whether it grows",
		},
		Cautions: []string{"glass"},
		Void:     "v", Path: "output-stage",
		Items: electrodeItems,
		Rule: func(Case) (Window, error) {
			return drafted("electrodes", unit.KindOhm, 1, "").window()
		},
	}
}

// electrodeItems are the pairs that matter of the output valve and the
// rectifier. A directly heated rectifier has no cathode beside its filament.
func electrodeItems(s *sheet.Set) []string {
	var items []string
	if v, _, ok := outputItem(s); ok {
		items = append(items, v+" g1-k", v+" g1-g2", v+" a-k", v+" h-k")
	}
	items = append(items, "rectifier a-k")
	if r, ok := limits.ValveOf(s.Rectifier); ok && r.Rectifier != nil && r.Rectifier.DirectlyHeated {
		return items
	}
	return append(items, "rectifier h-k")
}

// sized is the draft of a part by the sheet, or of such a part where the sheet
// gives none.
func sized(id string, nominal *unit.Ohm, what string) draft {
	by := ""
	if nominal != nil {
		by = "sheet " + nominal.String()
	}
	return sizedBy(id, nominal, by, what)
}

// sizedBy is sized with what says so.
func sizedBy(id string, nominal *unit.Ohm, by, what string) draft {
	if nominal == nil {
		return drafted(id+".typical", unit.KindOhm, 1, "").guess(what)
	}
	return drafted(id, unit.KindOhm, float64(*nominal), by)
}
