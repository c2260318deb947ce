package plan

import (
	"slices"
	"strings"

	"example.com/powerup/internal/engine"
)

// Class is one row of the alteration table: what somebody may have changed, by
// its letter and, where a letter stands for several parts, the part.
type Class struct {
	Letter string
	Part   string // empty: any part of the letter that has no row of its own
	Words  string
	Solder bool
	voids  func(Slot) bool
}

func (p *Plan) classes() {
	p.Classes = []Class{
		{"n", "", "nothing", false, func(Slot) bool { return false }},
		{"m", "", "flex, plug, fuse or switch", true, func(s Slot) bool { return letter("m")(s) || s.Stage == rampStage }},
		{"l", "", "the bulb of the lamp box, replaced because it failed", false, bulb},
		{"x", "", "mains transformer, or a tap re-wired", true, letter("x")},
		{"y", "", "mains, aerial or earth capacitor", true, letter("y")},
		{"h", "", "any electrolytic of the HT line", true, letter("h")},
		{"v", "output", "the output valve changed for another", false, valve("V", "output")},
		{"v", "rectifier", "the rectifier changed for another", false, valve("rectifier", "")},
		{"v", "", "another valve changed for another", false, valve("V", "")},
		{"r", "", "a resistor at cathode, grid or screen", true, letter("r")},
		{"o", "", "output transformer or loudspeaker", true, letter("o")},
		{"p", "coupling", "the coupling capacitor of the output valve", true, coupling},
		{"p", "", "another part, soldered", true, letter("p")},
		{"t", "", "the tap was found moved", false, letter("t")},
		{"b", "", "found opened or boxed, not as planned", false, letter("b")},
		{"d", "", "moved to another place, or damp", false, daily},
		{"?", "", "not sure", true, func(s Slot) bool { return s.Hold == "" && s.Check.Crit <= engine.G }},
	}
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

// valve narrows the valve row to the readings of one socket where it can.
func valve(item, stage string) func(Slot) bool {
	return func(s Slot) bool {
		if !strings.Contains(s.Check.Void, "v") {
			return false
		}
		if s.Check.ID == "electrodes" {
			return strings.HasPrefix(s.Item, item)
		}
		return stage == "output" || item == "rectifier" || s.Check.Path != "output-stage"
	}
}

// coupling voids the part's own test, the grid's pass at the ceiling, and the
// spot checks of the valve it feeds; the soak stands.
func coupling(s Slot) bool {
	switch s.Check.ID {
	case "coupling-capacitor":
		return true
	case "joint":
		return strings.HasPrefix(s.Item, "coupling")
	case "output-grid":
		return true
	case "output-cathode":
		return s.Stage == "spot-checks"
	}
	return s.Stage == "spot-checks" && s.Check.Path == "output-stage" && s.Check.ID != "opt-volts"
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
		e.Solder = append(e.Solder, c.Solder)
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
		case strings.Contains(strings.ToLower(words), c.Part):
			parts = append(parts, engine.Class(i))
		}
	}
	if len(parts) > 0 {
		return parts
	}
	return any
}
