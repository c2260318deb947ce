package spec_test

import (
	"strings"
	"testing"
)

// The least of each kind that loads.
var least = map[string]string{
	"set":       "set:\n  name: t\n  mark: m\n  construction: double-wound\n  flex: {cores: 2}\n  mains: {taps: [230 V], profile: uk}\n  rectifier: EZ80\n  valves: [EL84]\n",
	"meter":     "meter:\n  name: t\n  kind: digital\n  input: 10 MΩ\n  category: none\n  max-volts: 600 V\n  functions:\n    - function: dc-volts\n      percent: 0.5 %\n      ranges: [{top: 600 V, digit: 0.1 V}]\n",
	"coil":      "meter:\n  name: t\n  kind: moving-coil\n  ohms-per-volt: 20 kΩ/V\n  category: none\n  max-volts: 600 V\n  functions:\n    - function: dc-volts\n      percent: 2 %\n      ranges: [{top: 10 V}]\n    - function: ohms\n      percent: 5 %\n      ranges: [{top: 2 kΩ}]\n",
	"bench":     "bench:\n  name: t\n  operator: anna\n  meters: [{letter: A, sheet: g, stays: set}]\n  source: {volts: 9.3 V}\n  discharge-tool: 10 kΩ\n  lamps: [40 W]\n  lamp-volts: 230 V\n  rcd: true\n",
	"answers":   "answers:\n  lines: [{at: bench, say: a}]\n",
	"procedure": "procedure: t\nedition: 1\nfor: {construction: double-wound}\nstages:\n  - stage: one\n    supply: dead\n    steps:\n      - check: c\n      - hold: hold-1\n",
}

