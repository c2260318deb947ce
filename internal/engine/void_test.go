package engine

import "testing"

// atEnd is the toy with everything held and the set proved dead.
func atEnd(t *testing.T, p *Procedure) State {
	t.Helper()
	return upTo(t, p, Todo{Act: Finish, Slot: -1})
}

func TestAnAlterationVoidsItsRowAndTheReleases(t *testing.T) {
	p := toy()
	s := do(t, p, atEnd(t, p), Event{Kind: Alter, Class: valveChanged})
	if s.Held != slots(tool, insulation, coupling, joint, idleLamp) {
		t.Errorf("held %v", s.Held)
	}
	if !s.proved() {
		t.Error("nothing was soldered, and the proof is gone")
	}
	if s = do(t, p, atEnd(t, p), Event{Kind: Alter, Class: nothing}); !s.Held.Has(hold2) {
		t.Error("nothing was altered, and a release is gone")
	}
}

func TestAnAlterationMayBeToldAtAnyTimeWithThePlugOut(t *testing.T) {
	p := toy()
	stopped := do(t, p, upTo(t, p, reading(p, joint)), halted)
	makeSafe := do(t, p, atIdle(t, p), halted, plugOut)
	left := do(t, p, atIdle(t, p), idle, plugOut)
	for _, s := range []State{stopped, makeSafe, left} {
		n := do(t, p, s, Event{Kind: Alter, Class: couplingChanged})
		if n.Mode != s.Mode || n.StopAt != s.StopAt || n.Held.Has(coupling) {
			t.Errorf("from %+v to %+v", s, n)
		}
	}
}

func TestASecondAlterationVoidsAllBeyondTheFirstGap(t *testing.T) {
	p := toy()
	s := do(t, p, atEnd(t, p), Event{Kind: Alter, Class: couplingChanged})
	if !s.Held.Has(heater) || !s.Held.Has(fullHT) {
		t.Fatalf("the first voided more than its row: %v", s.Held)
	}
	if s = do(t, p, s, Event{Kind: Alter, Class: nothing}); s.Held != slots(tool) {
		t.Errorf("held %v, want nothing beyond the first gap", s.Held)
	}
}

func TestAnAlterationVoidsThePathsOfOpenQueries(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, coupling)), queried, Event{Kind: Accept, By: Another})
	s = do(t, p, atEndOf(t, p, s), Event{Kind: Alter, Class: nothing})
	if s.Standing != 0 || s.Held.Has(coupling) || s.Held.Has(fullHT) || !s.Held.Has(insulation) {
		t.Errorf("%+v", s)
	}
}

func atEndOf(t *testing.T, p *Procedure, s State) State {
	t.Helper()
	return goOnTo(t, p, s, Todo{Act: Finish, Slot: -1})
}

func TestAnInterruptionLeavesTheQueriesOfOtherPathsOpen(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, coupling)), queried, Event{Kind: Accept, By: Another}, Event{Kind: Interrupt})
	if s.Standing != pathOutput || !s.Held.Has(coupling) {
		t.Errorf("%+v", s)
	}
}

func TestEveryPathThatLosesAFactIsTestedAgain(t *testing.T) {
	p := toy()
	p.Slots[coupling].Life = Day
	s := with(atEnd(t, p), func(s *State) { s.Standing = pathMains | pathOutput })
	s = do(t, p, s, dayOver)
	if s.Standing != 0 || s.Held.Has(idleLamp) || s.Held.Has(rung60) {
		t.Errorf("%+v", s)
	}
}

func TestASecondAlterationLeavesWhatBelongsToTheSession(t *testing.T) {
	p := toy()
	p.Slots[heater].Life = Session
	s := do(t, p, atEnd(t, p), Event{Kind: Alter, Class: couplingChanged})
	s.Held = s.Held.With(heater)
	if s = do(t, p, s, Event{Kind: Alter, Class: nothing}); s.Held.Has(fullHT) || !s.Held.Has(tool) || !s.Held.Has(heater) {
		t.Errorf("held %v", s.Held)
	}
}

func TestAGapAtTheVeryFirstReadingCountsToo(t *testing.T) {
	p := manyQueries()
	s := do(t, p, atEnd(t, p), Event{Kind: Alter, Class: 0})
	if !s.Held.Has(1) {
		t.Fatal("the first voided more than its row")
	}
	if s = do(t, p, s, Event{Kind: Alter, Class: 0}); s.Held != (Facts{}) {
		t.Errorf("held %v", s.Held)
	}
}

func TestWhatWasTakenBackTakesWithItWhatWasDecidedByIt(t *testing.T) {
	p := toy()
	p.Slots[rung60].Path = 0
	p.AfterStop = slots(hold1, hold2)
	p.Slots[coldPeak].Follows = slots(insulation)
	p.tabulate()
	for _, c := range []struct {
		slot int
		gone Facts
		why  string
	}{
		{insulation, slots(insulation, coupling, idleLamp, coldPeak, hold1, hold2), "the rest of its line, what was read after it on its path, what was judged by a window that follows from it, the releases"},
		{joint, slots(joint, fullHT, drop, hold1, hold2), "nothing before it, and what was computed from what is gone"},
		{rung60, slots(rung60, look, hold2), "what it gave, and no release before it"},
		{coldPeak, slots(coldPeak), "no release before it"},
	} {
		s := atEnd(t, p)
		n := do(t, p, s, Event{Kind: Retract, Slot: c.slot})
		if gone := s.Held.Without(n.Held).Without(lives(p, Period, Period)); gone != c.gone {
			t.Errorf("slot %d took %v with it, want %v: %s", c.slot, gone, c.gone, c.why)
		}
	}
}

