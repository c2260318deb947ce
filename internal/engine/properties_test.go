package engine

import (
	"errors"
	"testing"
)

// transition is a step that a property must catch, and the change of the state
// after it, or before it, that makes it harmless.
type transition struct {
	id, reason    string
	before, after State
	mended        func(before, after *State)
}

func TestAPropertyCatchesItsBadStepAndNoOther(t *testing.T) {
	p := toy()
	seen := map[string]bool{}
	for _, c := range transitions() {
		t.Run(c.id+" "+c.reason, func(t *testing.T) {
			seen[c.id] = true
			property := propertyOf(t, c.id)
			if property.Holds(p, &c.before, &c.after) {
				t.Errorf("not caught: %+v to %+v", c.before, c.after)
			}
			before, after := c.before, c.after
			c.mended(&before, &after)
			if !property.Holds(p, &before, &after) {
				t.Errorf("caught when harmless: %+v to %+v", before, after)
			}
		})
	}
	for _, property := range Properties() {
		if !seen[property.ID] {
			t.Errorf("%s was not tested", property.ID)
		}
		if property.Sentence == "" {
			t.Errorf("%s says nothing", property.ID)
		}
	}
}

func propertyOf(t *testing.T, id string) Property {
	t.Helper()
	for _, p := range Properties() {
		if p.ID == id {
			return p
		}
	}
	t.Fatalf("there is no property %s", id)
	return Property{}
}

// on is the toy with mains on at block b and everything before it held.
func on(b int) State {
	p := toy()
	s := State{Supply: p.Blocks[b].Supply, Block: b + 1}
	for i, slot := range p.Slots {
		if slot.Block < b {
			s.Held = s.Held.With(i)
		}
	}
	return s
}

// dead is a set proved dead with the slots held.
func dead(held ...int) State {
	return State{Supply: Dead, Proof: FullProof, Held: slots(held...)}
}

// holding is s with more slots held.
func holding(s State, more ...int) State {
	s.Held = s.Held.Or(slots(more...))
	return s
}

