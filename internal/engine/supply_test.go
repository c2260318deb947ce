package engine

import "testing"

func TestTheWholeWorkInItsOrder(t *testing.T) {
	p := toy()
	want := []Todo{
		{Enter, tool, 0},
		{ProveFull, insulation, 1},
		{ProveSecond, insulation, 1},
		{Enter, insulation, 1},
		{Enter, coupling, 1},
		{ProveNodes, joint, 1},
		{Enter, joint, 1},
		{Release, hold1, 1},
		{SwitchOn, idleVolts, 2},
		{Enter, idleVolts, 2},
		{Enter, idleLamp, 2},
		{ProveLead, heater, 3},
		{SwitchOn, heater, 3},
		{Enter, heater, 3},
		{ProveLead, rung25, 4},
		{SwitchOn, rung25, 4},
		{Enter, rung25, 4},
		{Enter, rung60, 4},
		{ProveFull, hold2, 6},
		{ProveSecond, hold2, 6},
		{Release, hold2, 6},
		{SwitchOn, fullVolts, 7},
		{Enter, fullVolts, 7},
		{Enter, fullHT, 7},
		{Enter, drop, 7},
		{SwitchOn, coldPeak, 8},
		{Enter, coldPeak, 8},
		{ProveFull, -1, 0},
		{ProveSecond, -1, 0},
		{Finish, -1, 0},
		{Nothing, -1, 0},
	}
	s := State{}
	for n, todo := range want {
		if got := Next(p, s); got != todo {
			t.Fatalf("act %d is %+v, want %+v", n, got, todo)
		}
		var err error
		if s, err = pass1(p, s); err != nil {
			t.Fatal(err)
		}
	}
	if s.Mode != Closed {
		t.Errorf("it ends in %+v", s)
	}
}

func TestMainsLeftOnWithoutAnEntryIsSwitchedOffFirst(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung60)), idle)
	if s.Supply != Unknown || s.Held.Has(tool) || s.Held.Has(hold1) || s.Held.Has(rung25) || !s.Held.Has(heater) {
		t.Errorf("want what an interruption forgets forgotten: %+v", s)
	}
	wantAct(t, p, s, Unplug)
	wantAct(t, p, do(t, p, s, half), ProveSecond)
	wantAct(t, p, do(t, p, s, Event{Kind: Prove, Proof: HalfProof}), Unplug)
	s = do(t, p, s, plugOut)
	wantAct(t, p, s, ProveFull)
	s = do(t, p, s, half, waitOver, full)
	if s.Mode != Working || Next(p, s) != reading(p, tool) {
		t.Errorf("after a whole proof: %+v", s)
	}
}

func TestAStopIsStillToBeUnpluggedAfterHalfAnHour(t *testing.T) {
	p := toy()
	s := do(t, p, atIdle(t, p), halted, idle)
	if s.Mode != MakeSafe {
		t.Errorf("the stop is gone: %+v", s)
	}
	wantAct(t, p, s, Unplug)
}

func TestARestartAfterMainsWasLeftOnIsAnyRestart(t *testing.T) {
	p := toy()
	s := do(t, p, atIdle(t, p), idle, Event{Kind: Interrupt})
	if s.Mode != Working || s.Supply != Unknown || s.Block != 0 {
		t.Errorf("%+v", s)
	}
}

func TestAnIdleDeadlineWithoutMainsChangesNothing(t *testing.T) {
	p := toy()
	for _, e := range []Event{idle, lapsed} {
		if s := do(t, p, State{}, e); s != (State{}) {
			t.Errorf("%+v gave %+v", e, s)
		}
	}
}

func TestAnInterruptionKnowsNothingOfTheSet(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung60)), Event{Kind: Interrupt})
	if s.Supply != Unknown || s.Block != 0 || s.Proof != NoProof {
		t.Errorf("%+v", s)
	}
	if s.Held != slots(insulation, coupling, joint, idleLamp, heater) {
		t.Errorf("held %v: want no fact of the session, and the ramp from its first step", s.Held)
	}
}

func TestABenchCheckWaitsForAProofWhereMainsWasOn(t *testing.T) {
	p := toy()
	p.Slots[tool].Life = Day
	s := do(t, p, atIdle(t, p), dayOver)
	wantAct(t, p, s, ProveLead)
	s = do(t, p, s, plugOut)
	wantAct(t, p, s, ProveLead)
	wantAct(t, p, do(t, p, s, short), Enter)
}

func TestMainsComesBackWithoutAProofOnlyAtTheSameLeads(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, idleLamp)), plugOut)
	wantAct(t, p, s, SwitchOn)
	if todo := Next(p, do(t, p, s, mainsOn)); todo != reading(p, idleVolts) {
		t.Errorf("%+v: what belongs to the period is read again with its line", todo)
	}
	s = do(t, p, upTo(t, p, reading(p, idleLamp)), read1, plugOut)
	wantAct(t, p, s, ProveLead)
}

