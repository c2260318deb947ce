package plan

import (
	"fmt"
	"slices"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/sheet"
)

// The engine counts nodes and paths in bits.
const (
	maxNodes = 16
	maxPaths = 32
)

// link makes the engine's procedure from the plan: everything that has a number
// or a name becomes a bit.
func (p *Plan) link() error {
	e := &p.Engine
	e.Pins = p.Boxed
	for b, block := range p.Blocks {
		eb := engine.Block{
			ID: block.ID, Stage: p.stageNumber(block.Stage), Supply: block.Supply, Lead: p.lead(b),
			LampIn: block.Lamp != nil, Wait: block.Cold > 0,
		}
		if block.Supply.Energised() {
			eb.Gate = p.gate(b)
		}
		e.Blocks = append(e.Blocks, eb)
	}
	for i := range p.Slots {
		slot, err := p.engineSlot(i)
		if err != nil {
			return err
		}
		e.Slots = append(e.Slots, slot)
	}
	p.give()
	p.derived()
	p.linkVoids()
	return p.Engine.Sound()
}

func (p *Plan) stageNumber(name string) int {
	return slices.IndexFunc(p.Procedure.Stages, func(s sheet.Stage) bool { return s.Stage == name })
}

// lead numbers what a hand inside the set would have to change: blocks of one
// stage at one spot differ in nothing.
func (p *Plan) lead(b int) int {
	return slices.IndexFunc(p.Blocks, func(x Block) bool {
		return x.Stage == p.Blocks[b].Stage && x.Spot == p.Blocks[b].Spot
	})
}

// gate is every earlier reading that guards a person or energy, and every
// earlier hold: stricter than the table of interlocks asks, and simpler.
func (p *Plan) gate(b int) engine.Facts {
	var f engine.Facts
	for i, s := range p.Slots {
		if s.Block < b && !optional(s) && s.Check.Life != engine.Period || s.Block < b && s.Hold != "" {
			f = f.With(i)
		}
	}
	return f
}

// optional tells whether a reading may be left. Continuity of the primary never
// is: without it an open switch makes the insulation test pass (INV-40).
func optional(s Slot) bool {
	return s.Hold == "" && s.Check.Crit == engine.E && !slices.Contains(continuity, s.Check.ID)
}

var continuity = []string{"primary-here", "primary-winding", "boxed-primary"}

func (p *Plan) engineSlot(i int) (engine.Slot, error) {
	s := p.Slots[i]
	out := engine.Slot{
		Rung: int(s.Rung), ID: s.ID, Crit: s.Check.Crit, Block: s.Block, Stage: p.stageNumber(s.Stage), Line: s.Line, Life: s.Check.Life,
		Hold: s.Hold != "", Optional: optional(s), Derived: s.Check.Answer == checks.Derived,
		MayLack: s.Check.ID == "set-fuse", Lenient: lenient(s), HTLine: slices.Contains(onHTLine, s.Check.ID),
		Wait: p.Lines[s.Line].Wait > 0 && s.Check.Answer != checks.Derived,
	}
	if s.Hold != "" || s.Look {
		out.Life = engine.Session
	}
	if s.Hold != "" {
		out.Crit = engine.S
	}
	for _, n := range s.Check.Charges {
		bit, err := bitOf(&p.Nodes, n, maxNodes)
		if err != nil {
			return out, fmt.Errorf("%s: %w", s.ID, err)
		}
		out.Charges |= 1 << bit
		p.Lines[s.Line].Nodes |= 1 << bit
	}
	if s.Check.Path != "" {
		bit, err := bitOf(&p.Paths, s.Check.Path, maxPaths)
		if err != nil {
			return out, fmt.Errorf("%s: %w", s.ID, err)
		}
		out.Path = 1 << bit
	}
	return out, nil
}

// lenient tells whether a query of a reading that guards a person is about the
// condition of a part only, its limit being met (insulation between the limit
// and what a sound set shows).
func lenient(s Slot) bool {
	return s.Check.Crit == engine.S && !s.Check.Retest && len(s.Check.Causes) > 0
}

// onHTLine are the dead readings that a shorting clip on the line would spoil.
var onHTLine = []string{
	"coupling-capacitor", "speaker-insulation", "ht-line-kick", "ht-line-60", "ht-line",
	"output-transformer", "smoothing-resistor", "screen-resistor", "ht-leak-60", "ht-leak",
}

func bitOf[T comparable](all *[]T, x T, most int) (int, error) {
	if i := slices.Index(*all, x); i >= 0 {
		return i, nil
	}
	if len(*all) == most {
		return 0, fmt.Errorf("more than %d of them", most)
	}
	*all = append(*all, x)
	return len(*all) - 1, nil
}

// give ties readings that stand for another: a tap's ohms for continuity in the
// same dead period, any look at the ceiling for the look of a later session.
func (p *Plan) give() {
	tap := ""
	if p.Set.Mains.Tap != nil {
		tap = p.Set.Mains.Tap.String()
	}
	for i, s := range p.Slots {
		for j, t := range p.Slots {
			inUse := tap != "" && s.Item == tap || s.Check.ID == "hot-primary"
			here := t.Check.ID == "primary-here" && t.Stage == s.Stage && inUse &&
				(s.Check.ID == "primary-winding" || s.Check.ID == "hot-primary")
			look := t.Look && s.Stage == t.Stage && s.Rung == t.Rung && !s.Look && s.Check.ID != "lamp" && s.Check.ID != "set-volts"
			if here || look {
				p.Engine.Slots[i].Gives = p.Engine.Slots[i].Gives.With(j)
			}
		}
	}
}

// ramped tells whether reading j is one of the ramp, behind the lamp, and i is
// worked out at full mains, where the same check is made again: that one counts.
func (p *Plan) ramped(i, j int) bool {
	at := func(s Slot) engine.Supply { return p.Blocks[s.Block].Supply }
	again := func(s Slot) bool { return s.Check.ID == p.Slots[j].Check.ID && at(s) == engine.Full }
	return at(p.Slots[i]) == engine.Full && at(p.Slots[j]) == engine.Raised && slices.ContainsFunc(p.Slots, again)
}

// derived ties what is worked out to the readings it is worked out from: it
// falls with any of them. What is judged by a window that follows from readings
// is taken back with them (INV-19).
func (p *Plan) derived() {
	for i, s := range p.Slots {
		for j, from := range p.Slots[:i] {
			if slices.Contains(s.Check.Follows, from.Check.ID) {
				p.Engine.Slots[i].Follows = p.Engine.Slots[i].Follows.With(j)
			}
			if s.Check.Answer == checks.Derived && slices.Contains(s.Check.Inputs, from.Check.ID) && from.Check.Life != engine.Period && !from.Look && !p.ramped(i, j) {
				p.Engine.Slots[i].From = p.Engine.Slots[i].From.With(j)
			}
		}
	}
}
