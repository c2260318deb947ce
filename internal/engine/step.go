package engine

// Step is the whole machine: the state that follows, or a *Refusal and the same
// state. Nothing else may change a State.
func Step(p *Procedure, s State, e Event) (State, error) {
	for i := range gates {
		if gates[i].Refuses(p, s, e) {
			return s, &Refusal{ID: gates[i].ID, Sentence: gates[i].Sentence}
		}
	}
	n := apply(p, s, e)
	for i := range properties {
		if !properties[i].Holds(p, s, n) {
			return stopped(p, s, Cursor(p, s)), &Broken{ID: properties[i].ID}
		}
	}
	return n, nil
}

func apply(p *Procedure, s State, e Event) State {
	switch e.Kind {
	case Read:
		return read(p, s, e)
	case Leave:
		s.Unread = s.Unread.With(Cursor(p, s))
		s.Waited, s.Queried, s.Second = false, false, false
	case Agree:
		s.Second = true
	case Accept:
		i := Cursor(p, s)
		if !s.Weak {
			s.Standing |= p.Slots[i].Path
		}
		return hold(p, s, i)
	case Free:
		return hold(p, s, Cursor(p, s))
	case Power:
		return power(p, s)
	case Off:
		return unknown(p, s)
	case Prove:
		return prove(p, s, e)
	case ProveNode:
		if e.Verdict == Pass {
			s.Unproved = 0
			return s
		}
		return unproved(p, s)
	case Elapsed:
		return elapsed(p, s, e.Timer)
	case Alter:
		return alter(p, s, e.Class)
	case Mend:
		return mend(p, s, e)
	case Interrupt:
		return interrupt(p, s)
	case Abort:
		return unproved(p, unknown(p, s))
	case Done:
		s.Mode = Closed
	}
	return s
}

func read(p *Procedure, s State, e Event) State {
	v := e.Verdict
	i := Cursor(p, s)
	slot := p.Slots[i]
	switch {
	case v == Stop, v == Query && !e.Weak && s.Standing&slot.Path != 0:
		s.Unproved |= slot.Charges
		return stopped(p, s, i)
	case v == Query:
		s.Queried, s.Weak = true, e.Weak
		s.Unproved |= slot.Charges
		return s
	case s.Doubt == i+1 && !s.Again:
		s.Again, s.Queried = true, false
		return s
	case s.Doubt == i+1:
		s.Standing |= slot.Path
		s.Doubt, s.Again = 0, false
	}
	return hold(p, s, i)
}

func hold(p *Procedure, s State, i int) State {
	s.Held = s.Held.With(i).Or(p.Slots[i].Gives)
	s.Unproved |= p.Slots[i].Charges
	s.Queried, s.Weak, s.Second, s.Waited = false, false, false, false
	return s
}

// stopped gives what follows a stop on slot i: nothing goes on until the set is
// made safe, the lamp is back in, and the holds are to be released anew.
func stopped(p *Procedure, s State, i int) State {
	s.Mode = MakeSafe
	if atRest(p, s, i) {
		s.Mode = Stopped
	}
	s.Queried, s.Second, s.Waited, s.Again = false, false, false, false
	s.Doubt = i + 1
	s.Held = s.Held.Without(p.AfterStop)
	return s
}

// atRest tells whether a stop needs no making safe: the set is proved dead for
// hands, or has not been on since nothing was known and no hand goes in.
func atRest(p *Procedure, s State, i int) bool {
	if s.Supply == Dead {
		return s.Proof == FullProof && s.Unproved == 0
	}
	return s.Supply == Unknown && s.Block == 0 && i >= 0 && p.Blocks[p.Slots[i].Block].Supply == Unknown
}

func power(p *Procedure, s State) State {
	b := Next(p, s).Block
	s = endPeriod(p, s)
	s.Supply, s.Block, s.Proof = p.Blocks[b].Supply, b+1, NoProof
	return s
}

func endPeriod(p *Procedure, s State) State {
	for i, slot := range p.Slots {
		if slot.Life == Period {
			s.Held = s.Held.Without(Facts{}.With(i))
		}
	}
	s.Waited = false
	return s
}

