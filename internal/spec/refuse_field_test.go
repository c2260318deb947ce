package spec_test

import "strings"

// What is wrong within one field.
var refusedFields = []refusal{
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
}
