// Package damage spoils the shipped procedure in the ways in which an author of
// a procedure file could, by haste, by mistake or on purpose. Nothing that ships
// imports it: tests ask of each damaged file that it is refused, and of each
// control, a change that an author is free to make, that it is not.
package damage

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// Damage is one spoilt copy of the shipped procedure.
type Damage struct {
	Name     string
	Text     []byte
	Of       string // the check that it is about, if one: it matters where that is read
	Harmless string // why an author may do this; empty: it must be refused
}

// Over is in with the damaged procedure, read as any user's file is; an error
// when it does not load.
func (d Damage) Over(in plan.Inputs) (plan.Inputs, error) {
	p, err := spec.LoadProcedure("f.yaml", d.Text)
	in.Procedure = p
	return in, err
}

// All gives every damage and every control, each with a name of its own.
func All() []Damage {
	text, _ := procedures.Find(procedures.Procedures(), "double-wound")
	f := read(string(text))
	var all []Damage
	all = append(all, stepsLeftOut(f)...)
	all = append(all, stepsMoved(f)...)
	all = append(all, stagesMoved(f)...)
	for _, e := range edits {
		all = append(all, e.of(string(text)))
	}
	return append(all, whole(string(text))...)
}

// condition are the steps that tell how good a part is: class E, in no gate.
const condition = "class E, and nothing that follows needs it"

var mayLack = map[string]bool{
	"marked-ohms": true, "reservoir-size": true, "ht-line-kick": true, "ht-line-60": true, "discharge-path": true,
	"heater-winding": true, "smoothing-resistor": true, "screen-resistor": true, "half-winding": true,
	"ht-leak-60": true, "core-warm": true, "ripple": true, "sound": true, "hum": true, "controls": true,
	"cathode-current": true, "anode-dissipation": true, "smoothing-drop": true, "core": true, "core-end": true,
	"hot-primary": true, "winding-rise": true,
}

// stepsLeftOut leaves out each step in turn.
func stepsLeftOut(f file) []Damage {
	var all []Damage
	for i, s := range f.stages {
		for j, step := range s.steps {
			d := Damage{Name: "without " + s.name + "/" + idOf(step), Text: []byte(f.cut(i, j).write()), Of: checkOf(step)}
			if mayLack[idOf(step)] {
				d.Harmless = condition
			}
			all = append(all, d)
		}
	}
	return all
}

// stepsMoved takes each step to the next stage that has another supply.
func stepsMoved(f file) []Damage {
	var all []Damage
	for i, s := range f.stages {
		to := i
		for to < len(f.stages) && supplyOf(f.stages[to]) == supplyOf(s) {
			to++
		}
		if to == len(f.stages) {
			continue
		}
		for j, step := range s.steps {
			all = append(all, Damage{
				Name: fmt.Sprintf("%s/%s moved to %s", s.name, idOf(step), f.stages[to].name),
				Text: []byte(f.move(i, j, to).write()),
			})
		}
	}
	return all
}

// stagesMoved puts steps into another stage with the same supply, leaves out
// each stage in turn, and changes it with its neighbour.
func stagesMoved(f file) []Damage {
	var all []Damage
	for _, m := range []struct{ from, step, to string }{
		{"dead-ht", "hold-1", "openings"},
		{"lamp-out", "hold-2", "dead-ht"},
		{"spot-checks", "ht-smoothed", "ramp"},
		{"spot-checks", "opt-volts", "first-full"},
		{"spot-checks", "supply-line", "soak"},
		{"dead-ht", "ht-leak", "warm"},
		{"dead-ht", "ht-line", "lamp-out"},
		{"transformer", "lamp-late", "heaters"},
		{"heaters", "heater-volts", "transformer"},
		{"openings", "coupling-capacitor", "dead-ht"},
	} {
		all = append(all, Damage{Name: m.from + "/" + m.step + " in " + m.to, Text: []byte(f.moveNamed(m.from, m.step, m.to).write())})
	}
	for i, s := range f.stages {
		all = append(all, Damage{Name: "without the stage " + s.name, Text: []byte(f.cutStage(i).write())})
		if i > 0 {
			all = append(all, Damage{Name: s.name + " before " + f.stages[i-1].name, Text: []byte(f.swap(i-1, i).write())})
		}
	}
	return all
}

// edit replaces text that stands once in the file, or the first of several.
// An edit in braces of a check's step is about that check.
type edit struct{ name, old, new, harmless string }

func (e edit) of(text string) Damage {
	if !strings.Contains(text, e.old) {
		panic("damage: the shipped procedure has no " + e.old + " for " + e.name)
	}
	return Damage{Name: e.name, Text: []byte(strings.Replace(text, e.old, e.new, 1)), Of: checkOf(e.old), Harmless: e.harmless}
}

// whole are damages of the file as a whole.
func whole(text string) []Damage {
	return []Damage{
		{Name: "a file of 300 KiB", Text: []byte(text + "# " + strings.Repeat("x", 300<<10) + "\n")},
		{Name: "an empty file"},
		{Name: "cut off in its middle", Text: []byte(text[:len(text)/2])},
		{Name: "written twice", Text: []byte(text + text)},
		{Name: "a second document", Text: []byte(text + "---\nprocedure: other\n")},
		{Name: "lines of another system", Text: []byte(strings.ReplaceAll(text, "\n", "\r\n")), Harmless: "the same words"},
		{Name: "without comments", Text: []byte(text[strings.Index(text, "procedure:"):]), Harmless: "the same work"},
	}
}
