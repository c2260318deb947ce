package checks

import (
	"fmt"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// benchChecks are made in every session before the set is looked at: what the
// bench has today, never what it had the last time.
func benchChecks() []Check {
	return []Check{
		{
			ID: "rcd", Title: "RCD, its test button", Short: "RCD",
			Crit: engine.S, Life: engine.Session, Retest: true, Answer: Letter,
			Choices: []Choice{
				{"t", "its button tripped it", engine.Pass},
				{"n", "none fitted", engine.Query},
				{"f", "it did not trip", engine.Stop},
			},
			Method:   "Nothing plugged in behind it. Press the button, see that the outlet goes dead, switch it on again.",
			Meaning:  "nothing cuts a shock to earth short. Replace it, or fit a portable one.",
			Cautions: []string{"rcd"},
		},
		{
			ID: "discharge-tool", Title: "Discharge tool", Short: "tool",
			Crit: engine.S, Life: engine.Session, Retest: true,
			Kind: unit.KindOhm, Function: sheet.OhmsF, Danger: limits.Both,
			Red: "tip of the tool", Black: "clip of the tool",
			Method:   "Flex its lead while you read. OL is a broken tool: it would leave every capacitor charged.",
			Meaning:  "the tool's resistor or its lead has changed: it discharges too slowly, or not at all, or with a bang.",
			Cautions: []string{"stored-charge"},
			Rule: func(c Case) (Window, error) {
				return drafted("discharge-tool", unit.KindOhm, 1, "").guarded(c, sheet.OhmsF).window()
			},
		},
		isolation(),
		lampCold(),
		lampFitted(),
		{
			ID: "meter-source", Title: "Meter on the known source", Short: "source",
			Crit: engine.S, Life: engine.Session, Retest: true,
			Kind: unit.KindVolt, Function: sheet.DCVolts, Danger: limits.Both,
			Red: "+ of the source", Black: "- of the source",
			Method:  "The volts range and the leads that will be used on the set. Wait until the figures stand.",
			Meaning: "a meter that shows too little, or nothing, calls a charged capacitor dead. Battery, leads, range, fuse?",
			Rule:    sourceRule,
		},
		{
			ID: "leads", Title: "Meter leads held together", Short: "leads",
			Crit: engine.S, Life: engine.Session, Retest: true,
			Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.High,
			Red: "tip on the black lead's tip", Black: "tip on the red lead's tip",
			Method:  "Flex both leads at both ends while you read. OL is a broken lead or a blown fuse, and every dead reading with it is void.",
			Meaning: "a lead or the meter's fuse is open, or a plug is loose. What reads open may be a short.",
			Rule: func(c Case) (Window, error) {
				return drafted("leads", unit.KindOhm, 1, "").window()
			},
		},
		{
			ID: "tester-apart", Title: "Insulation tester, leads apart", Short: "apart",
			Crit: engine.S, Life: engine.Session, Retest: true,
			Kind: unit.KindOhm, Function: sheet.Insulation, Range: "500 V", Danger: limits.Low,
			Red: "free in the air", Black: "free in the air",
			Method:   "Leads dry, clips touching nothing. Press, read, let go.",
			Meaning:  "the leads or the tester leak: a sound part would read low.",
			Cautions: []string{"insulation-test"},
			Rule: func(c Case) (Window, error) {
				return drafted("tester-apart", unit.KindOhm, 1, "").window()
			},
		},
		{
			ID: "tester-joined", Title: "Insulation tester, leads joined", Short: "joined",
			Crit: engine.S, Life: engine.Session, Retest: true,
			Kind: unit.KindOhm, Function: sheet.Insulation, Range: "500 V", Danger: limits.High,
			Red: "clipped to the black clip", Black: "clipped to the red clip",
			Method:   "Clip to clip before you press. It must read nothing at all.",
			Meaning:  "a lead is broken: a set with its mains on the chassis would pass.",
			Cautions: []string{"insulation-test"},
			Rule: func(c Case) (Window, error) {
				return drafted("tester-joined", unit.KindOhm, 1, "").window()
			},
		},
		{
			ID: "call", Title: "Who is within call, and looks in when", Short: "call",
			Crit: engine.S, Life: engine.Session, Answer: Text,
			Method:   "A name and a time, or nobody. With nobody a cover lies over the chassis and an entry is due every 15 minutes.",
			Cautions: []string{"lone-working", "helper-drill", "children"},
		},
	}
}

func lampCold() Check {
	return Check{
		ID: "lamp-cold", Title: "Lamp cold, through its box", Short: "lamp",
		Crit: engine.G, Life: engine.Session,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Danger: limits.Both,
		Red: "live pin of the lamp box's plug", Black: "live contact of its outlet",
		Method:  "Box unplugged, by-pass open, bulb cold for five minutes. Then unscrew the bulb: it must read OL; put it back.",
		Meaning: "low: the by-pass is closed, or a larger bulb is in. OL: the bulb has failed, or the box has it in the neutral, and a dark outlet would be live.",
		Causes: []string{
			"a bulb of another make or age: lamp volts with the transformer alone show it",
			"a bulb still warm reads high: cold ohms again after ten minutes show it",
		},
		Cautions: []string{"lamp-limiter"},
		Rule:     lampRule,
	}
}

// sourceRule holds a meter against the volts stated for the known source.
func sourceRule(c Case) (Window, error) {
	if c.Bench == nil || !(c.Bench.Source.Volts > 0) {
		return Window{}, fmt.Errorf("%w: the volts of the known source\nhint: source.volts in the bench file", ErrNoData)
	}
	v := c.Bench.Source.Volts
	return drafted("meter-source", unit.KindVolt, float64(v), fmt.Sprintf("source %v", v)).window()
}

// lampRule takes the cold ohms of a lamp from its hot ohms, volts squared by
// watts.
func lampRule(c Case) (Window, error) {
	if c.Bench == nil {
		return Window{}, fmt.Errorf("%w: the volts the lamps are rated at\nhint: lamp-volts in the bench file", ErrNoData)
	}
	w, err := unit.ParseWatt(c.Item)
	if err != nil {
		return Window{}, fmt.Errorf("lamp %q: %w", c.Item, err)
	}
	v := c.Bench.LampVolts
	hot := circuit.Lamp{Watts: w, Volts: v}.Hot()
	sum := fmt.Sprintf("hot (%v)² / %v = %s", v, w, ohms(float64(hot)))
	return drafted("lamp-cold", unit.KindOhm, float64(hot), sum).window()
}
