package engine

import (
	"slices"
	"testing"
)

// Slots of the toy, by name: a first power-up with everything that a procedure
// can have, and no more of it than needed.
const (
	tool       = iota // bench
	insulation        // dead, lapses after a day, charges a node
	coupling          // dead, same line, charges another
	joint             // dead, may be left
	hold1
	idleVolts // lamp in, for the period
	idleLamp
	heater // lamp in, other leads
	rung25
	rung60 // after a wait
	look   // lamp in, every session anew
	hold2
	fullVolts // whole mains, for the period
	fullHT
	drop     // derived
	coldPeak // the same leads after a time off
)

// Classes of alteration of the toy.
const (
	nothing Class = iota
	couplingChanged
	valveChanged
)

const (
	nodeMains Nodes = 1 << iota
	nodeHT
)

const (
	pathMains Paths = 1 << iota
	pathOutput
)

// toy gives the procedure that most tests run.
func toy() *Procedure {
	p := &Procedure{
		Blocks: []Block{
			{ID: "bench", Stage: 0},
			{ID: "dead", Stage: 1, Supply: Dead},
			{ID: "idle", Stage: 2, Supply: Limited, Lead: 2, LampIn: true},
			{ID: "heaters", Stage: 3, Supply: Limited, Lead: 3, LampIn: true},
			{ID: "ramp", Stage: 4, Supply: Raised, Lead: 4, LampIn: true},
			{ID: "look", Stage: 4, Supply: Raised, Lead: 4, LampIn: true},
			{ID: "lamp-out", Stage: 5, Supply: Dead},
			{ID: "full", Stage: 6, Supply: Full, Lead: 7},
			{ID: "cold", Stage: 6, Supply: Full, Lead: 7, Wait: true},
		},
		Slots: []Slot{
			tool:       {ID: "tool", Crit: S, Block: 0, Line: 0, Life: Session},
			insulation: {ID: "insulation", Crit: S, Block: 1, Line: 1, Life: Day, Path: pathMains, Charges: nodeMains},
			coupling:   {ID: "coupling", Crit: G, Block: 1, Line: 1, Life: Lasting, Path: pathOutput, Charges: nodeHT, HTLine: true},
			joint:      {ID: "joint", Crit: E, Block: 1, Line: 2, Life: Lasting, Path: pathOutput, Optional: true, MayLack: true},
			hold1:      {ID: "hold-1", Block: 1, Line: 3, Life: Session, Hold: true},
			idleVolts:  {ID: "idle-volts", Crit: E, Block: 2, Line: 4, Life: Period, Optional: true},
			idleLamp:   {ID: "idle-lamp", Crit: G, Block: 2, Line: 4, Life: Lasting, Path: pathMains},
			heater:     {ID: "heater", Crit: G, Block: 3, Line: 5, Life: Lasting},
			rung25:     {ID: "rung-25", Crit: G, Block: 4, Line: 6, Life: Lasting, Rung: 25},
			rung60:     {ID: "rung-60", Crit: G, Block: 4, Line: 7, Life: Lasting, Rung: 60, Wait: true, Path: pathOutput, Gives: slots(look)},
			look:       {ID: "look", Crit: G, Block: 5, Line: 8, Life: Session, Rung: 60},
			hold2:      {ID: "hold-2", Block: 6, Line: 9, Life: Session, Hold: true},
			fullVolts:  {ID: "full-volts", Crit: E, Block: 7, Line: 10, Life: Period, Optional: true},
			fullHT:     {ID: "full-ht", Crit: G, Block: 7, Line: 10, Life: Lasting, Path: pathOutput},
			drop:       {ID: "drop", Crit: E, Block: 7, Line: 10, Life: Lasting, Optional: true, Derived: true, From: slots(fullHT)},
			coldPeak:   {ID: "cold-peak", Crit: E, Block: 8, Line: 11, Life: Lasting},
		},
		Voids: []Facts{
			nothing:         {},
			couplingChanged: slots(insulation, coupling, rung60),
			valveChanged:    slots(heater, rung25, rung60, fullHT, coldPeak),
		},
		Solder: []bool{nothing: false, couplingChanged: true, valveChanged: false},
	}
	return gated(p)
}

// only gives p with no other slots than those named, renumbered.
func only(p *Procedure, keep ...int) *Procedure {
	q := *p
	q.Slots, q.Voids = nil, nil
	q.Blocks = slices.Clone(p.Blocks)
	renumber := func(f Facts) Facts {
		var out Facts
		for n, i := range keep {
			if f.Has(i) {
				out = out.With(n)
			}
		}
		return out
	}
	for _, i := range keep {
		slot := p.Slots[i]
		slot.Gives, slot.From, slot.Follows = renumber(slot.Gives), renumber(slot.From), renumber(slot.Follows)
		q.Slots = append(q.Slots, slot)
	}
	for _, f := range p.Voids {
		q.Voids = append(q.Voids, renumber(f))
	}
	return gated(&q)
}

