package engine

import "math/bits"

// MaxSlots is how many readings a procedure may unroll to.
const MaxSlots = 64 * len(Facts{})

// Facts is one bit a slot: valid now. Voiding is eager, so that a stale fact
// cannot exist in a state.
type Facts [5]uint64

// Has tells whether slot i is held.
func (f Facts) Has(i int) bool { return f[uint(i)/64]&(1<<(uint(i)%64)) != 0 }

// With adds slot i.
func (f Facts) With(i int) Facts { f[uint(i)/64] |= 1 << (uint(i) % 64); return f }

// Without takes g's slots away.
func (f Facts) Without(g Facts) Facts {
	for i := range f {
		f[i] &^= g[i]
	}
	return f
}

// Or joins two sets.
func (f Facts) Or(g Facts) Facts {
	for i := range f {
		f[i] |= g[i]
	}
	return f
}

// And keeps what both have.
func (f Facts) And(g Facts) Facts {
	for i := range f {
		f[i] &= g[i]
	}
	return f
}

// meets tells whether both have a slot.
func (f Facts) meets(g Facts) bool {
	for i := range f {
		if f[i]&g[i] != 0 {
			return true
		}
	}
	return false
}

// each goes through the slots of f in their order.
func (f Facts) each(yield func(int) bool) {
	for w, word := range f {
		for ; word != 0; word &= word - 1 {
			if !yield(64*w + bits.TrailingZeros64(word)) {
				return
			}
		}
	}
}

// Covers tells whether every slot of g is in f.
func (f Facts) Covers(g Facts) bool { return g.Without(f) == Facts{} }

// from gives the slots of f from slot i on.
func (f Facts) from(i int) Facts {
	w := i / 64
	clear(f[:min(w, len(f))])
	if w < len(f) {
		f[w] &= ^uint64(0) << (i % 64)
	}
	return f
}

// Nodes is one bit a capacitor section, rail or plug pair of the set.
type Nodes uint16

// Paths is one bit a part or path whose queries are counted together.
type Paths uint32

// Slot is one reading: a step of a procedure after it was unrolled over one set
// sheet and one bench. It never changes while a session runs.
type Slot struct {
	ID       string // for refusals and the log; no decision reads it
	Crit     Crit
	Block    int  // index into Procedure.Blocks
	Stage    int  // its own: a block may go on into the next stage
	Line     int  // readings that are entered together
	Rung     int  // step of a raise; more is more volts; 0: none
	Life     Life // Period slots go with their line: owed only when another slot of it is
	Path     Paths
	Charges  Nodes // nodes it puts more than 60 V on
	Gives    Facts // further facts that a pass of this slot is; an accepted query gives none
	Hold     bool  // a hold point: released, not read
	Wait     bool  // a minimum wait stands before it, which is over for its whole line
	Optional bool  // may be left unread
	MayLack  bool  // the set may turn out to have no such part: then it is left
	Lenient  bool  // of class S, but a query is about condition only and may be accepted as of class E
	HTLine   bool  // read on the HT line: refused while a shorting clip is on it
	Derived  bool  // computed from other readings
	From     Facts // Derived: those readings, as far as they outlive a period; it falls with any of them
	Follows  Facts // earlier readings that its window follows from: taken back, they take it with them
}

// Block is one lead position in one state of the supply: from putting the leads
// on while dead to taking them off while dead.
type Block struct {
	ID     string
	Stage  int    // of its first slot
	Supply Supply // Unknown: bench and looking, needs no state
	Lead   int    // blocks with the same number differ in nothing a hand inside the set would change
	LampIn bool
	Wait   bool  // a minimum time off stands before mains: a cold start
	Gate   Facts // held before this block may be energised
}

// Class is an alteration, by its row of the table.
type Class uint8

// Procedure is what Step runs: slots in their order of work, with the tables of
// what an event voids.
type Procedure struct {
	Slots     []Slot
	Blocks    []Block
	Voids     []Facts // by Class
	Solder    []bool  // by Class: the proof and what a splash may spoil went with it
	AfterStop Facts   // holds and the look through the lamp: given again after a stop
	Pins      bool    // of a boxed set: its plug pins are all that can be reached, and one look proves them

	tables
}

// FirstProof is what the first line of a full proof gives.
func (p *Procedure) FirstProof() Proof {
	if p.Pins {
		return FullProof
	}
	return HalfProof
}

// Mode is how far the session is from a stop. The zero value works.
type Mode uint8

// Working; a stop was read and the set is to be made safe; made safe, cause
// and repair owed; closed; nobody answered for too long with mains on: off and
// a full proof before the work goes on.
const (
	Working Mode = iota
	MakeSafe
	Stopped
	Closed
	LeftOn
)

// Proof is how far the set was proved dead since mains was last on it.
type Proof uint8

// None; the first line of a full proof; enough to move one lead or fit valves
// where no high voltage was; enough for hands to work inside.
const (
	NoProof Proof = iota
	HalfProof
	LeadProof
	FullProof
)

// Moved is a Block: mains was just on, and a proof since has found volts or is in
// its middle. Its points were read with the leads; only a whole proof ends it.
const Moved = -1

// State is all that Step and the explorer see: no clock, number or text. What
// stands below Standing belongs to the owed slot and ends when another is owed.
type State struct {
	Mode     Mode
	Supply   Supply
	Block    int // where the leads are, plus one, since mains was on; Moved; 0: nobody knows
	Proof    Proof
	Unproved Nodes // charged by a test and not read dead since
	Line     int   // line plus one whose test has charged them, while it is owed: the leads are on it
	Held     Facts
	Unread   Facts // left unread on purpose
	StopAt   int   // slot plus one that the newest stop was read on, until it is mended
	Doubt    int   // slot plus one whose stop found no fault in the set, see InDoubt
	Wary     bool  // so is every slot before it: two such stops stood open at once
	Standing Paths // accepted queries alive
	Clip     bool  // a shorting clip joins the HT line

	Queried bool // a query waits for its answer
	Weak    bool // its window came from typical values: it is not counted
	Second  bool // and a second reading agrees with it
	Waited  bool // the minimum wait is over
	Again   bool // a slot that must pass twice has passed once
}

// unasked forgets what belonged to the owed slot.
func (s State) unasked() State {
	s.Queried, s.Weak, s.Second, s.Waited, s.Again = false, false, false, false, false
	return s
}

// pluggedIn tells whether mains is on, or was left on and nobody has said since
// that the plug is out.
func (s State) pluggedIn() bool {
	return s.Supply.Energised() || s.Mode == LeftOn && s.Proof == NoProof && s.Block != 0
}

// proved tells whether the set is proved dead for hands to work inside.
func (s State) proved() bool { return s.Supply == Dead && s.Proof == FullProof }

// Sources gives the readings of slot i's own stage that it is computed from.
func (p *Procedure) Sources(i int) Facts {
	var f Facts
	for j := range p.Slots[i].From.each {
		if p.Blocks[p.Slots[j].Block].Stage == p.Blocks[p.Slots[i].Block].Stage {
			f = f.With(j)
		}
	}
	return f
}

// begun gives the readings of slot j's line, j being the first that is owed there,
// that the window of one which is owed follows from: of a test that was broken off.
func (p *Procedure) begun(s *State, j int) Facts {
	var f Facts
	for i := j; i < len(p.Slots) && p.Slots[i].Line == p.Slots[j].Line; i++ {
		if owed(s, i) {
			f = f.Or(p.tests[i])
		}
	}
	return f
}

// supply gives the supply that slot i is read in.
func (p *Procedure) supply(i int) Supply { return p.Blocks[p.Slots[i].Block].Supply }
