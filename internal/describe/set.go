package describe

import (
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
)

// Set asks for a set sheet, in the order of a service sheet.
var Set = &Form{
	Key: "set",
	Head: "A set sheet: what is known of one set. A line that is missing is better than a\n" +
		"guessed one. Numbers have their unit; what follows # is for people.",
	Lines: setLines,
	load: func(text []byte) spec.Errors {
		_, errs := spec.DraftSet(text)
		return errs
	},
	review: reviewSet,
}

// reviewSet holds a sheet against itself, once it says by which limits.
func reviewSet(text []byte) []sheet.Remark {
	set, _ := spec.DraftSet(text)
	if set == nil {
		return nil
	}
	profile, known := limits.ProfileOf(set.Mains.Profile)
	if !known {
		return nil
	}
	remarks := set.Review(profile)
	if len(set.Valves) > 0 && set.Mains.Tap != nil {
		remarks = append(remarks, checks.ReviewPrinted(set, profile)...)
	}
	return remarks
}

// constructions are all, the longer of two that begin alike first.
var constructions = []string{
	string(sheet.DoubleWound), string(sheet.AutoWound), string(sheet.FloatingMinus),
	string(sheet.SeriesHeater), string(sheet.BatteryPowered), string(sheet.UnknownBuild),
}