func unknown(p *Procedure, s State) State {
	s = endPeriod(p, s)
	s.Supply, s.Proof = Unknown, NoProof
	return s
}

// unproved is unknown with nobody knowing where the leads are either.
func unproved(p *Procedure, s State) State {
	s = unknown(p, s)
	s.Block = 0
	return s
}

func prove(p *Procedure, s State, e Event) State {
	if e.Verdict != Pass {
		n := unknown(p, s)
		return n
	}
	if s.Supply.Energised() {
		s = unknown(p, s)
	}
	s.Waited = false
	s.Proof = e.Proof
	if e.Proof == HalfProof {
		s.Supply = Unknown
		return s
	}
	s.Supply, s.Block, s.Unproved = Dead, 0, 0
	if s.Mode == MakeSafe {
		s.Mode = Stopped
	}
	return s
}

func elapsed(p *Procedure, s State, t Timer) State {
	switch t {
	case ProofOver:
		if s.Supply == Dead || s.Proof != NoProof {
			s = unproved(p, s)
		}
	case LiveIdle:
		if s.Supply.Energised() {
			return interrupt(p, s)
		}
	case DayOver:
		s.Held = s.Held.Without(lives(p, Day, Day))
	case MinWait:
		s.Waited = true
	}
	return s
}

// lives gives the slots whose life is from lo to hi.
func lives(p *Procedure, lo, hi Life) Facts {
	var f Facts
	for i, slot := range p.Slots {
		if slot.Life >= lo && slot.Life <= hi {
			f = f.With(i)
		}
	}
	return f
}

// interrupt treats the set as live and charged, forgets what belongs to one
// session, and sends an energised stage that was under way back to its first
// step.
func interrupt(p *Procedure, s State) State {
	i := Cursor(p, s)
	s = unproved(p, s)
	s.Unproved = 0 // the whole proof that is owed now reads every node
	s.Queried, s.Second, s.Again = false, false, false
	if i >= 0 && p.Blocks[p.Slots[i].Block].Supply.Energised() {
		s.Held = s.Held.Without(stageFrom(p, i))
	}
	s.Held = s.Held.Without(lives(p, Period, Session))
	return s
}

func stageFrom(p *Procedure, i int) Facts {
	var f Facts
	stage := p.Blocks[p.Slots[i].Block].Stage
	for j, slot := range p.Slots {
		if p.Blocks[slot.Block].Stage == stage && j < i {
			f = f.With(j)
		}
	}
	return f
}

func alter(p *Procedure, s State, c Class) State {
	i := firstGap(p, s)
	s.Held = s.Held.Without(p.Voids[c])
	s.Unread = s.Unread.Without(p.Voids[c])
	for j, slot := range p.Slots {
		if slot.Path&s.Standing != 0 || (i >= 0 && j > i && slot.Life > Session) {
			s.Held = s.Held.Without(Facts{}.With(j))
		}
	}
	s.Standing, s.Queried, s.Second = 0, false, false
	if p.Solder[c] {
		s = unproved(p, s)
	}
	return s
}

// firstGap is the first slot an earlier alteration voided and nobody has read
// again, or -1: what lies beyond it falls with a second alteration.
func firstGap(p *Procedure, s State) int {
	gap := -1
	for i, slot := range p.Slots {
		if slot.Life <= Session {
			continue
		}
		if owed(s, i) && gap < 0 {
			gap = i
		}
		if gap >= 0 && s.Held.Has(i) {
			return gap
		}
	}
	return -1
}

func mend(p *Procedure, s State, e Event) State {
	s.Mode = Working
	if !e.Doubt {
		s.Doubt = 0
		return alter(p, s, e.Class)
	}
	if i := s.Doubt - 1; i >= 0 && p.Blocks[p.Slots[i].Block].Supply.Energised() {
		s.Held = s.Held.Without(energised(p))
	}
	return s
}

func energised(p *Procedure) Facts {
	var f Facts
	for i, slot := range p.Slots {
		if p.Blocks[slot.Block].Supply.Energised() {
			f = f.With(i)
		}
	}
	return f
}
