package plan

import (
	"slices"
	"strings"
	"unicode"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/sheet"
)

// Class is one row of the alteration table: what somebody may have changed, by
// its letter and, where a letter stands for several parts, the part.
type Class struct {
	Letter string
	Part   string // empty: any part of the letter that has no row of its own
	Words  string
	Solder bool
	voids  func(Slot) bool
	names  []string // further words that mean the part, in lower case: sockets and types of valves
}

func (p *Plan) classes() {
	if p.Boxed {
		p.Classes = boxedClasses()
		return
	}
	output, rectifier, signal := p.valveNames()
	p.Classes = []Class{
		{"n", "", "nothing", false, func(Slot) bool { return false }, nil},
		{"m", "", "flex, plug, fuse or switch", true, func(s Slot) bool { return letter("m")(s) || s.Stage == rampStage }, nil},
		{"l", "", "the bulb of the lamp box, replaced because it failed", false, bulb, nil},
		{"x", "", "mains transformer, or a tap re-wired", true, letter("x"), nil},
		{"y", "", "mains, aerial or earth capacitor", true, letter("y"), nil},
		{"h", "", "any electrolytic of the HT line", true, electrolytic, nil},
		{"v", "output", "the output valve changed for another", false, outputValve, output},
		{"v", "rectifier", "the rectifier changed for another", false, rectifierValve, rectifier},
		{"v", "signal", "a valve that is neither, by its socket or type", false, signalValve, signal},
		{"v", "", "a valve, not said which: as each of them", false, letter("v"), nil},
		{"r", "", "a resistor at cathode, grid or screen", true, unsoaked("r"), nil},
		{"o", "", "output transformer or loudspeaker", true, outputTransformer, nil},
		{"p", "coupling", "the coupling capacitor of the output valve", true, coupling, nil},
		{"p", "", "another part, soldered", true, part, nil},
		{"t", "", "the tap was found moved, and is back where the sheet has it", false, letter("t"), nil},
		{"b", "", "found opened or boxed, not as planned", false, letter("b"), nil},
		{"d", "", "moved to another place, or damp", false, daily, nil},
		{"?", "", "not sure", true, func(s Slot) bool { return s.Hold == "" && s.Check.Crit <= engine.G }, nil},
	}
}

// boxedClasses are what may be done to a set that stays closed. What is done inside
// ends the tests of the open part, and this part has none of those to make again.
// As in the other table the last row voids most.
func boxedClasses() []Class {
	return []Class{
		{"n", "", "nothing", false, func(Slot) bool { return false }, nil},
		{"l", "", "the bulb of the lamp box, replaced because it failed", false, bulb, nil},
		{"t", "", "the tap was found moved, and is back where the sheet has it", false, letter("t"), nil},
		{"b", "", "found opened or boxed, not as planned; nothing in it was changed", false, letter("b"), nil},
		{"d", "", "moved to another place, or damp", false, daily, nil},
		{"m", "", "flex or plug, the set not opened", true, letter("m"), nil},
	}
}

// Inside tells whether what was typed begins with a letter of the open part for
// which a boxed set has to be opened; ? may be any of them.
func (p *Plan) Inside(typed string) bool {
	l, _, _ := strings.Cut(strings.TrimSpace(typed), " ")
	return p.Boxed && len(l) == 1 && strings.Contains("xyhvrop?", l)
}

// valveNames are the words by which a person may name the valves of this set:
// sockets and types.
func (p *Plan) valveNames() (output, rectifier, signal []string) {
	data, socket, err := p.Set.OutputValve()
	rectifier = []string{strings.ToLower(p.Set.Rectifier)}
	for i, name := range p.Set.Valves {
		at := sheet.Position(i)
		if err == nil && (at == socket || name == data.Type) {
			output = append(output, strings.ToLower(at), strings.ToLower(name))
		} else {
			signal = append(signal, strings.ToLower(at), strings.ToLower(name))
		}
	}
	return output, rectifier, signal
}

// rampStage starts again from its first step after a new fuse or bulb (INV-51):
// what blew the old one may still be there.
const rampStage = "ramp"

func bulb(s Slot) bool {
	return s.Check.ID == "lamp-cold" || s.Check.ID == "lamp-fitted" || s.Stage == rampStage
}

// daily are the readings that stand for a day at most (INV-21).
func daily(s Slot) bool { return s.Check.Life == engine.Day }

// letter voids what the catalogue says of it.
func letter(l string) func(Slot) bool {
	return func(s Slot) bool { return strings.Contains(s.Check.Void, l) }
}

