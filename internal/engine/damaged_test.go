package engine

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
)

// damage is one way in which the engine could be wrong.
type damage struct {
	name string
	of   func(machine) machine
}

// disorderly is the machine without the order of work, which refuses most of what
// the other gates do, and without its property. Nothing else breaks in it.
func disorderly() machine {
	m := without("INV-09")
	m.properties = slices.DeleteFunc(slices.Clone(properties), func(p Property) bool { return p.ID == "INV-09" })
	return m
}

// dropped is the machine without one gate.
func dropped(id string) damage {
	return damage{"without " + id, func(m machine) machine {
		m.gates = slices.DeleteFunc(slices.Clone(m.gates), func(g Gate) bool { return g.ID == id })
		return m
	}}
}

// weaker has a gate that lets through what passes says.
func weaker(id, name string, passes func(*Procedure, *State, Event) bool) damage {
	return damage{id + " passes " + name, func(m machine) machine {
		m.gates = slices.Clone(m.gates)
		for k, g := range m.gates {
			if g.ID == id {
				m.gates[k].Refuses = func(p *Procedure, s *State, e Event) bool { return g.Refuses(p, s, e) && !passes(p, s, e) }
			}
		}
		return m
	}}
}

// wrong has another outcome of an event.
func wrong(name string, after func(p *Procedure, s State, e Event, n State) State) damage {
	return damage{name, func(m machine) machine {
		m.apply = func(p *Procedure, s State, e Event) State { return after(p, s, e, apply(p, s, e)) }
		return m
	}}
}

// onKind gives n changed where the event is of a kind.
func onKind(kind Kind, name string, change func(p *Procedure, s State, e Event, n *State)) damage {
	return wrong(name, func(p *Procedure, s State, e Event, n State) State {
		if e.Kind == kind {
			change(p, s, e, &n)
		}
		return n
	})
}

func gateDamages() []damage {
	var all []damage
	for _, g := range gates {
		all = append(all, dropped(g.ID))
	}
	crit := func(c Crit) func(*Procedure, *State, Event) bool {
		return func(p *Procedure, s *State, _ Event) bool { i := cursor(p, s); return i >= 0 && p.Slots[i].Crit == c }
	}
	kind := func(k Kind) func(*Procedure, *State, Event) bool {
		return func(_ *Procedure, _ *State, e Event) bool { return e.Kind == k }
	}
	return append(all,
		weaker("INV-01", "mains when one fact is missing", func(p *Procedure, s *State, e Event) bool {
			missing := p.Blocks[target(p, s)].Gate.Without(s.Held)
			for i := range missing.each {
				return missing == slots(i)
			}
			return true
		}),
		weaker("INV-03", "readings of class E", crit(E)),
		weaker("INV-03", "accepting in a set that was proved for a lead move", func(_ *Procedure, s *State, _ Event) bool { return s.Supply == Dead }),
		weaker("INV-04", "the second line at once", func(_ *Procedure, s *State, _ Event) bool { return s.Proof == HalfProof }),
		weaker("INV-04", "the second line alone", func(_ *Procedure, s *State, _ Event) bool { return s.Waited }),
		weaker("INV-04", "the short proof after a stop", func(_ *Procedure, s *State, _ Event) bool { return s.Block > 0 }),
		weaker("INV-08", "mains", kind(Power)),
		weaker("INV-08", "the next dead test", kind(Read)),
		weaker("INV-12", "mains", kind(Power)),
		weaker("INV-12", "readings", kind(Read)),
		weaker("INV-12", "a repair before it is made safe", kind(Mend)),
		weaker("INV-13", "accepting in a stop", func(_ *Procedure, s *State, _ Event) bool { return s.Queried || s.Mode != Working }),
		weaker("INV-13", "what was not read as a query", func(_ *Procedure, s *State, _ Event) bool { return s.Mode == Working }),
		weaker("INV-13", "one reading in doubt, without a second", func(p *Procedure, s *State, e Event) bool { return e.Kind == Accept && s.Queried }),
		weaker("INV-18", "a repair", kind(Mend)),
		weaker("INV-18", "an alteration", kind(Alter)),
		weaker("INV-20", "readings", kind(Read)),
		weaker("INV-22", "a sixth", func(_ *Procedure, s *State, _ Event) bool { return true }),
		weaker("INV-23", "a person's, by somebody else", func(p *Procedure, s *State, e Event) bool { return e.By == Another }),
		weaker("INV-23", "a gate's, by the one who measured", crit(G)),
		weaker("INV-23", "leaving what is queried", kind(Leave)),
		weaker("INV-24", "a hold over a charged node", func(_ *Procedure, s *State, _ Event) bool { return s.proved() }),
		weaker("INV-35", "mains before the valves are cold", kind(Power)),
		weaker("INV-35", "a reading before its wait", kind(Read)),
		weaker("INV-35", "leaving before the wait", kind(Leave)),
		weaker("INV-36", "closing with something owed", func(_ *Procedure, s *State, _ Event) bool { return s.proved() && s.Unproved == 0 }),
		weaker("INV-36", "closing a set that is not proved", func(p *Procedure, s *State, _ Event) bool { return cursor(p, s) < 0 }),
		weaker("INV-37", "a gate's reading left", crit(G)),
		weaker("INV-37", "what the procedure needs left", crit(E)),
		weaker("INV-37", "any part counted as lacking", func(_ *Procedure, _ *State, e Event) bool { return e.Absent }),
		weaker("INV-44", "mains under a clip", kind(Power)),
		weaker("INV-44", "the HT line read under a clip", kind(Read)),
		weaker("INV-44", "a clip put on in a set that is not proved", kind(ClipOn)),
		weaker("INV-44", "closing under a clip", kind(Done)),
		weaker("INV-48", "a lead moved within a stage", func(p *Procedure, s *State, _ Event) bool {
			return s.Block > 0 && p.Blocks[s.Block-1].Stage == p.Blocks[target(p, s)].Stage
		}),
		weaker("INV-48", "a set that was unplugged", func(_ *Procedure, s *State, _ Event) bool { return s.Supply == Unknown }),
	)
}

