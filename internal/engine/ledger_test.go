package engine

import (
	"fmt"
	"testing"
)

// ledger is a second opinion: it follows what really happened at the bench by
// the events that were taken, and knows for which slots there is a reading that
// still counts. It is written from the rules, not from Step, and it does not
// void what only the engine's own caution voids.
type ledger struct {
	p       *Procedure
	on      int   // block plus one that mains is on at; 0: the plug is out
	where   int   // block plus one whose leads are untouched since mains was on
	proof   Proof // how far the set is proved dead
	waited  bool  // since what is waited for
	charged Nodes
	fact    Facts         // a reading that counts, an accepted query, a release
	query   int           // slot plus one whose last reading is a query
	weak    bool          // judged by typical values
	second  bool          // and a second reading agreed
	stop    int           // slot plus one of a stop that nobody has mended
	stopped bool          // a stop that nobody has mended
	needs   map[int]int   // slots that stopped without a cause: passes wanted running
	got     int           // passes running
	of      int           // of this slot
	clip    bool          // a clip shorts the HT line
	paths   map[Paths]int // counted queries that were accepted, by path
}

func newLedger(p *Procedure) *ledger {
	return &ledger{p: p, needs: map[int]int{}, paths: map[Paths]int{}}
}

// take follows one event that Step took in state before. It gives what must not
// have been taken; empty: nothing.
func (l *ledger) take(before State, e Event) string {
	i := Cursor(l.p, before)
	switch e.Kind {
	case Read:
		return l.read(i, e, before.Doubt == i+1)
	case Accept:
		return l.accept(i, e, before.Doubt == i+1)
	case Agree:
		l.second = true
	case Leave:
		return l.leave(i, e)
	case Free:
		l.fact = l.fact.With(i)
		if l.proof != FullProof || l.charged != 0 || l.on != 0 || l.stopped {
			return "a hold was released in a set that was not proved dead"
		}
	case Power:
		return l.power(l.p.Slots[i].Block)
	case Off:
		l.off()
	case Prove:
		return l.prove(e)
	case ProveNode:
		if l.on != 0 || e.Verdict == Pass && l.proof != FullProof {
			return "a node was proved dead in a set that was not"
		}
		if e.Verdict != Pass {
			l.off()
			l.where = 0
			return ""
		}
		l.charged = 0
	case Elapsed:
		l.elapsed(e.Timer)
	case Interrupt, Abort:
		l.off()
		l.where = 0
		if e.Kind == Interrupt {
			l.lapse(Session)
		}
	case Alter:
		return l.alter(e.Class)
	case Mend:
		return l.mend(e)
	case Retract:
		l.retract(e.Slot, before.Held.Has(e.Slot))
	case ClipOn, ClipOff:
		if l.proof != FullProof || l.on != 0 {
			return "a clip was moved in a set that was not proved dead"
		}
		l.clip = e.Kind == ClipOn || e.Verdict != Pass
	case Done:
		if l.proof != FullProof || l.on != 0 || l.charged != 0 || l.stopped {
			return "the record was closed on a set that was not safe"
		}
	}
	return ""
}

func (l *ledger) read(i int, e Event, last bool) string {
	slot := l.p.Slots[i]
	block := l.p.Blocks[slot.Block]
	switch {
	case l.clip && slot.HTLine:
		return "the HT line was read under a shorting clip"
	case l.stopped:
		return "a reading was taken after a stop"
	case block.Supply.Energised() && l.on != slot.Block+1:
		return "a live reading was taken without mains on at its leads"
	case block.Supply == Dead && (l.on != 0 || l.proof != FullProof):
		return "a dead reading was taken in a set that was not proved dead"
	case block.Supply == Unknown && (l.on != 0 || l.where != 0):
		return "bench work was done at a set that mains was just on"
	case slot.Wait && !l.waited:
		return "a reading was taken before its wait was over"
	}
	if l.of != i {
		l.of, l.got = i, 0
	}
	l.charged |= slot.Charges
	second := e.Verdict == Query && !e.Weak && slot.Path != 0 && l.paths[slot.Path] > 0
	switch {
	case e.Verdict == Query && !second:
		l.query, l.weak, l.second, l.got = i+1, e.Weak, false, 0
	case e.Verdict == Pass:
		l.pass(i, last)
	default:
		l.stop, l.stopped, l.query, l.got = i+1, true, 0, 0
		l.fact = l.fact.Without(l.p.AfterStop)
	}
	return ""
}

// pass counts a stop that was measured away as an open query: the last one where
// several stood in doubt.
func (l *ledger) pass(i int, last bool) {
	l.query = 0
	l.got++
	if l.got < l.needs[i] {
		return
	}
	if l.needs[i] > 0 && last {
		l.paths[l.p.Slots[i].Path]++
	}
	l.got = 0
	delete(l.needs, i)
	l.fact = l.fact.With(i)
	for j := range l.p.Slots {
		if l.p.Slots[i].Gives.Has(j) && l.needs[j] == 0 {
			l.fact = l.fact.With(j)
		}
	}
}

