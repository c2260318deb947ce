package engine

import (
	"strings"
	"testing"
)

func TestSoundRefusesWhatStepCouldHangInOrBeMisledBy(t *testing.T) {
	if err := toy().Sound(); err != nil {
		t.Fatalf("the toy itself: %v", err)
	}
	for _, c := range []struct {
		spoil func(*Procedure)
		want  string
	}{
		{func(p *Procedure) { p.Slots = nil }, "no reading"},
		{func(p *Procedure) { p.Slots = make([]Slot, MaxSlots+1) }, "more than 320"},
		{func(p *Procedure) { p.Voids, p.Solder = nil, nil }, "no stop could be repaired"},
		{func(p *Procedure) { p.Solder = p.Solder[1:] }, "say whether they were soldered"},
		{func(p *Procedure) { p.Slots[tool].Block = 9 }, "reading tool: its block does not exist"},
		{func(p *Procedure) { p.Slots[tool].Block = -1 }, "its block does not exist"},
		{func(p *Procedure) { p.Blocks[0].Supply = Full + 1 }, "is not known"},
		{func(p *Procedure) { p.Slots[tool].Crit = E + 1 }, "is not known"},
		{func(p *Procedure) { p.Slots[tool].Life = Lasting + 1 }, "is not known"},
		{func(p *Procedure) { p.Slots[coupling].Optional = true }, "may be left unread"},
		{func(p *Procedure) { p.Slots[coupling].Lenient = true }, "may be accepted as it is"},
		{func(p *Procedure) { p.Slots[hold1].MayLack = true }, "released and nothing else"},
		{func(p *Procedure) { p.Slots[heater].Charges = 1 }, "the set is not dead"},
		{func(p *Procedure) { p.Slots[insulation].Life = Period }, "nobody owes it by itself"},
		{func(p *Procedure) { p.Slots[rung60].Rung = 0 }, "has no rung"},
		{func(p *Procedure) {
			p.Blocks[1].Supply = Unknown
			p.Slots[insulation].Charges, p.Slots[coupling].Charges = 0, 0
		}, "reading hold-1: a hold stands only in a dead set"},
		{func(p *Procedure) { p.Slots[hold1].Life = Period }, "released and nothing else"},
		{func(p *Procedure) { p.Slots[hold1].Wait = true }, "released and nothing else"},
		{func(p *Procedure) { p.Slots[hold1].Derived = true }, "released and nothing else"},
		{func(p *Procedure) { p.Slots[hold1].Charges = 1 }, "released and nothing else"},
		{func(p *Procedure) { p.AfterStop = Facts{} }, "does not take the hold back"},
		{func(p *Procedure) { p.Slots[hold1].Line = p.Slots[joint].Line }, "another block or to a hold"},
		{func(p *Procedure) { p.Slots[joint].Block, p.Slots[joint].Rung = 4, 1 }, "stands behind its own block, stage or line"},
		{func(p *Procedure) { p.Slots[heater].Line = p.Slots[idleLamp].Line }, "another block or to a hold"},
		{func(p *Procedure) { p.Slots[joint].Line = 0 }, "stands behind its own block, stage or line"},
		{func(p *Procedure) { p.Slots[fullHT].From = slots(rung60) }, "it is read, and computed too"},
		{func(p *Procedure) { p.Slots[drop].From = slots(drop) }, "not read before it"},
		{func(p *Procedure) { p.Slots[drop].From = slots(fullVolts) }, "lapses with the period"},
		{func(p *Procedure) { p.Slots[drop].From, p.Slots[drop].Optional = Facts{}, false }, "nothing of its own stage"},
		{func(p *Procedure) { p.Slots[drop].From, p.Slots[drop].Optional = slots(rung60), false }, "nothing of its own stage"},
		{func(p *Procedure) { p.Slots[tool].Gives = slots(99) }, "gives what does not exist"},
		{func(p *Procedure) { p.Slots[tool].Gives = slots(len(p.Slots)) }, "gives what does not exist"},
		{func(p *Procedure) { p.Slots[tool].Gives = slots(joint); p.Slots[joint].Block = -1 }, "gives what does not exist"},
		{func(p *Procedure) { p.Slots[tool].Gives = slots(joint); p.Slots[joint].Block = 9 }, "gives what does not exist"},
		{func(p *Procedure) { p.Slots[tool].Gives = slots(insulation) }, "another stage"},
		{func(p *Procedure) { p.Slots[coupling].Gives = slots(hold1) }, "it gives a hold"},
		{func(p *Procedure) { p.Slots[rung25].Gives = slots(rung60) }, "higher rung"},
		{func(p *Procedure) { p.Blocks[2].Gate = Facts{} }, "block idle: mains with nothing read before it"},
		{func(p *Procedure) { p.Blocks[2].Gate = p.Blocks[2].Gate.With(heater) }, "may never be read before it"},
		{func(p *Procedure) { p.Blocks[2].Gate = p.Blocks[2].Gate.With(idleLamp) }, "may never be read before it"},
		{func(p *Procedure) { p.Blocks[2].Gate = p.Blocks[2].Gate.With(joint) }, "may never be read before it"},
		{func(p *Procedure) { p.Blocks[2].Gate = p.Blocks[2].Gate.With(300) }, "may never be read before it"},
		{func(p *Procedure) { p.Blocks[7].Gate = p.Blocks[7].Gate.With(idleVolts) }, "may never be read before it"},
		{func(p *Procedure) { p.Blocks[7].Gate = p.Blocks[7].Gate.Without(slots(hold2)) }, "block full: its gate lacks an earlier hold"},
	} {
		p := toy()
		c.spoil(p)
		if err := p.Sound(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}