func transitions() []transition {
	ready := on(2)
	ready.Supply, ready.Block, ready.Proof = Dead, 0, FullProof
	readyFull := on(7)
	readyFull.Supply, readyFull.Block, readyFull.Proof = Dead, 0, LeadProof
	return append([]transition{
		{"INV-01", "mains without a fact of its gate", ready, with(on(2), func(s *State) { s.Held = s.Held.Without(slots(coupling)) }), func(_, a *State) { a.Held = a.Held.With(coupling) }},
		{"INV-03", "a dead test held in a set nobody proved", State{}, holding(State{}, insulation), func(b, _ *State) { b.Supply, b.Proof = Dead, FullProof }},
		{"INV-03", "a dead test held by a proof for lead moves", State{Supply: Dead, Proof: LeadProof}, dead(insulation), func(b, _ *State) { b.Proof = FullProof }},
		{"INV-04", "dead without a proof", State{}, State{Supply: Dead}, func(_, a *State) { a.Supply = Unknown }},
		{"INV-04", "a proof that does not make dead", dead(), State{Proof: FullProof}, func(_, a *State) { a.Supply = Dead }},
		{"INV-04", "a whole proof without its first line", State{Waited: true}, dead(), func(b, _ *State) { b.Proof = HalfProof }},
		{"INV-04", "a whole proof without the wait", State{Proof: HalfProof}, dead(), func(b, _ *State) { b.Waited = true }},
		{"INV-04", "the short proof where nobody knows what was on", State{}, State{Supply: Dead, Proof: LeadProof}, func(b, _ *State) { b.Block = 3 }},
		{"INV-04", "the short proof after a stop", with(on(2), func(s *State) { s.Mode = MakeSafe }), State{Supply: Dead, Proof: LeadProof}, func(b, _ *State) { b.Mode = Working }},
		{"INV-05", "off taken for dead", on(2), State{Supply: Dead}, func(_, a *State) { a.Supply = Unknown }},
		{"INV-08", "mains over a charged node", with(ready, func(s *State) { s.Unproved = 1 }), on(2), func(b, _ *State) { b.Unproved = 0 }},
		{"INV-08", "a proof that outlives mains", ready, with(on(2), func(s *State) { s.Proof = FullProof }), func(_, a *State) { a.Proof = NoProof }},
		{"INV-08", "another supply than that of its leads", ready, with(on(2), func(s *State) { s.Supply = Full }), func(_, a *State) { a.Supply = Limited }},
		{"INV-09", "a live reading in a dead set", ready, holding(ready, idleLamp), func(b, _ *State) { b.Supply, b.Block = Limited, 3 }},
		{"INV-09", "a live reading with the leads elsewhere", on(3), holding(on(3), rung25), func(b, _ *State) { *b = on(4) }},
		{"INV-09", "a live reading at a block of the same stage", on(7), holding(on(7), coldPeak), func(b, _ *State) { b.Block = 9; b.Held = on(8).Held }},
		{"INV-09", "a live reading after a fact of its gate has lapsed", with(on(2), func(s *State) { s.Held = s.Held.Without(slots(insulation)) }), holding(on(2), idleLamp), func(b, _ *State) { b.Held = b.Held.With(insulation) }},
		{"INV-09", "a reading of another stage given with it", on(2), holding(on(2), idleLamp, heater), func(_, a *State) { a.Held = a.Held.Without(slots(heater)) }},
		{"INV-10", "a rung above one that was not read", on(4), holding(on(4), rung60), func(b, a *State) { a.Held = a.Held.With(rung25) }},
		{"INV-11", "the lamp out before hold 2", with(readyFull, func(s *State) { s.Held = s.Held.Without(slots(hold2)) }), with(on(7), func(s *State) { s.Held = s.Held.Without(slots(hold2)) }), func(b, a *State) { a.Held = a.Held.With(hold2) }},
		{"INV-12", "mains after a stop", with(ready, func(s *State) { s.Mode = Stopped }), with(on(2), func(s *State) { s.Mode = Stopped }), func(b, a *State) { b.Mode, a.Mode = Working, Working }},
		{"INV-12", "mains by a repair", with(ready, func(s *State) { s.Mode = Stopped }), on(2), func(b, _ *State) { b.Mode = Working }},
		{"INV-44", "mains over a clip", with(ready, func(s *State) { s.Clip = true }), on(2), func(b, _ *State) { b.Clip = false }},
		{"INV-44", "the HT line first held under a clip", with(dead(), func(s *State) { s.Clip = true }), holding(with(dead(), func(s *State) { s.Clip = true }), coupling), func(b, _ *State) { b.Clip = false }},
		{"INV-12", "a stop that leaves a hold released", on(3), with(on(3), func(s *State) { s.Mode = MakeSafe }), func(_, a *State) { a.Held = a.Held.Without(slots(hold1)) }},
	}, moreTransitions()...)
}

