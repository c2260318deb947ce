package main

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// tape is a session with the record it leaves, in memory.
type tape struct {
	t     *testing.T
	plan  *plan.Plan
	h     *healthy
	s     *session.Session
	clock *benchClock
	lines []session.Logged
	said  int
}

func newTape(t *testing.T, sheet, bench string) *tape {
	t.Helper()
	_, p, err := gather(sheet, "double-wound", bench)
	if err != nil {
		t.Fatal(err)
	}
	c := newBenchClock(time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC))
	return &tape{t: t, plan: p, h: newHealthy(t, p), s: session.New(p, "x", c.now()), clock: c}
}

func (r *tape) keep(a session.Answered) {
	for _, rec := range a.Records {
		r.lines = append(r.lines, session.Logged{Seq: len(r.lines) + 1, At: r.clock.now(), Record: rec})
	}
}

func (r *tape) say(line string) {
	if p := r.s.Prompt(); p.Wait > 0 {
		_ = r.clock.wait(r.t.Context(), p.Wait)
	}
	r.said++
	r.keep(r.s.Submit(line, r.clock.now()))
}

// until answers as the healthy set until a prompt whose id begins with at, or
// until the session is over.
func (r *tape) until(at string) {
	r.t.Helper()
	for n := 0; r.s.Result() == session.Running; n++ {
		p := r.s.Prompt()
		if at != "" && strings.HasPrefix(p.ID, at) {
			return
		}
		line := r.h.line(p)
		if n > 400 || line == "" {
			r.t.Fatalf("stuck at %s", p.ID)
		}
		r.say(line)
	}
	if at != "" {
		r.t.Fatalf("the session ended before %s", at)
	}
}

// resume replays the record, as another program start would, and goes on.
func (r *tape) resume(away time.Duration) {
	r.t.Helper()
	s, err := session.Replay(r.plan, "x", r.lines)
	if err != nil {
		r.t.Fatal(err)
	}
	r.s, r.said = s, 0
	r.clock = newBenchClock(r.clock.now().Wall.Add(away))
	r.keep(s.Resume("x", r.clock.now(), away))
}

// budget fails when more was typed than the shortest honest path allows; one
// line is counted for the passphrase.
func (r *tape) budget(most int) {
	r.t.Helper()
	if got := r.said + 1; got > most {
		r.t.Errorf("%d lines were typed, at most %d are honest work", got, most)
	} else {
		r.t.Logf("%d lines of %d", got, most)
	}
}

func (r *tape) closed() {
	r.t.Helper()
	if r.s.Result() != session.Tested || len(r.s.Open()) > 0 {
		r.t.Errorf("ended %v with %v open", r.s.Result(), r.s.Open())
	}
}

// The budgets of the shortest honest path, in lines typed.
const (
	twoMeterLines  = 95
	oneMeterLines  = 110
	repairLines    = 32
	overnightLines = 14
)

func TestFirstPowerUpIsShort(t *testing.T) {
	for bench, most := range map[string]int{"one-meter": oneMeterLines, "two-meters": twoMeterLines, "three-meters": twoMeterLines} {
		t.Run(bench, func(t *testing.T) {
			r := newTape(t, "table-radio", bench)
			r.until("")
			r.closed()
			r.budget(most)
		})
	}
}

func TestOneRepairAsksOnlyForWhatItVoided(t *testing.T) {
	r := newTape(t, "table-radio", "two-meters")
	r.until("close/label")
	r.say("park")
	r.resume(2 * time.Hour)
	r.until("start/touched")
	r.say("p coupling capacitor V4, a new one fitted")
	r.until("")
	r.closed()
	r.budget(repairLines)
}

func TestAStopOutlivesTheEvening(t *testing.T) {
	r := newTape(t, "table-radio", "two-meters")
	r.h.faults = map[string]string{"spot-checks/output-grid@V4#100@60s": "1.7"}
	r.until("stop/repair")
	r.say("park")
	if !r.s.Stopped() {
		t.Fatal("a stop was lost at park")
	}
	r.resume(2 * time.Hour)
	r.h.faults = nil
	r.until("stop/repair") // n at the start repairs nothing
	r.say("p coupling capacitor leaked, a new one fitted")
	r.until("")
	r.closed()
}

func TestNextMorningGoesOnWhereItStood(t *testing.T) {
	r := newTape(t, "table-radio", "two-meters")
	r.until("spot-checks/ht-smoothed")
	r.until("proof-quick") // the set is on: park comes after the proof
	r.say(r.h.line(r.s.Prompt()))
	r.say("park")
	r.resume(12 * time.Hour)
	if got := r.s.Standing()[0]; !strings.HasPrefix(got, "DANGER - TREAT AS LIVE AND CHARGED") {
		t.Errorf("a resumed session begins with %q", got)
	}
	r.until("spot-checks")
	r.budget(overnightLines + 1) // the last power is where it stood
	r.until("")
	r.closed()
}

func TestAfterADayInsulationAndLineAreReadAgain(t *testing.T) {
	r := newTape(t, "table-radio", "two-meters")
	r.until("hold-2")
	r.say("park")
	r.resume(25 * time.Hour)
	r.until("mains-side/insulation")
	r.until("dead-ht/ht-line")
	r.until("")
	r.closed()
}
