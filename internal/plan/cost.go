package plan

import (
	"fmt"
	"time"

	"example.com/powerup/internal/engine"
)

// Cost is what work takes when everything passes: lines typed, and the time by
// the clock.
type Cost struct {
	Lines int
	Time  time.Duration
}

// String gives lines and time in words: "86 lines, about 2 h 37".
func (c Cost) String() string {
	lines := "1 line"
	if c.Lines != 1 {
		lines = fmt.Sprintf("%d lines", c.Lines)
	}
	minutes := int(c.Time.Minutes())
	if minutes < 60 {
		return fmt.Sprintf("%s, about %d min", lines, minutes)
	}
	return fmt.Sprintf("%s, about %d h %02d", lines, minutes/60, minutes%60)
}

func (c Cost) plus(d Cost) Cost { return Cost{c.Lines + d.Lines, c.Time + d.Time} }

// linesOf is what some lines take that have no wait.
func linesOf(n int) Cost { return Cost{n, time.Duration(n) * perLine} }

// Lines around the engine's work. Before it: bench, passphrase, unplugged,
// touched. After it: label and close.
const (
	beforeWork = 4
	afterWork  = 2
)

// Part is what a part of the work costs.
type Part struct {
	Stage string // empty: the first part is what comes before the work, the last what comes after
	Cost
}

// Parts divides the cost of a way by the stages it goes through, in their order.
// Together they are the whole, to the second.
func (w Way) Parts() []Part {
	parts := []Part{{"", linesOf(beforeWork)}}
	for _, t := range w.Tasks {
		if last := parts[len(parts)-1]; t.Stage != last.Stage {
			parts = append(parts, Part{Stage: t.Stage})
		}
		last := &parts[len(parts)-1]
		last.Cost = last.plus(t.cost())
	}
	if last := len(parts) - 1; last == 0 || parts[last].Stage != "" {
		parts = append(parts, Part{})
	}
	last := &parts[len(parts)-1]
	last.Cost = last.plus(linesOf(afterWork))
	return parts
}

func (t Task) cost() Cost {
	if !t.Typed {
		return Cost{}
	}
	return Cost{1, t.Time}
}

// Cost is that of the whole work, from the beginning.
func (p *Plan) Cost() Cost {
	return Total(p.Way(engine.State{}).Parts())
}

// Total is what parts cost together.
func Total(parts []Part) Cost {
	var c Cost
	for _, part := range parts {
		c = c.plus(part.Cost)
	}
	return c
}

// costFrom is what the engine's work costs from a state on; it tells whether the
// end was found.
func (p *Plan) costFrom(s engine.State) (Cost, bool) {
	var c Cost
	way := p.Way(s)
	for _, t := range way.Tasks {
		c = c.plus(t.cost())
	}
	return c, way.Whole
}

// Parking is what it costs to park in a state and take the work up again: what
// one session alone may know, and the lines before the work. It tells whether
// the way from there was found.
func (p *Plan) Parking(at engine.State) (Cost, bool) {
	a, err := p.Again(at, []engine.Event{{Kind: engine.Interrupt}})
	return a.More.plus(linesOf(beforeWork)), err == nil && a.Known
}
