package engine

import (
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// randomProcedure draws any procedure that Sound lets through.
func randomProcedure(t *rapid.T) *Procedure {
	p := &Procedure{
		Blocks: []Block{{ID: "start", Supply: Dead}},
		Slots:  []Slot{{ID: "start", Crit: G, Life: Lasting}},
		Pins:   rapid.IntRange(0, 3).Draw(t, "boxed") == 0,
	}
	line, blocks := 1, rapid.IntRange(2, 6).Draw(t, "blocks")
	for b := 1; b <= blocks; b++ {
		p.Blocks = append(p.Blocks, randomBlock(t, p.Blocks[b-1], b))
		rung := 0
		for range rapid.IntRange(1, 4).Draw(t, "slots") {
			slot := randomSlot(t, p.Blocks[b], b)
			last := p.Slots[len(p.Slots)-1]
			if last.Block != b || slot.Hold || last.Hold || rapid.Bool().Draw(t, "new line") {
				line++
				rung += rapid.IntRange(0, 30).Draw(t, "rise")
			}
			slot.ID, slot.Line, slot.Rung = fmt.Sprint("s", len(p.Slots)), line, rung+1
			p.Slots = append(p.Slots, slot)
		}
	}
	for i := range p.Slots {
		if p.Slots[i].Hold {
			continue
		}
		p.Slots[i].Gives = slots(rapid.IntRange(0, len(p.Slots)-1).Draw(t, "gives"))
		if p.givesFault(i) != "" {
			p.Slots[i].Gives = Facts{}
		}
		if p.Slots[i].Derived {
			p.Slots[i].From = slots(rapid.IntRange(0, i).Draw(t, "from"))
		}
		if p.fromFault(i) != "" {
			p.Slots[i].From, p.Slots[i].Derived = Facts{}, false
		}
	}
	for range rapid.IntRange(1, 4).Draw(t, "classes") {
		p.Voids = append(p.Voids, slots(rapid.SliceOfN(rapid.IntRange(0, len(p.Slots)-1), 0, 4).Draw(t, "voids")...))
		p.Solder = append(p.Solder, rapid.Bool().Draw(t, "solder"))
	}
	return gated(p)
}

func randomBlock(t *rapid.T, last Block, b int) Block {
	next := Block{
		ID: fmt.Sprint("b", b), Stage: last.Stage, Lead: last.Lead, Supply: last.Supply,
		Wait: rapid.Bool().Draw(t, "cold"), LampIn: rapid.Bool().Draw(t, "lamp"),
	}
	if rapid.Bool().Draw(t, "new stage") {
		next.Stage, next.Lead = b, b
		next.Supply = rapid.SampledFrom([]Supply{Unknown, Dead, Limited, Raised, Full}).Draw(t, "supply")
	} else if rapid.Bool().Draw(t, "lead moves") {
		next.Lead = b
	}
	next.Wait = next.Wait && next.Supply.Energised()
	return next
}

func randomSlot(t *rapid.T, block Block, b int) Slot {
	if block.Supply == Dead && rapid.IntRange(0, 4).Draw(t, "hold") == 0 {
		return Slot{Block: b, Life: Session, Hold: true}
	}
	slot := Slot{
		Block: b,
		Crit:  rapid.SampledFrom([]Crit{S, G, E}).Draw(t, "class"),
		Life:  rapid.SampledFrom([]Life{Period, Session, Day, Lasting, Lasting, Lasting}).Draw(t, "life"),
		Path:  Paths(1) << rapid.IntRange(0, 8).Draw(t, "path") &^ 1,
		Wait:  rapid.Bool().Draw(t, "wait"),
	}
	slot.Optional = slot.Crit == E && rapid.Bool().Draw(t, "optional")
	slot.MayLack = rapid.IntRange(0, 4).Draw(t, "may lack") == 0
	slot.Lenient = slot.Crit == S && rapid.Bool().Draw(t, "lenient")
	slot.HTLine = rapid.Bool().Draw(t, "HT line")
	slot.Derived = slot.Crit != S && rapid.IntRange(0, 4).Draw(t, "derived") == 0
	if block.Supply == Dead && slot.Life != Period {
		slot.Charges = Nodes(rapid.IntRange(0, 3).Draw(t, "charges"))
	}
	return slot
}

// walk sends events to Step, half of them what the order of work wants, and
// holds every state against the ledger.
type walk struct {
	m machine
	p *Procedure
	s State
	l *ledger
}

func (w *walk) send(e Event) error {
	n, err := w.m.step(w.p, w.s, e)
	var refusal Refusal
	switch {
	case errors.As(err, &refusal):
		if n != w.s {
			return fmt.Errorf("a refusal of %+v changed the state", e)
		}
		return nil
	case err != nil:
		return fmt.Errorf("%+v: %w", e, err)
	}
	if fault := w.l.take(w.s, e); fault != "" {
		return fmt.Errorf("%+v: %s", e, fault)
	}
	if fault := w.l.compare(w.s, n); fault != "" {
		return fmt.Errorf("after %+v: %s", e, fault)
	}
	w.s = n
	for _, fault := range faultsOf(w.p, n) {
		return fmt.Errorf("after %+v: %s", e, fault)
	}
	return nil
}

func TestNoWalkThroughAnyProcedureGetsPastTheLedger(t *testing.T) {
	for range 20 {
		rapid.Check(t, astray)
	}
}

// astray draws a procedure and walks through it, now and then beside the order
// of work, and from there to the end.
func astray(t *rapid.T) {
	p := randomProcedure(t)
	if err := p.Sound(); err != nil {
		t.Fatalf("%v: %+v", err, p)
	}
	w := &walk{m: whole, p: p, l: newLedger(p)}
	all := events(p)
	for range rapid.IntRange(0, 150).Draw(t, "steps") {
		es := Answers(p, w.s)
		if rapid.IntRange(0, 2).Draw(t, "goes astray") == 0 {
			es = []Event{rapid.SampledFrom(all).Draw(t, "event")}
		}
		for _, e := range es {
			if err := w.send(e); err != nil {
				t.Fatalf("%v\n%+v\n%+v", err, w.s, p)
			}
		}
	}
	w.toTheEnd(t)
}

// toTheEnd answers everything well: nothing of it may be refused, and it must
// end.
func (w *walk) toTheEnd(t *rapid.T) {
	for range 40 * len(w.p.Slots) {
		if w.s.Mode == Closed {
			return
		}
		if _, err := pass1(w.p, w.s); err != nil {
			t.Fatalf("%+v is refused: %v in %+v\n%+v", Next(w.p, w.s), err, w.s, w.p)
		}
		for _, e := range Answers(w.p, w.s) {
			if err := w.send(e); err != nil {
				t.Fatalf("%v\n%+v\n%+v", err, w.s, w.p)
			}
		}
	}
	t.Fatalf("it never ends: %+v in %+v\n%+v", Next(w.p, w.s), w.s, w.p)
}
