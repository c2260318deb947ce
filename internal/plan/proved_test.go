package plan_test

import (
	"os"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session/sessiontest"
)

// mostPlaces is far more than any shipped pair has.
const mostPlaces = 2e6

// What ships is proved: in no order of events does a session come to a broken
// interlock, and from everywhere the work comes to its end. With POWERUP_PROVE set
// every shipped pair, and the open queries of each path; else one pair without
// open queries.
func TestWhatShipsIsProved(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds for each pair")
	}
	long := os.Getenv("POWERUP_PROVE") != ""
	for _, sheet := range []string{"table-radio", "sparse-radio", "earthed-radio"} {
		for _, bench := range []string{"two-meters", "one-meter", "three-meters"} {
			if !long && (sheet != "table-radio" || bench != "two-meters") {
				continue
			}
			t.Run(sheet+"/"+bench, func(t *testing.T) { prove(t, sessiontest.Plan(t, sheet, bench), engine.Scope{}) })
			t.Run(sheet+"/"+bench+"/boxed", func(t *testing.T) { prove(t, sessiontest.Boxed(t, sheet, bench), engine.Scope{}) })
		}
	}
	t.Run("largest", func(t *testing.T) { prove(t, largest(t), engine.Scope{}) })
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	for bit, path := range p.Paths {
		if long {
			t.Run("queries on "+path, func(t *testing.T) { prove(t, p, engine.Scope{Paths: 1 << bit}) })
		}
	}
}

// largest has every part that a sheet and a bench can have: twelve taps, an earthed
// flex, three meters, an isolating transformer.
func largest(t *testing.T) *plan.Plan {
	t.Helper()
	in := sessiontest.Inputs(t, "earthed-radio", "three-meters")
	in.Bench.Isolating = "box under the bench"
	set := *in.Set
	set.Mains.Taps = nil
	for v := *set.Mains.Tap - 110; len(set.Mains.Taps) < 11; v += 10 {
		set.Mains.Taps = append(set.Mains.Taps, v)
	}
	set.Mains.Taps = append(set.Mains.Taps, *set.Mains.Tap)
	in.Set = &set
	return sessiontest.Made(t, in)
}

func prove(t *testing.T, p *plan.Plan, scope engine.Scope) {
	t.Helper()
	start := time.Now()
	x, err := engine.Explore(&p.Engine, scope, mostPlaces)
	if err != nil {
		t.Fatalf("%v", err)
	}
	t.Logf("%d slots, %d places, %d steps, %.1f s", len(p.Slots), x.Places, x.Steps, time.Since(start).Seconds())
}