// Stages by which a row of the table is narrowed. The soak stands through the
// change of a part; only what goes onward from the ramp takes it along.
const (
	heatersStage = "heaters"
	spotsStage   = "spot-checks"
	soakStage    = "soak"
)

// unsoaked is what the catalogue says of a letter, but for the soak.
func unsoaked(l string) func(Slot) bool {
	return func(s Slot) bool { return letter(l)(s) && s.Stage != soakStage }
}

// electrolytic does not reach the stamp of the coupling capacitor.
func electrolytic(s Slot) bool {
	return letter("h")(s) && !couplingStamp(s)
}

func couplingStamp(s Slot) bool { return s.Check.ID == "stamped-volts" && s.Item == "coupling" }

func outputTransformer(s Slot) bool {
	return unsoaked("o")(s) && !(s.Check.ID == "joint" && strings.HasPrefix(s.Item, "coupling"))
}

func outputValve(s Slot) bool {
	switch s.Check.ID {
	case "electrodes":
		return !strings.HasPrefix(s.Item, "rectifier")
	case "reservoir-size":
		return false
	}
	return letter("v")(s)
}

func rectifierValve(s Slot) bool {
	return letter("v")(s) && (s.Check.ID != "electrodes" || strings.HasPrefix(s.Item, "rectifier"))
}

// signalValve voids the heaters and what the valve draws from the HT line at
// full mains; what concerns the other two stands.
func signalValve(s Slot) bool {
	switch {
	case s.Check.ID == "valve-heaters", s.Stage == heatersStage:
		return letter("v")(s)
	case s.Stage == spotsStage:
		return letter("v")(s) && s.Check.Path != "output-stage"
	}
	return false
}

// coupling voids the part's own stamp and test, the grid's pass at the ceiling,
// and the spot checks of the valve it feeds; the soak stands.
func coupling(s Slot) bool {
	switch s.Check.ID {
	case "coupling-capacitor":
		return true
	case "stamped-volts":
		return couplingStamp(s)
	case "joint":
		return strings.HasPrefix(s.Item, "coupling")
	case "output-grid":
		return true
	case "output-cathode":
		return s.Stage == spotsStage
	}
	return s.Stage == spotsStage && s.Check.Path == "output-stage" && s.Check.ID != "opt-volts"
}

// part is any other part: it might be the coupling capacitor by another name,
// or stand straight on the HT line.
func part(s Slot) bool {
	switch {
	case coupling(s):
		return true
	case s.Stage == spotsStage:
		return s.Check.Path == "output-stage"
	case s.Stage == rampStage, s.Stage == soakStage:
		return false
	}
	return letter("p")(s)
}

// splash is what a drop of solder may have spoiled anywhere in the set.
var splash = []string{"mains-insulation", "socket-insulation", "ht-line", "ht-line-60", "ht-line-kick", "discharge-path"}

// linkVoids gives the engine the table: which facts each class ends.
func (p *Plan) linkVoids() {
	e := &p.Engine
	for i, s := range p.Slots {
		if s.Hold != "" || s.Look || p.Boxed && p.Blocks[s.Block].Supply == engine.Limited {
			e.AfterStop = e.AfterStop.With(i)
		}
	}
	for _, c := range p.Classes {
		var f engine.Facts
		for i, s := range p.Slots {
			if s.Hold == "" && (c.voids(s) || c.Solder && slices.Contains(splash, s.Check.ID)) {
				f = f.With(i)
			}
		}
		if f != (engine.Facts{}) {
			f = f.Or(e.AfterStop)
		}
		e.Voids = append(e.Voids, f)
		e.Solder = append(e.Solder, c.Solder || c.Letter == "b") // whoever opened it had hands in it: the proof falls
	}
}

// ClassesOf finds the rows for what was typed: a letter and, after it, words
// that may name the part. Words that name several parts mean all of them; none
// is found for what begins with no letter.
func (p *Plan) ClassesOf(typed string) []engine.Class {
	l, words, _ := strings.Cut(strings.TrimSpace(typed), " ")
	var parts, any []engine.Class
	for i, c := range p.Classes {
		switch {
		case c.Letter != l:
		case c.Part == "":
			any = append(any, engine.Class(i))
		case c.named(strings.ToLower(words)):
			parts = append(parts, engine.Class(i))
		}
	}
	if len(parts) > 0 {
		return parts
	}
	return any
}

// named tells whether words in lower case name the part.
func (c Class) named(words string) bool {
	if strings.Contains(words, c.Part) {
		return true
	}
	each := strings.FieldsFunc(words, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return slices.ContainsFunc(c.names, func(name string) bool { return slices.Contains(each, name) })
}
