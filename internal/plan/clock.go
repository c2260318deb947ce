package plan

import (
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// A line takes perLine: leads, look, type. Where a wait stands before it, leads are
// on and the eyes are at the meter when the wait is over: perEntry is left. Common
// practice, no source.
const (
	perLine  = 40 * time.Second
	perEntry = 20 * time.Second
)

// clock is how late it is along a way, and since when waits are counted.
type clock struct{ now, proof, power, read time.Duration }

// pass goes on to the end of a line, and gives what it took.
func (c *clock) pass(p *Plan, todo engine.Todo) time.Duration {
	began := c.now
	c.now = max(c.now+perLine, c.due(p, todo)+perEntry)
	switch todo.Act {
	case engine.ProveFull:
		c.proof = c.now
	case engine.SwitchOn:
		c.power, c.read = c.now, c.now
	case engine.Enter:
		c.now += p.within(p.Slots[todo.Slot].Line)
		c.read = c.now
	}
	return c.now - began
}

// due is when a line may be typed at the earliest; 0: at once. The session has
// its own, by what happened.
func (c *clock) due(p *Plan, todo engine.Todo) time.Duration {
	switch todo.Act {
	case engine.ProveSecond:
		return c.proof + timeOf(unit.Second(limits.Lookup("rebound-wait").Value.Value))
	case engine.SwitchOn:
		return c.now + timeOf(p.Blocks[todo.Block].Cold)
	case engine.Enter:
		line := p.Lines[p.Slots[todo.Slot].Line]
		if p.Slots[line.Slots[0]].After > 0 {
			return c.power + timeOf(line.Wait)
		}
		return c.read + timeOf(line.Wait)
	}
	return 0
}

// within is what the readings of a line take by themselves: a capacitor that
// charges, a winding that cools.
func (p *Plan) within(line int) (total time.Duration) {
	for _, i := range p.Lines[line].Slots {
		total += timeOf(p.Slots[i].Check.Takes)
	}
	return total
}

func timeOf(s unit.Second) time.Duration { return time.Duration(float64(s) * float64(time.Second)) }
