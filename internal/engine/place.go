package engine

// place is a State with what lies beyond the owed slot left open: everything
// before it is held or was left, and nobody says what is held after it. It stands
// for every state that looks like it. What a gate wants stands before the owed
// slot, so that a place knows all that a gate asks for.
type place struct {
	cursor   int16 // the owed slot; the number of slots: none is
	mode     Mode
	supply   Supply
	block    int16
	proof    Proof
	unproved bool // which node makes no difference
	line     int16
	stopAt   int16 // only that there was a stop, where no doubt can follow from it: 1
	doubt    int16
	standing Paths
	flags    uint8
}

// flags are the bits of a state.
func (s *State) bits() [7]*bool {
	return [...]*bool{&s.Wary, &s.Clip, &s.Queried, &s.Weak, &s.Second, &s.Waited, &s.Again}
}

// placeOf is what s looks like.
func (v *view) place(s *State) place {
	c, stop := cursor(v.p, s), s.StopAt
	if c < 0 {
		c = len(v.p.Slots)
	}
	if !v.doubt {
		stop = min(stop, 1)
	}
	q := place{
		int16(c), s.Mode, s.Supply, int16(s.Block), s.Proof, s.Unproved != 0, int16(s.Line), int16(stop), int16(s.Doubt), s.Standing, 0,
	}
	for k, b := range s.bits() {
		if *b {
			q.flags |= 1 << k
		}
	}
	return q
}

// beyond says which of the states of a place is meant.
type beyond struct {
	upTo int  // slots between the owed one and this one are held
	left bool // those before it that may be left unread are left
}

// state is one of the states of place q.
func (v *view) state(q place, b beyond) State {
	s := State{
		Mode: q.mode, Supply: q.supply, Block: int(q.block), Proof: q.proof, Line: int(q.line),
		Doubt: int(q.doubt), Standing: q.standing,
	}
	for k, bit := range s.bits() {
		*bit = q.flags&(1<<k) != 0
	}
	if q.unproved {
		s.Unproved = 1
	}
	c := int(q.cursor)
	s.Held = v.before[c]
	if b.upTo > c {
		s.Held = s.Held.Or(v.all[b.upTo].Without(v.all[c+1]).And(v.lasting).Without(v.owedWith(c)))
	}
	if s.StopAt = int(q.stopAt); s.StopAt > 0 && !v.doubt {
		s.StopAt = min(c, len(v.p.Slots)-1) + 1
	}
	for _, at := range [...]int{s.StopAt, s.Doubt} {
		if at > 0 { // what stopped, or is in doubt, is not held
			s.Held = s.Held.Without(Facts{}.With(at - 1))
		}
	}
	if b.left {
		may := v.optional.And(v.all[c])
		s.Held, s.Unread = s.Held.Without(may), may
	}
	return s
}

// owedWith is the rest of slot c's line, when c is owed only because that is.
func (v *view) owedWith(c int) Facts {
	var f Facts
	if c == len(v.p.Slots) || v.p.Slots[c].Life != Period {
		return f
	}
	for j := c + 1; j < len(v.p.Slots) && v.p.Slots[j].Line == v.p.Slots[c].Line; j++ {
		f = f.With(j)
	}
	return f
}
