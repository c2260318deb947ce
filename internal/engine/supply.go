package engine

func power(p *Procedure, s State) State {
	b := p.Slots[cursor(p, &s)].Block
	s = unknown(p, s)
	s.Supply, s.Block = p.Blocks[b].Supply, b+1
	return s
}

// unknown is the set after the plug was pulled: nothing is proved, and what was
// read for the period or waits for an answer is over.
func unknown(p *Procedure, s State) State {
	s = s.unasked()
	period := lives(p, Period, Period)
	s.Held, s.Unread = s.Held.Without(period), s.Unread.Without(period)
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
	s = unknown(p, s)
	if s.Block > 0 && (e.Verdict == Stop || e.Verdict == Pass && e.Proof == HalfProof) {
		s.Block = Moved
	}
	if e.Verdict != Pass {
		return s
	}
	s.Proof = e.Proof
	if e.Proof == HalfProof {
		return s
	}
	s.Supply, s.Block = Dead, 0
	if e.Proof == LeadProof {
		return s
	}
	s.Unproved, s.Line = 0, 0
	switch s.Mode {
	case MakeSafe:
		s.Mode = Stopped
	case LeftOn:
		s.Mode = Working
	}
	return s
}

func proveNode(p *Procedure, s State, e Event) State {
	if e.Verdict != Pass {
		return unproved(p, s)
	}
	s.Unproved, s.Line = 0, 0
	return s
}

func elapsed(p *Procedure, s State, t Timer) State {
	switch t {
	case ProofOver:
		if s.Proof != NoProof {
			return unproved(p, s)
		}
	case LiveIdle:
		if s.Supply.Energised() {
			return leftOn(p, s)
		}
	case DayOver:
		return void(p, s, lives(p, Day, Day))
	case MinWait:
		s.Waited = s.Waited || waits(p, &s)
	}
	return s
}

// waits tells whether a minimum wait stands before what is next.
func waits(p *Procedure, s *State) bool {
	i := cursor(p, s)
	return s.Proof == HalfProof || i >= 0 && (p.Slots[i].Wait || p.Blocks[p.Slots[i].Block].Wait)
}

// leftOn is an interruption by which nobody has said that the plug is out. After
// a stop it is known to be in.
func leftOn(p *Procedure, s State) State {
	s = forget(p, s)
	if s.Mode == Working {
		s = unknown(p, s)
		s.Mode = LeftOn
	}
	return s
}

func off(p *Procedure, s State) State {
	s = unknown(p, s)
	if s.Mode == LeftOn {
		s.Block = 0
	}
	return s
}

// interrupt is a new session: the set is live and charged.
func interrupt(p *Procedure, s State) State {
	s = unproved(p, forget(p, s))
	if s.Mode == LeftOn {
		s.Mode = Working
	}
	return s
}
