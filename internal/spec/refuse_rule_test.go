package spec_test

// Fields of a set, meter, bench or answers file that contradict each other.
var refusedRules = []refusal{
	{
		"a profile nobody has", "set",
		"profile: uk", "profile: mars",
		"f.yaml:6:35: mains.profile: \"mars\" is no profile of limits\n" +
			"hint: one of: uk, eu",
	},
	{
		"a touch network of no profile", "bench",
		"rcd: true", "rcd: true\n  touch-network: mars",
		"f.yaml:10:18: touch-network: \"mars\" is no profile of limits\n" +
			"hint: one of: uk, eu",
	},
	{
		"a bleed path and none", "set",
		"name: t", "name: t\n  bleed: {none: true, resistance: 220 kΩ}",
		"f.yaml:3:10: bleed: this says both that there is a path and that there is none\n" +
			"hint: write resistance and at, or none: true if the diagram shows no path",
	},
	{
		"no bleed path, and where it stands", "set",
		"name: t", "name: t\n  bleed: {none: true, at: HT2}",
		"f.yaml:3:10: bleed: this says both that there is a path and that there is none\n" +
			"hint: write resistance and at, or none: true if the diagram shows no path",
	},
	{
		"a bleed path without ohms", "set",
		"name: t", "name: t\n  bleed: {at: HT2}",
		"f.yaml:3:10: bleed.resistance: this is missing\n" +
			"hint: write resistance and at, or none: true if the diagram shows no path",
	},
	{
		"a bleed path nowhere", "set",
		"name: t", "name: t\n  bleed: {resistance: 220 kΩ}",
		"f.yaml:3:10: bleed.at: this is missing\n" +
			"hint: write HT1 or HT2",
	},
	{
		"dial lamps without their current", "set",
		"name: t", "name: t\n  dial-lamps: {count: 2}",
		"f.yaml:3:15: dial-lamps.current: this is missing\n" +
			"hint: write what one lamp takes, such as 0.3 A",
	},
	{
		"output valve not fitted", "set",
		"name: t", "name: t\n  output-stage: {valve: EL34}",
		"f.yaml:3:25: output-stage.valve: \"EL34\" is not among the valves\n" +
			"hint: the valves are: EL84",
	},
	{
		"signal stage of no valve", "set",
		"name: t", "name: t\n  signal-stages: [{valve: EF89}]",
		"f.yaml:3:27: signal-stages[0].valve: \"EF89\" is not among the valves\n" +
			"hint: the valves are: EL84",
	},
	{
		"signal stage twice", "set",
		"name: t", "name: t\n  signal-stages: [{valve: EL84}, {valve: EL84}]",
		"f.yaml:3:42: signal-stages[1].valve: the valve \"EL84\" has two entries\n" +
			"hint: put its resistors in one",
	},
	{
		"a date that is none", "set",
		"name: t", "name: t\n  measured: [{check: c, value: 1 Ω, meter: m, date: 2026-02-30}]",
		"f.yaml:3:53: measured[0].date: \"2026-02-30\" is no date\n" +
			"hint: write year, month and day, as 2026-11-25",
	},
	{
		"a category that is none", "meter",
		"category: none", "category: CAT 2",
		"f.yaml:5:13: category: \"CAT 2\" is no overvoltage category\n" +
			"hint: write what is marked beside the sockets, as CAT II 600 V, or none",
	},
	{
		"digital without input", "meter",
		"  input: 10 MΩ\n", "",
		"f.yaml:2:3: input: this is missing\n" +
			"hint: nearly every digital meter has 10 MΩ on volts",
	},
	{
		"digital with ohms per volt", "meter",
		"input: 10 MΩ", "input: 10 MΩ\n  ohms-per-volt: 20 kΩ/V",
		"f.yaml:5:18: ohms-per-volt: only a moving coil has ohms per volt\n" +
			"hint: write input in its place, such as 10 MΩ",
	},
	{
		"moving coil with input", "meter",
		"kind: digital", "kind: moving-coil",
		"f.yaml:4:10: input: a moving coil has no fixed input resistance\n" +
			"hint: write ohms-per-volt in its place\n" +
			"f.yaml:10:36: functions[0].ranges[0].digit: a moving coil has no digits\n" +
			"hint: leave it out",
	},
	{
		"moving coil without ohms per volt", "coil",
		"  ohms-per-volt: 20 kΩ/V\n", "",
		"f.yaml:2:3: ohms-per-volt: this is missing\n" +
			"hint: it stands on the dial, such as 20 kΩ/V",
	},
	{
		"moving coil with digits", "coil",
		"percent: 2 %", "percent: 2 %\n      digits: 1",
		"f.yaml:10:15: functions[0].digits: a moving coil has no digits\n" +
			"hint: write its error as a percentage of full scale",
	},
	{
		"moving coil with a last digit", "coil",
		"{top: 10 V}", "{top: 10 V, digit: 1 V}",
		"f.yaml:10:35: functions[0].ranges[0].digit: a moving coil has no digits\n" +
			"hint: leave it out",
	},
	{
		"a function twice", "meter",
		"ranges: [{top: 600 V, digit: 0.1 V}]", "ranges: [{top: 600 V, digit: 0.1 V}]\n    - function: dc-volts\n      percent: 1 %\n      ranges: [{top: 60 V, digit: 0.1 V}]",
		"f.yaml:11:7: functions[1]: the function dc-volts has two entries\n" +
			"hint: put all its ranges in one",
	},
	{
		"no limit of error", "meter",
		"percent: 0.5 %", "null: true",
		"f.yaml:8:7: functions[0].percent: this function states no limit of error\n" +
			"hint: write percent, and digits if it has them, from the meter's handbook",
	},
	{
		"insulation without test volts", "meter",
		"dc-volts", "insulation",
		"f.yaml:8:7: functions[0].test-volts: this is missing\n" +
			"hint: write the open-circuit volts of the test, such as 250 V\n" +
			"f.yaml:10:22: functions[0].ranges[0].top: 600 V is not a resistance\n" +
			"hint: give ohms, such as 4.7 kΩ\n" +
			"f.yaml:10:36: functions[0].ranges[0].digit: 0.1 V is not a resistance\n" +
			"hint: give ohms, such as 4.7 kΩ",
	},
	{
		"volts at test volts", "meter",
		"percent: 0.5 %", "percent: 0.5 %\n      test-volts: 250 V",
		"f.yaml:10:19: functions[0].test-volts: only insulation and leakage are tested at volts\n" +
			"hint: leave it out",
	},
	{
		"insulation at two volts, the first twice", "",
		"", "meter:\n  name: t\n  kind: insulation-tester\n  category: none\n  max-volts: 600 V\n  functions:\n    - {function: insulation, test-volts: 250 V, percent: 5 %, ranges: [{top: 5 GΩ, digit: 1 MΩ}]}\n    - {function: insulation, test-volts: 500 V, percent: 5 %, ranges: [{top: 5 GΩ, digit: 1 MΩ}]}\n    - {function: insulation, test-volts: 250 V, percent: 5 %, ranges: [{top: 5 GΩ, digit: 1 MΩ}]}\n",
		"f.yaml:9:7: functions[2]: the function insulation at 250 V has two entries\n" +
			"hint: put all its ranges in one",
	},
	{
		"digital range without its digit", "meter",
		"{top: 600 V, digit: 0.1 V}", "{top: 600 V}",
		"f.yaml:10:16: functions[0].ranges[0].digit: this is missing\n" +
			"hint: write what the last digit counts on this range, such as 0.1 V on 600 V",
	},
	{
		"digit as large as the range", "meter",
		"digit: 0.1 V", "digit: 600 V",
		"f.yaml:10:36: functions[0].ranges[0].digit: 600 V is not below the top of the range, 600 V\n" +
			"hint: the digit is the smallest step the meter shows",
	},
	{
		"top in the wrong unit", "meter",
		"top: 600 V", "top: 600 Ω",
		"f.yaml:10:22: functions[0].ranges[0].top: 600 Ω is not a voltage\n" +
			"hint: give volts, such as 230 V",
	},
	{
		"top of nothing", "meter",
		"top: 600 V", "top: 0 V",
		"f.yaml:10:22: functions[0].ranges[0].top: 0 V is not above zero",
	},
	{
		"a range twice", "meter",
		"[{top: 600 V, digit: 0.1 V}]", "[{top: 600 V, digit: 0.1 V}, {top: 600 V, digit: 0.1 V}]",
		"f.yaml:10:50: functions[0].ranges[1].top: 600 V is not above the range before\n" +
			"hint: ranges rise, the lowest first",
	},
	{
		"ranges that fall", "meter",
		"[{top: 600 V, digit: 0.1 V}]", "[{top: 600 V, digit: 0.1 V}, {top: 60 V, digit: 0.1 V}]",
		"f.yaml:10:50: functions[0].ranges[1].top: 60 V is not above the range before\n" +
			"hint: ranges rise, the lowest first",
	},
	{
		"letters out of order", "bench",
		"letter: A", "letter: B",
		"f.yaml:4:21: meters[0].letter: meter number 1 has the letter B\n" +
			"hint: letters follow the order of the list: A, B, C",
	},
	{
		"one meter that cannot move", "bench",
		"stays: set", "stays: lamp-box",
		"f.yaml:4:41: meters[0].stays: no meter stays at lamp-box on a bench with 1 meter\n" +
			"hint: with this many, meters stay at: set",
	},
	{
		"two meters at one place", "bench",
		"meters: [{letter: A, sheet: g, stays: set}]", "meters: [{letter: A, sheet: g, stays: set}, {letter: B, sheet: g, stays: set}]",
		"f.yaml:4:76: meters[1].stays: two meters stay at set\n" +
			"hint: with this many, meters stay at: set, lamp-box",
	},
	{
		"a lamp twice", "bench",
		"lamps: [40 W]", "lamps: [40 W, 40 W]",
		"f.yaml:7:17: lamps[1]: 40 W does not follow 40 W\n" +
			"hint: each lamp once, the smallest first",
	},
	{
		"an answer that says nothing", "answers",
		", say: a", "",
		"f.yaml:2:11: lines[0]: one of say, key and wait is wanted\n" +
			"hint: what is typed, a key, or time that passes",
	},
	{
		"an answer to nothing", "answers",
		"at: bench, ", "",
		"f.yaml:2:11: lines[0]: at is missing\n" +
			"hint: the id of the prompt that is answered",
	},
	{
		"an answer and a wait", "answers",
		"say: a", "say: a, wait: 1h",
		"f.yaml:2:11: lines[0]: one of say, key and wait is wanted\n" +
			"hint: what is typed, a key, or time that passes",
	},
	{
		"a wait of no time", "answers",
		"say: a", "wait: soon",
		"f.yaml:2:29: lines[0].wait: \"soon\" is no time\n" +
			"hint: as 90s, 10m or 12h",
	},
	{
		"a wait back in time", "answers",
		"say: a", "wait: -1h",
		"f.yaml:2:29: lines[0].wait: \"-1h\" is no time\n" +
			"hint: as 90s, 10m or 12h",
	},
}
