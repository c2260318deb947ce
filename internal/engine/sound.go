package engine

import (
	"cmp"
	"errors"
	"fmt"
)

// Sound refuses a procedure that Step could hang in or be misled by, and makes it
// ready for Step. It is called once, when a procedure is made.
func (p *Procedure) Sound() error {
	switch {
	case len(p.Slots) == 0:
		return errors.New("the procedure has no reading")
	case len(p.Slots) > MaxSlots:
		return fmt.Errorf("%d readings are more than %d", len(p.Slots), MaxSlots)
	case len(p.Voids) == 0:
		return errors.New("there is no class of alteration: no stop could be repaired")
	case len(p.Solder) != len(p.Voids):
		return fmt.Errorf("%d classes of alteration, and %d say whether they were soldered", len(p.Voids), len(p.Solder))
	}
	for i := range p.Slots {
		if fault := p.slotFault(i); fault != "" {
			return fmt.Errorf("reading %s: %s", p.Slots[i].ID, fault)
		}
	}
	for b := range p.Blocks {
		if fault := p.gateFault(b); fault != "" {
			return fmt.Errorf("block %s: %s", p.Blocks[b].ID, fault)
		}
	}
	p.tabulate()
	return nil
}

func (p *Procedure) slotFault(i int) string {
	s := &p.Slots[i]
	if s.Block < 0 || s.Block >= len(p.Blocks) {
		return "its block does not exist"
	}
	supply := p.supply(i)
	switch {
	case supply > Full || s.Crit > E || s.Life > Lasting:
		return "its supply, class or life is not known"
	case s.Optional && s.Crit != E:
		return "it guards a person or energy, and may be left unread"
	case s.Lenient && s.Crit != S:
		return "a query of it may be accepted as it is"
	case s.Charges != 0 && supply != Dead:
		return "it charges a part, and the set is not dead"
	case s.Charges != 0 && s.Life == Period:
		return "it charges a part, and nobody owes it by itself"
	case supply == Raised && s.Rung <= 0:
		return "it stands in a raise and has no rung"
	case s.Hold:
		return p.holdFault(i)
	}
	return cmp.Or(p.orderFault(i), p.fromFault(i), p.givesFault(i))
}

func (p *Procedure) holdFault(i int) string {
	s := &p.Slots[i]
	switch {
	case p.supply(i) != Dead:
		return "a hold stands only in a dead set"
	case s.Life == Period || s.Optional || s.Derived || s.Wait || s.Charges != 0 || s.Path != 0 || s.MayLack || s.Gives != Facts{}:
		return "a hold is released and nothing else"
	case !p.AfterStop.Has(i):
		return "a stop does not take the hold back"
	}
	return p.orderFault(i)
}

// orderFault demands that blocks follow each other and that the readings of a
// line stand together in one block; a hold has its line for itself.
func (p *Procedure) orderFault(i int) string {
	if i == 0 {
		return ""
	}
	s, last := &p.Slots[i], &p.Slots[i-1]
	switch {
	case s.Block < last.Block || s.Line < last.Line || s.Stage < last.Stage:
		return "it stands behind its own block, stage or line"
	case s.Line == last.Line && (s.Block != last.Block || s.Hold || last.Hold):
		return "its line belongs to another block or to a hold"
	}
	return ""
}

func (p *Procedure) fromFault(i int) string {
	s := &p.Slots[i]
	switch {
	case s.From != (Facts{}) && !s.Derived:
		return "it is read, and computed too"
	case s.Derived && !s.Optional && p.Sources(i) == (Facts{}):
		return "it is computed from nothing of its own stage, and nothing could be read again where it gives no value"
	}
	for j := range MaxSlots {
		if s.From.Has(j) && (j >= i || p.Slots[j].Life == Period) {
			return "it is computed from what is not read before it, or lapses with the period"
		}
		if s.Follows.Has(j) && j >= i {
			return "its window follows from what is not read before it"
		}
	}
	return ""
}

func (p *Procedure) givesFault(i int) string {
	for j := range MaxSlots {
		if !p.Slots[i].Gives.Has(j) {
			continue
		}
		if j >= len(p.Slots) || p.Slots[j].Block < 0 || p.Slots[j].Block >= len(p.Blocks) {
			return "it gives what does not exist"
		}
		from, to := p.Blocks[p.Slots[i].Block], p.Blocks[p.Slots[j].Block]
		if from.Supply != to.Supply || from.Stage != to.Stage || p.Slots[j].Hold || p.Slots[j].Rung > p.Slots[i].Rung {
			return "it gives a hold, or a reading of another stage or a higher rung"
		}
	}
	return ""
}

// gateFault demands that a gate can be met, and that every earlier hold is in
// it.
func (p *Procedure) gateFault(b int) string {
	block := &p.Blocks[b]
	if !block.Supply.Energised() {
		return ""
	}
	if block.Gate == (Facts{}) {
		return "mains with nothing read before it"
	}
	for i := range MaxSlots {
		in, earlier := block.Gate.Has(i), i < len(p.Slots) && p.Slots[i].Block < b
		switch {
		case in && (!earlier || p.Slots[i].Life == Period || p.Slots[i].Optional):
			return "its gate holds what may never be read before it"
		case !in && earlier && p.Slots[i].Hold:
			return "its gate lacks an earlier hold"
		}
	}
	return ""
}