func outcomeDamages() []damage {
	return []damage{
		onKind(Read, "a query is held at once", func(p *Procedure, s State, e Event, n *State) {
			if e.Verdict == Query && n.Queried {
				*n = pass(p, s, cursor(p, &s))
			}
		}),
		onKind(Read, "a stop is read again", func(_ *Procedure, s State, _ Event, n *State) {
			if n.Mode != s.Mode {
				*n = s
			}
		}),
		onKind(Read, "a stop is a query", func(_ *Procedure, s State, _ Event, n *State) {
			if n.Mode != s.Mode {
				*n = s
				n.Queried = true
			}
		}),
		onKind(Read, "a stop leaves the releases", func(_ *Procedure, s State, _ Event, n *State) {
			if n.Mode != s.Mode {
				n.Held = s.Held
			}
		}),
		onKind(Read, "a stop is safe at once", func(_ *Procedure, s State, _ Event, n *State) {
			if n.Mode == MakeSafe {
				n.Mode = Stopped
			}
		}),
		onKind(Read, "a second query on a path is one more", func(p *Procedure, s State, e Event, n *State) {
			if e.Verdict == Query && n.Mode != s.Mode {
				*n = s
				n.Queried = true
			}
		}),
		onKind(Read, "what is in doubt passes once", func(p *Procedure, s State, _ Event, n *State) {
			if n.Again {
				*n = pass(p, s, cursor(p, &s))
			}
		}),
		onKind(Read, "a charged node is forgotten", func(_ *Procedure, s State, _ Event, n *State) { n.Unproved, n.Line = s.Unproved, s.Line }),
		onKind(Read, "the next reading is held too", func(p *Procedure, s State, e Event, n *State) {
			if e.Verdict == Pass {
				n.Held = n.Held.With(min(cursor(p, &s)+1, len(p.Slots)-1))
			}
		}),
		onKind(Accept, "an accepted query is not counted", func(_ *Procedure, s State, _ Event, n *State) { n.Standing = s.Standing }),
		onKind(Accept, "an accepted query gives what a pass gives", func(p *Procedure, s State, _ Event, n *State) { *n = pass(p, *n, cursor(p, &s)) }),
		onKind(Accept, "an accepted query goes to the next reading too", func(p *Procedure, s State, _ Event, n *State) {
			n.Held = n.Held.With(min(cursor(p, &s)+1, len(p.Slots)-1))
		}),
		onKind(Leave, "what was left is held", func(p *Procedure, s State, _ Event, n *State) { n.Held, n.Unread = n.Held.Or(n.Unread), Facts{} }),
		onKind(Off, "the plug out is dead", func(_ *Procedure, _ State, _ Event, n *State) { n.Supply, n.Proof, n.Block = Dead, FullProof, 0 }),
		onKind(Off, "the plug out ends a stop", func(_ *Procedure, _ State, _ Event, n *State) { n.Mode = Working }),
		onKind(Prove, "half a proof is a whole one", func(_ *Procedure, _ State, _ Event, n *State) {
			if n.Proof == HalfProof {
				n.Supply, n.Proof, n.Block = Dead, FullProof, 0
			}
		}),
		onKind(Prove, "a proof that failed counts", func(p *Procedure, s State, e Event, n *State) {
			e.Verdict = Pass
			*n = prove(p, s, e)
		}),
		onKind(Prove, "a proof in its middle leaves the leads where they were", func(_ *Procedure, s State, _ Event, n *State) {
			if n.Block == Moved {
				n.Block = s.Block
			}
		}),
		onKind(Prove, "a proof ends a stop", func(_ *Procedure, _ State, _ Event, n *State) { n.Mode = Working }),
		onKind(Prove, "the short proof reads charged nodes too", func(_ *Procedure, _ State, e Event, n *State) {
			if e.Proof == LeadProof && e.Verdict == Pass {
				n.Unproved, n.Line = 0, 0
			}
		}),
		onKind(ProveNode, "a node that was not dead is", func(_ *Procedure, s State, _ Event, n *State) { *n = s; n.Unproved, n.Line = 0, 0 }),
		onKind(Power, "mains leaves the proof", func(_ *Procedure, s State, _ Event, n *State) { n.Proof = s.Proof }),
		onKind(Power, "mains comes on at the next block", func(p *Procedure, _ State, _ Event, n *State) { n.Block = min(n.Block+1, len(p.Blocks)) }),
		onKind(Power, "mains comes on without the lamp", func(_ *Procedure, _ State, _ Event, n *State) { n.Supply = Full }),
		onKind(Elapsed, "a proof has no end", func(_ *Procedure, s State, e Event, n *State) {
			if e.Timer == ProofOver {
				*n = s
			}
		}),
		onKind(Elapsed, "mains may be left on", func(_ *Procedure, s State, e Event, n *State) {
			if e.Timer == LiveIdle {
				*n = s
			}
		}),
		onKind(Elapsed, "a day has no end", func(_ *Procedure, s State, e Event, n *State) {
			if e.Timer == DayOver {
				*n = s
			}
		}),
		wrong("a wait is over at once", func(_ *Procedure, _ State, _ Event, n State) State { n.Waited = true; return n }),
		onKind(Alter, "an alteration voids nothing", func(_ *Procedure, s State, _ Event, n *State) { n.Held = s.Held }),
		onKind(Alter, "an alteration leaves the proof", func(_ *Procedure, s State, _ Event, n *State) {
			n.Supply, n.Proof, n.Block = s.Supply, s.Proof, s.Block
		}),
		onKind(Alter, "an alteration leaves the open queries' paths", func(_ *Procedure, s State, _ Event, n *State) { n.Standing = 0; n.Held = s.Held }),
		onKind(Mend, "a repair voids nothing", func(_ *Procedure, s State, _ Event, n *State) { n.Held = s.Held }),
		onKind(Mend, "a stop without a cause is forgotten", func(_ *Procedure, s State, _ Event, n *State) { n.Doubt, n.Wary = s.Doubt, s.Wary }),
		onKind(Interrupt, "an interruption leaves the set dead", func(_ *Procedure, s State, _ Event, n *State) { n.Supply, n.Proof = s.Supply, s.Proof }),
		onKind(Interrupt, "an interruption leaves what was of its session", func(_ *Procedure, s State, _ Event, n *State) { n.Held = s.Held }),
		onKind(Interrupt, "an interruption ends a stop", func(_ *Procedure, _ State, _ Event, n *State) { n.Mode = Working }),
		onKind(Abort, "the stop key leaves the set as it was", func(_ *Procedure, s State, _ Event, n *State) { *n = s }),
		onKind(Retract, "what was taken back stays", func(_ *Procedure, s State, _ Event, n *State) { n.Held = s.Held }),
		onKind(Retract, "what was taken back leaves the later releases", func(p *Procedure, s State, _ Event, n *State) { n.Held = n.Held.Or(s.Held.And(p.AfterStop)) }),
		onKind(ClipOn, "a clip is forgotten", func(_ *Procedure, _ State, _ Event, n *State) { n.Clip = false }),
		onKind(ClipOff, "a clip is off whatever the line reads", func(_ *Procedure, _ State, _ Event, n *State) { n.Clip = false }),
	}
}

