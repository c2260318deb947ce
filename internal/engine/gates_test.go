package engine

import (
	"errors"
	"strings"
	"testing"
)

// refusal is one case that a gate refuses, and the change that makes it take
// the same event.
type refusal struct {
	id, says string
	reason   string
	p        *Procedure
	s        State
	e        Event
	mended   func(s *State, e *Event)
}

func TestAGateRefusesItsCaseAndNoOther(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range refusals(t) {
		t.Run(c.id+" "+c.reason, func(t *testing.T) {
			seen[c.id] = true
			gate := gateOf(t, c.id)
			n, err := Step(c.p, c.s, c.e)
			var r Refusal
			if !errors.As(err, &r) {
				t.Fatalf("taken (%v), and %s should refuse", err, c.id)
			}
			if r.ID != c.id || r.Sentence != gate.Sentence || err.Error() != c.id+": "+gate.Sentence {
				t.Errorf("refused by %v, and not by %s", err, c.id)
			}
			if !strings.Contains(r.Sentence, c.says) {
				t.Errorf("%q does not say %q", r.Sentence, c.says)
			}
			if n != c.s {
				t.Errorf("a refusal changed the state to %+v", n)
			}
			s, e := c.s, c.e
			c.mended(&s, &e)
			if gate.Refuses(c.p, &s, e) {
				t.Errorf("still refused when mended: %+v in %+v", e, s)
			}
		})
	}
	for _, g := range Gates() {
		if !seen[g.ID] {
			t.Errorf("%s was not tested", g.ID)
		}
	}
}

func gateOf(t *testing.T, id string) Gate {
	t.Helper()
	for _, g := range Gates() {
		if g.ID == id {
			return g
		}
	}
	t.Fatalf("there is no gate %s", id)
	return Gate{}
}

func refusals(t *testing.T) []refusal {
	t.Helper()
	return append(append(deadRefusals(t), liveRefusals(t)...), stopRefusals(t)...)
}

var (
	read1     = Event{Kind: Read, Verdict: Pass}
	queried   = Event{Kind: Read, Verdict: Query}
	halted    = Event{Kind: Read, Verdict: Stop}
	mainsOn   = Event{Kind: Power}
	plugOut   = Event{Kind: Off}
	waitOver  = Event{Kind: Elapsed, Timer: MinWait}
	lapsed    = Event{Kind: Elapsed, Timer: ProofOver}
	idle      = Event{Kind: Elapsed, Timer: LiveIdle}
	dayOver   = Event{Kind: Elapsed, Timer: DayOver}
	half      = Event{Kind: Prove, Proof: HalfProof, Verdict: Pass}
	full      = Event{Kind: Prove, Proof: FullProof, Verdict: Pass}
	short     = Event{Kind: Prove, Proof: LeadProof, Verdict: Pass}
	noContact = Event{Kind: Mend, Doubt: true}
)

