package spec_test

// Fields of a procedure that contradict each other.
var refusedProcedures = []refusal{
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
		"f.yaml:7:13: stages[0].needs[0]: INV-01: no hold \"hold-1\" stands in an earlier stage\n" +
			"hint: needs names holds that come before",
	},
	{
		"a hold while energised", "procedure",
		"supply: dead", "supply: full",
		"f.yaml:9:15: stages[0].steps[1].hold: INV-24: a hold stands here with the supply full\n" +
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
		"f.yaml:8:16: stages[0].steps[0].raise: INV-10: the mains is raised here with the supply dead\n" +
			"hint: steps of the mains stand in stages with the supply raised or full",
	},
	{
		"a raise of nothing", "procedure",
		"- check: c", "- raise: []",
		"f.yaml:8:16: stages[0].steps[0].raise: the list is empty\n" +
			"f.yaml:8:16: stages[0].steps[0].raise: INV-10: the mains is raised here with the supply dead\n" +
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
		"f.yaml:8:16: stages[0].steps[0].raise: INV-10: the mains is raised here with the supply dead\n" +
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
		"a cold start with the lamp in", "procedure",
		"supply: dead\n    steps:\n      - check: c\n      - hold: hold-1", "supply: raised\n    steps:\n      - {cold: 180 s, read: [c]}",
		"f.yaml:8:16: stages[0].steps[0].cold: INV-47: a cold start stands here with the supply raised\n" +
			"hint: cold starts stand only in stages with the supply full",
	},
	{
		"a default answer", "procedure",
		"- check: c", "- {check: c, default: 5 V}",
		"f.yaml:8:20: stages[0].steps[0]: INV-37: only a reading answers for a reading, and the check decides whether it is owed: unknown field \"default\"\n" +
			"hint: leave it out; here may stand check, narrower, after, hold, cold, raise, dwell, read, note",
	},
	{
		"a gate of the file's own", "procedure",
		"edition: 1", "edition: 1\ngate: none",
		"f.yaml:3:1: INV-38: nothing in a file defeats an interlock: unknown field \"gate\"\n" +
			"hint: leave it out; here may stand procedure, edition, for, stages",
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
