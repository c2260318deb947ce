package session_test

import (
	"fmt"
	"os"
	"runtime"
	"strconv"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session/sessiontest"
)

// sessionsEnv is how many random sessions are played, where set.
const sessionsEnv = "POWERUP_TEST_SESSIONS"

// oneEnv is the one session to play again, where set: its seed and its number of
// events, as its failure has named them.
const oneEnv = "POWERUP_TEST_SESSION"

func playAgain(t *testing.T, radios []*sessiontest.Radio, one string) {
	t.Helper()
	var seed uint64
	var events, fails int
	if _, err := fmt.Sscanf(one, "%d,%d", &seed, &events); err != nil {
		t.Fatalf("%s=%q is no seed and number of events: %v", oneEnv, one, err)
	}
	g := newGame(radios, seed, &tally{})
	g.t, g.fails = t, &fails
	g.play(events)
}

// howMany is the number of random sessions.
func howMany(t *testing.T) int {
	t.Helper()
	if text := os.Getenv(sessionsEnv); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			t.Fatalf("%s=%q is no number of sessions", sessionsEnv, text)
		}
		return n
	}
	switch {
	case raceDetector || testing.Short():
		return 12
	}
	return 40
}

// TestRandomSessionsKeepEveryPromise plays whole sessions of an invented radio:
// mostly its honest answers, and between them all that a tired hand, a dead
// battery or a clock can do. Every promise is asserted after every event. A seed
// and a number of events are one session, exactly; rapid draws both, and where a
// promise breaks it looks for the fewest events that still break it.
func TestRandomSessionsKeepEveryPromise(t *testing.T) {
	plans, reached := allPlans(t), &tally{}
	if one := os.Getenv(oneEnv); one != "" {
		playAgain(t, radiosOf(t, plans), one)
		return
	}
	most := int64(howMany(t))
	t.Run("shard", func(t *testing.T) {
		for shard := range runtime.GOMAXPROCS(0) {
			t.Run(strconv.Itoa(shard), func(t *testing.T) {
				t.Parallel()
				radios, fails := radiosOf(t, plans), 0
				for reached.played.Load() < most {
					rapid.Check(t, func(rt *rapid.T) {
						seed, events := rapid.Uint64().Draw(rt, "seed"), eventCount.Draw(rt, "events")
						if fails == 0 && reached.played.Add(1) > most || fails > shrinks {
							return
						}
						g := newGame(radios, seed, reached)
						g.t, g.fails = rt, &fails
						g.play(events)
					})
				}
			})
		}
	})
	t.Log(reached)
	if reached.closed.Load() == 0 {
		t.Error("no session reached its close")
	}
}

// shrinks is how many shorter sessions that break a promise are looked at.
const shrinks = 12

// eventCount is any number up to 511 as likely as any other, and less is
// simpler; a range of rapid's own would nearly always be short.
var eventCount = rapid.Custom(func(t *rapid.T) int {
	n := 0
	for range 9 {
		n *= 2
		if rapid.Bool().Draw(t, "bit") {
			n++
		}
	}
	return n
})

// tally is how far the sessions got.
type tally struct {
	played, finished, events, closed, stops, repairs, resumes, crashes, aborts, parks, energised, accepted, refused atomic.Int64
}

func (c *tally) String() string {
	return fmt.Sprintf("%d sessions, %d events: %d closed, %d had mains on; %d stops, %d repairs, %d accepted, %d refused; %d crashes, %d aborts, %d parks, %d resumes",
		c.finished.Load(), c.events.Load(), c.closed.Load(), c.energised.Load(), c.stops.Load(), c.repairs.Load(), c.accepted.Load(),
		c.refused.Load(), c.crashes.Load(), c.aborts.Load(), c.parks.Load(), c.resumes.Load())
}

// allPlans are the shipped sheets at the shipped benches, open and boxed.
func allPlans(t *testing.T) []*plan.Plan {
	t.Helper()
	var out []*plan.Plan
	for _, set := range sheets {
		for _, bench := range benches {
			out = append(out, sessiontest.Plan(t, set, bench), sessiontest.Boxed(t, set, bench))
		}
	}
	return out
}

// radiosOf are the radios that answer, one for each plan.
func radiosOf(t *testing.T, plans []*plan.Plan) []*sessiontest.Radio {
	t.Helper()
	var out []*sessiontest.Radio
	for _, p := range plans {
		out = append(out, sessiontest.NewRadio(t, p))
	}
	return out
}

func nameOf(p *plan.Plan) string {
	return fmt.Sprintf("%s, %d meters, boxed %v", p.Set.Mark, len(p.Bench.Meters), p.Boxed)
}