func moreTransitions() []transition {
	stopped := with(dead(tool), func(s *State) { s.Mode, s.StopAt = Stopped, insulation+1 })
	makeSafe := with(on(2), func(s *State) { s.Mode, s.StopAt = MakeSafe, idleLamp+1 })
	doubt := with(dead(tool), func(s *State) { s.Doubt = insulation + 1 })
	wary := with(dead(tool), func(s *State) { s.Doubt, s.Wary = coupling+1, true })
	left := with(on(2), func(s *State) { s.Mode = LeftOn })
	end := with(dead(), func(s *State) { s.Held = lives(toy(), Session, Lasting) })
	work := func(s *State) { s.Mode = Working }
	again := func(b, _ *State) { b.Again = true }
	return []transition{
		{"INV-13", "a reading between a stop and its repair", stopped, holding(stopped, insulation), func(b, _ *State) { b.Mode = Working }},
		{"INV-13", "left unread while it is made safe", makeSafe, with(makeSafe, func(s *State) { s.Unread = slots(joint) }), func(_, a *State) { a.Unread = Facts{} }},
		{"INV-14", "a stop left before the set is safe", makeSafe, with(makeSafe, work), func(b, _ *State) { b.Mode = Stopped }},
		{"INV-14", "a stop left with its slot held", stopped, with(holding(stopped, insulation), work), func(_, a *State) { a.Held = slots(tool) }},
		{"INV-14", "a slot in doubt held at once", doubt, with(holding(doubt, insulation), func(s *State) { s.Doubt = 0 }), again},
		{"INV-14", "a slot in doubt held on one query", with(doubt, func(s *State) { s.Queried = true }), with(holding(doubt, insulation), func(s *State) { s.Doubt = 0 }), func(b, _ *State) { b.Second = true }},
		{"INV-14", "a doubt forgotten", doubt, with(doubt, func(s *State) { s.Doubt = 0 }), func(_, a *State) { a.Doubt = insulation + 1 }},
		{"INV-14", "a slot before one in doubt held at once, two stops being open", wary, holding(wary, insulation), again},
		{"INV-14", "a doubt forgotten after one pass", with(doubt, func(s *State) { s.Again = true }), with(doubt, func(s *State) { s.Doubt = 0 }), func(_, a *State) { a.Held = a.Held.With(insulation) }},
		{"INV-14", "a stop of the first slot left with it held", with(stopped, func(s *State) { s.StopAt = tool + 1 }), with(stopped, func(s *State) { s.Mode = Working }), func(b, _ *State) { b.StopAt = insulation + 1 }},
		{"INV-14", "the slot behind the one in doubt is free", wary, holding(wary, insulation), func(_, a *State) { a.Held = slots(tool, joint) }},
		{"INV-14", "two stops in doubt become one", wary, with(wary, func(s *State) { s.Wary = false }), func(_, a *State) { a.Wary = true }},
		{"INV-19", "a computed value outlives its reading", dead(fullHT, drop), dead(drop), func(_, a *State) { a.Held = Facts{} }},
		{"INV-20", "a reading while mains was left on", left, holding(left, idleLamp), func(_, a *State) { a.Held = on(2).Held }},
		{"INV-20", "mains elsewhere while it was left on", left, with(left, func(s *State) { s.Block = 4 }), func(_, a *State) { a.Block = 3 }},
		{"INV-20", "working on with mains on", left, with(left, work), func(_, a *State) { a.Supply, a.Block = Unknown, 0 }},
		{"INV-22", "mains over six queries", dead(), with(on(2), func(s *State) { s.Standing = 63 }), func(_, a *State) { a.Standing = 31 }},
		{"INV-22", "a second query waits on a path", dead(tool), with(dead(tool), func(s *State) { s.Queried, s.Standing = true, pathMains }), func(_, a *State) { a.Weak = true }},
		{"INV-23", "a person's reading becomes an open query", dead(tool), with(dead(tool, insulation), func(s *State) { s.Standing = pathMains }), func(_, a *State) { a.Standing = 0 }},
		{"INV-23", "another than the one in doubt", with(dead(tool), func(s *State) { s.Again = true }), with(dead(tool, insulation), func(s *State) { s.Standing = pathMains }), func(b, _ *State) { b.Doubt = insulation + 1 }},
		{"INV-23", "a person's reading in doubt accepted", doubt, with(dead(tool, insulation), func(s *State) { s.Standing = pathMains }), again},
		{"INV-23", "a query that was left", with(dead(tool), func(s *State) { s.Queried = true }), with(dead(tool), func(s *State) { s.Unread = slots(joint) }), func(b, _ *State) { b.Queried = false }},
		{"INV-24", "a hold held in a set nobody proved", State{}, holding(State{}, hold1), func(b, _ *State) { b.Supply, b.Proof = Dead, FullProof }},
		{"INV-08", "the next dead test over a charged node", with(dead(tool), func(s *State) { s.Unproved, s.Line = 1, 2 }), with(dead(tool, joint), func(s *State) { s.Unproved, s.Line = 1, 2 }), func(b, _ *State) { b.Line = 3 }},
		{"INV-44", "a record closed under a clip", with(end, func(s *State) { s.Clip = true }), with(end, func(s *State) { s.Mode = Closed }), func(b, _ *State) { b.Clip = false }},
		{"INV-24", "a hold held over a charged node", with(dead(), func(s *State) { s.Unproved = 1 }), dead(hold1), func(b, _ *State) { b.Unproved = 0 }},
		{"INV-35", "a rung held without its dwell", on(4), holding(on(4), rung25, rung60), func(b, _ *State) { b.Waited = true }},
		{"INV-35", "a rung left unread without its dwell", on(4), with(on(4), func(s *State) { s.Unread = slots(rung60) }), func(b, _ *State) { b.Waited = true }},
		{"INV-35", "a cold start from warm", on(7), on(8), func(b, _ *State) { b.Waited = true }},
		{"INV-36", "closed with something owed", dead(), with(dead(), func(s *State) { s.Mode = Closed }), func(b, _ *State) { b.Held = end.Held }},
		{"INV-36", "closed on a set nobody proved", with(end, func(s *State) { s.Proof = LeadProof }), with(end, func(s *State) { s.Mode = Closed }), func(b, _ *State) { b.Proof = FullProof }},
		{"INV-37", "a gate left unread", dead(tool), with(dead(tool), func(s *State) { s.Unread = slots(coupling) }), func(_, a *State) { a.Unread = slots(joint) }},
		{"INV-37", "a reading left that the procedure needs", dead(tool), with(dead(tool), func(s *State) { s.Unread = slots(coldPeak) }), func(_, a *State) { a.Unread = slots(joint) }},
		{"INV-48", "mains in a set nobody proved", State{}, on(2), func(b, _ *State) { b.Supply = Dead }},
		{"INV-48", "mains straight from a proof that was begun", State{Block: 3, Proof: HalfProof}, on(2), func(b, _ *State) { b.Proof = NoProof }},
		{"INV-48", "mains straight to other leads", on(2), on(3), func(b, _ *State) { b.Block = 4 }},
	}
}