// gated fills the gates and what a stop takes back, as a plan does.
func gated(p *Procedure) *Procedure {
	p.AfterStop = Facts{}
	for i, slot := range p.Slots {
		p.Slots[i].Stage = p.Blocks[slot.Block].Stage
		if slot.Hold || slot.Life == Session && p.supply(i).Energised() {
			p.AfterStop = p.AfterStop.With(i)
		}
	}
	for b := range p.Blocks {
		p.Blocks[b].Gate = Facts{}
		for i, slot := range p.Slots {
			if p.Blocks[b].Supply.Energised() && slot.Block < b && slot.Life != Period && !slot.Optional {
				p.Blocks[b].Gate = p.Blocks[b].Gate.With(i)
			}
		}
	}
	p.tabulate()
	return p
}

func slots(is ...int) Facts {
	var f Facts
	for _, i := range is {
		f = f.With(i)
	}
	return f
}

// events is every event there is for p.
func events(p *Procedure) []Event {
	all := []Event{
		{},
		{Kind: Leave},
		{Kind: Leave, Absent: true},
		{Kind: Agree},
		{Kind: Accept},
		{Kind: Accept, By: Another},
		{Kind: Free},
		{Kind: Power},
		{Kind: Off},
		{Kind: Interrupt},
		{Kind: Abort},
		{Kind: Done},
		{Kind: ClipOff + 1},
		{Kind: Read, Verdict: Stop},
		{Kind: Read, Verdict: Query},
		{Kind: Read, Verdict: Pass},
		{Kind: Read, Verdict: Query, Weak: true},
		{Kind: Read, Verdict: Pass + 1},
		{Kind: ProveNode, Verdict: Pass},
		{Kind: ProveNode, Verdict: Query},
	}
	if slices.ContainsFunc(p.Slots, func(s Slot) bool { return s.HTLine }) {
		all = append(all, Event{Kind: ClipOn}, Event{Kind: ClipOff, Verdict: Pass}, Event{Kind: ClipOff})
	}
	for i := range len(p.Slots) + 1 {
		all = append(all, Event{Kind: Retract, Slot: i})
	}
	for proof := NoProof; proof <= FullProof+1; proof++ {
		all = append(all, Event{Kind: Prove, Verdict: Pass, Proof: proof}, Event{Kind: Prove, Verdict: Stop, Proof: proof}, Event{Kind: Prove, Verdict: Query, Proof: proof})
	}
	for timer := ProofOver; timer <= MinWait+1; timer++ {
		all = append(all, Event{Kind: Elapsed, Timer: timer})
	}
	for class := range len(p.Voids) + 1 {
		c := Class(class)
		all = append(all, Event{Kind: Alter, Class: c}, Event{Kind: Mend, Class: c}, Event{Kind: Mend, Class: c, Doubt: true})
	}
	return all
}

// pass1 answers the next act well. Whatever Next asks for must be taken.
func pass1(p *Procedure, s State) (State, error) {
	for _, e := range Answers(p, s) {
		var err error
		if s, err = Step(p, s, e); err != nil {
			return s, err
		}
	}
	return s, nil
}

// upTo answers everything well until next is wanted, from nothing known.
func upTo(t *testing.T, p *Procedure, want Todo) State {
	t.Helper()
	return goOnTo(t, p, State{}, want)
}

func goOnTo(t *testing.T, p *Procedure, s State, want Todo) State {
	t.Helper()
	for range 1000 {
		if todo := Next(p, s); todo == want {
			return s
		}
		var err error
		if s, err = pass1(p, s); err != nil {
			t.Fatalf("%v in %+v", err, s)
		}
	}
	t.Fatalf("never came to %+v", want)
	return s
}

// reading is where slot i of p is to be entered.
func reading(p *Procedure, i int) Todo {
	return Todo{Act: ask(p, &State{}, i), Slot: i, Block: p.Slots[i].Block}
}

// do sends events, each of which must be taken.
func do(t *testing.T, p *Procedure, s State, es ...Event) State {
	t.Helper()
	for _, e := range es {
		var err error
		if s, err = Step(p, s, e); err != nil {
			t.Fatalf("%+v: %v in %+v", e, err, s)
		}
	}
	return s
}