func deadRefusals(t *testing.T) []refusal {
	t.Helper()
	p := toy()
	bench, dead := State{}, upTo(t, p, reading(p, insulation))
	charged := do(t, p, dead, read1, read1)
	boxed := toy()
	boxed.Pins = true
	atHold := upTo(t, p, reading(p, hold1))
	all := lives(p, Period, Lasting)
	return []refusal{
		{"INV-00", "means nothing", "a zero event", p, bench, Event{}, func(_ *State, e *Event) { e.Kind = Off }},
		{"INV-00", "", "an event nobody knows", p, bench, Event{Kind: ClipOff + 1}, func(_ *State, e *Event) { e.Kind = Abort }},
		{"INV-00", "", "a closed record takes nothing", p, State{Mode: Closed}, plugOut, func(s *State, _ *Event) { s.Mode = Working }},
		{"INV-00", "", "a class that no row knows", p, bench, Event{Kind: Alter, Class: 3}, func(_ *State, e *Event) { e.Class = 2 }},
		{"INV-00", "", "a deadline nobody knows", p, bench, Event{Kind: Elapsed, Timer: 4}, func(_ *State, e *Event) { e.Timer = 3 }},
		{"INV-00", "", "a proof of nothing", p, bench, Event{Kind: Prove, Verdict: Pass}, func(_ *State, e *Event) { e.Proof = HalfProof }},
		{"INV-00", "", "a proof of more than all", p, bench, Event{Kind: Prove, Verdict: Pass, Proof: 4}, func(_ *State, e *Event) { e.Verdict = Stop }},
		{"INV-00", "", "half a proof of pins, which have one line", boxed, bench, half, func(_ *State, e *Event) { e.Proof = FullProof }},
		{"INV-00", "", "nothing was charged", p, dead, Event{Kind: ProveNode, Verdict: Pass}, func(s *State, _ *Event) { s.Unproved = 1 }},
		{"INV-00", "", "a hold is not read", p, atHold, read1, func(_ *State, e *Event) { e.Kind = Free }},
		{"INV-00", "", "a reading is not released", p, dead, Event{Kind: Free}, func(_ *State, e *Event) { *e = read1 }},
		{"INV-00", "", "mains for a dead test", p, dead, mainsOn, func(_ *State, e *Event) { *e = read1 }},
		{"INV-00", "", "nothing to agree with", p, dead, Event{Kind: Agree}, func(s *State, _ *Event) { s.Queried = true }},
		{"INV-03", "proved dead", "a dead test in a set nobody proved", p, do(t, p, bench, read1), read1, func(s *State, _ *Event) { s.Supply, s.Proof = Dead, FullProof }},
		{"INV-03", "", "a dead test after the proof has lapsed", p, do(t, p, dead, lapsed), read1, func(s *State, _ *Event) { s.Supply, s.Proof = Dead, FullProof }},
		{"INV-03", "", "a dead test by a proof for lead moves", p, State{Supply: Dead, Proof: LeadProof, Held: slots(tool)}, read1, func(s *State, _ *Event) { s.Proof = FullProof }},
		{"INV-03", "", "a node of a set nobody proved", p, do(t, p, charged, lapsed), Event{Kind: ProveNode, Verdict: Pass}, func(_ *State, e *Event) { e.Verdict = Query }},
		{"INV-03", "", "a part found missing in a set nobody proved", p, do(t, p, upTo(t, p, reading(p, joint)), lapsed), Event{Kind: Leave, Absent: true}, func(_ *State, e *Event) { e.Absent = false }},
		{"INV-04", "after the first", "the second line alone", p, bench, full, func(s *State, _ *Event) { s.Proof, s.Waited = HalfProof, true }},
		{"INV-04", "wait between", "the second line at once", p, do(t, p, bench, half), full, func(s *State, _ *Event) { s.Waited = true }},
		{"INV-04", "short proof", "the short proof where nobody knows what was on", p, bench, short, func(s *State, _ *Event) { s.Block = 3 }},
		{"INV-08", "proved dead before", "another line while a node is charged", p, charged, read1, func(s *State, _ *Event) { s.Unproved = 0 }},
		{"INV-13", "only a query", "accepting what was not read", p, dead, Event{Kind: Accept}, func(s *State, _ *Event) { s.Queried = true }},
		{"INV-23", "never accepted", "a person's query accepted", p, do(t, p, dead, queried), Event{Kind: Accept, By: Another}, func(s *State, _ *Event) { s.Held = s.Held.With(insulation) }},
		{"INV-23", "second reading", "a gate's query accepted by the one who measured", p, do(t, p, dead, read1, queried), Event{Kind: Accept}, func(_ *State, e *Event) { e.By = Another }},
		{"INV-23", "second person", "by a role nobody knows", p, do(t, p, dead, read1, queried), Event{Kind: Accept, By: 2}, func(s *State, _ *Event) { s.Second = true }},
		{"INV-23", "left unanswered", "a query left unread", p, do(t, p, upTo(t, p, reading(p, joint)), queried), Event{Kind: Leave}, func(s *State, _ *Event) { s.Queried = false }},
		{"INV-24", "proved-dead", "a hold in a set nobody proved", p, do(t, p, atHold, lapsed), Event{Kind: Free}, func(s *State, _ *Event) { s.Supply, s.Proof = Dead, FullProof }},
		{"INV-24", "", "a hold over a charged node", p, with(atHold, func(s *State) { s.Unproved, s.Line = 1, 2 }), Event{Kind: Free}, func(s *State, _ *Event) { s.Unproved = 0 }},
		{"INV-36", "proved dead", "closing on a set nobody proved", p, with(dead, func(s *State) { s.Held, s.Proof = all, NoProof }), Event{Kind: Done}, func(s *State, _ *Event) { s.Proof = FullProof }},
		{"INV-36", "nothing owed", "closing with work owed", p, dead, Event{Kind: Done}, func(s *State, _ *Event) { s.Held = all }},
		{"INV-37", "only a reading", "a gate left unread", p, do(t, p, dead, read1), Event{Kind: Leave}, func(s *State, _ *Event) { s.Held = s.Held.With(coupling) }},
	}
}

