package plan

import "example.com/powerup/internal/engine"

// Again is what an alteration, or a repair, would cost. Nothing of it has
// happened yet.
type Again struct {
	After engine.State // the state that would follow
	Void  []int        // slots held now that would be facts no more, in the order of work; what goes with its period is not counted
	More  Cost         // lines and time to the end, beyond what is owed now
	Known bool         // the way to the end was found: More counts
}

// Again tries events on a copy of a state: an engine.Refusal or *engine.Broken
// is the error of the first that is not taken.
func (p *Plan) Again(now engine.State, events []engine.Event) (Again, error) {
	a := Again{After: now}
	for _, e := range events {
		var err error
		if a.After, err = engine.Step(&p.Engine, a.After, e); err != nil {
			return Again{}, err
		}
	}
	for i := range p.Slots {
		if p.Engine.Slots[i].Life != engine.Period && now.Held.Has(i) && !a.After.Held.Has(i) {
			a.Void = append(a.Void, i)
		}
	}
	before, ok := p.costFrom(Mended(now))
	after, known := p.costFrom(a.After)
	a.More = Cost{Lines: max(0, after.Lines-before.Lines), Time: max(0, after.Time-before.Time)}
	a.Known = ok && known
	return a, nil
}

// Mended is a stop as if its repair voided nothing, to compare with: no way
// leads on from a stop itself.
func Mended(s engine.State) engine.State {
	if s.Mode == engine.Stopped {
		s.Mode, s.StopAt = engine.Working, 0
	}
	return s
}