func TestMainsDoesNotComeBackAfterAnAlteration(t *testing.T) {
	p := toy()
	for _, c := range []struct {
		name string
		es   []Event
	}{
		{"with the leads on and nothing proved", []Event{plugOut, {Kind: Alter, Class: nothing}}},
		{"by a proof for lead moves", []Event{short, {Kind: Alter, Class: nothing}}},
		{"soldered, in a set that was proved dead", []Event{half, waitOver, full, {Kind: Alter, Class: couplingChanged}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantAct(t, p, do(t, p, upTo(t, p, reading(p, idleLamp)), c.es...), ProveFull)
		})
	}
}

func TestAFailedProofLeavesTheSetUnknown(t *testing.T) {
	p := toy()
	charged := do(t, p, upTo(t, p, reading(p, insulation)), read1)
	for _, c := range []struct {
		name string
		s    State
		e    Event
	}{
		{"the first line", State{}, Event{Kind: Prove, Proof: HalfProof}},
		{"the second line", do(t, p, State{}, half, waitOver), Event{Kind: Prove, Proof: FullProof}},
		{"the second line alone", State{}, Event{Kind: Prove, Proof: FullProof}},
		{"the short proof, and mains is off", atIdle(t, p), Event{Kind: Prove, Proof: LeadProof}},
		{"a node, which stays charged", charged, Event{Kind: ProveNode, Verdict: Query}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := do(t, p, c.s, c.e)
			if s.Supply != Unknown || s.Proof != NoProof || s.Unproved != c.s.Unproved {
				t.Errorf("%+v", s)
			}
		})
	}
}

func TestTheShortProofReadsNoChargedNode(t *testing.T) {
	p := toy()
	s := with(atIdle(t, p), func(s *State) { s.Unproved, s.Line = nodeHT, 2 })
	if s = do(t, p, s, short); s.Unproved != nodeHT {
		t.Error("the node counts as dead")
	}
	wantAct(t, p, s, ProveFull)
}

func TestOnlyItsOwnLineGoesOnOverAChargedNode(t *testing.T) {
	p := toy()
	p.Slots[joint].Charges = nodeMains // the same node from another line
	s := do(t, p, upTo(t, p, reading(p, insulation)), read1)
	if todo := Next(p, s); todo != reading(p, coupling) {
		t.Errorf("%+v: the line does not go on", todo)
	}
	wantAct(t, p, do(t, p, s, read1), ProveNodes)
}

func TestWhatBelongsToThePeriodIsAskedAgainEvenWhenItWasLeft(t *testing.T) {
	p := toy()
	s := do(t, p, atIdle(t, p), Event{Kind: Leave}, plugOut, mainsOn)
	if Cursor(p, s) != idleVolts {
		t.Errorf("next is slot %d", Cursor(p, s))
	}
}

func TestTheVeryFirstSlotIsLikeAnyOther(t *testing.T) {
	p := only(toy(), insulation, joint)
	if todo := Next(p, State{}); todo != (Todo{ProveFull, 0, 1}) {
		t.Errorf("a dead test first: %+v", todo)
	}
	p = only(toy(), idleVolts, idleLamp)
	if i := Cursor(p, State{}); i != 0 {
		t.Errorf("what belongs to the period first: slot %d", i)
	}
	p = only(toy(), hold1, joint)
	if s := do(t, p, upTo(t, p, reading(p, 0)), Event{Kind: Free}); !s.Held.Has(0) {
		t.Error("a hold first: not released")
	}
	p = only(toy(), joint)
	if s := do(t, p, upTo(t, p, reading(p, 0)), queried, Event{Kind: Agree}, Event{Kind: Accept}); !s.Held.Has(0) {
		t.Error("a query first: not accepted")
	}
	p = only(toy(), tool, insulation)
	p.Slots[0].Wait, p.Slots[1].Wait, p.Slots[1].Line, p.Slots[1].Block = true, true, 0, 0
	if s := do(t, p, State{}, waitOver, read1, read1); !s.Held.Has(1) {
		t.Error("a line that waits first: it waited twice")
	}
}

func TestAWaitStartsAnewWithThePeriodAndWithTheLine(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung60)), waitOver, plugOut, mainsOn)
	if s.Waited {
		t.Error("a wait outlived the period")
	}
	s = do(t, p, upTo(t, p, reading(p, rung25)), waitOver, read1)
	if s.Waited {
		t.Error("the wait before one line counted for the next")
	}
	p.Slots[fullVolts].Wait, p.Slots[fullHT].Wait = true, true
	s = do(t, p, upTo(t, p, reading(p, fullVolts)), waitOver, read1, read1)
	if !s.Held.Has(fullHT) {
		t.Error("a line waited twice")
	}
}