// A rung that stands in the wrong place of the order is caught by its number.
func TestRungsInTheWrongOrderAreStoppedAtTheFirst(t *testing.T) {
	p := toy()
	p.Slots[rung25].Rung, p.Slots[rung60].Rung, p.Slots[look].Rung = 60, 25, 25
	s := do(t, p, upTo(t, p, reading(p, rung25)))
	n, err := Step(p, s, read1)
	var broken *Broken
	if !errors.As(err, &broken) || broken.ID != "INV-10" {
		t.Fatalf("the upper rung was read first: %v", err)
	}
	if err.Error() != "INV-10: an interlock's property was broken; the session is stopped" {
		t.Errorf("it says %q", err)
	}
	if n.Mode != MakeSafe || n.Supply != Raised || n.Block != 5 {
		t.Errorf("not to be made safe with mains on: %+v", n)
	}
}

func TestABrokenPropertyBelievesNothingButThatMainsMayBeOn(t *testing.T) {
	p := toy()
	never := machine{properties: []Property{{"INV-XX", "never", func(*Procedure, *State, *State) bool { return false }}}, apply: apply}
	toIdle := upTo(t, p, Todo{Act: SwitchOn, Slot: idleVolts, Block: 2})
	for _, c := range []struct {
		name   string
		s      State
		e      Event
		supply Supply
		next   Act
	}{
		{"mains was to come on: it may be on", toIdle, mainsOn, Limited, Unplug},
		{"mains was on and stays on, with a query", do(t, p, upTo(t, p, reading(p, idleLamp)), queried), Event{Kind: Agree}, Limited, Unplug},
		{"mains was to go off: it may be on", do(t, p, toIdle, mainsOn), plugOut, Limited, Unplug},
		{"the set was proved dead: it no longer is", upTo(t, p, reading(p, insulation)), read1, Unknown, ProveFull},
	} {
		n, err := never.step(p, c.s, c.e)
		var broken *Broken
		if !errors.As(err, &broken) {
			t.Fatalf("%s: %v", c.name, err)
		}
		released := n.Held.And(p.AfterStop) != Facts{}
		if n.Mode != MakeSafe || n.Supply != c.supply || n.Proof != NoProof || Next(p, n).Act != c.next || released || n.Queried {
			t.Errorf("%s: %+v", c.name, n)
		}
		n = do(t, p, goOnTo(t, p, n, Todo{Act: Repair, Slot: -1, Block: Next(p, n).Block}), noContact)
		if n.Mode != Working || n.Doubt != 0 {
			t.Errorf("%s: not working after the repair: %+v", c.name, n)
		}
	}
}
