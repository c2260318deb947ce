package engine

import "math/bits"

// Property is one interlock as what must be true of every step, written apart
// from the gate of the same id: it reads the states before and after only, and
// knows nothing of events. It is asserted after every step in production too.
type Property struct {
	ID       string
	Sentence string
	Holds    func(p *Procedure, before, after *State) bool
}

// Properties lists them.
func Properties() []Property { return append([]Property(nil), properties...) }

var properties = []Property{
	{"INV-01", "mains comes on only with every fact of its gate held", energisedHoldsGate},
	{"INV-03", "what is read on a dead set is first held while the set is proved dead", deadHeldWhileDead},
	{"INV-04", "a set is dead by both lines of a full proof with the wait between, or by the short proof where mains was just on", deadByProof},
	{"INV-05", "mains going off leaves the set unknown until a proof", offIsUnknown},
	{"INV-08", "mains ends a proof, and never comes on over a node that a test has charged; until that is read dead nothing is held but the rest of its own line", noChargedNode},
	{"INV-09", "what is read on a live set is first held with mains on at its own block, and the facts of its gate held", liveHeldWhileOn},
	{"INV-10", "at a rung of a raise every rung below has its readings", rungsBelowHeld},
	{"INV-11", "mains without a lamp only with every earlier hold released", lampInBeforeHolds},
	{"INV-12", "mains comes on only while working, never after a stop, and a stop takes every release back", onlyWorking},
	{"INV-13", "nothing is held or left between a stop and its repair", nothingAfterStop},
	{"INV-14", "a stop is left only through a repair, and a slot in doubt is first held when it passed twice running, or was a query that a second reading bore out", stopNotHeld},
	{"INV-19", "what was computed from a reading falls with it, and with a reading those of its own line that its window follows from", computedFalls},
	{"INV-20", "while mains was left on nothing goes on", nothingLeftOn},
	{"INV-22", "mains never comes on over more than five open queries, and no second one waits on a path", fewOpen},
	{"INV-23", "a reading that concerns a person never becomes an open query, and no query is left unanswered", queriesAnswered},
	{"INV-24", "a hold is first held in a set proved dead", holdsInDead},
	{"INV-35", "what needs a wait comes after it", waitsOver},
	{"INV-36", "a record closes on a set proved dead, with every reading held or left", closesSafe},
	{"INV-37", "only a reading of class E is ever left", leftOnlyE},
	{"INV-44", "mains never comes on over a shorting clip, no reading of the HT line is first held under one, and no record closes", noClip},
	{"INV-48", "mains comes on only out of a proof, or where it just was", onFromProof},
}

func comesOn(before, after *State) bool {
	return after.Supply.Energised() && (!before.Supply.Energised() || before.Block != after.Block)
}

func gained(before, after *State) Facts { return after.Held.Without(before.Held) }

func energisedHoldsGate(p *Procedure, before, after *State) bool {
	if !comesOn(before, after) {
		return true
	}
	gate := p.Blocks[after.Block-1].Gate
	return after.Held.And(gate) == gate
}

// every tells whether ok holds for each slot of f.
func every(p *Procedure, f Facts, ok func(i int, slot *Slot) bool) bool {
	for i := range f.each {
		if !ok(i, &p.Slots[i]) {
			return false
		}
	}
	return true
}

func deadHeldWhileDead(p *Procedure, before, after *State) bool {
	return every(p, gained(before, after), func(_ int, slot *Slot) bool {
		return p.Blocks[slot.Block].Supply != Dead || before.Supply == Dead && before.Proof == FullProof
	})
}

func deadByProof(p *Procedure, before, after *State) bool {
	if (after.Supply == Dead) != (after.Proof >= LeadProof) {
		return false
	}
	switch {
	case after.Proof == before.Proof:
		return true
	case after.Proof == FullProof:
		return p.Pins || before.Proof == HalfProof && before.Waited
	case after.Proof == LeadProof:
		return before.Block > 0 && before.Mode == Working
	}
	return true
}

func offIsUnknown(_ *Procedure, before, after *State) bool {
	return !before.Supply.Energised() || after.Supply.Energised() || after.Supply == Unknown || after.Proof >= LeadProof
}

func noChargedNode(p *Procedure, before, after *State) bool {
	if after.Supply.Energised() && (after.Proof != NoProof || p.Blocks[after.Block-1].Supply != after.Supply) {
		return false
	}
	if before.Unproved == 0 {
		return !comesOn(before, after) || after.Unproved == 0
	}
	return !comesOn(before, after) && every(p, ownGains(p, before, after), func(_ int, slot *Slot) bool {
		return p.Blocks[slot.Block].Supply != Dead || slot.Line == before.Line-1 || slot.Hold // see INV-24
	})
}

// ownGains is what was gained, without what another gain has given.
func ownGains(p *Procedure, before, after *State) Facts {
	g := gained(before, after)
	var given Facts
	for i := range g.each {
		given = given.Or(p.Slots[i].Gives)
	}
	return g.Without(given)
}

// liveHeldWhileOn lets a reading give others of its stage and supply.
func liveHeldWhileOn(p *Procedure, before, after *State) bool {
	own := false
	live := Facts{}
	g := gained(before, after)
	ok := every(p, g, func(i int, slot *Slot) bool {
		b := p.Blocks[slot.Block]
		if b.Supply < Limited {
			return true
		}
		live = live.With(i)
		own = own || slot.Block == before.Block-1
		return before.Supply == b.Supply && before.Block > 0 && p.Blocks[before.Block-1].Stage == b.Stage
	})
	if live == (Facts{}) {
		return true
	}
	return ok && own && before.Held.Covers(p.Blocks[before.Block-1].Gate)
}