func TestLeastLoads(t *testing.T) {
	for name, text := range least {
		if err := loadAs(name, text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// loadAs loads a text as the kind of file it is changed from; changed from none,
// as its first word says, or as a set sheet.
func loadAs(base, text string) error {
	for _, k := range kinds {
		switch {
		case k.key == "" && base != "procedure":
		case k.key == base, k.key == "" && base == "procedure", k.key == "meter" && base == "coil":
			return k.load("f.yaml", []byte(text))
		}
	}
	if strings.HasPrefix(text, "meter:\n  ") {
		return loadAs("meter", text)
	}
	return loadAs("set", text)
}

// Each row changes the least file in one place and has the whole message.
func TestRefusals(t *testing.T) {
	for _, c := range refusals {
		text := c.new
		if c.base != "" {
			text = strings.Replace(least[c.base], c.old, c.new, 1)
			if text == least[c.base] {
				t.Fatalf("%s: nothing changed", c.why)
			}
		}
		err := loadAs(c.base, text)
		if err == nil {
			t.Errorf("%s: loads\n%s", c.why, text)
			continue
		}
		if got := err.Error(); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.why, got, c.want)
		}
	}
}

var refusals = []struct{ why, base, old, new, want string }{
	{
		"no UTF-8", "set",
		"name: t", "name: \xff",
		"f.yaml:2:9: the file is not UTF-8 text\n" +
			"hint: save it as UTF-8",
	},
	{
		"a character that cannot be seen, even in a comment", "set",
		"name: t", "name: t # a\u00a0b",
		"f.yaml:2:14: the character U+00A0 cannot be seen\n" +
			"hint: delete it, or put a plain space for it",
	},
	{
		"escape sequence for the terminal", "set",
		"name: t", "name: \x1b[2J",
		"f.yaml:2:9: the character U+001B cannot be seen\n" +
			"hint: delete it, or put a plain space for it",
	},
	{
		"no YAML", "set",
		"name: t", "name: t: u",
		"f.yaml:2:1: this is no YAML: mapping values are not allowed in this context\n" +
			"hint: look at this line and its neighbours: a colon and a space after each name, the same spaces before names of one group, no tabs",
	},
	{
		"tab before a name", "set",
		"  mark: m", "\tmark: m",
		"f.yaml:2:1: this is no YAML: found a tab character that violates indentation\n" +
			"hint: look at this line and its neighbours: a colon and a space after each name, the same spaces before names of one group, no tabs",
	},
	{
		"a second document", "set",
		"valves: [EL84]\n", "valves: [EL84]\n---\nset: {}\n",
		"f.yaml:9:1: the file has more than one document\n" +
			"hint: keep one file for each, without a line of three dashes between",
	},
	{
		"second document that is no YAML", "set",
		"valves: [EL84]\n", "valves: [EL84]\n---\n{\n",
		"f.yaml:10:1: the file has more than one document\n" +
			"hint: keep one file for each, without a line of three dashes between",
	},
	{
		"alias to nothing", "set",
		"name: t", "name: *x",
		"f.yaml:1:1: this is no YAML: unknown anchor 'x' referenced\n" +
			"hint: look at this line and its neighbours: a colon and a space after each name, the same spaces before names of one group, no tabs",
	},
	{
		"an anchor", "set",
		"name: t", "name: &x t",
		"f.yaml:2:9: an anchor (&x) is not allowed\n" +
			"hint: write each value where it belongs, in full",
	},
	{
		"an alias and its anchor", "set",
		"name: t\n  mark: m", "name: &x t\n  mark: *x",
		"f.yaml:2:9: an anchor (&x) is not allowed\n" +
			"hint: write each value where it belongs, in full\n" +
			"f.yaml:3:9: an alias (*x) is not allowed\n" +
			"hint: write each value where it belongs, in full",
	},
	{
		"a merge key", "set",
		"name: t", "<<: {name: t}",
		"f.yaml:2:3: a merge key (<<) is not allowed\n" +
			"hint: write each field where it belongs, in full",
	},
	{
		"a tag", "set",
		"name: t", "name: !!str t",
		"f.yaml:2:9: a tag (!!str) is not allowed\n" +
			"hint: leave the tag out: each field has its own kind of value",
	},
	{
		"a tag of one's own on a group", "set",
		"flex: {cores: 2}", "flex: !cable {cores: 2}",
		"f.yaml:5:9: a tag (!cable) is not allowed\n" +
			"hint: leave the tag out: each field has its own kind of value",
	},
	{
		"the same field twice", "set",
		"mark: m", "mark: m\n  name: u",
		"f.yaml:4:3: the field \"name\" stands here twice, first on line 2\n" +
			"hint: keep one of the two",
	},
	{
		"a list as name of a field", "set",
		"name: t", "? [name]\n  : t",
		"f.yaml:2:5: a name of a field must be a single word\n" +
			"hint: write name: value",
	},
	{
		"too deep", "set",
		"name: t", "name: " + strings.Repeat("[", 20) + strings.Repeat("]", 20),
		"f.yaml:2:27: this stands more than 20 levels deep\n" +
			"hint: no field of a sheet is so deep: is this the right file?",
	},
	{
		"a list for a file", "",
		"", "- set\n",
		"f.yaml:1:1: the file is a list, not a group of fields\n" +
			"hint: begin with a copy of one of the examples",
	},
	{
		"one word for a file", "",
		"", "set\n",
		"f.yaml:1:1: the file is a single value, not a group of fields\n" +
			"hint: begin with a copy of one of the examples",
	},
	{
		"nothing but a comment", "",
		"", "# nothing\n",
		"f.yaml: the file is empty\n" +
			"hint: begin with a copy of one of the examples",
	},
	{
		"an empty document", "",
		"", "---\n",
		"f.yaml:2:1: the file is a single value, not a group of fields\n" +
			"hint: begin with a copy of one of the examples",
	},
	{
		"no known first key", "",
		"", "radio: {}\n",
		"f.yaml:1:1: the file does not begin with \"set:\"\n" +
			"hint: begin with a copy of one of the examples",
	},
	{
		"a meter sheet in place of a set sheet", "",
		"", "meter: {}\n",
		"f.yaml:1:1: this is a meter file, and a set file is wanted",
	},
	{
		"a second key at the top", "set",
		"valves: [EL84]\n", "valves: [EL84]\nwatts: 52 W\n",
		"f.yaml:9:1: unknown field \"watts\" beside \"set\"\n" +
			"hint: all fields stand below \"set\", with spaces before each",
	},
	{
		"unknown field with a near name", "set",
		"name: t", "name: t\n  wats: 52 W",
		"f.yaml:3:3: unknown field \"wats\"\n" +
			"hint: did you mean watts?",
	},
	{
		"underscore for hyphen", "set",
		"name: t", "name: t\n  ht_winding: {}",
		"f.yaml:3:3: unknown field \"ht_winding\"\n" +
			"hint: did you mean ht-winding?",
	},
	{
		"unknown field with no near name", "set",
		"flex: {cores: 2}", "flex: {cores: 2, colour: brown}",
		"f.yaml:5:20: flex: unknown field \"colour\"\n" +
			"hint: known here: cores, length, area",
	},
	{
		"two errors at once, in the order of the file", "set",
		"flex: {cores: 2}", "flex: {core: 2}\n  watts: 52",
		"f.yaml:5:10: flex: unknown field \"core\"\n" +
			"hint: did you mean cores?\n" +
			"f.yaml:6:10: watts: \"52\" has no unit\n" +
			"hint: write the unit too, such as 60 W",
	},
	{
		"nothing after the colon", "set",
		"name: t", "name:",
		"f.yaml:2:8: name: nothing stands here\n" +
			"hint: give a value, or leave the field out when it is not known",
	},
	{
		"null", "set",
		"name: t", "name: ~",
		"f.yaml:2:9: name: nothing stands here\n" +
			"hint: give a value, or leave the field out when it is not known",
	},
	{
		"a single value for a group", "set",
		"flex: {cores: 2}", "flex: 2",
		"f.yaml:5:9: flex: a group of fields is wanted, and this is a single value\n" +
			"hint: write the fields below it, one a line: cores, length, area",
	},
	{
		"a list for a group", "set",
		"flex: {cores: 2}", "flex: [2]",
		"f.yaml:5:9: flex: a group of fields is wanted, and this is a list\n" +
			"hint: write the fields below it, one a line: cores, length, area",
	},
	{
		"a single value for a list", "set",
		"taps: [230 V]", "taps: 230 V",
		"f.yaml:6:17: mains.taps: a list is wanted, and this is a single value\n" +
			"hint: write it as [first, second], or one a line after a dash",
	},
	{
		"a group for a list", "set",
		"taps: [230 V]", "taps: {a: 230 V}",
		"f.yaml:6:17: mains.taps: a list is wanted, and this is a group of fields\n" +
			"hint: write it as [first, second], or one a line after a dash",
	},
	{
		"a list for a number", "set",
		"name: t", "name: t\n  watts: [52 W]",
		"f.yaml:3:10: watts: a number with its unit is wanted, and this is a list\n" +
			"hint: write one value after the colon",
	},
	{
		"a group for text", "set",
		"name: t", "name: {first: t}",
		"f.yaml:2:9: name: text is wanted, and this is a group of fields\n" +
			"hint: write one value after the colon",
	},
	{
		"a list for a count", "set",
		"cores: 2", "cores: [2]",
		"f.yaml:5:17: flex.cores: a whole number is wanted, and this is a list\n" +
			"hint: write one value after the colon",
	},
	{
		"a list for true or false", "bench",
		"rcd: true", "rcd: [true]",
		"f.yaml:9:8: rcd: true or false is wanted, and this is a list\n" +
			"hint: write one value after the colon",
	},
	{
		"a number without its unit", "set",
		"taps: [230 V]", "taps: [230]",
		"f.yaml:6:18: mains.taps[0]: \"230\" has no unit\n" +
			"hint: write the unit too, such as 230 V",
	},
	{
		"the wrong unit", "set",
		"taps: [230 V]", "taps: [230 Ω]",
		"f.yaml:6:18: mains.taps[0]: 230 Ω is not a voltage\n" +
			"hint: give volts, such as 230 V",
	},
	{
		"two meanings of a comma", "set",
		"taps: [230 V]", "taps: ['1,234 V']",
		"f.yaml:6:18: mains.taps[0]: \"1,234 V\" could mean 1234 or 1.234\n" +
			"hint: write 1234 or 1.234",
	},
	{
		"not a number", "set",
		"taps: [230 V]", "taps: [.nan]",
		"f.yaml:6:18: mains.taps[0]: \".nan\" is no number of a sheet\n" +
			"hint: write a plain decimal number",
	},
	{
		"infinity", "set",
		"taps: [230 V]", "taps: [-.INF]",
		"f.yaml:6:18: mains.taps[0]: \"-.INF\" is no number of a sheet\n" +
			"hint: write a plain decimal number",
	},
	{
		"underscore", "set",
		"taps: [230 V]", "taps: [2_30 V]",
		"f.yaml:6:18: mains.taps[0]: \"2_30 V\" has an underscore\n" +
			"hint: write a plain decimal number",
	},
	{
		"exponent", "set",
		"taps: [230 V]", "taps: [2.3e2 V]",
		"f.yaml:6:18: mains.taps[0]: \"2.3e2 V\" has an exponent\n" +
			"hint: write a plain decimal number",
	},
	{
		"hexadecimal", "set",
		"taps: [230 V]", "taps: [0xE6]",
		"f.yaml:6:18: mains.taps[0]: \"0xE6\" is hexadecimal\n" +
			"hint: write a plain decimal number",
	},
	{
		"octal of old", "set",
		"cores: 2", "cores: 02",
		"f.yaml:5:17: flex.cores: \"02\" begins with a zero, which some read as octal\n" +
			"hint: write a plain decimal number",
	},
	{
		"octal of new", "set",
		"cores: 2", "cores: 0o2",
		"f.yaml:5:17: flex.cores: \"0o2\" is octal\n" +
			"hint: write a plain decimal number",
	},
	{
		"binary", "set",
		"cores: 2", "cores: 0b10",
		"f.yaml:5:17: flex.cores: \"0b10\" is binary\n" +
			"hint: write a plain decimal number",
	},
	{
		"a count with a point", "set",
		"cores: 2", "cores: 2.0",
		"f.yaml:5:17: flex.cores: \"2.0\" is not a whole number from 0 to 99999\n" +
			"hint: write digits only, as 2",
	},
	{
		"a count with a sign", "set",
		"cores: 2", "cores: +2",
		"f.yaml:5:17: flex.cores: \"+2\" is not a whole number from 0 to 99999\n" +
			"hint: write digits only, as 2",
	},
	{
		"a count beyond all sense", "set",
		"cores: 2", "cores: 200000",
		"f.yaml:5:17: flex.cores: \"200000\" is not a whole number from 0 to 99999\n" +
			"hint: write digits only, as 2",
	},
	{
		"yes", "bench",
		"rcd: true", "rcd: yes",
		"f.yaml:9:8: rcd: \"yes\" is neither true nor false\n" +
			"hint: write true or false",
	},
	{
		"a line end in text", "set",
		"name: t", "name: |\n    a\n    b",
		"f.yaml:2:9: name: the text \"a\\nb\" has a line end or a character that cannot be seen\n" +
			"hint: keep it on one line; fold a long one after the sign >",
	},
	{
		"a control character in text", "set",
		"name: t", "name: \"a\\e[2Jb\"",
		"f.yaml:2:9: name: the text \"a\\x1b[2Jb\" has a line end or a character that cannot be seen\n" +
			"hint: keep it on one line; fold a long one after the sign >",
	},
	{
		"a space before text", "set",
		"name: t", "name: ' t'",
		"f.yaml:2:9: name: the text \" t\" begins or ends with a space\n" +
			"hint: take the space away",
	},
	{
		"a book for a note", "procedure",
		"supply: dead", "supply: dead\n    note: " + strings.Repeat("x", 401),
		"f.yaml:7:11: stages[0].note: the text has more than 400 characters\n" +
			"hint: shorten it",
	},
	{
		"a required field left out", "set",
		"  name: t\n", "",
		"f.yaml:2:3: name: this is missing\n" +
			"hint: every such file has it: copy the line from an example",
	},
	{
		"a required field empty", "set",
		"name: t", "name: ''",
		"f.yaml:2:9: name: this is empty\n" +
			"hint: every such file has it: copy the line from an example",
	},
	{
		"a whole group left out", "set",
		"  flex: {cores: 2}\n", "",
		"f.yaml:2:3: flex.cores: this is missing\n" +
			"hint: wanted: one of 2, 3",
	},
	{
		"an unknown choice with a near one", "set",
		"construction: double-wound", "construction: doublewound",
		"f.yaml:4:17: construction: \"doublewound\" is not known here\n" +
			"hint: did you mean double-wound?",
	},
	{
		"an unknown choice", "set",
		"cores: 2", "cores: 4",
		"f.yaml:5:17: flex.cores: 4 is not known here\n" +
			"hint: wanted: one of 2, 3",
	},
	{
		"zero", "set",
		"name: t", "name: t\n  watts: 0 W",
		"f.yaml:3:10: watts: 0 W is out of bounds\n" +
			"hint: wanted: more than 0 W",
	},
	{
		"a kilovolt tap", "set",
		"taps: [230 V]", "taps: [230 V, 2.3 kV]",
		"f.yaml:6:25: mains.taps[1]: 2.3 kV is out of bounds\n" +
			"hint: wanted: at most 300 V",
	},
	{
		"a cross-section of a busbar", "set",
		"cores: 2", "cores: 2, area: 75 mm²",
		"f.yaml:5:26: flex.area: 75 mm² is out of bounds\n" +
			"hint: wanted: at most 10 mm²",
	},
	{
		"an empty list", "set",
		"valves: [EL84]", "valves: []",
		"f.yaml:8:11: valves: 0 entries stand here\n" +
			"hint: wanted: at least 1 entry",
	},
	{
		"an empty entry", "set",
		"valves: [EL84]", "valves: [EL84, '']",
		"f.yaml:8:18: valves[1]: this is empty\n" +
			"hint: every such file has it: copy the line from an example",
	},
	{
		"a long name", "set",
		"name: t", "name: " + strings.Repeat("x", 61),
		"f.yaml:2:9: name: the text has 61 characters\n" +
			"hint: wanted: at most 60 characters",
	},
	{
		"edition 0", "procedure",
		"edition: 1", "edition: 0",
		"f.yaml:2:10: edition: 0 is out of bounds\n" +
			"hint: wanted: at least 1",
	},
	{
		"all tags at once", "set",
		"  name: t\n  mark: m\n", "  name: ''\n",
		"f.yaml:2:3: mark: this is missing\n" +
			"hint: every such file has it: copy the line from an example\n" +
			"f.yaml:2:9: name: this is empty\n" +
			"hint: every such file has it: copy the line from an example",
	},
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
	{
		"a stage twice", "procedure",
		"stages:\n", "stages:\n  - stage: one\n    supply: dead\n    steps: [{check: c}]\n",
		"f.yaml:8:12: stages[1].stage: the stage \"one\" stands here a second time\n" +
			"hint: each stage has a name of its own",
	},
	{
		"a stage with a space in its name", "procedure",
		"stage: one", "stage: stage one",
		"f.yaml:5:12: stages[0].stage: \"stage one\" is no name here\n" +
			"hint: small letters, digits and single hyphens, as dead-ht",
	},
	{
		"needs a hold that comes later", "procedure",
		"supply: dead", "supply: dead\n    needs: [hold-1]",
		"f.yaml:7:13: stages[0].needs[0]: no hold \"hold-1\" stands in an earlier stage\n" +
			"hint: needs names holds that come before",
	},
	{
		"a hold while energised", "procedure",
		"supply: dead", "supply: full",
		"f.yaml:9:15: stages[0].steps[1].hold: a hold stands here with the supply full\n" +
			"hint: holds stand only in stages with the supply dead",
	},
	{
		"a hold twice", "procedure",
		"- hold: hold-1", "- hold: hold-1\n      - hold: hold-1",
		"f.yaml:10:15: stages[0].steps[2].hold: the hold \"hold-1\" stands here a second time\n" +
			"hint: each hold has a name of its own",
	},
	{
		"a step that says nothing", "procedure",
		"- check: c", "- note: look",
		"f.yaml:8:9: stages[0].steps[0]: this step says nothing to do\n" +
			"hint: one of: check, hold, raise, cold",
	},
	{
		"a step that says two things", "procedure",
		"- check: c", "- check: c\n        hold: h",
		"f.yaml:9:15: stages[0].steps[0].hold: this step has both check and hold\n" +
			"hint: make it two steps",
	},
	{
		"a raise in a dead stage", "procedure",
		"- check: c", "- raise: [25 %]",
		"f.yaml:8:16: stages[0].steps[0].raise: the mains is raised here with the supply dead\n" +
			"hint: steps of the mains stand in stages with the supply raised or full",
	},
	{
		"a raise of nothing", "procedure",
		"- check: c", "- raise: []",
		"f.yaml:8:16: stages[0].steps[0].raise: the list is empty\n" +
			"f.yaml:8:16: stages[0].steps[0].raise: the mains is raised here with the supply dead\n" +
			"hint: steps of the mains stand in stages with the supply raised or full",
	},
	{
		"a step of the raise twice", "procedure",
		"supply: dead\n    steps:\n      - check: c\n      - hold: hold-1", "supply: raised\n    steps:\n      - raise: [25 %, 25 %]",
		"f.yaml:8:23: stages[0].steps[0].raise[1]: 25 % does not follow 25 %\n" +
			"hint: each once, the lowest first",
	},
	{
		"a raise that falls", "procedure",
		"- check: c", "- raise: [50 %, 25 %]",
		"f.yaml:8:16: stages[0].steps[0].raise: the mains is raised here with the supply dead\n" +
			"hint: steps of the mains stand in stages with the supply raised or full\n" +
			"f.yaml:8:23: stages[0].steps[0].raise[1]: 25 % does not follow 50 %\n" +
			"hint: each once, the lowest first",
	},
	{
		"read without raise", "procedure",
		"- check: c", "- check: c\n        read: [lamp]",
		"f.yaml:9:15: stages[0].steps[0].read: this belongs to a step with raise or cold",
	},
	{
		"dwell without raise", "procedure",
		"- check: c", "- check: c\n        dwell: 60 s",
		"f.yaml:9:16: stages[0].steps[0].dwell: this belongs to a step with raise",
	},
	{
		"after on a hold", "procedure",
		"- hold: hold-1", "- hold: hold-1\n        after: [60 s]",
		"f.yaml:10:16: stages[0].steps[1].after: this belongs to a step with check",
	},
	{
		"a reading twice", "procedure",
		"supply: dead\n    steps:\n      - check: c\n      - hold: hold-1", "supply: full\n    steps:\n      - {raise: [25 %], read: [lamp, lamp]}",
		"f.yaml:8:38: stages[0].steps[0].read[1]: the reading \"lamp\" stands here a second time\n" +
			"hint: each reading has a name of its own",
	},
	{
		"times that fall", "procedure",
		"- check: c", "- {check: c, after: [60 s, 5 s]}",
		"f.yaml:8:34: stages[0].steps[0].after[1]: 5 s does not follow 60 s\n" +
			"hint: each once, the lowest first",
	},
	{
		"narrows nothing", "procedure",
		"- check: c", "- {check: c, narrower: {because: rule}}",
		"f.yaml:8:30: stages[0].steps[0].narrower: this narrows nothing\n" +
			"hint: write min, max or both, each with its unit",
	},
	{
		"narrower without a reason", "procedure",
		"- check: c", "- {check: c, narrower: {min: 2 GΩ}}",
		"f.yaml:8:30: stages[0].steps[0].narrower.because: this is missing\n" +
			"hint: every such file has it: copy the line from an example",
	},
	{
		"narrower without a unit", "procedure",
		"- check: c", "- {check: c, narrower: {min: 2, because: rule}}",
		"f.yaml:8:36: stages[0].steps[0].narrower.min: \"2\" is not a number with its unit\n" +
			"hint: write it as 2 GΩ or 0.1 V",
	},
}