// unseen are the damages that nothing sees, with the reason why they hurt nobody.
// Every other one breaks a property or the order of work somewhere in the
// exploration of a small procedure, or the ledger, which goes by what happened at
// the bench, says no on a walk.
var unseen = map[string]string{
	"without INV-01": "no procedure that is sound owes a reading behind mains before all of its gate is held; of one that is not, see pairs",
	"INV-01 passes mains when one fact is missing": "as without it",
	"INV-18 passes a repair":                       "a stop is made safe first (INV-12) and mains that was left on is off first (INV-20)",
	"the short proof reads charged nodes too":      "mains never comes on over one, and a test charges only in a set proved for hands: the short proof never meets one",
}

func TestNoDamageToTheEngineGoesUnseen(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	all := append(gateDamages(), outcomeDamages()...)
	caught := 0
	for _, d := range all {
		t.Run(d.name, func(t *testing.T) {
			by := d.seenBy()
			t.Log(by)
			switch why, ok := unseen[d.name]; {
			case by != "":
				caught++
				if ok {
					t.Errorf("it is seen, and stands among what is not: %s", why)
				}
			case !ok:
				t.Error("nothing sees it")
			}
		})
	}
	t.Logf("%d of %d damages seen", caught, len(all))
	if 100*caught < 95*len(all) {
		t.Errorf("under 95 %%")
	}
}

