package checks

import (
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// derivedChecks follow from readings already taken; nothing is typed for them.
func derivedChecks() []Check {
	checks := []Check{
		{
			ID: "ia-ratio", Title: "Anode over cathode current of {item}", Short: "Ia/Ik", Crit: engine.G,
			Kind: unit.KindNumber, Inputs: []string{"opt-volts", "output-cathode"},
			Method:  "Volts across the output transformer over its ohms, against cathode volts over the cathode resistor: two routes to one current.",
			Meaning: "low: cathode resistor higher than entered; high: the resistor does not carry the current",
			Danger:  limits.Both,
			Causes: []string{
				"warm winding: its ohms, warm, right after off",
				"one of the resistors off the sheet: its ohms, dead",
			},
			Path: "output-stage", Rule: iaRatioRule, Derive: deriveIaRatio,
		},
		{
			ID: "cathode-current", Title: "Cathode current of {item}", Short: "Ik", Crit: engine.E,
			Kind: unit.KindAmpere, Inputs: []string{"opt-volts"},
			Method:  "From the volts across the output transformer, never from the cathode resistor alone.",
			Meaning: "over-current: bias lost",
			Danger:  limits.High,
			Causes: []string{
				"winding ohms off the sheet: its ohms, dead",
				"mains high for this tap: the tap verdict",
			},
			Path: "output-stage", Rule: cathodeCurrentRule, Derive: deriveCathodeCurrent,
		},
		{
			ID: "anode-dissipation", Title: "Anode dissipation of {item}", Short: "Pa", Crit: engine.E,
			Kind: unit.KindWatt, Inputs: []string{"ht-reservoir", "opt-volts", "output-cathode"},
			Method:  "Anode volts above the cathode times anode current. Limits hold at nominal mains: the set is judged there, the tap at today's.",
			Meaning: "high: bias lost, or mains too high for the tap; low: under-run or tired valve",
			Danger:  limits.High,
			Causes: []string{
				"valve tired, runs low: cathode and output transformer volts both low",
				"mains high for this tap: the tap verdict",
			},
			Path: "output-stage", Rule: anodeDissipationRule, Derive: deriveAnodeDissipation,
		},
		{
			ID: "screen-dissipation", Title: "Screen dissipation of {item}", Short: "Pg2", Crit: engine.E,
			Kind: unit.KindWatt, Inputs: []string{"screen-drop", "ht-smoothed", "output-cathode"},
			Method:  "Screen volts above the cathode times the current of the screen resistor.",
			Meaning: "the screen carries the anode's current: output transformer open",
			Danger:  limits.High,
			Causes: []string{
				"screen resistor off the sheet: its ohms, dead",
				"mains high for this tap: the tap verdict",
			},
			Path: "output-stage", Rule: screenDissipationRule, Derive: deriveScreenDissipation,
		},
		{
			ID: "supply-line", Title: "HT1 off the supply line", Short: "line", Crit: engine.G,
			Kind: unit.KindPercent, Inputs: []string{"ht-reservoir", "ht-smoothed", "opt-volts"},
			Method:  "What the supply should give at the current the two resistors show, against what it gives.",
			Meaning: "low: a current nobody measured, or a worn rectifier; high: wrong tap, or silicon for the rectifier",
			Danger:  limits.Both,
			Causes: []string{
				"mains moved between the readings: read HT1, HT2 and output transformer again at one mains",
				"rectifier tired: another one of its type",
			},
			Path: "rectifier", Rule: supplyLineRule, Derive: deriveSupplyLine,
		},
		{
			ID: "smoothing-drop", Title: "Drop over the smoothing", Short: "drop", Crit: engine.E,
			Kind: unit.KindVolt, Inputs: []string{"ht-reservoir", "ht-smoothed"},
			Method:  "HT1 less HT2. It carries the error of both readings: doubtful, measure across the resistor.",
			Meaning: "high: leak after the smoothing, or its resistor gone high; low: a small valve not drawing",
			Danger:  limits.High,
			Causes: []string{
				"a small valve dead: heater glow, then its cathode volts",
				"mains moved between the readings: read across the resistor itself",
			},
			Path: "ht", Rule: smoothingDropRule, Derive: deriveSmoothingDrop,
		},
		{
			ID: "grid-slope", Title: "Rise of the grid of {item}", Short: "slope g", Crit: engine.G,
			Kind: unit.KindPercent, Inputs: []string{"output-grid"},
			Method:  "Straight line through the grid readings over the minutes, in per cent of the stop limit a minute.",
			Meaning: "coupling capacitor leaking as it warms, or the valve gassy",
			Danger:  limits.High,
			Causes: []string{
				"set still warming: three more readings from the fifth minute on",
				"mains rose meanwhile: read at steady mains",
			},
			Path: "output-stage", Rule: plainRule("slope"), Derive: deriveGridSlope,
		},
		{
			ID: "cathode-slope", Title: "Rise of the cathode of {item}, soaking", Short: "slope k", Crit: engine.G,
			Kind: unit.KindPercent, Inputs: []string{"output-cathode"},
			Method:  "Straight line through the cathode readings of the soak, in per cent of the stop limit a minute.",
			Meaning: "grid drifting positive: coupling capacitor, gas or grid emission",
			Danger:  limits.High,
			Causes: []string{
				"mains rose meanwhile: read at steady mains",
				"set still warming: go on soaking",
			},
			Path: "output-stage", Rule: plainRule("slope"), Derive: deriveCathodeSlope,
		},
		{
			ID: "core-end", Title: "Core, end temperature in a room of 25 °C", Short: "core end", Crit: engine.E,
			Kind: unit.KindCelsius, Inputs: []string{"core"},
			Method:  "From the last two rises of a quarter of an hour: what the core settles at.",
			Meaning: "shorted turns, wrong tap, or the set draws too much",
			Danger:  limits.High,
			Causes: []string{
				"a hot part beside the spot: read another spot of the core",
				"mains above the tap: the tap verdict",
			},
			Path: "mains", Rule: plainRule("core"), Derive: deriveCoreEnd,
		},
	}
	for i := range checks {
		c := &checks[i]
		c.Supply, c.Answer, c.Cautions, c.Life = engine.Full, Derived, fullCautions, engine.Lasting
		c.Void = voidHT
		if c.Path == "output-stage" {
			c.Void, c.Items = voidStage, outputOnce
		}
	}
	return checks
}
