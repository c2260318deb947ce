package engine

import (
	"errors"
	"testing"

	"pgregory.net/rapid"
)

// everything is all that one exploration can follow at once.
func everything(p *Procedure) Scope {
	s := Scope{Doubt: true}
	for i := range p.Slots {
		s.Paths |= p.Slots[i].Path
	}
	return s
}

const mostPlaces = 2e6

// What a walk over every single state finds the exploration has too, and it finds
// nothing that breaks.
func TestAnExplorationHasEveryStateOfTheToys(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	for _, keep := range [][]int{
		{insulation, coupling, joint, hold1, idleLamp, drop},
		{tool, coupling, rung25, rung60, look, hold2, fullHT, coldPeak},
	} {
		p := only(toy(), keep...)
		x, err := Explore(p, everything(p), mostPlaces)
		if err != nil {
			t.Fatal(err)
		}
		all := explore(p, whole, events(p), "")
		for _, s := range all.states {
			if !x.Covers(s) {
				t.Fatalf("not found: %+v", s)
			}
		}
		t.Logf("%d states, %d places", len(all.states), x.Places)
	}
}

// Wherever a walk through any procedure comes, the exploration has been.
func TestNoWalkLeavesWhatWasExplored(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	rapid.Check(t, func(t *rapid.T) {
		p := randomProcedure(t)
		if len(p.Slots) > 5 {
			t.Skip("large")
		}
		x, err := Explore(p, everything(p), mostPlaces)
		if err != nil {
			t.Fatal(err)
		}
		w := &walk{m: whole, p: p, l: newLedger(p)}
		all := events(p)
		for range rapid.IntRange(0, 150).Draw(t, "steps") {
			es := Answers(p, w.s)
			if len(es) == 0 || rapid.Bool().Draw(t, "astray") {
				es = []Event{rapid.SampledFrom(all).Draw(t, "event")}
			}
			for _, e := range es {
				if err := w.send(e); err != nil {
					t.Fatal(err)
				}
				if !x.Covers(w.s) {
					t.Fatalf("%+v led to what was not explored: %+v", e, w.s)
				}
			}
		}
	})
}

// Without the order of work and one more gate the property of that gate, or of
// another, must break somewhere.
func TestAnExplorationFindsWhatAMissingGateLetsThrough(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	for _, c := range pairs {
		t.Run(c.id, func(t *testing.T) {
			p := c.p()
			x, err := without("INV-09", c.id).explore(p, everything(p), mostPlaces)
			var unsafe *Unsafe
			if !errors.As(err, &unsafe) || unsafe.ID == "" {
				t.Fatalf("%v in %d places", err, len(x.places))
			}
			if last := unsafe.Story[len(unsafe.Story)-1]; last.Event.Kind == 0 {
				t.Errorf("the story ends in nothing: %+v", unsafe.Story)
			}
		})
	}
}

// A story leads, event by event, from nothing known to the broken interlock.
func TestAStoryCanBeFollowed(t *testing.T) {
	p := carelessGate()
	m := without("INV-01", "INV-09")
	_, err := m.explore(p, Scope{}, mostPlaces)
	var unsafe *Unsafe
	if !errors.As(err, &unsafe) {
		t.Fatal(err)
	}
	if first := unsafe.Story[0].State; first != (State{}) {
		t.Errorf("it begins with %+v", first)
	}
	for k, told := range unsafe.Story {
		n, err := m.step(p, told.State, told.Event)
		var broken *Broken
		if last := k == len(unsafe.Story)-1; errors.As(err, &broken) != last || err != nil && !last {
			t.Errorf("step %d: %+v in %+v: %v, %+v", k, told.Event, told.State, err, n)
		}
	}
}

func TestTooLargeIsNotProved(t *testing.T) {
	p := toy()
	if _, err := Explore(p, everything(p), 100); !errors.Is(err, ErrTooLarge) {
		t.Errorf("%v", err)
	}
}

// A hold that no event can take back once it is passed would leave a session with
// nothing to do.
func TestWorkThatComesToNoEndIsTold(t *testing.T) {
	m := machine{properties: properties, apply: apply}
	m.gates = append(m.gates, gates...)
	m.gates = append(m.gates, Gate{"INV-XX", "nothing is ever closed", func(_ *Procedure, _ *State, e Event) bool { return e.Kind == Done }})
	p := only(toy(), insulation, idleLamp)
	_, err := m.explore(p, Scope{}, mostPlaces)
	var unsafe *Unsafe
	if !errors.As(err, &unsafe) || unsafe.ID != "" {
		t.Errorf("%v", err)
	}
}