func (l *ledger) accept(i int, e Event, last bool) string {
	slot := l.p.Slots[i]
	switch {
	case l.query != i+1:
		return "a slot was accepted that was not read as a query"
	case slot.Crit == S && !slot.Lenient:
		return "a query that concerns a person was accepted"
	case slot.Crit == G && e.By == Measurer && !l.second:
		return "a query that gates energy was accepted by the one who measured"
	case l.stopped:
		return "a stop was accepted"
	case l.needs[i] > 0 && !l.second:
		return "what stopped was accepted on one reading"
	}
	if !l.weak || l.needs[i] > 0 && last {
		l.paths[slot.Path]++
	}
	delete(l.needs, i)
	l.query, l.got = 0, 0
	l.fact = l.fact.With(i)
	return ""
}

func (l *ledger) power(b int) string {
	block := l.p.Blocks[b]
	open := 0
	for path, n := range l.paths {
		if path != 0 && n > 0 {
			open++
		}
	}
	switch {
	case l.clip:
		return "mains came on over a shorting clip"
	case l.stopped:
		return "mains came on after a stop"
	case l.charged != 0:
		return "mains came on over a charged node"
	case !l.fact.Covers(block.Gate):
		return fmt.Sprintf("mains came on at %s without %v", block.ID, block.Gate.Without(l.fact))
	case l.proof == HalfProof, l.proof == NoProof && (l.where == 0 || l.p.Blocks[l.where-1].Lead != block.Lead):
		return "mains came on without a proof and without the leads where they were"
	case block.Wait && !l.waited:
		return "mains came on before the time off was over"
	case open > 5:
		return "mains came on over more than five open queries"
	}
	for i, slot := range l.p.Slots {
		if slot.Hold && slot.Block < b && !block.LampIn && !l.fact.Has(i) {
			return "the lamp came out before a hold was released"
		}
	}
	l.off()
	l.on, l.where = b+1, b+1
	return ""
}

func (l *ledger) leave(i int, e Event) string {
	slot := l.p.Slots[i]
	switch {
	case l.stopped || l.query == i+1 || l.needs[i] > 0 && !e.Absent:
		return "what needs an answer was left"
	case slot.Wait && !l.waited:
		return "a reading was left before its wait was over"
	case e.Absent && !slot.MayLack:
		return "every set has this part"
	case !e.Absent && slot.Crit != E:
		return "a reading that guards a person or energy was left"
	}
	if e.Absent {
		delete(l.needs, i)
		l.fact = l.fact.With(i)
	}
	return ""
}

// retract takes back a reading and what was decided by it.
func (l *ledger) retract(i int, held bool) {
	for j, slot := range l.p.Slots {
		if held && slot.Hold && j > i {
			l.fact = l.fact.Without(slots(j))
		}
	}
	l.fact = l.fact.Without(l.p.Slots[i].Gives.With(i))
	l.query, l.got = 0, 0
}

// off ends what one period has.
func (l *ledger) off() {
	l.on, l.proof, l.query, l.got, l.waited = 0, NoProof, 0, 0, false
	l.lapse(Period)
}

func (l *ledger) lapse(life Life) {
	for i, slot := range l.p.Slots {
		if slot.Life == life {
			l.fact = l.fact.Without(slots(i))
		}
	}
}

func (l *ledger) prove(e Event) string {
	half, waited, where := l.proof == HalfProof, l.waited, l.where
	l.off()
	if e.Verdict != Pass {
		return ""
	}
	l.proof = e.Proof
	switch {
	case e.Proof == FullProof && !l.p.Pins && (!half || !waited):
		return "a full proof was given by its second line alone, or at once"
	case e.Proof == FullProof:
		l.charged, l.where = 0, 0
	case e.Proof == LeadProof && (where == 0 || l.stopped):
		return "the short proof was taken where a whole one is owed"
	case e.Proof == LeadProof:
		l.where = 0
	}
	return ""
}

func (l *ledger) elapsed(t Timer) {
	switch t {
	case ProofOver:
		if l.proof != NoProof {
			l.off()
			l.where = 0
		}
	case LiveIdle:
		if l.on != 0 {
			l.lapse(Session)
			l.lapse(Period)
		}
	case DayOver:
		l.lapse(Day)
	case MinWait:
		l.waited = true
	}
}

func (l *ledger) alter(c Class) string {
	l.fact = l.fact.Without(l.p.Voids[c])
	l.query, l.got = 0, 0
	for i, slot := range l.p.Slots {
		if slot.Path != 0 && l.paths[slot.Path] > 0 {
			l.fact = l.fact.Without(slots(i))
		}
	}
	clear(l.paths)
	if l.on != 0 {
		return "something was altered with mains on"
	}
	if l.p.Solder[c] || l.proof != FullProof {
		l.off()
		l.where = 0
	}
	return ""
}

