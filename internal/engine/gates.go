package engine

// Gate is one interlock at run time: a predicate over a state and an event.
// Whatever one of them refuses does not happen.
type Gate struct {
	ID       string
	Sentence string // quoted in the refusal
	Refuses  func(*Procedure, *State, Event) bool
}

// Refusal is the error of an event that a gate refused; the state is unchanged.
type Refusal struct{ *Gate }

func (r Refusal) Error() string { return r.ID + ": " + r.Sentence }

// Broken is the error of a property that did not hold after an event; the
// session is stopped.
type Broken struct{ ID string }

func (b *Broken) Error() string {
	return b.ID + ": an interlock's property was broken; the session is stopped"
}

// Gates lists the interlocks that Step enforces.
func Gates() []Gate { return append([]Gate(nil), gates...) }

const maxStanding = 5 // INV-22

// gates stand in the order in which they are asked. The first keeps the others
// from an event that means nothing; the last, the order of work, refuses most
// of what the others do, but none of them leans on it.
var gates = []Gate{
	{"INV-00", "this event is not known, or means nothing now", meansNothing},
	{"INV-01", "mains refuses until every test this supply needs is passed or accepted", lacksGate},
	{"INV-03", "a dead test counts only while the set is proved dead", deadUnproved},
	{"INV-04", "the second line of a proof counts only after the first and the wait between them, save for the pins of a boxed set, and the short proof only where mains was just on and nothing stopped", halfProof},
	{"INV-08", "a part that a test has charged is proved dead before anything else", chargedNode},
	{"INV-11", "the lamp stays in until hold 2 is released in this session", lampOut},
	{"INV-12", "after a stop the set is made safe and cause and repair are recorded first", afterStop},
	{"INV-13", "only a query is accepted, and of a reading that had stopped the session only with a second one that agrees; such a reading is never left, unless the set has no such part", acceptsStop},
	{"INV-18", "an alteration is made and told with the plug out", altersLive},
	{"INV-20", "mains was left on without an entry: off, plug out and a full proof first", leftOnFirst},
	{"INV-22", "more than five open queries hold the session: one of them is found and repaired", tooManyOpen},
	{"INV-23", "a query that concerns a person is measured again, never accepted; one that gates energy needs a second reading that agrees or a second person; none is left unanswered", acceptsWeakly},
	{"INV-24", "a hold is released only in a proved-dead set", holdLive},
	{"INV-35", "the wait before this is not over", tooEarly},
	{"INV-36", "a record closes only on a set proved dead, with nothing owed", closesEarly},
	{"INV-37", "only a reading answers for a reading that a person's safety or a gate needs", leavesGate},
	{"INV-44", "a shorting clip is on the HT line: take it off and read the line first", clipOn},
	{"INV-48", "leads move only on a set proved dead since mains was last on it", leadMoves},
	{"INV-09", "this is not what comes next; going back is always possible", notDue},
}

// meansNothing refuses what has no place in the procedure or in this state. A
// closed record takes nothing.
func meansNothing(p *Procedure, s *State, e Event) bool {
	if s.Mode == Closed {
		return true
	}
	i := cursor(p, s)
	switch e.Kind {
	case Read, Leave:
		return i < 0 || p.Slots[i].Hold
	case Free:
		return i < 0 || !p.Slots[i].Hold
	case Agree:
		return i < 0 || !s.Queried
	case Accept:
		return i < 0
	case Power:
		return i < 0 || !p.supply(i).Energised()
	case Prove:
		return e.Verdict == Pass && (e.Proof == NoProof || e.Proof > FullProof || e.Proof == HalfProof && p.Pins)
	case ProveNode:
		return s.Unproved == 0
	case Elapsed:
		return e.Timer > MinWait
	case Alter, Mend:
		return int(e.Class) >= len(p.Voids)
	case Retract:
		return e.Slot < 0 || e.Slot >= len(p.Slots) || p.Slots[e.Slot].Hold || p.Slots[e.Slot].Derived
	case ClipOn:
		return s.Clip
	case ClipOff:
		return !s.Clip
	case Off, Interrupt, Abort, Done:
		return false
	}
	return true
}

// notDue refuses what the order of work does not ask for. Turning back is
// always possible: Off, Prove, Elapsed, Alter, Interrupt and Abort are due at
// any time.
func notDue(p *Procedure, s *State, e Event) bool {
	act := next(p, s).Act
	switch e.Kind {
	case Read:
		return act != Enter && act != Resolve
	case Leave:
		return act != Enter
	case Agree, Accept:
		return act != Resolve
	case Free:
		return act != Release
	case Power:
		return act != SwitchOn
	case Mend:
		return act != Repair
	case Done:
		return act != Finish
	}
	return false
}

// target is the block that mains would go to.
func target(p *Procedure, s *State) int { return p.Slots[cursor(p, s)].Block }

func lacksGate(p *Procedure, s *State, e Event) bool {
	return e.Kind == Power && !s.Held.Covers(p.Blocks[target(p, s)].Gate)
}

