package plan_test

import (
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session/sessiontest"
)

// plans are the open and the boxed part at every shipped bench.
func plans(t *testing.T) map[string]*plan.Plan {
	t.Helper()
	all := map[string]*plan.Plan{}
	for _, bench := range []string{"one-meter", "two-meters", "three-meters"} {
		all[bench] = sessiontest.Plan(t, "table-radio", bench)
		all[bench+", boxed"] = sessiontest.Boxed(t, "table-radio", bench)
	}
	return all
}

// One look at the plug pins is enough for a boxed set alone.
func TestOnlyABoxedSetIsProvedByItsPins(t *testing.T) {
	for name, p := range plans(t) {
		if p.Engine.Pins != p.Boxed || p.Engine.FirstProof() == engine.FullProof != p.Boxed {
			t.Errorf("%s: pins %v, boxed %v", name, p.Engine.Pins, p.Boxed)
		}
	}
}

// What the stages cost is the whole, and each of them stands once, in the order
// of the work.
func TestTheStagesCostWhatTheWholeCosts(t *testing.T) {
	for name, p := range plans(t) {
		parts := p.Way(engine.State{}).Parts()
		if got := plan.Total(parts); got != p.Cost() {
			t.Errorf("%s: the parts are %v, the whole %v", name, got, p.Cost())
		}
		if first, last := parts[0], parts[len(parts)-1]; first.Stage != "" || last.Stage != "" || first.Lines < 4 || last.Lines < 2 {
			t.Errorf("%s: begins with %+v and ends with %+v", name, first, last)
		}
		seen, at := map[string]bool{}, -1
		for _, part := range parts[1 : len(parts)-1] {
			i := stageAt(p, part.Stage)
			if seen[part.Stage] || i <= at || part.Lines == 0 {
				t.Errorf("%s: %+v stands twice, out of order, or costs nothing", name, part)
			}
			seen[part.Stage], at = true, i
		}
	}
}

func stageAt(p *plan.Plan, name string) int {
	for i, s := range p.Procedure.Stages {
		if s.Stage == name {
			return i
		}
	}
	return -1
}

// Every slot is read once on the way, but for what other readings give: the look,
// and what stands for its period alone.
func TestTheWayReadsEverySlotOnce(t *testing.T) {
	for name, p := range plans(t) {
		way := p.Way(engine.State{})
		reads := map[int]int{}
		for _, task := range way.Tasks {
			for _, i := range task.Reads {
				reads[i]++
			}
		}
		for i, s := range p.Slots {
			given := s.Look || p.Engine.Slots[i].Life == engine.Period
			if reads[i] != 1 && !(given && reads[i] == 0) {
				t.Errorf("%s: %s is read %d times", name, s.ID, reads[i])
			}
		}
		if !way.Whole {
			t.Errorf("%s: the way ends early", name)
		}
	}
}

// From a stop the way leads to the repair, and not beyond.
func TestTheWayFromAStopEndsAtTheRepair(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	for _, mode := range []engine.Mode{engine.MakeSafe, engine.Stopped} {
		way := p.Way(engine.State{Mode: mode})
		if way.Whole || way.End.Mode != engine.Stopped {
			t.Errorf("mode %d: whole %v, ends in mode %d", mode, way.Whole, way.End.Mode)
		}
		if more := p.Way(plan.Mended(way.End)); !more.Whole {
			t.Errorf("mode %d: no way leads on from the repair", mode)
		}
	}
}

// Parking voids what one session alone may know: it costs the lines before the
// work at least, and more with mains on.
func TestParkingCostsTheBenchAtLeast(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	dead, live := 0, 0
	for _, task := range p.Way(engine.State{}).Tasks {
		c, known := p.Parking(task.Before)
		if !known || c.Lines < 4 || c.Time <= 0 {
			t.Errorf("%v: %+v, known %v", task.Todo, c, known)
		}
		if task.Act == engine.Release && p.Slots[task.Slot].Hold == "hold-1" {
			dead = c.Lines
		}
		if task.Act == engine.Enter && task.Stage == "soak" {
			live = max(live, c.Lines)
		}
	}
	if !(dead > 4 && live > dead) {
		t.Errorf("at hold 1 %d lines, in the soak %d", dead, live)
	}
}

// From the first line of a session to the first reading on the set, by the clock that
// the plan counts with.
func TestTheFirstReadingOfTheSetComesSoon(t *testing.T) {
	const most = 15 * time.Minute
	everyPlan(t, func(t *testing.T, p *plan.Plan) {
		way := p.Way(engine.State{})
		at := way.Parts()[0].Time
		for _, task := range way.Tasks {
			at += task.Time
			for _, i := range task.Reads {
				slot := p.Slots[i]
				if slot.Stage == "bench" || slot.Check.Function == "" {
					continue
				}
				t.Logf("%s after %v", slot.ID, at.Round(time.Minute))
				if at > most {
					t.Errorf("%s is read after %v, at most %v", slot.ID, at, most)
				}
				return
			}
		}
		t.Error("nothing is read")
	})
}
