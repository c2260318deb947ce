package engine

import (
	"errors"
	"slices"
	"testing"
)

// explored is what a breadth-first walk over every event has found.
type explored struct {
	states []State
	index  map[State]int32
	broken map[string]State // by id, the state before the first step that broke it
}

// explore goes from nothing known through all those events, until the property named
// is broken or all states are found. Steps that break a property are noted and
// not followed.
func explore(p *Procedure, m machine, all []Event, until string) *explored {
	x := &explored{index: map[State]int32{}, broken: map[string]State{}}
	x.add(State{})
	for i := 0; i < len(x.states); i++ {
		if _, ok := x.broken[until]; ok {
			break
		}
		for _, e := range all {
			n, err := m.step(p, x.states[i], e)
			var broken *Broken
			if errors.As(err, &broken) {
				if _, ok := x.broken[broken.ID]; !ok {
					x.broken[broken.ID] = x.states[i]
				}
				continue
			}
			x.add(n)
		}
	}
	return x
}

func noneTakenBack(all []Event) []Event {
	return slices.DeleteFunc(all, func(e Event) bool { return e.Kind == Retract })
}

func (x *explored) add(s State) {
	if _, ok := x.index[s]; !ok {
		x.index[s] = int32(len(x.states))
		x.states = append(x.states, s)
	}
}

func TestEveryStateThatAnySequenceOfEventsReachesIsSafeAndCanBeLeft(t *testing.T) {
	for _, c := range []struct {
		name  string
		large bool // too large with readings taken back
		slow  bool // too large under the race detector
		keep  []int
	}{
		{"a lamp, a ramp of two rungs, whole mains", true, true, []int{tool, insulation, hold1, idleVolts, idleLamp, heater, rung25, rung60, hold2, fullVolts, fullHT, drop}},
		{"two tests on one line that charge, one left", false, true, []int{insulation, coupling, joint, hold1, idleLamp, drop}},
		{"a look that another reading gives, a cold start", false, false, []int{tool, coupling, rung25, rung60, look, hold2, fullHT, coldPeak}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.slow && raceDetector {
				t.Skip("too large for the race detector; the last one runs")
			}
			p := only(toy(), c.keep...)
			if err := p.Sound(); err != nil {
				t.Fatal(err)
			}
			all := events(p)
			if c.large {
				all = noneTakenBack(all)
			}
			x := explore(p, whole, all, "")
			t.Logf("%d states, %d events each", len(x.states), len(all))
			for id, s := range x.broken {
				t.Errorf("%s is broken in a step from %+v", id, s)
			}
			for _, s := range x.states {
				for _, fault := range faultsOf(p, s) {
					t.Fatalf("%s: %+v", fault, s)
				}
			}
			everyStateComesToAnEnd(t, p, x)
		})
	}
}

// faultsOf says what no state may be, whatever led to it.
func faultsOf(p *Procedure, s State) []string {
	var out []string
	note := func(bad bool, text string) {
		if bad {
			out = append(out, text)
		}
	}
	i := Cursor(p, s)
	on := s.Supply.Energised()
	note(on && s.Block == 0, "mains is on and nobody knows where the leads are")
	note(on && s.Proof != NoProof, "a proof outlived mains")
	note(on && s.Mode == Stopped, "stopped and made safe with mains on")
	note(on && s.Unproved != 0, "mains is on over a charged node")
	note((s.Supply == Dead) != (s.Proof >= LeadProof), "dead without a proof, or a proof without dead")
	note(s.Supply == Dead && s.Block != 0, "dead, with leads where they were live")
	note(s.Line != 0 && (s.Unproved == 0 || i < 0 || p.Slots[i].Line != s.Line-1), "leads on a line that has charged nothing, or is not owed")
	note(s.Queried && (s.Mode != Working || i < 0 || Next(p, s).Act != Resolve), "a query that nobody can answer")
	note(!s.Queried && (s.Weak || s.Second), "marks of a query without one")
	note(s.Again && (i < 0 || !InDoubt(p, &s, i)), "passed once of twice, and twice is not wanted")
	note(s.Doubt > 0 && s.Held.Has(s.Doubt-1), "a slot in doubt is held")
	note(s.Wary && s.Doubt == 0, "wary of nothing")
	note(s.StopAt > 0 && s.Mode != MakeSafe && s.Mode != Stopped, "a stop was left without a repair")
	note((s.Mode == MakeSafe || s.Mode == Stopped) && s.Held.And(p.AfterStop) != (Facts{}), "a stop left a release standing")
	note(s.Mode == Closed && (i >= 0 || !s.proved()), "closed with something owed, or not dead")
	return out
}

// everyStateComesToAnEnd follows the order of work from every state, everything
// answered well: it must be taken, and lead to a closed record.
func everyStateComesToAnEnd(t *testing.T, p *Procedure, x *explored) {
	t.Helper()
	const unknown, under, ends = 0, 1, 2
	mark := make([]uint8, len(x.states))
	longest := 0
	for start := range x.states {
		var path []int32
		i := int32(start)
		for mark[i] == unknown && x.states[i].Mode != Closed {
			mark[i] = under
			path = append(path, i)
			n, err := pass1(p, x.states[i])
			if err != nil {
				t.Fatalf("%+v is refused: %v in %+v", Next(p, x.states[i]), err, x.states[i])
			}
			next, ok := x.index[n]
			if !ok {
				t.Fatalf("the exploration has missed %+v", n)
			}
			if mark[next] == under {
				t.Fatalf("the order of work goes in a circle: %+v", x.states[i])
			}
			i = next
		}
		longest = max(longest, len(path))
		for _, j := range append(path, i) {
			mark[j] = ends
		}
	}
	t.Logf("longest way that was new: %d acts", longest)
}