// readsDead tells whether e would count the owed reading of a dead set.
func readsDead(p *Procedure, s *State, e Event) bool {
	if e.Kind != Read && e.Kind != Accept && !(e.Kind == Leave && e.Absent) {
		return false
	}
	i := cursor(p, s)
	return i >= 0 && p.supply(i) == Dead
}

func deadUnproved(p *Procedure, s *State, e Event) bool {
	nodes := e.Kind == ProveNode && e.Verdict == Pass
	return (nodes || readsDead(p, s, e)) && !s.proved()
}

func halfProof(p *Procedure, s *State, e Event) bool {
	if e.Kind != Prove || e.Verdict != Pass {
		return false
	}
	switch e.Proof {
	case FullProof:
		return !p.Pins && (s.Proof != HalfProof || !s.Waited)
	case LeadProof:
		return s.Block <= 0 || s.Mode != Working
	}
	return false
}

func chargedNode(p *Procedure, s *State, e Event) bool {
	if s.Unproved == 0 {
		return false
	}
	return e.Kind == Power || readsDead(p, s, e) && !ownLine(p, s, cursor(p, s))
}

func lampOut(p *Procedure, s *State, e Event) bool {
	if e.Kind != Power {
		return false
	}
	b := target(p, s)
	return !p.Blocks[b].LampIn && !holdsReleased(p, s, b)
}

// holdsReleased tells whether every hold before block b is released.
func holdsReleased(p *Procedure, s *State, b int) bool {
	for i := range p.Slots {
		if p.Slots[i].Hold && p.Slots[i].Block < b && !s.Held.Has(i) {
			return false
		}
	}
	return true
}

func afterStop(_ *Procedure, s *State, e Event) bool {
	return s.Mode == MakeSafe && (goesOn(e) || e.Kind == Mend) || s.Mode == Stopped && goesOn(e)
}

// goesOn tells whether e takes the work forward.
func goesOn(e Event) bool {
	switch e.Kind {
	case Read, Leave, Agree, Free, Power, Done, Retract:
		return true
	}
	return false
}

func acceptsStop(p *Procedure, s *State, e Event) bool {
	switch e.Kind {
	case Leave:
		return !e.Absent && InDoubt(p, s, cursor(p, s))
	case Accept:
		return !s.Queried || s.Mode != Working || !s.Second && InDoubt(p, s, cursor(p, s))
	}
	return false
}

func altersLive(_ *Procedure, s *State, e Event) bool {
	return (e.Kind == Alter || e.Kind == Mend) && s.pluggedIn()
}

func leftOnFirst(_ *Procedure, s *State, e Event) bool {
	return s.Mode == LeftOn && (goesOn(e) || e.Kind == Mend)
}

// tooManyOpen also refuses that nothing was found wrong: it would change
// nothing.
func tooManyOpen(_ *Procedure, s *State, e Event) bool {
	return tooMany(s) && (e.Kind == Power || e.Kind == Mend && e.Doubt && s.Mode == Working)
}

func acceptsWeakly(p *Procedure, s *State, e Event) bool {
	if e.Kind == Leave {
		return s.Queried
	}
	if e.Kind != Accept {
		return false
	}
	switch p.Slots[cursor(p, s)].Crit {
	case E:
		return false
	case S:
		return !p.Slots[cursor(p, s)].Lenient
	case G:
		return !s.Second && e.By != Another
	}
	return true
}

func holdLive(_ *Procedure, s *State, e Event) bool {
	return e.Kind == Free && (!s.proved() || s.Unproved != 0)
}

func tooEarly(p *Procedure, s *State, e Event) bool {
	switch e.Kind {
	case Read, Leave:
		return p.Slots[cursor(p, s)].Wait && !s.Waited
	case Power:
		return p.Blocks[target(p, s)].Wait && !s.Waited
	}
	return false
}

func closesEarly(p *Procedure, s *State, e Event) bool {
	return e.Kind == Done && (!s.proved() || s.Unproved != 0 || cursor(p, s) >= 0)
}

func leavesGate(p *Procedure, s *State, e Event) bool {
	if e.Kind != Leave {
		return false
	}
	slot := &p.Slots[cursor(p, s)]
	if e.Absent {
		return !slot.MayLack
	}
	return !slot.Optional || slot.Crit != E
}

// clipOn keeps mains and every reading of the HT line away while a clip shorts
// it; a clip is put on and taken off in a set proved dead.
func clipOn(p *Procedure, s *State, e Event) bool {
	switch e.Kind {
	case ClipOn:
		return !s.proved() || s.Unproved != 0 || s.Queried
	case ClipOff:
		return !s.proved()
	case Power, Done:
		return s.Clip
	case Read, Accept:
		i := cursor(p, s)
		return s.Clip && i >= 0 && p.Slots[i].HTLine
	}
	return false
}

func leadMoves(p *Procedure, s *State, e Event) bool {
	return e.Kind == Power && s.Supply != Dead && !sameLead(p, s, target(p, s))
}
