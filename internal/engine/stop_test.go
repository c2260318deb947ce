package engine

import "testing"

// atIdle is the toy with mains on through the lamp, about to be read.
func atIdle(t *testing.T, p *Procedure) State {
	t.Helper()
	return upTo(t, p, reading(p, idleVolts))
}

func wantAct(t *testing.T, p *Procedure, s State, want Act) {
	t.Helper()
	if got := Next(p, s).Act; got != want {
		t.Errorf("next act is %d, want %d, in %+v", got, want, s)
	}
}

func TestAStopWithMainsOnIsUnpluggedProvedAndRepaired(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung25)), halted)
	for _, step := range []struct {
		act  Act
		then []Event
	}{
		{Unplug, []Event{plugOut}},
		{ProveFull, []Event{half}},
		{ProveSecond, []Event{waitOver, full}},
		{Repair, nil},
	} {
		wantAct(t, p, s, step.act)
		s = do(t, p, s, step.then...)
	}
	if todo := Next(p, s); todo.Slot != rung25 {
		t.Errorf("the repair is of slot %d, want the one that stopped", todo.Slot)
	}
	if s.Held.And(p.AfterStop) != (Facts{}) {
		t.Error("a release or a look through the lamp outlived the stop")
	}
}

func TestAStopIsMadeSafeUnlessTheSetIsProvedDeadForHands(t *testing.T) {
	p := toy()
	inDead := upTo(t, p, reading(p, insulation))
	for _, c := range []struct {
		name string
		s    State
		want Act
	}{
		{"on the bench, nothing proved", State{}, ProveFull},
		{"proved dead, nothing charged", do(t, p, upTo(t, p, reading(p, joint))), Repair},
		{"proved dead, and the test that stopped has charged a node", inDead, ProveFull},
		{"on the bench, by a proof for lead moves", State{Supply: Dead, Proof: LeadProof}, ProveFull},
	} {
		t.Run(c.name, func(t *testing.T) { wantAct(t, p, do(t, p, c.s, halted), c.want) })
	}
}

func TestWhatIsNoVerdictIsAStop(t *testing.T) {
	p := toy()
	if s := do(t, p, atIdle(t, p), Event{Kind: Read, Verdict: Pass + 1}); s.Mode != MakeSafe {
		t.Errorf("a verdict nobody knows gave %+v", s)
	}
	if s := do(t, p, atIdle(t, p), Event{Kind: Read}); s.Mode != MakeSafe {
		t.Errorf("a verdict nobody set gave %+v", s)
	}
}

func TestAClassNobodyKnowsCountsAsAPersons(t *testing.T) {
	p := toy()
	p.Slots[coupling].Crit = E + 1
	s := do(t, p, upTo(t, p, reading(p, coupling)), queried, Event{Kind: Agree})
	if n, err := Step(p, s, Event{Kind: Accept, By: Another}); err == nil {
		t.Errorf("accepted: %+v", n)
	}
}

func TestAStopWithoutACauseMustPassTwiceRunning(t *testing.T) {
	p := toy()
	s := goOnTo(t, p, do(t, p, upTo(t, p, reading(p, joint)), halted, noContact), reading(p, joint))
	s.Standing = pathMains // of something else
	once := do(t, p, s, read1)
	if once.Held.Has(joint) || Cursor(p, once) != joint {
		t.Fatalf("one pass was enough: %+v", once)
	}
	if twice := do(t, p, once, read1); !twice.Held.Has(joint) || twice.Doubt != 0 || twice.Standing != pathOutput|pathMains {
		t.Errorf("two passes give %+v, want it held and counted as a query", twice)
	}
	if s := do(t, p, once, queried, read1); s.Held.Has(joint) {
		t.Error("a query between two passes, and they counted as running")
	}
	if s := do(t, p, once, lapsed, half, waitOver, full, read1); s.Held.Has(joint) {
		t.Error("the proof lapsed between two passes, and they counted as running")
	}
}

// TestWhatStoppedMayProveAQuery: else a lead that slipped would end the session
// of a set whose good part is a query by a sheet that does not know better.
func TestWhatStoppedMayProveAQuery(t *testing.T) {
	p := toy()
	s := goOnTo(t, p, do(t, p, upTo(t, p, reading(p, joint)), halted, noContact), reading(p, joint))
	s = do(t, p, s, Event{Kind: Read, Verdict: Query, Weak: true})
	if n, err := Step(p, s, Event{Kind: Accept, By: Another}); err == nil {
		t.Errorf("accepted on one reading: %+v", n)
	}
	s = do(t, p, s, Event{Kind: Agree}, Event{Kind: Accept})
	if !s.Held.Has(joint) || s.Doubt != 0 || s.Standing != pathOutput {
		t.Errorf("on two readings that agree %+v, want it held and counted as a query", s)
	}
}

