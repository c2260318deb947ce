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