// rungsBelowHeld goes by the rungs, not by the order of the slots.
func rungsBelowHeld(p *Procedure, before, after *State) bool {
	return every(p, gained(before, after), func(_ int, high *Slot) bool {
		if p.Blocks[high.Block].Supply != Raised || high.Block != before.Block-1 {
			return true
		}
		for j := range p.Slots {
			low := &p.Slots[j]
			below := low.Block == high.Block && low.Rung < high.Rung && low.Life != Period
			if below && !after.Held.Has(j) && !after.Unread.Has(j) {
				return false
			}
		}
		return true
	})
}

func lampInBeforeHolds(p *Procedure, before, after *State) bool {
	if !comesOn(before, after) || p.Blocks[after.Block-1].LampIn {
		return true
	}
	for i := range p.Slots {
		if p.Slots[i].Hold && p.Slots[i].Block < after.Block-1 && !after.Held.Has(i) {
			return false
		}
	}
	return true
}

func onlyWorking(p *Procedure, before, after *State) bool {
	if before.Mode == Working && (after.Mode == MakeSafe || after.Mode == Stopped) {
		return every(p, after.Held, func(_ int, slot *Slot) bool { return !slot.Hold })
	}
	return !comesOn(before, after) || before.Mode == Working && after.Mode == Working
}

func nothingAfterStop(_ *Procedure, before, after *State) bool {
	if before.Mode != MakeSafe && before.Mode != Stopped {
		return true
	}
	return gained(before, after) == Facts{} && before.Unread.Covers(after.Unread)
}

func stopNotHeld(p *Procedure, before, after *State) bool {
	if before.Mode != Working && before.Mode != LeftOn && after.Mode == Working {
		at := before.StopAt - 1
		return before.Mode == Stopped && (at < 0 || !after.Held.Has(at))
	}
	g := gained(before, after)
	cleared := before.Doubt > 0 && after.Doubt < before.Doubt || before.Wary && !after.Wary
	read := before.Again || before.Queried && before.Second
	if cleared && !(g.Has(before.Doubt-1) && (read || p.Slots[before.Doubt-1].MayLack)) {
		return false
	}
	return every(p, g, func(i int, slot *Slot) bool {
		doubted := i == before.Doubt-1 || before.Wary && i < before.Doubt
		return !doubted || slot.Hold || slot.MayLack || read
	})
}

func computedFalls(p *Procedure, before, after *State) bool {
	lost := before.Held.Without(after.Held)
	if lost == (Facts{}) {
		return true
	}
	return every(p, after.Held.And(p.computed), func(_ int, slot *Slot) bool { return !slot.From.meets(lost) }) &&
		every(p, lost.And(p.ofTests), func(i int, _ *Slot) bool { return !p.tests[i].meets(after.Held) })
}

func nothingLeftOn(_ *Procedure, before, after *State) bool {
	if before.Mode != LeftOn {
		return true
	}
	return !comesOn(before, after) && gained(before, after) == Facts{} && (after.Mode == LeftOn || after.Supply < Limited || after.Mode == MakeSafe)
}

func fewOpen(p *Procedure, before, after *State) bool {
	if comesOn(before, after) && bits.OnesCount32(uint32(after.Standing)) > 5 {
		return false
	}
	if !after.Queried || after.Weak {
		return true
	}
	i := cursor(p, after)
	return i < 0 || p.Slots[i].Path&after.Standing == 0
}

// queriesAnswered: the one exception is a stop that was measured away by two
// passes without a cause; it counts as a query.
func queriesAnswered(p *Procedure, before, after *State) bool {
	g := gained(before, after)
	if before.Queried && after.Unread.Without(before.Unread) != (Facts{}) {
		return false
	}
	if after.Standing&^before.Standing == 0 || before.Again && before.Doubt > 0 && g.Has(before.Doubt-1) {
		return true
	}
	return every(p, g, func(_ int, slot *Slot) bool { return slot.Crit != S || slot.Lenient })
}

func noClip(p *Procedure, before, after *State) bool {
	if !before.Clip {
		return true
	}
	return !comesOn(before, after) && after.Mode != Closed && every(p, gained(before, after), func(_ int, slot *Slot) bool { return !slot.HTLine })
}

func holdsInDead(p *Procedure, before, after *State) bool {
	dead := before.Supply == Dead && before.Proof == FullProof && before.Unproved == 0
	return dead || every(p, gained(before, after), func(_ int, slot *Slot) bool { return !slot.Hold })
}

func waitsOver(p *Procedure, before, after *State) bool {
	if before.Waited {
		return true
	}
	if comesOn(before, after) && p.Blocks[after.Block-1].Wait {
		return false
	}
	done := ownGains(p, before, after).Or(after.Unread.Without(before.Unread))
	return every(p, done, func(_ int, slot *Slot) bool { return !slot.Wait })
}

func closesSafe(p *Procedure, before, after *State) bool {
	if after.Mode != Closed {
		return true
	}
	for i := range p.Slots {
		if p.Slots[i].Life != Period && !before.Held.Has(i) && !before.Unread.Has(i) {
			return false
		}
	}
	return before.Mode == Working && before.Supply == Dead && before.Proof == FullProof && before.Unproved == 0
}

func leftOnlyE(p *Procedure, before, after *State) bool {
	return every(p, after.Unread.Without(before.Unread), func(_ int, slot *Slot) bool {
		return slot.Optional && slot.Crit == E
	})
}

func onFromProof(p *Procedure, before, after *State) bool {
	if !comesOn(before, after) || before.Supply == Dead {
		return true
	}
	return before.Block > 0 && before.Proof == NoProof && p.Blocks[before.Block-1].Lead == p.Blocks[after.Block-1].Lead
}
