package spec_test

import "strings"

// What is wrong with the text, or stands where it does not belong.
var refusedShapes = []refusal{
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
}
