package engine

import "math/bits"

// Act is what is to be done next.
type Act uint8

// The acts. Nothing: the session is over.
const (
	Nothing     Act = iota
	Unplug          // after a stop, or left on: off and plug out first
	ProveLead       // off, then the short proof that allows a lead move
	ProveFull       // off, then the whole proof
	ProveSecond     // the second line of the whole proof
	ProveNodes      // read dead what a test has charged
	SwitchOn        // leads are on, all is ready: mains to the set
	Enter           // the reading of slot Slot
	Resolve         // accept, replace or repair the query on slot Slot
	Release         // the hold of slot Slot
	Repair          // record cause and repair: of the stop on slot Slot, or of one of too many queries
	Finish          // all is read
	Unclip          // the shorting clip comes off, and the HT line is read
)

// Todo is the next act with the slot (-1: none) and the block it is about.
type Todo struct {
	Act   Act
	Slot  int
	Block int
}

// Cursor is the first slot that is owed, or -1.
func Cursor(p *Procedure, s State) int { return cursor(p, &s) }

func cursor(p *Procedure, s *State) int {
	first := -1
	for w := range s.Held {
		for owe := ^(s.Held[w] | s.Unread[w]); owe != 0; owe &= owe - 1 {
			i := 64*w + bits.TrailingZeros64(owe)
			if i >= len(p.Slots) {
				return first
			}
			slot := &p.Slots[i]
			if slot.Life == Period {
				continue
			}
			if first < 0 {
				first = i
			}
			if !slot.Derived {
				return min(first, lineBegins(p, s, i))
			}
		}
	}
	return first
}

func owed(s *State, i int) bool { return !s.Held.Has(i) && !s.Unread.Has(i) }

// lineBegins is the first slot that is owed on i's line, i being owed: those of
// the period are owed with any other that is read.
func lineBegins(p *Procedure, s *State, i int) int {
	first := i
	for j := i - 1; j >= 0 && p.Slots[j].Line == p.Slots[i].Line; j-- {
		if p.Slots[j].Life == Period && owed(s, j) {
			first = j
		}
	}
	return first
}

// Next is the only order of work there is. Step accepts every act it returns,
// once the waits before it are over.
func Next(p *Procedure, s State) Todo { return next(p, &s) }

func next(p *Procedure, s *State) Todo {
	i := cursor(p, s)
	todo := Todo{Slot: i}
	if i >= 0 {
		todo.Block = p.Slots[i].Block
	}
	switch {
	case s.Mode == Closed:
		return Todo{Act: Nothing, Slot: -1}
	case s.Mode == Stopped:
		todo.Act, todo.Slot = Repair, s.StopAt-1
	case s.Mode != Working:
		todo.Act = makeSafe(s)
	case i < 0:
		todo.Act = provedThen(s, Finish)
	case p.supply(i) == Unknown:
		todo.Act = bench(p, s, i)
	case p.supply(i) == Dead:
		todo.Act = deadWork(p, s, i)
	default:
		todo.Act = liveWork(p, s, i)
	}
	if s.Clip && barred(p, todo) {
		todo.Act = provedThen(s, Unclip)
	}
	return todo
}

// barred tells whether a shorting clip stands in the way of an act.
func barred(p *Procedure, todo Todo) bool {
	switch todo.Act {
	case SwitchOn, Finish:
		return true
	case Enter, Resolve:
		return p.Slots[todo.Slot].HTLine
	}
	return false
}

func makeSafe(s *State) Act {
	switch {
	case s.Proof == HalfProof:
		return ProveSecond
	case s.pluggedIn():
		return Unplug
	}
	return ProveFull
}

// provedThen gives the proof that must come before hands go in, then act.
func provedThen(s *State, act Act) Act {
	switch {
	case s.Proof == HalfProof:
		return ProveSecond
	case !s.proved():
		return ProveFull
	case s.Unproved != 0:
		return ProveNodes
	}
	return act
}

// bench needs no state of the set, but nothing is done at a set that mains was
// on before the next proof.
func bench(p *Procedure, s *State, i int) Act {
	switch {
	case s.Block > 0:
		return ProveLead
	case s.Block == Moved:
		return provedThen(s, ask(p, s, i))
	}
	return ask(p, s, i)
}

func deadWork(p *Procedure, s *State, i int) Act {
	if s.proved() && ownLine(p, s, i) {
		return ask(p, s, i)
	}
	return provedThen(s, ask(p, s, i))
}

// ownLine allows the rest of a line whose test has charged a node: the leads
// are on it and the proof of the nodes ends the line.
func ownLine(p *Procedure, s *State, i int) bool {
	return s.Line == p.Slots[i].Line+1 && !p.Slots[i].Hold
}

func liveWork(p *Procedure, s *State, i int) Act {
	b := p.Slots[i].Block
	switch {
	case s.Supply.Energised() && s.Block == b+1:
		return ask(p, s, i)
	case tooMany(s):
		return provedThen(s, Repair)
	case s.Supply == Dead && s.Unproved == 0, sameLead(p, s, b):
		return SwitchOn
	case s.Block > 0 && s.Proof == NoProof && s.Unproved == 0:
		return ProveLead
	}
	return provedThen(s, SwitchOn)
}

// sameLead tells whether nothing inside the set moves between the block the
// leads are on and block b, so that no proof is owed between them.
func sameLead(p *Procedure, s *State, b int) bool {
	return s.Block > 0 && s.Supply != Dead && s.Unproved == 0 && p.Blocks[s.Block-1].Lead == p.Blocks[b].Lead
}

// tooMany tells whether the open queries hold the session: one of them is to be
// found and repaired.
func tooMany(s *State) bool { return bits.OnesCount32(uint32(s.Standing)) > maxStanding }

func ask(p *Procedure, s *State, i int) Act {
	switch {
	case p.Slots[i].Hold:
		return Release
	case s.Queried:
		return Resolve
	}
	return Enter
}
