package engine

import (
	"slices"
	"testing"
)

// without is the machine with some of its gates left out.
func without(ids ...string) machine {
	m := machine{properties: properties, apply: apply}
	for _, g := range gates {
		if !slices.Contains(ids, g.ID) {
			m.gates = append(m.gates, g)
		}
	}
	return m
}

// carelessGate has a reading in a gate that may be left unread.
func carelessGate() *Procedure {
	p := only(toy(), insulation, joint, idleLamp)
	p.Blocks[2].Gate = p.Blocks[2].Gate.With(1)
	return p
}

// carelessHold has a hold whose life was forgotten, so that it is never owed.
func carelessHold() *Procedure {
	p := only(toy(), insulation, idleLamp, hold2, fullHT)
	p.Slots[2].Life = Period
	for b := range p.Blocks {
		p.Blocks[b].Gate = p.Blocks[b].Gate.Without(slots(2))
	}
	return p
}

// manyQueries has six readings that may each be accepted as a query.
func manyQueries() *Procedure {
	p := &Procedure{
		Blocks: []Block{{ID: "dead", Supply: Dead}, {ID: "on", Stage: 1, Supply: Limited, Lead: 1, LampIn: true}},
		Voids:  []Facts{slots(0)}, Solder: []bool{false},
	}
	for i := range maxStanding + 1 {
		p.Slots = append(p.Slots, Slot{ID: string(rune('a' + i)), Crit: E, Life: Lasting, Path: 1 << i, Line: i})
	}
	p.Slots = append(p.Slots, Slot{ID: "on", Crit: E, Block: 1, Life: Lasting, Line: maxStanding + 1})
	return gated(p)
}

// pairs are the interlocks that are both a gate and a property, each with a
// procedure that needs the gate.
var pairs = []struct {
	id string
	p  func() *Procedure
}{
	{"INV-01", carelessGate},
	{"INV-03", smallToy},
	{"INV-04", smallToy},
	{"INV-08", smallToy},
	{"INV-09", smallToy},
	{"INV-11", carelessHold},
	{"INV-12", noHold},
	{"INV-13", smallToy},
	{"INV-20", smallToy},
	{"INV-22", manyQueries},
	{"INV-23", smallToy},
	{"INV-24", smallToy},
	{"INV-35", noHold},
	{"INV-36", smallToy},
	{"INV-37", smallToy},
	{"INV-44", smallToy},
	{"INV-48", smallToy},
}

// noHold has nothing that a stop takes back, so that mains is due at once.
func noHold() *Procedure { return only(toy(), insulation, idleLamp, rung60) }

func smallToy() *Procedure {
	return only(toy(), tool, insulation, coupling, joint, hold1, idleLamp, heater, rung60)
}

func TestNoGateThatHasAPropertyIsIdle(t *testing.T) {
	for _, c := range pairs {
		t.Run(c.id, func(t *testing.T) {
			// The order of work refuses most of this too: without both, the
			// property must break.
			p := c.p()
			x := explore(p, without("INV-09", c.id), noneTakenBack(events(p)), c.id)
			if s, ok := x.broken[c.id]; !ok {
				t.Errorf("nothing breaks in %d states", len(x.states))
			} else {
				t.Logf("after %d states, from %+v", len(x.states), s)
			}
		})
	}
}

func TestEveryPropertyWithAGateStandsInTheTableOfPairs(t *testing.T) {
	for _, g := range gates {
		both := slices.ContainsFunc(properties, func(p Property) bool { return p.ID == g.ID })
		tested := slices.ContainsFunc(pairs, func(c struct {
			id string
			p  func() *Procedure
		},
		) bool {
			return c.id == g.ID
		})
		if both != tested {
			t.Errorf("%s: gate and property %v, tested %v", g.ID, both, tested)
		}
	}
}

func TestNoOtherGateLeansOnTheOrderOfWork(t *testing.T) {
	for _, p := range []*Procedure{
		only(toy(), insulation, hold1, idleLamp, hold2, fullHT, coldPeak),
		only(toy(), insulation, coupling, rung60, look),
	} {
		x := explore(p, without("INV-09"), events(p), "")
		t.Logf("%d states", len(x.states))
		for id, s := range x.broken {
			if id != "INV-09" {
				t.Errorf("%s is broken in a step from %+v", id, s)
			}
		}
		if _, ok := x.broken["INV-09"]; !ok {
			t.Error("nothing breaks without the order of work")
		}
	}
}
