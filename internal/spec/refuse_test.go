package spec_test

import (
	"slices"
	"strings"
	"testing"
)

// refusal changes the least file of a kind in one place, or is a text by itself
// when it has no base. want is the whole message.
type refusal struct{ why, base, old, new, want string }

var refusals = slices.Concat(refusedShapes, refusedFields, refusedRules, refusedProcedures)

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
