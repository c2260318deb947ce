package engine

// machine is what Step runs. Tests build others, to show that each part is
// needed.
type machine struct {
	gates      []Gate
	properties []Property
	apply      func(*Procedure, State, Event) State
}

var whole = machine{gates, properties, apply}

// Step is the whole machine: the state that follows, or a Refusal and the same
// state, or a *Broken and a state that must be made safe. Nothing else may
// change a State.
func Step(p *Procedure, s State, e Event) (State, error) {
	return whole.step(p, s, e)
}

func (m machine) step(p *Procedure, s State, e Event) (State, error) {
	t := turn{before: s}
	err := t.take(&m, p, e)
	return t.after, err
}

// turn is one step with room for both its states.
type turn struct{ before, after State }

func (t *turn) take(m *machine, p *Procedure, e Event) error {
	for i := range m.gates {
		if m.gates[i].Refuses(p, &t.before, e) {
			t.after = t.before
			return Refusal{&m.gates[i]}
		}
	}
	t.after = settle(p, t.before, m.apply(p, t.before, e))
	for i := range m.properties {
		if !m.properties[i].Holds(p, &t.before, &t.after) {
			t.after = settle(p, t.before, distrust(p, t.before, t.after))
			return &Broken{ID: m.properties[i].ID}
		}
	}
	return nil
}

// settle drops what falls with what is gone, and forgets what belonged to the
// slot that is no longer owed. The wait before a line is over for all of it, and
// its leads are off when another is owed. A test that was broken off, by another
// line, a proof or a stop, is made again from its first reading.
func settle(p *Procedure, before, after State) State {
	after.Held = uncomputed(p, after.Held, before.Held.Without(after.Held))
	i, j := cursor(p, &before), cursor(p, &after)
	sameLine := i >= 0 && j >= 0 && p.Slots[i].Line == p.Slots[j].Line
	if j >= 0 && !(sameLine && before.Proof == after.Proof && before.Mode == after.Mode) {
		begun := p.begun(&after, j)
		after.Held = uncomputed(p, after.Held.Without(begun), begun)
		j = cursor(p, &after)
	}
	if i == j {
		return after
	}
	waited := after.Waited && sameLine
	after = after.unasked()
	after.Waited = waited
	if !sameLine {
		after.Line = 0
	}
	return after
}

// uncomputed leaves what still stands when the slots of lost are gone: nothing
// that was computed from them; of what was computed and falls by itself not the
// readings of its own block, for nothing else of it can be read again; and not
// the readings of its own line that the window of a lost one follows from, for
// they are one test.
func uncomputed(p *Procedure, held, lost Facts) Facts {
	for more := lost; more != (Facts{}); {
		more = Facts{}
		for i := range held.And(p.computed).each {
			if p.Slots[i].From.meets(lost) {
				more = more.With(i)
			}
		}
		for i := range lost.And(p.ofTests).each {
			more = more.Or(p.tests[i].And(held))
		}
		for i := range lost.And(p.outliving).each {
			if here := readHere(p, i); !here.meets(lost) {
				more = more.Or(here.And(held))
			}
		}
		held, lost = held.Without(more), lost.Or(more)
	}
	return held
}

// readHere gives the readings of i's block that it is computed from.
func readHere(p *Procedure, i int) Facts {
	var f Facts
	for j := range p.Slots[i].From.each {
		if p.Slots[j].Block == p.Slots[i].Block && !p.Slots[j].Hold {
			f = f.With(j)
		}
	}
	return f
}

func apply(p *Procedure, s State, e Event) State {
	switch e.Kind {
	case Read:
		return read(p, s, e)
	case Leave:
		return leave(p, s, e.Absent)
	case Agree:
		s.Second = true
	case Accept:
		return accept(p, s)
	case Free:
		s.Held = s.Held.With(Cursor(p, s))
	case Power:
		return power(p, s)
	case Off:
		return off(p, s)
	case Prove:
		return prove(p, s, e)
	case ProveNode:
		return proveNode(p, s, e)
	case Elapsed:
		return elapsed(p, s, e.Timer)
	case Alter:
		return alter(p, s, e.Class)
	case Mend:
		return mend(p, s, e)
	case Interrupt:
		return interrupt(p, s)
	case Abort:
		return unproved(p, s)
	case Done:
		s.Mode = Closed
	case Retract:
		return retract(p, s, e.Slot)
	case ClipOn:
		s.Clip = true
	case ClipOff:
		s.Clip = e.Verdict != Pass
	}
	return s
}

// distrust gives what follows a step that broke a property: nothing of it is
// believed but that mains may be on.
func distrust(p *Procedure, before, after State) State {
	s := before
	switch {
	case after.Supply.Energised():
		s.Supply, s.Block, s.Proof = after.Supply, after.Block, NoProof
	case !before.Supply.Energised():
		s = unproved(p, s)
	}
	return stopped(p, s, -1)
}