func TestWithoutDamageNothingIsSeen(t *testing.T) {
	if by := (damage{"none", func(m machine) machine { return m }}).seenBy(); by != "" {
		t.Error(by)
	}
}

// seenBy tells what says no to the damaged machine first; empty: nothing.
func (d damage) seenBy() (by string) {
	defer func() {
		if r := recover(); r != nil {
			by = fmt.Sprint("it panics: ", r)
		}
	}()
	walked := []func() *Procedure{toy, smallToy, noHold, manyQueries, clipToy, givesToy}
	for seed := range uint64(2000) {
		if err := astrayFrom(d.of(whole), walked[seed%uint64(len(walked))](), seed); err != nil {
			return fmt.Sprintf("a walk: %.110v", err)
		}
	}
	for k, u := range undamaged() {
		if by := says(d.of(u.m), u.p); by != u.says {
			return fmt.Sprintf("exploration %d: %s", k, by)
		}
	}
	return ""
}

// undamaged is what explorations of small procedures find without any damage: of
// the careless ones that the work comes to no end.
var undamaged = sync.OnceValue(func() (all []found) {
	for _, p := range []*Procedure{noHold(), manyQueries(), clipToy(), givesToy(), carelessGate(), carelessHold()} {
		for _, m := range []machine{whole, disorderly()} {
			all = append(all, found{m, p, says(m, p)})
		}
	}
	return all
})

type found struct {
	m    machine
	p    *Procedure
	says string
}

func says(m machine, p *Procedure) string {
	scope := everything(p)
	scope.Doubt = len(p.Slots) < 6
	if _, err := m.explore(p, scope, mostPlaces); err != nil {
		return err.Error()
	}
	return ""
}

// clipToy has a line that a clip may short, and a reading that may be left after
// a wait, at other leads of the same stage.
func clipToy() *Procedure {
	p := toy()
	p.Slots[coldPeak].Optional, p.Slots[coldPeak].Wait = true, true
	p.Blocks[8].Lead = 8
	return only(p, coupling, hold1, idleLamp, fullHT, coldPeak)
}

// givesToy has a reading that gives another.
func givesToy() *Procedure { return only(toy(), insulation, idleLamp, rung60, look) }

// strays are what somebody may do in a row.
var strays = [][]Event{
	{waitOver, queried},
	{waitOver, queried, {Kind: Accept}},
	{waitOver, queried, {Kind: Accept, By: Another}},
	{waitOver, queried, {Kind: Agree}, {Kind: Accept}},
	{waitOver, queried, {Kind: Leave}},
	{{Kind: ClipOn}, {Kind: ClipOff, Verdict: Stop}},
}

// astrayFrom walks through p from nothing known, half of the events beside the
// order of work.
func astrayFrom(m machine, p *Procedure, seed uint64) error {
	rnd := rand.New(rand.NewPCG(seed, 1))
	w, all := &walk{m: m, p: p, l: newLedger(p)}, events(p)
	for range 120 {
		es := Answers(p, w.s)
		switch rnd.IntN(6) {
		case 0, 1:
			es = []Event{all[rnd.IntN(len(all))]}
		case 2:
			es = strays[rnd.IntN(len(strays))]
		}
		for _, e := range es {
			if err := w.send(e); err != nil {
				return err
			}
		}
	}
	return nil
}
