package engine

// Act is what is to be done next.
type Act uint8

// The acts. Nothing: the session is over.
const (
	Nothing     Act = iota
	Unplug          // after a stop: off and plug out first
	ProveLead       // off, then the short proof that allows a lead move
	ProveFull       // off, then the whole proof
	ProveSecond     // the second line of the whole proof
	ProveNodes      // read dead what a test has charged
	SwitchOn        // leads are on, all is ready: mains to the set
	Enter           // the reading of slot Slot
	Resolve         // accept, replace or repair the query on slot Slot
	Release         // the hold of slot Slot
	Repair          // record cause and repair of the stop on slot Slot
	Finish          // all is read
)

// Todo is the next act with the slot or the block it is about.
type Todo struct {
	Act   Act
	Slot  int
	Block int
}

// Cursor is the first slot that is owed, or -1.
func Cursor(p *Procedure, s State) int {
	for i, slot := range p.Slots {
		if owed(s, i) && (slot.Life != Period || lineOwes(p, s, i)) {
			return i
		}
	}
	return -1
}

func owed(s State, i int) bool { return !s.Held.Has(i) && !s.Unread.Has(i) }

// lineOwes tells whether a slot that outlives its period is owed on i's line.
func lineOwes(p *Procedure, s State, i int) bool {
	line := p.Slots[i].Line
	for j, slot := range p.Slots {
		if slot.Line == line && slot.Life != Period && !slot.Derived && owed(s, j) {
			return true
		}
	}
	return false
}

// Next is the only order of work there is. Every act it returns is one that
// Step accepts.
func Next(p *Procedure, s State) Todo {
	i := Cursor(p, s)
	switch {
	case s.Mode == Closed:
		return Todo{Act: Nothing}
	case s.Mode == MakeSafe:
		return makeSafe(s, i)
	case s.Mode == Stopped:
		return Todo{Act: Repair, Slot: i}
	case s.Queried:
		return Todo{Act: Resolve, Slot: i, Block: p.Slots[i].Block}
	case i < 0:
		return finish(s)
	}
	b := p.Slots[i].Block
	switch block := p.Blocks[b]; {
	case block.Supply == Unknown:
		return bench(p, s, i)
	case block.Supply == Dead:
		return deadWork(p, s, i)
	default:
		return liveWork(p, s, i)
	}
}

func makeSafe(s State, i int) Todo {
	switch {
	case s.Supply.Energised():
		return Todo{Act: Unplug, Slot: i}
	case s.Proof == HalfProof:
		return Todo{Act: ProveSecond, Slot: i}
	}
	return Todo{Act: ProveFull, Slot: i}
}

func finish(s State) Todo {
	if t, ok := proveFirst(s, -1, 0); ok {
		return t
	}
	return Todo{Act: Finish}
}

// proveFirst gives the proof that must come before hands go in.
func proveFirst(s State, i, b int) (Todo, bool) {
	switch {
	case s.Proof == HalfProof:
		return Todo{Act: ProveSecond, Slot: i, Block: b}, true
	case s.Supply != Dead || s.Proof != FullProof:
		return Todo{Act: ProveFull, Slot: i, Block: b}, true
	case s.Unproved != 0:
		return Todo{Act: ProveNodes, Slot: i, Block: b}, true
	}
	return Todo{}, false
}

func bench(p *Procedure, s State, i int) Todo {
	if s.Supply.Energised() {
		return Todo{Act: ProveLead, Slot: i, Block: p.Slots[i].Block}
	}
	return enter(p, i)
}

func deadWork(p *Procedure, s State, i int) Todo {
	if t, ok := proveFirst(s, i, p.Slots[i].Block); ok && !sameLine(p, s, i) {
		return t
	}
	return enter(p, i)
}

// sameLine allows the rest of a line whose earlier test has charged a node: the
// leads are on it and the proof of the nodes ends the line.
func sameLine(p *Procedure, s State, i int) bool {
	if s.Supply != Dead || s.Proof != FullProof || i == 0 {
		return false
	}
	for j := i - 1; j >= 0 && p.Slots[j].Line == p.Slots[i].Line; j-- {
		if p.Slots[j].Charges&s.Unproved != 0 {
			return true
		}
	}
	return false
}

func liveWork(p *Procedure, s State, i int) Todo {
	b := p.Slots[i].Block
	todo := Todo{Slot: i, Block: b}
	switch {
	case s.Supply.Energised() && s.Block == b+1:
		return enter(p, i)
	case sameLead(p, s, b):
		todo.Act = SwitchOn
	case s.Supply == Dead && s.Proof >= LeadProof && s.Unproved == 0:
		todo.Act = SwitchOn
	case s.Proof == HalfProof:
		todo.Act = ProveSecond
	case s.Block == 0 || !p.Blocks[s.Block-1].Supply.Energised():
		todo.Act = ProveFull
	case s.Unproved != 0:
		todo.Act = ProveNodes
	default:
		todo.Act = ProveLead
	}
	return todo
}

// sameLead tells whether nothing inside the set moves between the block the
// leads are on and block b, so that no proof is owed between them.
func sameLead(p *Procedure, s State, b int) bool {
	return s.Block > 0 && s.Supply != Dead && s.Unproved == 0 &&
		p.Blocks[s.Block-1].Supply.Energised() && p.Blocks[s.Block-1].Lead == p.Blocks[b].Lead
}

func enter(p *Procedure, i int) Todo {
	act := Enter
	if p.Slots[i].Hold {
		act = Release
	}
	return Todo{Act: act, Slot: i, Block: p.Slots[i].Block}
}