func TestTakingBackWhatWasNotReadTakesNoReleaseBack(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, Todo{Act: SwitchOn, Slot: idleVolts, Block: 2}), Event{Kind: Retract, Slot: coldPeak})
	if !s.Held.Has(hold1) {
		t.Error("a release is gone")
	}
}

func TestADayEndsWhatLastsADay(t *testing.T) {
	p := toy()
	s := do(t, p, atIdle(t, p), dayOver)
	if s.Held.Has(insulation) || !s.Held.Has(coupling) {
		t.Errorf("held %v", s.Held)
	}
	wantAct(t, p, s, ProveFull)
	if n, err := Step(p, s, read1); err == nil {
		t.Errorf("a reading was taken over a gate that has lapsed: %+v", n)
	}
}

func TestWhatWasLeftUnreadIsAskedAgainWhenItIsVoid(t *testing.T) {
	p := toy()
	p.Voids[valveChanged] = p.Voids[valveChanged].With(joint)
	s := do(t, p, upTo(t, p, reading(p, joint)), Event{Kind: Leave})
	if !s.Unread.Has(joint) {
		t.Fatal("it was not left")
	}
	if s = do(t, p, s, Event{Kind: Alter, Class: valveChanged}); s.Unread != (Facts{}) {
		t.Error("it still counts as left")
	}
}

func TestWhatWasComputedAndFallsByItselfIsComputedFromFreshReadings(t *testing.T) {
	p := toy()
	p.Voids = append(p.Voids, slots(drop))
	class := Class(len(p.Voids) - 1)
	p.Solder = append(p.Solder, false)
	s := State{Supply: Dead, Proof: FullProof, Held: lives(p, Session, Lasting)}
	if s = do(t, p, s, Event{Kind: Alter, Class: class}); s.Held.Has(drop) || s.Held.Has(fullHT) || !s.Held.Has(heater) {
		t.Errorf("held after it: %v, want the readings of its block gone with it and no others", s.Held)
	}
}

// A reading whose window follows from one before it on its line is one test with
// it: what the first showed an hour ago says nothing of the second.
func TestATestThatWasBrokenOffIsMadeAgainFromItsFirstReading(t *testing.T) {
	p := toy()
	p.Slots[coupling].Follows = slots(insulation)
	p.tabulate()
	atSecond := upTo(t, p, reading(p, coupling))
	atEnd := upTo(t, p, reading(p, joint))
	for _, c := range []struct {
		name string
		s    State
		es   []Event
		next int
	}{
		{"a query is answered on the same leads", atSecond, []Event{queried, {Kind: Agree}}, coupling},
		{"a reading of it is typed again", atSecond, []Event{queried, queried}, coupling},
		{"a stop", atSecond, []Event{halted}, insulation},
		{"the proof has lapsed", atSecond, []Event{lapsed}, insulation},
		{"the stop key", atSecond, []Event{{Kind: Abort}}, insulation},
		{"a restart", atSecond, []Event{{Kind: Interrupt}}, insulation},
		{"another line first", atSecond, []Event{{Kind: Retract, Slot: tool}}, insulation},
		{"the second is taken back", atEnd, []Event{{Kind: Retract, Slot: coupling}}, insulation},
		{"the second falls", atEnd, []Event{{Kind: Alter, Class: couplingChanged}}, insulation},
		{"both are held", atEnd, []Event{lapsed}, joint},
	} {
		s := do(t, p, c.s, c.es...)
		for i := Cursor(p, s); i < insulation || Next(p, s).Act != Enter && Next(p, s).Act != Resolve; i = Cursor(p, s) {
			var err error
			if s, err = pass1(p, s); err != nil {
				t.Fatal(err)
			}
		}
		if got := Cursor(p, s); got != c.next {
			t.Errorf("%s: slot %d is read next, want %d", c.name, got, c.next)
		}
	}
	if _, err := Explore(only(p, insulation, coupling, hold1, idleLamp), Scope{Doubt: true}, mostPlaces); err != nil {
		t.Error(err)
	}
}

// A block may go on into the next stage: then that alone begins again, and what the
// stage before it has read stands.
func TestAStageBeginsAgainAndNotTheOneBeforeItInTheSameBlock(t *testing.T) {
	p := toy()
	s := upTo(t, p, reading(p, rung60))
	if n := do(t, p, s, Event{Kind: Interrupt}); n.Held.Has(rung25) {
		t.Fatal("a stage with mains on has not begun again")
	}
	p.Slots[rung60].Stage++
	if n := do(t, p, s, Event{Kind: Interrupt}); !n.Held.Has(rung25) {
		t.Error("the stage before it has begun again too")
	}
}
