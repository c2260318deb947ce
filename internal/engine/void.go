package engine

// lives gives the slots whose life is from lo to hi.
func lives(p *Procedure, lo, hi Life) Facts {
	var f Facts
	for i := range p.Slots {
		if life := p.Slots[i].Life; life >= lo && life <= hi {
			f = f.With(i)
		}
	}
	return f
}

// void ends facts, and that they were left unread. A path with an open query loses all its facts with one of
// them: it is tested again from its start, so that the same query, read again,
// does not count as a second one.
func void(p *Procedure, s State, f Facts) State {
	lost := s.Held.And(f)
	var paths Paths
	for i := range lost.each {
		if p.Slots[i].Life != Period {
			paths |= p.Slots[i].Path
		}
	}
	s.Held, s.Unread = s.Held.Without(f), s.Unread.Without(f)
	return voidPaths(p, s, paths&s.Standing)
}

func voidPaths(p *Procedure, s State, paths Paths) State {
	if paths == 0 {
		return s
	}
	for i := range p.Slots {
		if p.Slots[i].Path&paths != 0 {
			s.Held = s.Held.Without(Facts{}.With(i))
		}
	}
	s.Standing &^= paths
	return s
}

// forget drops what belongs to one session and period, and sends an energised
// stage that was under way back to its first step.
func forget(p *Procedure, s State) State {
	f := lives(p, Period, Session)
	if i := cursor(p, &s); i >= 0 && p.supply(i).Energised() {
		stage := p.Slots[i].Stage // energised stages start again
		for j := range i {
			if p.Slots[j].Stage == stage {
				f = f.With(j)
			}
		}
	}
	return void(p, s.unasked(), f)
}

// alter voids the row of class c and every path with an open query; a second
// alteration before the first is tested again also voids what lies beyond the
// first gap. What the holds were released on is gone with any of it.
func alter(p *Procedure, s State, c Class) State {
	before := s.Held
	for j := range s.Held.from(firstGap(p, s)).each {
		if p.Slots[j].Life > Session {
			s.Held = s.Held.Without(Facts{}.With(j))
		}
	}
	s.Held, s.Unread = s.Held.Without(p.Voids[c]), s.Unread.Without(p.Voids[c])
	s = voidPaths(p, s, s.Standing)
	if s.Held != before {
		s.Held = s.Held.Without(p.AfterStop)
	}
	if p.Solder[c] || s.Proof != FullProof { // hands were in it
		return unproved(p, s)
	}
	return s.unasked()
}

// firstGap is the first slot that is owed and outlives a session: where the
// work stands, or what an earlier alteration voided and nobody has read again.
func firstGap(p *Procedure, s State) int {
	for i := range p.Slots {
		if p.Slots[i].Life > Session && owed(&s, i) {
			return i
		}
	}
	return len(p.Slots)
}

// mend leaves a stop. A repair that voids nothing is none: as after a lead or a
// contact, the slot must then pass twice, and one that was read with mains on is
// read again from the first energised step.
func mend(p *Procedure, s State, e Event) State {
	stop := s.StopAt
	s.Mode, s.StopAt = Working, 0
	repaired := !e.Doubt && p.Voids[e.Class] != (Facts{})
	if !e.Doubt {
		s = alter(p, s, e.Class)
	}
	switch {
	case repaired && s.Doubt == stop && !s.Wary:
		s.Doubt = 0
	case !repaired && stop > 0:
		s.Wary = s.Wary || s.Doubt != 0 && s.Doubt != stop
		s.Doubt = max(s.Doubt, stop)
		if p.supply(stop - 1).Energised() {
			return void(p, s, energised(p))
		}
	}
	return s
}

// retract ends slot i, what may have been decided by it, and the holds that were
// released after.
func retract(p *Procedure, s State, i int) State {
	before := s.Held
	s = void(p, s.unasked(), p.undoes[i])
	gone := before.Without(s.Held)
	for j := range p.Slots {
		if gone.Has(j) {
			s.Held = s.Held.Without(p.AfterStop.from(j))
			break
		}
	}
	return s
}

func energised(p *Procedure) Facts {
	var f Facts
	for i := range p.Slots {
		if p.supply(i).Energised() {
			f = f.With(i)
		}
	}
	return f
}