func (l *ledger) mend(e Event) string {
	if l.stopped && l.proof != FullProof && l.on != 0 {
		return "a stop was mended with mains on"
	}
	at := l.stop - 1
	l.stop, l.stopped = 0, false
	if !e.Doubt {
		if fault := l.alter(e.Class); fault != "" {
			return fault
		}
	}
	if at < 0 {
		return ""
	}
	if !e.Doubt && l.p.Voids[e.Class] != (Facts{}) {
		delete(l.needs, at)
		return ""
	}
	l.needs[at] = 2
	if l.p.supply(at).Energised() {
		l.fact = l.fact.Without(energised(l.p))
	}
	return ""
}

// compare holds the engine's state after a step against the ledger.
func (l *ledger) compare(before, s State) string {
	for i, slot := range l.p.Slots {
		if slot.From.Without(l.fact).And(before.Held.Without(s.Held)) != (Facts{}) {
			l.fact = l.fact.Without(slots(i)) // computed from what no longer counts
		}
	}
	if i, j := Cursor(l.p, before), Cursor(l.p, s); i < 0 || j < 0 || l.p.Slots[i].Line != l.p.Slots[j].Line {
		l.waited = l.waited && i == j // it was for that line
	}
	if extra := s.Held.Without(l.fact); extra != (Facts{}) {
		return fmt.Sprintf("%v is held without a reading that counts", extra)
	}
	if s.Supply.Energised() != (l.on != 0) && !(s.Mode == LeftOn && l.on != 0) {
		return "mains is on for one and off for the other"
	}
	if l.on != 0 && s.Supply != Dead && Next(l.p, s).Act != Unplug && s.Mode != Working {
		return "mains is on, and nobody is told to switch it off"
	}
	if s.Clip != l.clip {
		return "a shorting clip is on for one and off for the other"
	}
	if s.Supply == Dead && l.proof < LeadProof {
		return "dead without a proof"
	}
	if l.charged&^s.Unproved != 0 && s.Supply == Dead && s.Proof == FullProof {
		return "a charged node is forgotten"
	}
	for path, n := range l.paths {
		if path == 0 || n == 0 || s.Standing&path != 0 {
			continue
		}
		for i, slot := range l.p.Slots {
			if slot.Path == path && s.Held.Has(i) && slot.Life != Period {
				return "an open query is forgotten, and facts of its path stand"
			}
		}
		delete(l.paths, path)
	}
	return ""
}

// The ledger itself must notice: here it is told what no Step would take.
func TestTheLedgerNoticesWhatMustNotBeTaken(t *testing.T) {
	p := toy()
	bench := State{}
	atInsulation := State{Held: slots(tool)}
	atJoint := State{Held: slots(tool, insulation, coupling)}
	atHold := State{Held: slots(tool, insulation, coupling, joint)}
	toIdle := State{Held: slots(tool, insulation, coupling, joint, hold1)}
	for _, c := range []struct {
		want string
		s    State
		es   []Event
	}{
		{"a dead reading was taken in a set that was not proved dead", atInsulation, []Event{read1}},
		{"a live reading was taken without mains on at its leads", toIdle, []Event{read1}},
		{"a full proof was given by its second line alone, or at once", bench, []Event{half, full}},
		{"the short proof was taken where a whole one is owed", bench, []Event{short}},
		{"a slot was accepted that was not read as a query", atInsulation, []Event{{Kind: Accept}}},
		{"a query that concerns a person was accepted", atInsulation, []Event{half, waitOver, full, queried, {Kind: Accept, By: Another}}},
		{"a reading was taken after a stop", bench, []Event{halted, read1}},
		{"mains came on at idle without [23 0 0 0 0]", toIdle, []Event{half, waitOver, full, mainsOn}},
		{"a hold was released in a set that was not proved dead", atHold, []Event{{Kind: Free}}},
		{"a node was proved dead in a set that was not", atJoint, []Event{{Kind: ProveNode, Verdict: Pass}}},
		{"the record was closed on a set that was not safe", bench, []Event{{Kind: Done}}},
	} {
		l := newLedger(p)
		got := ""
		for _, e := range c.es {
			got = l.take(c.s, e)
		}
		if got != c.want {
			t.Errorf("%+v: %q, want %q", c.es, got, c.want)
		}
	}
	l := newLedger(p)
	if got := l.compare(bench, atInsulation); got != "[1 0 0 0 0] is held without a reading that counts" {
		t.Errorf("a fact from nowhere: %q", got)
	}
	if got := l.compare(bench, on(2)); got == "" {
		t.Error("mains from nowhere was not noticed")
	}
}
