package engine

import "testing"

func TestAQueryIsForgottenWithTheStateItWasReadIn(t *testing.T) {
	p := toy()
	inDead := do(t, p, upTo(t, p, reading(p, coupling)), queried, Event{Kind: Agree})
	live := do(t, p, upTo(t, p, reading(p, idleLamp)), queried, Event{Kind: Agree})
	for _, c := range []struct {
		name string
		s    State
		es   []Event
		next Act
	}{
		{"the proof lapsed: prove, then read again", inDead, []Event{lapsed}, ProveFull},
		{"the plug was pulled: mains, then read again", live, []Event{plugOut}, SwitchOn},
		{"a proof began", live, []Event{half}, ProveSecond},
		{"the session was interrupted", live, []Event{{Kind: Interrupt}}, Enter},
		{"aborted", inDead, []Event{{Kind: Abort}}, ProveFull},
		{"a node was not dead", inDead, []Event{{Kind: ProveNode}}, ProveFull},
		{"something was altered", inDead, []Event{{Kind: Alter, Class: nothing}}, Enter},
		{"nobody answered with mains on", live, []Event{idle}, Unplug},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := do(t, p, c.s, c.es...)
			if s.Queried || s.Second {
				t.Errorf("still queried: %+v", s)
			}
			wantAct(t, p, s, c.next)
		})
	}
}

func TestAQueryNeverMovesToAnotherSlot(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, joint)), queried, Event{Kind: Agree}, dayOver)
	if Cursor(p, s) != insulation || s.Queried || s.Second {
		t.Errorf("a day passed over a query: %+v", s)
	}
	if n, err := Step(p, s, Event{Kind: Accept, By: Another}); err == nil {
		t.Errorf("accepted without a reading: %+v", n)
	}
}

func TestAnAgreementIsWithOneReadingOnly(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, coupling)), queried, Event{Kind: Agree}, queried)
	if n, err := Step(p, s, Event{Kind: Accept}); err == nil {
		t.Errorf("a new query was accepted by the agreement with the old: %+v", n)
	}
}

func TestAnAcceptedQueryIsHeldAndCounted(t *testing.T) {
	p := toy()
	at := upTo(t, p, reading(p, coupling))
	for _, c := range []struct {
		name     string
		es       []Event
		standing Paths
	}{
		{"a second reading agreed", []Event{queried, {Kind: Agree}, {Kind: Accept}}, pathOutput},
		{"by another person", []Event{queried, {Kind: Accept, By: Another}}, pathOutput},
		{"typical values are not counted", []Event{{Kind: Read, Verdict: Query, Weak: true}, {Kind: Accept, By: Another}}, 0},
		{"a fresh reading that passes is no query", []Event{queried, read1}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := do(t, p, at, c.es...)
			if !s.Held.Has(coupling) || s.Standing != c.standing || s.Queried {
				t.Errorf("%+v", s)
			}
		})
	}
}

func TestASecondQueryOnOnePathIsAStop(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, coupling)), queried, Event{Kind: Accept, By: Another}, Event{Kind: ProveNode, Verdict: Pass})
	if n := do(t, p, s, queried); n.Mode != Stopped {
		t.Errorf("after the second: %+v", n)
	}
	if n := do(t, p, s, Event{Kind: Read, Verdict: Query, Weak: true}); n.Mode != Working || !n.Queried {
		t.Errorf("after one by typical values: %+v", n)
	}
}

func TestAnAcceptedQueryGivesNothing(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, rung60)), waitOver, queried, Event{Kind: Accept, By: Another})
	if !s.Held.Has(rung60) || s.Held.Has(look) {
		t.Errorf("held: %v", s.Held)
	}
}

func TestSixOpenQueriesHoldMainsUntilOneIsRepaired(t *testing.T) {
	p := manyQueries()
	s := State{}
	for range maxStanding + 1 {
		s = goOnTo(t, p, s, reading(p, Cursor(p, s)))
		s = do(t, p, s, queried, Event{Kind: Accept})
	}
	wantAct(t, p, s, Repair)
	s = do(t, p, s, Event{Kind: Mend, Class: 0})
	if s.Standing != 0 || s.Held != (Facts{}) || s.Mode != Working {
		t.Errorf("after the repair: %+v", s)
	}
	goOnTo(t, p, s, Todo{Act: SwitchOn, Slot: maxStanding + 1, Block: 1})
}

func TestTheSameQueryReadAgainAfterAnInterruptionIsNoSecondOne(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, idleLamp)), queried, Event{Kind: Accept, By: Another})
	s.Block = 4 // the stage is under way at its next block
	p.Blocks[3].Stage = p.Blocks[2].Stage
	p = gated(p)
	s = do(t, p, s, Event{Kind: Interrupt})
	if s.Held.Has(idleLamp) || s.Held.Has(insulation) || s.Standing != 0 {
		t.Errorf("want the whole path to be read again: %+v", s)
	}
	s = do(t, p, goOnTo(t, p, s, reading(p, idleLamp)), queried)
	if s.Mode != Working || !s.Queried {
		t.Errorf("read again: %+v", s)
	}
}
