package engine

func read(p *Procedure, s State, e Event) State {
	i := cursor(p, &s)
	slot := &p.Slots[i]
	if slot.Charges != 0 {
		s.Unproved |= slot.Charges
		s.Line = slot.Line + 1
	}
	counted := !e.Weak && s.Standing&slot.Path != 0
	switch {
	case e.Verdict == Query && !counted:
		s.Queried, s.Weak, s.Second, s.Again = true, e.Weak, false, false
		return s
	case e.Verdict != Pass:
		return stopped(p, s, i)
	case InDoubt(p, &s, i) && !s.Again:
		s.Queried, s.Weak, s.Second, s.Again = false, false, false, true
		return s
	}
	return pass(p, trusted(p, s, i), i)
}

// trusted ends the doubt of slot i, which was read twice and agreed: that its
// stop was never explained counts as a query.
func trusted(p *Procedure, s State, i int) State {
	if i == s.Doubt-1 {
		s.Standing |= p.Slots[i].Path
		s.Doubt, s.Wary = 0, false
	}
	return s
}

// pass holds slot i and what it gives. What must pass twice, or is shorted by a
// clip, is given by nothing.
func pass(p *Procedure, s State, i int) State {
	gives := p.Slots[i].Gives
	if gives != (Facts{}) {
		for j := range p.Slots {
			if gives.Has(j) && !InDoubt(p, &s, j) && !(s.Clip && p.Slots[j].HTLine) {
				s.Held = s.Held.With(j)
			}
		}
	}
	s.Held = s.Held.With(i)
	return s
}

// InDoubt tells whether slot i stopped the session and no fault was found: before
// it is held it must pass twice running, or be a query that a second reading bears
// out.
func InDoubt(p *Procedure, s *State, i int) bool {
	return !p.Slots[i].Hold && (i == s.Doubt-1 || s.Wary && i < s.Doubt)
}

// leave marks the owed slot as left; that the set has no such part is a fact.
func leave(p *Procedure, s State, absent bool) State {
	i := cursor(p, &s)
	if absent {
		if i == s.Doubt-1 { // there is nothing to be in doubt of
			s.Doubt, s.Wary = 0, false
		}
		s.Held = s.Held.With(i)
		return s
	}
	s.Unread = s.Unread.With(i)
	return s
}

func accept(p *Procedure, s State) State {
	i := cursor(p, &s)
	if !s.Weak {
		s.Standing |= p.Slots[i].Path
	}
	s = trusted(p, s, i)
	s.Held = s.Held.With(i)
	return s
}

// stopped gives what follows a stop on slot i: nothing goes on until the set is
// made safe, the lamp is back in, and the holds are to be released anew. Where
// the set is proved dead for hands already, it is safe.
func stopped(p *Procedure, s State, i int) State {
	s = s.unasked()
	s.Mode = MakeSafe
	if s.proved() && s.Unproved == 0 {
		s.Mode = Stopped
	}
	s.StopAt = i + 1
	s.Held = s.Held.Without(p.AfterStop)
	return s
}
