package engine

import "math/bits"

// Property is one interlock as what must be true of every step, written apart
// from the gate of the same id: it reads the states before and after only, and
// knows nothing of events. It is asserted after every step in production too.
type Property struct {
	ID       string
	Sentence string
	Holds    func(p *Procedure, before, after State) bool
}

// Properties lists them.
func Properties() []Property { return append([]Property(nil), properties...) }

var properties = []Property{
	{"INV-01", "mains comes on only with every fact of its gate held", energisedHoldsGate},
	{"INV-03", "what is read on a dead set is first held while the set is proved dead", deadHeldWhileDead},
	{"INV-05", "mains going off leaves the set unknown until a proof", offIsUnknown},
	{"INV-08", "mains never comes on over a node that a test has charged", noChargedNode},
	{"INV-10", "at a rung of the ramp every rung below has its readings", rungsBelowHeld},
	{"INV-11", "mains without a lamp only with every earlier hold released", lampInBeforeHolds},
	{"INV-12", "mains comes on only while working, never after a stop", onlyWorking},
	{"INV-14", "a stop is left only through a repair, with the slot not held", stopNotHeld},
	{"INV-22", "mains never comes on over more than five open queries", fewOpen},
	{"INV-24", "a hold is first held in a set proved dead", holdsInDead},
	{"INV-48", "mains comes on only out of a proof, or where it just was", onFromProof},
}

func comesOn(before, after State) bool {
	return after.Supply.Energised() && (!before.Supply.Energised() || before.Block != after.Block)
}

func energisedHoldsGate(p *Procedure, before, after State) bool {
	if !comesOn(before, after) {
		return true
	}
	gate := p.Blocks[after.Block-1].Gate
	return after.Held.And(gate) == gate
}

func gained(before, after State) Facts { return after.Held.Without(before.Held) }

func deadHeldWhileDead(p *Procedure, before, after State) bool {
	g := gained(before, after)
	for i, slot := range p.Slots {
		if g.Has(i) && p.Blocks[slot.Block].Supply == Dead && (before.Supply != Dead || before.Proof != FullProof) {
			return false
		}
	}
	return true
}

func offIsUnknown(_ *Procedure, before, after State) bool {
	return !before.Supply.Energised() || after.Supply.Energised() || after.Supply == Unknown || after.Proof >= LeadProof
}

func noChargedNode(_ *Procedure, before, after State) bool {
	return !comesOn(before, after) || before.Unproved == 0
}

// rungsBelowHeld reads the rungs off the order of the slots: within a block a
// later line is a later or higher rung.
func rungsBelowHeld(p *Procedure, before, after State) bool {
	g := gained(before, after)
	for i, slot := range p.Slots {
		if !g.Has(i) || p.Blocks[slot.Block].Supply != Raised {
			continue
		}
		for j := range i {
			if p.Slots[j].Block == slot.Block && p.Slots[j].Life != Period && !after.Held.Has(j) && !after.Unread.Has(j) {
				return false
			}
		}
	}
	return true
}

func lampInBeforeHolds(p *Procedure, before, after State) bool {
	if !comesOn(before, after) || p.Blocks[after.Block-1].LampIn {
		return true
	}
	for i, slot := range p.Slots {
		if slot.Hold && slot.Block < after.Block-1 && !after.Held.Has(i) {
			return false
		}
	}
	return true
}

func onlyWorking(_ *Procedure, before, after State) bool {
	return !comesOn(before, after) || (before.Mode == Working && after.Mode == Working)
}

func stopNotHeld(_ *Procedure, before, after State) bool {
	if before.Mode == Working || after.Mode != Working {
		return true
	}
	return before.Mode == Stopped && (before.Doubt == 0 || !after.Held.Has(before.Doubt-1))
}

func fewOpen(_ *Procedure, before, after State) bool {
	return !comesOn(before, after) || bits.OnesCount32(uint32(after.Standing)) <= 5
}

func holdsInDead(p *Procedure, before, after State) bool {
	g := gained(before, after)
	for i, slot := range p.Slots {
		if slot.Hold && g.Has(i) && (before.Supply != Dead || before.Proof != FullProof || before.Unproved != 0) {
			return false
		}
	}
	return true
}

func onFromProof(p *Procedure, before, after State) bool {
	if !comesOn(before, after) || before.Supply == Dead {
		return true
	}
	return before.Block > 0 && p.Blocks[before.Block-1].Lead == p.Blocks[after.Block-1].Lead
}
