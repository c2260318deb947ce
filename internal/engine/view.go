package engine

// view is a procedure as one exploration sees it: with the open queries of some
// of its paths, and of no other.
type view struct {
	p        *Procedure
	all      []Facts // the slots before each
	before   []Facts // those of them that are held when it is owed: of the period only its own line's
	lasting  Facts   // slots that outlive a period
	optional Facts   // slots that may be left unread
	events   []Event
	doubt    bool
}

func newView(p *Procedure, scope Scope) *view {
	masked := *p
	masked.Slots = append([]Slot(nil), p.Slots...)
	for i := range masked.Slots {
		masked.Slots[i].Path &= scope.Paths
	}
	v := &view{p: &masked, events: scope.events(&masked), doubt: scope.Doubt}
	for i := range masked.Slots {
		if masked.Slots[i].Life != Period {
			v.lasting = v.lasting.With(i)
		}
		if masked.Slots[i].Optional {
			v.optional = v.optional.With(i)
		}
	}
	var all Facts
	for i := range len(masked.Slots) + 1 {
		v.all = append(v.all, all)
		v.before = append(v.before, all.And(v.lasting).Or(v.ownPeriod(i)))
		if i < len(masked.Slots) {
			all = all.With(i)
		}
	}
	return v
}

// ownPeriod is the slots on the line of slot i that stand before it.
func (v *view) ownPeriod(i int) Facts {
	var f Facts
	for j := i - 1; i < len(v.p.Slots) && j >= 0 && v.p.Slots[j].Line == v.p.Slots[i].Line; j-- {
		f = f.With(j)
	}
	return f
}

// Scope is what one exploration covers. The zero value has every event but those
// that mend without a cause, and no open query.
type Scope struct {
	Paths Paths // whose open queries are followed
	Doubt bool  // stops that found no fault, and must pass twice
}

// events is all that can happen in the scope, with every verdict. A verdict from
// typical values differs for a query alone, and whom somebody else may answer for
// it need not be asked of the measurer.
func (scope Scope) events(p *Procedure) []Event {
	all := []Event{
		{Kind: Agree},
		{Kind: Free},
		{Kind: Power},
		{Kind: Off},
		{Kind: Interrupt},
		{Kind: Abort},
		{Kind: Done},
		{Kind: Accept, By: Another},
		{Kind: Leave},
		{Kind: Leave, Absent: true},
		{Kind: ClipOn},
		{Kind: Prove},
		{Kind: Prove, Verdict: Query},
		{Kind: Read, Verdict: Query, Weak: true},
	}
	for v := range Pass + 1 {
		all = append(all, Event{Kind: Read, Verdict: v}, Event{Kind: ProveNode, Verdict: v}, Event{Kind: ClipOff, Verdict: v})
	}
	for proof := range FullProof + 1 {
		all = append(all, Event{Kind: Prove, Proof: proof, Verdict: Pass})
	}
	for t := range MinWait + 1 {
		all = append(all, Event{Kind: Elapsed, Timer: t})
	}
	for c := range p.Voids {
		all = append(all, Event{Kind: Alter, Class: Class(c)})
		if scope.Doubt || p.Voids[c] != (Facts{}) {
			all = append(all, Event{Kind: Mend, Class: Class(c)})
		}
	}
	if scope.Doubt && len(p.Voids) > 0 {
		all = append(all, Event{Kind: Mend, Doubt: true})
	}
	for i := range p.Slots {
		if !p.Slots[i].Hold && !p.Slots[i].Derived {
			all = append(all, Event{Kind: Retract, Slot: i})
		}
	}
	return all
}

// goesBack tells whether e can end facts other than those of the owed slot.
func (e Event) goesBack() bool {
	switch e.Kind {
	case Alter, Mend, Retract, Interrupt:
		return true
	case Elapsed:
		return e.Timer == DayOver || e.Timer == LiveIdle
	}
	return false
}

// gains tells whether e can make a fact of the owed slot.
func (e Event) gains() bool {
	switch e.Kind {
	case Read:
		return e.Verdict == Pass
	case Accept, Free, Leave:
		return true
	}
	return false
}
