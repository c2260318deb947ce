package engine

import (
	"reflect"
	"testing"
)

func TestZeroValuesAreTheSafeOnes(t *testing.T) {
	var (
		verdict Verdict
		crit    Crit
		supply  Supply
		life    Life
		role    Role
		state   State
	)
	if verdict != Stop || crit != S || supply != Unknown || life != Period || role != Measurer {
		t.Error("a forgotten assignment is not the strictest")
	}
	if state.Supply != Unknown || state.Proof != NoProof || state.Block != 0 || state.Held != (Facts{}) {
		t.Error("a new state knows something")
	}
}

func TestWordsAsFilesSpellThem(t *testing.T) {
	for got, want := range map[string]string{
		Stop.String(): "stop", Query.String(): "query", Pass.String(): "pass", Verdict(9).String(): "stop",
		S.String(): "S", G.String(): "G", E.String(): "E",
		Unknown.String(): "unknown", Dead.String(): "dead", Limited.String(): "limited", Raised.String(): "raised", Full.String(): "full",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The state must stay one that can be explored: compared by value, and without
// clock, number or text.
func TestAStateIsFiniteAndComparable(t *testing.T) {
	state := reflect.TypeOf(State{})
	if !state.Comparable() {
		t.Error("states cannot be compared")
	}
	if n := finite(t, state, "State"); n < 15 {
		t.Errorf("only %d fields were looked at", n)
	}
}

func finite(t *testing.T, what reflect.Type, path string) int {
	t.Helper()
	switch what.Kind() {
	case reflect.Bool, reflect.Int, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return 1
	case reflect.Array:
		return finite(t, what.Elem(), path+"[]")
	case reflect.Struct:
		n := 0
		for i := range what.NumField() {
			f := what.Field(i)
			n += finite(t, f.Type, path+"."+f.Name)
		}
		return n
	}
	t.Errorf("%s is a %s", path, what)
	return 0
}

func TestFactsReachToTheirLastSlot(t *testing.T) {
	last := slots(MaxSlots - 1)
	if !last.Has(MaxSlots-1) || last.Has(MaxSlots-2) || last.Without(last) != (Facts{}) {
		t.Error("the last slot is not kept")
	}
	if !slots(0, 64, 319).Covers(last) || last.Covers(slots(0)) || slots(1, 70).And(slots(70)) != slots(70) || slots(1).Or(slots(2)) != slots(1, 2) {
		t.Error("sets do not add up")
	}
}

func TestTheLastSlotOfTheLargestProcedureIsAsked(t *testing.T) {
	p := &Procedure{Blocks: []Block{{}}, Slots: make([]Slot, MaxSlots), Voids: []Facts{{}}, Solder: []bool{false}}
	for i := range p.Slots {
		p.Slots[i].Life, p.Slots[i].Line = Lasting, i
	}
	if err := p.Sound(); err != nil {
		t.Error(err)
	}
	s := State{Held: lives(p, Lasting, Lasting)}
	if i := Cursor(p, s); i != -1 {
		t.Errorf("nothing is owed, and slot %d is asked", i)
	}
	s.Held = s.Held.Without(slots(MaxSlots - 1))
	if i := Cursor(p, s); i != MaxSlots-1 {
		t.Errorf("slot %d is asked", i)
	}
}

func TestTheTablesCannotBeChangedFromOutside(t *testing.T) {
	Gates()[0].Refuses, Properties()[0].Holds = nil, nil
	if gates[0].Refuses == nil || properties[0].Holds == nil {
		t.Error("a caller holds the table itself")
	}
}

func TestNoIDStandsTwiceInATable(t *testing.T) {
	seen := map[string]bool{}
	for _, g := range Gates() {
		if seen["gate "+g.ID] || g.Sentence == "" {
			t.Errorf("gate %s stands twice or says nothing", g.ID)
		}
		seen["gate "+g.ID] = true
	}
	for _, p := range Properties() {
		if seen["property "+p.ID] {
			t.Errorf("property %s stands twice", p.ID)
		}
		seen["property "+p.ID] = true
	}
}