var setLines = []Line{
	{
		Title: "Name, mark, mains lead, construction",
		Like:  "kitchen table set, 4711, 2-core, double-wound",
		Where: "The mark tells this set from others: chalk a number on its chassis. Cores: count them at the plug; 3-core with its metres and mm², as 3-core 2 m 0.75 mm². Construction: from the diagram and by looking, never from a label: double-wound, auto-transformer, series-heater, battery or unknown. Not known counts as live.",
		groups: []group{
			one(field{name: "name", path: "name", rest: true, serves: "it stands on every record", without: "the sheet is not taken before it has one", comment: "Which set this is."}),
			one(field{name: "mark", path: "mark", rest: true, serves: "it stands on every record and in its name", without: "nothing tells this set from others, and the sheet is not taken before it has one", comment: "What tells it from others of its kind."}),
			one(
				field{name: "cores of the mains lead", path: "flex.cores", count: true, words: map[string]string{"2-core": "2", "3-core": "3"}, without: "whether its chassis is earthed is not known: the set is not energised", comment: "2 without earth, 3 with earth."},
				field{name: "its length", path: "flex.length", kind: unit.KindMetre, comment: "With an earth core: how long it is."},
				field{name: "its cross-section", path: "flex.area", kind: unit.KindSquareMetre, comment: "And how thick."},
			),
			one(field{name: "construction", path: "construction", choices: constructions, serves: "whether the set may be energised at all", without: "its class is unknown and counts as live: the set is not energised", comment: "How it is joined to the mains."}),
		},
	},
	{
		Title: "Mains taps, tap in use, profile",
		Like:  "200 215 230, 230, uk",
		Where: "The taps stand at the voltage selector, the lowest first; the tap in use is where it points now. The profile is the country's set of limits: uk or eu. It is never guessed.",
		groups: []group{
			one(field{name: "taps", path: "mains.taps", kind: unit.KindVolt, many: true, comment: "All taps of the voltage selector, the lowest first."}),
			one(field{name: "tap in use", path: "mains.tap", kind: unit.KindVolt, comment: "Where the selector stands."}),
			one(field{name: "profile", path: "mains.profile", comment: "The set of limits."}),
		},
	},
	{
		Title: "What the set takes from the mains",
		Like:  "52 W",
		Where: "On its label at the back, or in the service sheet under consumption.",
		groups: []group{
			one(field{name: "watts", path: "watts", kind: unit.KindWatt, comment: "What it takes from the mains."}),
		},
	},
	{
		Title:  "Rectifier valve",
		Like:   "EZ80",
		Where:  "On the valve, or in the list of valves: the one whose cathode or filament is HT positive.",
		groups: []group{one(field{name: "rectifier", path: "rectifier", upper: true, comment: "The rectifier valve's type."})},
	},
	{
		Title: "HT winding: volts of one half, open or on-load",
		Like:  "275-0-275 open",
		Where: "At the mains transformer in the diagram, or in the table of volts as a.c. at the rectifier's anodes: that is on-load. open is without load, as measured with the rectifier pulled.",
		groups: []group{{tidy: halves, forms: []form{{fields: []field{
			{name: "HT winding", path: "ht-winding.volts", kind: unit.KindVolt, comment: "One half: 275-0-275 is 275 V."},
			{name: "taken", path: "ht-winding.taken", words: map[string]string{"on": "on-load", "load": "on-load", "loaded": "on-load"}, comment: "open without load, or on-load."},
		}}}}},
	},
	{
		Title: "Mains transformer, ohms cold: primary, halves; heater amperes; VA",
		Like:  "46, 260 285, 3 A, 55 VA",
		Where: "In the table of resistances; the primary between the plug's pins on the tap in use, each half of the HT winding from an anode to its middle. What you have measured with care will do. The heater winding's amperes and the size are rarely printed.",
		groups: []group{
			one(field{name: "primary", path: "transformer.primary", kind: unit.KindOhm, comment: "Between the plug's pins on the tap in use."}),
			one(
				field{name: "one half", path: "transformer.half-a", kind: unit.KindOhm, comment: "One half of the HT winding."},
				field{name: "the other half", path: "transformer.half-b", kind: unit.KindOhm, comment: "The other half."},
			),
			one(field{name: "heater winding", path: "transformer.heater-rating", kind: unit.KindAmpere, serves: "held against what the valves and dial lamps draw", comment: "What the heater winding may give."}),
			one(field{name: "size", path: "transformer.rating", kind: unit.KindVoltAmpere, comment: "The transformer's size."}),
		},
	},
	{
		Title: "Reservoir, smoothing, second capacitor, as now fitted",
		Like:  "32u 450, R 1k2, 32u 450",
		Where: "Capacitance and volts as stamped on the parts that are in the set now. Smoothing between the two: R a resistor, L a choke, F the loudspeaker's field, with its ohms.",
		groups: []group{
			one(
				field{name: "reservoir", path: "reservoir.capacitance", kind: unit.KindFarad, comment: "The capacitor at the rectifier, as stamped."},
				field{name: "its rating", path: "reservoir.rating", kind: unit.KindVolt, serves: "held against the HT without load", comment: "The volts stamped on it."},
			),
			one(
				field{name: "smoothing", path: "smoothing.kind", words: map[string]string{"R": "resistor", "L": "choke", "F": "field"}, comment: "resistor, choke or field."},
				field{name: "its ohms", path: "smoothing.resistance", kind: unit.KindOhm, comment: "Its d.c. ohms."},
			),
			one(
				field{name: "second capacitor", path: "second.capacitance", kind: unit.KindFarad, comment: "The capacitor after it, as stamped."},
				field{name: "its rating", path: "second.rating", kind: unit.KindVolt, serves: "held against the HT without load", comment: "The volts stamped on it."},
			),
		},
	},
	{
		Title: "What discharges the HT line, and where; the HT negative",
		Like:  "220k HT2, chassis",
		Where: "Any resistors in the diagram from the HT line to its negative: their ohms together, and HT1 (reservoir) or HT2 (after smoothing). none where the diagram shows that there is no such path. Then chassis, where the diagram joins the HT negative to it.",
		groups: []group{
			{forms: []form{
				{word: "none", stands: []Put{{Name: "a path that discharges the HT line: none", Path: "bleed.none", Value: "true"}}},
				{fields: []field{
					{name: "path", path: "bleed.resistance", kind: unit.KindOhm, comment: "What discharges the HT line."},
					{name: "at", path: "bleed.at", upper: true, comment: "HT1 (reservoir) or HT2 (after smoothing)."},
				}},
			}},
			one(field{name: "HT negative", path: "ht-minus", serves: "the set may be proved dead to its chassis; else across each capacitor", comment: "Where the HT negative is."}),
		},
	},
	{
		Title: "Output transformer ohms, loudspeaker ohms, load",
		Like:  "380, 3, own speaker",
		Where: "The primary's ohms from the table of resistances; the loudspeaker's impedance; what will stand as the load: the output stage is never run without one.",
		groups: []group{
			one(field{name: "output transformer", path: "output-transformer.primary", kind: unit.KindOhm, comment: "Its primary, d.c. ohms."}),
			one(field{name: "loudspeaker", path: "output-transformer.speaker", kind: unit.KindOhm, comment: "Its impedance."}),
			one(field{name: "load", path: "output-transformer.load", rest: true, serves: "for people: the output stage is never run without one", comment: "What stands as the load."}),
		},
	},
	{
		Title: "Valves in the order of the signal, without the rectifier; dial lamps",
		Like:  "ECH81 EF89 EABC80 EL84, 2 x 0.3 A",
		Where: "As they stand in the diagram from aerial to loudspeaker: the first is V1 on the screen. Dial lamps on the heater winding: how many, and the amperes of one, stamped on its cap; none where there are none.",
		groups: []group{
			one(field{name: "valves", path: "valves", many: true, upper: true, comment: "In the order of the signal, the rectifier left out."}),
			{tidy: times, forms: []form{
				{word: "none", stands: []Put{
					{Name: "dial lamps", Path: "dial-lamps.count", Value: "0"}, {Name: "one of them", Path: "dial-lamps.current", Value: "0 A"},
				}},
				{fields: []field{
					{name: "dial lamps", path: "dial-lamps.count", count: true, comment: "On the heater winding."},
					{name: "one of them", path: "dial-lamps.current", kind: unit.KindAmpere, comment: "What one takes."},
				}},
			}},
		},
	},
	{
		Title: "Output valve: cathode ohms, grid leak, coupling capacitor, driver's anode warm, its rail, screen ohms",
		Like:  "135, 470k, 10n 400, 100 V, HT2, 1k",
		Where: "Round the last valve in the diagram. The coupling capacitor as now fitted, with its rating. The driver's anode volts are printed for a warm set; its rail, HT1, HT2 or volts, stands on the capacitor while the driver is cold. A screen fed straight from HT2 has 0 ohms.",
		groups: []group{
			one(field{name: "cathode resistor", path: "output-stage.cathode-resistor", kind: unit.KindOhm, comment: "From cathode to chassis."}),
			one(field{name: "grid leak", path: "output-stage.grid-leak", kind: unit.KindOhm, comment: "From grid to chassis."}),
			one(
				field{name: "coupling capacitor", path: "output-stage.coupling.capacitance", kind: unit.KindFarad, serves: "for people", comment: "Between the driver's anode and the output grid."},
				field{name: "its rating", path: "output-stage.coupling.rating", kind: unit.KindVolt, serves: "held against the rail that feeds the driver", comment: "The volts stamped on it."},
			),
			one(field{name: "driver's anode warm", path: "output-stage.coupling.anode-warm", kind: unit.KindVolt, serves: "held against its rail", comment: "The driver's anode, warm."}),
			{forms: []form{
				{fields: []field{{name: "its rail", path: "output-stage.coupling.rail-volts", kind: unit.KindVolt, comment: "The full volts of the rail that feeds the driver."}}},
				{fields: []field{{name: "its rail", path: "output-stage.coupling.rail", upper: true, comment: "The rail that feeds the driver: HT1 or HT2."}}},
			}},
			one(field{name: "screen resistor", path: "output-stage.screen-resistor", kind: unit.KindOhm, comment: "0 Ω when it is fed straight from HT2."}),
		},
	},
	{
		Title: "Printed volts HT1 HT2 anode screen cathode heater; their meter; their mains; what was renewed",
		Like:  "264 224 248 220 6 6.3, 10M, 230, all electrolytics; all paper capacitors",
		Where: "The table of volts, - for one that it lacks. The meter that they were taken with: 10M, or for a moving coil ohms per volt and its range, as 1k/V 300 V. The mains they were taken at. Then what you have renewed, in words, ; between one and the next.",
		groups: []group{
			one(
				field{name: "HT1", path: "printed.ht1", kind: unit.KindVolt, comment: "At the reservoir."},
				field{name: "HT2", path: "printed.ht2", kind: unit.KindVolt, comment: "After smoothing."},
				field{name: "anode", path: "printed.anode", kind: unit.KindVolt, serves: "held against the other printed volts and the circuit", comment: "Of the output valve."},
				field{name: "screen", path: "printed.screen", kind: unit.KindVolt, serves: "held against the other printed volts and the circuit", comment: "Of the output valve."},
				field{name: "cathode", path: "printed.cathode", kind: unit.KindVolt, comment: "Of the output valve."},
				field{name: "heater", path: "printed.heater", kind: unit.KindVolt, serves: "held against the valves' heaters", comment: "Of the heater winding."},
			),
			{tidy: perVolt, forms: []form{
				{fields: []field{{name: "meter", path: "printed.meter-input", kind: unit.KindOhm, comment: "Its input resistance."}}},
				{fields: []field{
					{name: "meter", path: "printed.meter-ohms-per-volt", kind: unit.KindOhmPerVolt, comment: "A moving coil."},
					{name: "range", path: "printed.meter-range", kind: unit.KindVolt, comment: "And the range it was on."},
				}},
			}},
			one(field{name: "mains", path: "printed.mains", kind: unit.KindVolt, comment: "The mains at which they were taken."}),
			one(field{name: "renewed", path: "renewed", texts: true, comment: "What was changed since the set last worked."}),
		},
	},
}

func one(fields ...field) group { return group{forms: []form{{fields: fields}}} }

// halves takes 275-0-275 for the volts of one half.
func halves(text string) string {
	first, rest, _ := strings.Cut(text, " ")
	if parts := strings.Split(first, "-"); len(parts) == 3 && parts[1] == "0" && parts[0] == parts[2] {
		return strings.TrimSpace(parts[0] + " " + rest)
	}
	return text
}

// times takes 2 x 0.3 A for 2 of 0.3 A each.
func times(text string) string { return strings.Replace(text, " x ", " ", 1) }

// perVolt takes 1k/V for 1 kΩ/V.
func perVolt(text string) string {
	first, rest, found := strings.Cut(text, "/V")
	if !found || strings.ContainsAny(first, "ΩΩm") { // ohm has an m
		return text
	}
	return first + "Ω/V" + rest
}
