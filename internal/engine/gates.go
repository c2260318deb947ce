package engine

import "math/bits"

// Gate is one interlock at run time: a predicate over a state and an event.
// Whatever one of them refuses does not happen.
type Gate struct {
	ID       string
	Sentence string // quoted in the refusal
	Refuses  func(*Procedure, State, Event) bool
}

// Refusal is the error of an event that a gate refused; the state is unchanged.
type Refusal struct{ ID, Sentence string }

func (r *Refusal) Error() string { return r.ID + ": " + r.Sentence }

// Broken is the error of a property that did not hold after an event; the
// session is stopped.
type Broken struct{ ID string }

func (b *Broken) Error() string {
	return b.ID + ": an interlock's property was broken; the session is stopped"
}

// Gates lists the interlocks that Step enforces.
func Gates() []Gate { return append([]Gate(nil), gates...) }

const maxStanding = 5 // INV-22

var gates = []Gate{
	{"INV-00", "this event is not known or not due now", notDue},
	{"INV-01", "mains refuses until every test this supply needs is passed or accepted", lacksGate},
	{"INV-03", "a dead test counts only while the set is proved dead", deadUnproved},
	{"INV-04", "the second line of a proof counts only after the first and the wait between them", halfProof},
	{"INV-08", "a part that a test has charged is proved dead before anything else", chargedNode},
	{"INV-11", "the lamp stays in until hold 2 is released in this session", lampOut},
	{"INV-12", "after a stop the set is made safe and cause and repair are recorded first", afterStop},
	{"INV-13", "nothing accepts a stop", acceptsStop},
	{"INV-18", "an alteration is made and told with the plug out", altersLive},
	{"INV-22", "more than five open queries hold the session", tooManyOpen},
	{"INV-23", "a query that concerns a person is measured again, never accepted; one that gates energy needs a second reading that agrees or a second person", acceptsWeakly},
	{"INV-24", "a hold is released only in a proved-dead set", holdLive},
	{"INV-35", "the wait before this reading is not over", tooEarly},
	{"INV-37", "only a reading answers for a reading that a person's safety or a gate needs", leavesGate},
	{"INV-48", "leads move only on a set proved dead since mains was last on it", leadMoves},
}

// notDue refuses what the order of work does not ask for. Turning back is
// always possible: Off, Prove, Elapsed, Alter, Interrupt and Abort are due at
// any time, except that a closed record takes nothing.
func notDue(p *Procedure, s State, e Event) bool {
	if s.Mode == Closed {
		return true
	}
	act := Next(p, s).Act
	switch e.Kind {
	case Read, Leave:
		return act != Enter && act != Resolve
	case Agree, Accept:
		return act != Resolve
	case Free:
		return act != Release
	case Power:
		return act != SwitchOn
	case Mend:
		return act != Repair || int(e.Class) >= len(p.Voids)
	case Done:
		return act != Finish
	case ProveNode:
		return s.Unproved == 0
	case Alter:
		return int(e.Class) >= len(p.Voids) || s.Mode != Working
	case Off, Prove, Elapsed, Interrupt, Abort:
		return false
	}
	return true
}

func lacksGate(p *Procedure, s State, e Event) bool {
	if e.Kind != Power {
		return false
	}
	return !s.Held.Covers(p.Blocks[Next(p, s).Block].Gate)
}

// readsDead tells whether e would count a reading of a dead set.
func readsDead(p *Procedure, s State, e Event) bool {
	if e.Kind != Read && e.Kind != Accept && e.Kind != Free {
		return false
	}
	i := Cursor(p, s)
	return i >= 0 && p.Blocks[p.Slots[i].Block].Supply == Dead
}

func deadUnproved(p *Procedure, s State, e Event) bool {
	return readsDead(p, s, e) && (s.Supply != Dead || s.Proof != FullProof)
}

func halfProof(_ *Procedure, s State, e Event) bool {
	if e.Kind != Prove || e.Verdict != Pass {
		return false
	}
	switch e.Proof {
	case FullProof:
		return s.Proof != HalfProof || !s.Waited
	case LeadProof:
		return s.Block == 0 || s.Mode != Working
	case HalfProof:
		return false
	}
	return true
}

func chargedNode(p *Procedure, s State, e Event) bool {
	if s.Unproved == 0 {
		return false
	}
	if e.Kind == Power {
		return true
	}
	return readsDead(p, s, e) && e.Kind != Accept && !s.Queried && !sameLine(p, s, Cursor(p, s))
}

func lampOut(p *Procedure, s State, e Event) bool {
	if e.Kind != Power {
		return false
	}
	return !p.Blocks[Next(p, s).Block].LampIn && !holdsReleased(p, s)
}

func holdsReleased(p *Procedure, s State) bool {
	b := Next(p, s).Block
	for i, slot := range p.Slots {
		if slot.Hold && slot.Block < b && !s.Held.Has(i) {
			return false
		}
	}
	return true
}

func afterStop(_ *Procedure, s State, e Event) bool {
	if s.Mode == Working {
		return false
	}
	return e.Kind == Power || e.Kind == Read || e.Kind == Free || e.Kind == Done
}

func acceptsStop(_ *Procedure, s State, e Event) bool {
	return e.Kind == Accept && (s.Mode != Working || !s.Queried)
}

func altersLive(_ *Procedure, s State, e Event) bool {
	return (e.Kind == Alter || e.Kind == Mend) && s.Supply.Energised()
}

func tooManyOpen(_ *Procedure, s State, e Event) bool {
	return e.Kind == Power && bits.OnesCount32(uint32(s.Standing)) > maxStanding
}

func acceptsWeakly(p *Procedure, s State, e Event) bool {
	if e.Kind != Accept {
		return false
	}
	switch i := Cursor(p, s); {
	case i < 0 || p.Slots[i].Crit == S:
		return true
	case p.Slots[i].Crit == G:
		return !s.Second && e.By == Measurer
	}
	return false
}

func holdLive(_ *Procedure, s State, e Event) bool {
	return e.Kind == Free && (s.Supply != Dead || s.Proof != FullProof || s.Unproved != 0)
}

func tooEarly(p *Procedure, s State, e Event) bool {
	if e.Kind != Read || s.Queried {
		return false
	}
	i := Cursor(p, s)
	return i >= 0 && p.Slots[i].Wait && !s.Waited
}

func leavesGate(p *Procedure, s State, e Event) bool {
	if e.Kind != Leave {
		return false
	}
	i := Cursor(p, s)
	return i < 0 || !p.Slots[i].Optional
}

func leadMoves(p *Procedure, s State, e Event) bool {
	if e.Kind != Power {
		return false
	}
	return s.Supply != Dead && !sameLead(p, s, Next(p, s).Block)
}