// with gives s changed by hand.
func with(s State, change func(*State)) State { change(&s); return s }

func liveRefusals(t *testing.T) []refusal {
	t.Helper()
	p := toy()
	toIdle := upTo(t, p, Todo{Act: SwitchOn, Slot: idleVolts, Block: 2})
	on := do(t, p, toIdle, mainsOn)
	clipped := do(t, p, toIdle, Event{Kind: ClipOn})
	toCold := upTo(t, p, Todo{Act: SwitchOn, Slot: coldPeak, Block: 8})
	left := do(t, p, on, idle)
	gate, hold := carelessGate(), carelessHold()
	unread := do(t, gate, upTo(t, gate, Todo{Act: Enter, Slot: 1, Block: 1}), Event{Kind: Leave})
	unreleased := upTo(t, hold, Todo{Act: ProveLead, Slot: 3, Block: 7})
	return []refusal{
		{"INV-01", "every test", "a reading of the gate was left", gate, unread, mainsOn, func(s *State, _ *Event) { s.Held = s.Held.With(1) }},
		{"INV-08", "", "mains over a charged node", p, with(toIdle, func(s *State) { s.Unproved, s.Line = 2, 2 }), mainsOn, func(s *State, _ *Event) { s.Unproved = 0 }},
		{"INV-09", "comes next", "a live reading before mains", p, toIdle, read1, func(_ *State, e *Event) { *e = mainsOn }},
		{"INV-09", "going back", "mains twice", p, on, mainsOn, func(_ *State, e *Event) { *e = plugOut }},
		{"INV-09", "", "a repair where nothing stopped", p, toIdle, Event{Kind: Mend}, func(s *State, _ *Event) { s.Mode = Stopped }},
		{"INV-11", "the lamp stays in", "a hold was never released", hold, do(t, hold, unreleased, short), mainsOn, func(s *State, _ *Event) { s.Held = s.Held.With(2) }},
		{"INV-18", "plug out", "an alteration with mains on", p, on, Event{Kind: Alter}, func(s *State, _ *Event) { s.Supply = Unknown }},
		{"INV-18", "", "an alteration where mains was left on", p, left, Event{Kind: Alter}, func(s *State, _ *Event) { s.Block = 0 }},
		{"INV-20", "left on", "a reading after nobody answered", p, with(left, func(s *State) { s.Held = s.Held.Or(slots(tool, hold1)) }), read1, func(s *State, _ *Event) { s.Mode = Working }},
		{"INV-20", "", "mains again after nobody answered", p, with(toIdle, func(s *State) { s.Mode = LeftOn }), mainsOn, func(s *State, _ *Event) { s.Mode = Working }},
		{"INV-22", "more than five", "mains over a sixth query", p, with(toIdle, func(s *State) { s.Standing = 63 }), mainsOn, func(s *State, _ *Event) { s.Standing = 31 }},
		{"INV-22", "found and repaired", "six queries, and nothing is wrong", p, with(toIdle, func(s *State) { s.Standing = 63 }), noContact, func(_ *State, e *Event) { e.Doubt = false }},
		{"INV-35", "wait", "a rung without its dwell", p, upTo(t, p, reading(p, rung60)), read1, func(s *State, _ *Event) { s.Waited = true }},
		{"INV-35", "", "a rung left unread without its dwell", p, upTo(t, p, reading(p, rung60)), Event{Kind: Leave}, func(s *State, _ *Event) { s.Waited = true }},
		{"INV-35", "", "a cold start from warm", p, toCold, mainsOn, func(s *State, _ *Event) { s.Waited = true }},
		{"INV-44", "shorting clip", "mains over a clip", p, clipped, mainsOn, func(s *State, _ *Event) { s.Clip = false }},
		{"INV-44", "", "the HT line read under a clip", p, with(do(t, p, upTo(t, p, reading(p, coupling))), func(s *State) { s.Clip = true }), read1, func(s *State, _ *Event) { s.Clip = false }},
		{"INV-44", "", "the very first reading under a clip", only(p, coupling, joint), with(dead(), func(s *State) { s.Clip = true }), read1, func(s *State, _ *Event) { s.Clip = false }},
		{"INV-44", "", "a clip in a set nobody proved", p, State{}, Event{Kind: ClipOn}, func(s *State, _ *Event) { s.Supply, s.Proof = Dead, FullProof }},
		{"INV-44", "", "a clip taken off a set nobody proved", p, State{Clip: true}, Event{Kind: ClipOff, Verdict: Pass}, func(s *State, _ *Event) { s.Supply, s.Proof = Dead, FullProof }},
		{"INV-00", "", "a clip that is on already", p, clipped, Event{Kind: ClipOn}, func(s *State, _ *Event) { s.Clip = false }},
		{"INV-00", "", "no clip to take off", p, State{}, Event{Kind: ClipOff}, func(s *State, _ *Event) { s.Clip = true }},
		{"INV-00", "", "taking back what no procedure has", p, State{}, Event{Kind: Retract, Slot: len(p.Slots)}, func(_ *State, e *Event) { e.Slot = 0 }},
		{"INV-00", "", "taking back what is worked out", p, State{}, Event{Kind: Retract, Slot: drop}, func(_ *State, e *Event) { e.Slot = tool }},
		{"INV-00", "", "taking back a hold", p, State{}, Event{Kind: Retract, Slot: hold1}, func(_ *State, e *Event) { e.Slot = tool }},
		{"INV-12", "", "taking back a reading after a stop", p, State{Mode: Stopped, StopAt: 1}, Event{Kind: Retract}, func(s *State, _ *Event) { s.Mode = Working }},
		{"INV-37", "", "left as lacking what every set has", p, upTo(t, p, reading(p, coupling)), Event{Kind: Leave, Absent: true}, func(_ *State, e *Event) { *e = read1 }},
		{"INV-48", "leads move", "mains elsewhere straight from mains", p, with(on, func(s *State) { s.Held = s.Held.With(idleLamp) }), mainsOn, func(s *State, _ *Event) { s.Block = 4 }},
		{"INV-48", "", "mains at the same leads with a proof begun", p, with(toIdle, func(s *State) { s.Supply, s.Proof, s.Block = Unknown, HalfProof, Moved }), mainsOn, func(s *State, _ *Event) { s.Proof, s.Block = NoProof, 3 }},
		{"INV-48", "", "mains in a set nobody proved", p, with(toIdle, func(s *State) { s.Supply, s.Proof = Unknown, NoProof }), mainsOn, func(s *State, _ *Event) { s.Block = 3 }},
	}
}