func TestTheFirstOfTwoPassesOfATestThatChargesLeavesItsNodeCharged(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, coupling)), halted, half, waitOver, full, noContact)
	s = do(t, p, goOnTo(t, p, s, reading(p, coupling)), read1)
	if s.Unproved != nodeHT || Next(p, s).Act != Enter {
		t.Errorf("after one pass %+v, want the node charged and the same line to go on", s)
	}
}

func TestAStopWithoutACauseWithMainsOnSendsBackToTheFirstEnergisedStep(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung25)), halted, plugOut, half, waitOver, full, noContact)
	if s.Held.And(energised(p)) != (Facts{}) || !s.Held.Has(coupling) {
		t.Errorf("held after it: %v", s.Held)
	}
}

func TestTwoStopsInDoubtAtOnceMakeEverythingBeforeTheLaterPassTwice(t *testing.T) {
	p := toy()
	mended := []Event{halted, plugOut, half, waitOver, full, noContact}
	s := do(t, p, upTo(t, p, reading(p, rung25)), mended...)
	s = do(t, p, goOnTo(t, p, s, reading(p, idleLamp)), mended...)
	if s.Doubt != rung25+1 || !s.Wary {
		t.Fatalf("after two: %+v", s)
	}
	if !InDoubt(p, &s, rung25) || InDoubt(p, &s, rung60) || InDoubt(p, &s, hold1) {
		t.Error("not the slots up to the later, and no hold")
	}
	s = goOnTo(t, p, s, reading(p, heater))
	if n := do(t, p, s, read1); n.Held.Has(heater) {
		t.Error("a reading between the two passed once only")
	}
	s = goOnTo(t, p, s, Todo{Act: Enter, Slot: rung60, Block: 4})
	if s.Wary || s.Doubt != 0 {
		t.Errorf("still wary when the later has passed twice: %+v", s)
	}
}

func TestARepairOfTheNewerStopLeavesTheOlderInDoubt(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung25)), halted, plugOut, half, waitOver, full, noContact)
	s = do(t, p, goOnTo(t, p, s, reading(p, heater)), halted, plugOut, half, waitOver, full, Event{Kind: Mend, Class: valveChanged})
	if s.Doubt != rung25+1 || s.Wary {
		t.Errorf("after a repair: %+v", s)
	}
}

func TestARepairLetsTheSlotPassOnce(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung25)), halted, plugOut, half, waitOver, full, Event{Kind: Mend, Class: valveChanged})
	if s.Doubt != 0 || s.Held.Has(heater) || !s.Held.Has(idleLamp) {
		t.Errorf("after a repair: %+v", s)
	}
	s = do(t, p, goOnTo(t, p, s, reading(p, rung25)), read1)
	if !s.Held.Has(rung25) {
		t.Error("once was not enough")
	}
}

func TestARepairEndsAnOlderDoubtOfTheSameSlot(t *testing.T) {
	p := toy()
	s := goOnTo(t, p, do(t, p, upTo(t, p, reading(p, joint)), halted, noContact), reading(p, joint))
	s = do(t, p, s, halted, Event{Kind: Mend, Class: couplingChanged})
	if s.Doubt != 0 {
		t.Errorf("still in doubt: %+v", s)
	}
}

func TestARepairThatVoidsNothingIsNone(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, joint)), halted, Event{Kind: Mend, Class: nothing})
	if s.Doubt != joint+1 {
		t.Errorf("after it: %+v", s)
	}
}

func TestNoReadingGivesASlotInDoubt(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung60)), waitOver, read1)
	if !s.Held.Has(look) {
		t.Fatal("the rung did not give the look")
	}
	s.Held = s.Held.Without(slots(rung60, look))
	s.Doubt = look + 1
	if s = do(t, p, s, waitOver, read1); s.Held.Has(look) || !s.Held.Has(rung60) {
		t.Errorf("given in doubt: %v", s.Held)
	}
}

func TestAStopIsToldAgainByItsRepairOnlyAfterARestart(t *testing.T) {
	p := toy()
	stopped := do(t, p, upTo(t, p, reading(p, joint)), halted)
	s := do(t, p, stopped, Event{Kind: Interrupt})
	wantAct(t, p, s, Repair)
	s = do(t, p, s, Event{Kind: Mend, Class: couplingChanged})
	if s.Held.Has(coupling) || s.Mode != Working {
		t.Errorf("after the repair: %+v", s)
	}
	if s = goOnTo(t, p, s, reading(p, insulation)); !s.proved() {
		t.Error("a dead test was due without a whole proof")
	}
}

// A part that the set turns out not to have cannot pass twice.
func TestAPartThatIsNotThereEndsItsDoubt(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, joint)), halted, Event{Kind: Mend, Doubt: true}, Event{Kind: Leave, Absent: true})
	if !s.Held.Has(joint) || s.Doubt != 0 || s.Standing != 0 {
		t.Errorf("%+v", s)
	}
	if n, err := Step(p, do(t, p, upTo(t, p, reading(p, joint)), halted, Event{Kind: Mend, Doubt: true}), Event{Kind: Leave}); err == nil {
		t.Errorf("it was left unread: %+v", n)
	}
}
