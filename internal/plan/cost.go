package plan

import (
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
)

// Cost is what the whole work takes when everything passes: lines typed, and
// the time by the clock.
type Cost struct {
	Lines int
	Time  time.Duration
}

// aroundWork are the lines before and after the engine's work: bench,
// passphrase, unplugged, touched; label and close.
const aroundWork = 6

// perLine is the time a line takes beside its waits: leads, look, type.
// Common practice, no source.
const perLine = 55 * time.Second

// Cost follows the order of work from the beginning, every answer a pass.
func (p *Plan) Cost() Cost {
	c, _ := p.costFrom(engine.State{})
	c.Lines += aroundWork
	c.Time += aroundWork * perLine
	return c
}

// costFrom follows the order of work from a state on; it tells whether it came
// to the end.
func (p *Plan) costFrom(s engine.State) (Cost, bool) {
	var c Cost
	block, waited := -1, time.Duration(0)
	for range 4 * (len(p.Slots) + len(p.Blocks)) {
		todo := engine.Next(&p.Engine, s)
		if todo.Act == engine.Finish {
			c.Time += time.Duration(c.Lines) * perLine
			return c, true
		}
		if todo.Act == engine.Enter && p.Engine.Slots[todo.Slot].Derived { // worked out, not typed
			s, _ = engine.Step(&p.Engine, s, engine.Event{Kind: engine.Read, Verdict: engine.Pass})
			continue
		}
		c.Lines++
		if todo.Block != block {
			block, waited = todo.Block, 0
		}
		wait := p.waitBefore(todo)
		c.Time += wait - min(waited, wait)
		waited = max(waited, wait)
		s = p.passLine(s, todo)
	}
	return c, false
}

// waitBefore is what the clock must show before an act.
func (p *Plan) waitBefore(todo engine.Todo) time.Duration {
	switch todo.Act {
	case engine.ProveSecond:
		return time.Duration(limits.Lookup("rebound-wait").Value.Value * float64(time.Second))
	case engine.Enter:
		return time.Duration(float64(p.Lines[p.Slots[todo.Slot].Line].Wait) * float64(time.Second))
	}
	return 0
}

// passLine answers one act, a whole line of readings at once.
func (p *Plan) passLine(s engine.State, todo engine.Todo) engine.State {
	step := func(e engine.Event) { s, _ = engine.Step(&p.Engine, s, e) }
	step(engine.Event{Kind: engine.Elapsed, Timer: engine.MinWait})
	switch todo.Act {
	case engine.Unplug:
		step(engine.Event{Kind: engine.Off})
	case engine.Unclip:
		step(engine.Event{Kind: engine.ClipOff, Verdict: engine.Pass})
	case engine.ProveNodes:
		step(engine.Event{Kind: engine.ProveNode, Verdict: engine.Pass})
	case engine.Resolve: // the readings behind it follow on their own line
		step(engine.Event{Kind: engine.Read, Verdict: engine.Pass})
	case engine.ProveLead:
		step(engine.Event{Kind: engine.Prove, Proof: engine.LeadProof, Verdict: engine.Pass})
	case engine.ProveFull:
		step(engine.Event{Kind: engine.Prove, Proof: engine.HalfProof, Verdict: engine.Pass})
	case engine.ProveSecond:
		step(engine.Event{Kind: engine.Prove, Proof: engine.FullProof, Verdict: engine.Pass})
	case engine.SwitchOn:
		step(engine.Event{Kind: engine.Power})
	case engine.Release:
		step(engine.Event{Kind: engine.Free})
	case engine.Enter:
		s = p.passEntry(s, p.Slots[todo.Slot].Line)
	}
	return s
}

// passEntry types one line. What must pass twice running ends it, and comes on
// a line of its own.
func (p *Plan) passEntry(s engine.State, line int) engine.State {
	step := func(e engine.Event) { s, _ = engine.Step(&p.Engine, s, e) }
	for {
		todo := engine.Next(&p.Engine, s)
		if todo.Act != engine.Enter || p.Slots[todo.Slot].Line != line {
			break
		}
		step(engine.Event{Kind: engine.Read, Verdict: engine.Pass})
		step(engine.Event{Kind: engine.Elapsed, Timer: engine.MinWait})
		if s.Again {
			break
		}
	}
	step(engine.Event{Kind: engine.ProveNode, Verdict: engine.Pass})
	return s
}