func stopRefusals(t *testing.T) []refusal {
	t.Helper()
	p := toy()
	live := do(t, p, upTo(t, p, reading(p, idleVolts)), halted)
	safe := do(t, p, live, plugOut, half, waitOver, full)
	dead := upTo(t, p, reading(p, joint))
	doubted := do(t, p, dead, halted, noContact)
	working := func(s *State, _ *Event) { s.Mode = Working }
	return []refusal{
		{"INV-04", "nothing stopped", "the short proof after a stop", p, live, short, working},
		{"INV-12", "made safe", "a repair before the set is safe", p, live, Event{Kind: Mend, Class: 1}, func(s *State, e *Event) { s.Mode = Stopped }},
		{"INV-12", "cause and repair", "a hold after a stop", p, safe, Event{Kind: Free}, working},
		{"INV-12", "", "a reading after a stop", p, with(safe, func(s *State) { s.Held = s.Held.With(hold1) }), read1, working},
		{"INV-12", "", "closing after a stop", p, safe, Event{Kind: Done}, working},
		{"INV-13", "only a query", "accepting after a stop", p, with(do(t, p, dead, halted), func(s *State) { s.Held = s.Held.With(hold1) }), Event{Kind: Accept, By: Another}, func(s *State, e *Event) { s.Mode, s.Queried = Working, true }},
		{"INV-13", "second one that agrees", "a query where a stop stands in doubt", p, do(t, p, goOnTo(t, p, doubted, reading(p, joint)), queried), Event{Kind: Accept, By: Another}, func(s *State, _ *Event) { s.Second = true }},
		{"INV-13", "never left", "leaving what stopped", p, goOnTo(t, p, doubted, reading(p, joint)), Event{Kind: Leave}, func(s *State, _ *Event) { s.Doubt = 0 }},
	}
}
