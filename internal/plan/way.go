package plan

import (
	"time"

	"example.com/powerup/internal/engine"
)

// Task is one line on the way to the end.
type Task struct {
	engine.Todo
	Stage  string        // whose work it belongs to; empty: what comes after the last reading
	Before engine.State  // the state that it is asked in
	Reads  []int         // slots it is typed for, and those worked out at once from it
	Typed  bool          // not: worked out with nothing typed before it
	Time   time.Duration // for the line, what is left of the wait before it, and those within it
}

// Way is the order of work from a state on, every answer a pass.
type Way struct {
	Tasks []Task
	End   engine.State // behind the last task
	Whole bool         // nothing is owed there
}

// Way follows the order of work from a state on. From a stop, or with too many
// queries open, it comes to the repair and goes no further.
func (p *Plan) Way(s engine.State) Way {
	var way []Task
	var c clock
	for range 4 * (len(p.Slots) + len(p.Blocks)) {
		todo := engine.Next(&p.Engine, s)
		switch {
		case todo.Act == engine.Finish, todo.Act == engine.Repair:
			return Way{way, s, todo.Act == engine.Finish}
		case todo.Act == engine.Enter && p.Engine.Slots[todo.Slot].Derived:
			way = p.workedOut(way, todo, s)
			s, _ = engine.Step(&p.Engine, s, engine.Event{Kind: engine.Read, Verdict: engine.Pass})
			continue
		}
		t := Task{Todo: todo, Stage: p.stageOf(todo), Before: s, Typed: true, Time: c.pass(p, todo)}
		s, t.Reads = p.passLine(s, todo)
		way = append(way, t)
	}
	return Way{Tasks: way, End: s}
}

// Onward is the way from a stop: the making safe, and the two lines that name the
// repair and say yes to what falls by it, which belong to no stage; then what is owed when the repair has voided nothing.
// What it voids comes on top. It also gives the state in which the repair is
// named. From any other state it is the way to the end.
func (p *Plan) Onward(s engine.State) (way Way, safe engine.State) {
	way = p.Way(s)
	if way.Whole || way.End.Mode != engine.Stopped {
		return way, way.End
	}
	repair := Task{Todo: engine.Next(&p.Engine, way.End), Before: way.End, Typed: true, Time: perLine}
	first := append(way.Tasks, repair, repair)
	for i := range first {
		first[i].Stage, first[i].Slot = "", -1
	}
	rest := p.Way(Mended(way.End))
	return Way{append(first, rest.Tasks...), rest.End, rest.Whole}, way.End
}

// workedOut puts what is not typed with the line it comes of.
func (p *Plan) workedOut(way []Task, todo engine.Todo, s engine.State) []Task {
	if last := len(way) - 1; last >= 0 && p.onLine(way[last].Reads, p.Slots[todo.Slot].Line) {
		way[last].Reads = append(way[last].Reads, todo.Slot)
		return way
	}
	return append(way, Task{Todo: todo, Stage: p.stageOf(todo), Before: s, Reads: []int{todo.Slot}})
}

func (p *Plan) onLine(slots []int, line int) bool {
	return len(slots) > 0 && p.Slots[slots[0]].Line == line
}

func (p *Plan) stageOf(todo engine.Todo) string {
	if todo.Slot < 0 {
		return ""
	}
	return p.Slots[todo.Slot].Stage
}

// passLine answers one act, a whole line of readings at once, and gives the slots
// it was for.
func (p *Plan) passLine(s engine.State, todo engine.Todo) (engine.State, []int) {
	step := func(e engine.Event) { s, _ = engine.Step(&p.Engine, s, e) }
	step(engine.Event{Kind: engine.Elapsed, Timer: engine.MinWait})
	switch todo.Act {
	case engine.Unplug:
		step(engine.Event{Kind: engine.Off})
	case engine.Unclip:
		step(engine.Event{Kind: engine.ClipOff, Verdict: engine.Pass})
	case engine.ProveNodes:
		step(engine.Event{Kind: engine.ProveNode, Verdict: engine.Pass})
	case engine.Resolve: // the readings behind it follow on their own line
		step(engine.Event{Kind: engine.Read, Verdict: engine.Pass})
		return s, []int{todo.Slot}
	case engine.ProveLead:
		step(engine.Event{Kind: engine.Prove, Proof: engine.LeadProof, Verdict: engine.Pass})
	case engine.ProveFull:
		step(engine.Event{Kind: engine.Prove, Proof: p.Engine.FirstProof(), Verdict: engine.Pass})
	case engine.ProveSecond:
		step(engine.Event{Kind: engine.Prove, Proof: engine.FullProof, Verdict: engine.Pass})
	case engine.SwitchOn:
		step(engine.Event{Kind: engine.Power})
	case engine.Release:
		step(engine.Event{Kind: engine.Free})
		return s, []int{todo.Slot}
	case engine.Enter:
		return p.passEntry(s, p.Slots[todo.Slot].Line)
	}
	return s, nil
}

// passEntry types one line. What must pass twice running ends it, and comes on
// a line of its own.
func (p *Plan) passEntry(s engine.State, line int) (engine.State, []int) {
	step := func(e engine.Event) { s, _ = engine.Step(&p.Engine, s, e) }
	var reads []int
	for {
		todo := engine.Next(&p.Engine, s)
		if todo.Act != engine.Enter || p.Slots[todo.Slot].Line != line {
			break
		}
		reads = append(reads, todo.Slot)
		step(engine.Event{Kind: engine.Read, Verdict: engine.Pass})
		step(engine.Event{Kind: engine.Elapsed, Timer: engine.MinWait})
		if s.Again {
			break
		}
	}
	step(engine.Event{Kind: engine.ProveNode, Verdict: engine.Pass})
	return s, reads
}
