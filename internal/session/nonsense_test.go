package session_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// nonsense is what a tired hand, a paste or a hostile pipe may give: none of it
// is a reading anywhere.
var nonsense = []string{
	"", " ", "\t", "abt 250", "250 ish", "1,234", "5.", ".5", "1_000", "nan", "NaN", "inf", "-inf", "0x1f", "1e3",
	"ok", "yes", "y", "pass", "good", "?!", "--", "- - - -", "4k7k", "12 V 13 V 14 V 15 V 16 V 17 V 18 V 19 V 20 V",
	"\x1b[31m12", "１２", "۱۲", "12\x0012", strings.Repeat("9", 300), "power power", "unplug", "RELEASE", "close!", "cause 1", "second 1",
	"wrong 99999", "wrong", "keep", "9.91E37", "12 kg", "lo batt", "Err", "HOLD",
}

// TestNonsenseNeverPasses types every sort of nonsense at every prompt of a
// whole session: nothing of it counts, and the honest answer still does.
func TestNonsenseNeverPasses(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	for r.Result() == session.Running {
		p := r.Prompt()
		if p.ID == "bench/call" || strings.HasPrefix(p.ID, "start/touched") {
			r.Say(r.Radio.Line(p)) // free text, where nearly anything is an answer
			continue
		}
		r.Pass(p.Wait)
		for _, line := range nonsense {
			before := r.State()
			a := r.Submit(line, r.Now)
			for _, rec := range a.Records {
				if rec.Kind == "reading" {
					t.Fatalf("%s: %q was taken as a reading: %v", p.ID, line, rec.Fields)
				}
			}
			if got := r.State(); got.Held != before.Held || got.Mode != engine.Working || got.Supply != before.Supply {
				t.Fatalf("%s: %q changed the state from %+v to %+v", p.ID, line, before, got)
			}
		}
		r.Say(r.Radio.Line(p))
	}
	closed(t, r)
}

// TestLateLineIsNotUsed: a limit of time that passes at a prompt makes the set
// live and charged again, and the line that came too late does not count.
func TestLateLineIsNotUsed(t *testing.T) {
	for _, c := range []struct {
		at    string
		after time.Duration
		to    string // the next prompt
	}{
		{"dead-ht/windings", 16 * time.Minute, "proof-full.1"},
		{"ramp/ht-reservoir#50", 31 * time.Minute, "proof-full.1"},
	} {
		t.Run(c.at, func(t *testing.T) {
			r := sessiontest.NewTape(t, "table-radio", "two-meters")
			r.Until(c.at)
			line := r.Radio.Line(r.Prompt())
			r.Pass(c.after)
			a := r.Submit(line, r.Now)
			for _, rec := range a.Records {
				if rec.Kind == "reading" {
					t.Errorf("a late line was taken: %v", rec.Fields)
				}
			}
			if r.State().Supply == engine.Dead || !strings.HasPrefix(r.Standing()[0], "DANGER - ") {
				t.Errorf("stands %q", r.Standing())
			}
			r.Until("")
			closed(t, r)
		})
	}
}

// TestRandomSessionsKeepTheirInterlocks plays sessions of honest answers mixed
// with slips, stops, parks, aborts, lost time and alterations. The engine
// asserts its properties after every step; here the record must replay to the
// same state, and no mains may come on after a stop.
func TestRandomSessionsKeepTheirInterlocks(t *testing.T) {
	plans := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		r := sessiontest.NewTape(t, rapid.SampledFrom(sheets).Draw(rt, "sheet"), rapid.SampledFrom(benches).Draw(rt, "bench"))
		for range rapid.IntRange(1, 160).Draw(rt, "turns") {
			stopped := r.Stopped()
			turn(rt, r)
			if stopped && r.Stopped() && r.State().Supply.Energised() {
				rt.Fatalf("mains came on after a stop: %+v", r.State())
			}
			if r.Result() == session.Tested {
				break
			}
		}
		plans[r.Plan.Set.Name]++
		if len(r.Lines) == 0 {
			return
		}
		again, err := session.Replay(r.Plan, sessiontest.Label, r.Lines)
		if err != nil {
			rt.Fatal(err)
		}
		if again.State() != r.State() {
			rt.Fatalf("the record replays to %+v, and the session stood at %+v", again.State(), r.State())
		}
	})
}

// turn is one thing that may happen at a bench.
func turn(rt *rapid.T, r *sessiontest.Tape) {
	if r.Result() != session.Running {
		r.Again(rapid.SampledFrom([]time.Duration{time.Minute, 12 * time.Hour, 30 * time.Hour}).Draw(rt, "away"))
		return
	}
	honest := r.Radio.Line(r.Prompt())
	switch rapid.IntRange(0, 40).Draw(rt, "what") {
	case 0:
		r.Keep(r.Abort("the stop key", r.Now))
	case 1:
		r.Say("park")
	case 2:
		r.Pass(rapid.SampledFrom([]time.Duration{10 * time.Minute, 20 * time.Minute, 70 * time.Minute}).Draw(rt, "time"))
		r.Say(honest)
	case 3:
		r.Say(rapid.SampledFrom(nonsense).Draw(rt, "nonsense"))
	case 4, 5:
		r.Say(strings.Replace(honest, " 0.", " 2", 1))
	case 6:
		r.Say(rapid.SampledFrom([]string{"p coupling", "h", "x", "v output", "n the lead was loose", "? who knows", "m plug"}).Draw(rt, "repair"))
	case 7:
		r.Say(rapid.SampledFrom([]string{"clip on", "clip off 217k", "clip off 2k"}).Draw(rt, "clip"))
	case 8:
		r.Say(fmt.Sprint("wrong ", rapid.IntRange(0, 90).Draw(rt, "entry")))
	default:
		if r.Prompt().ID == "clip-off" {
			honest = "clip off 217k"
		}
		if honest == "" {
			honest = "p coupling capacitor, a new one"
		}
		r.Say(honest)
	}
}

// An abort after a time limit has passed is one line of the record with what
// lapsed behind it, so that it can be replayed.
func TestAbortAfterALapsedProofReplays(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/windings")
	r.Pass(time.Hour)
	r.Keep(r.Abort("the stop key", r.Now))
	r.Again(time.Minute)
	r.Until("")
	closed(t, r)
}

// A record may be broken off after any line, also in the middle of what one
// entry gave: it is completed, resumed and closed, and replays to the end.
func TestRecordBrokenOffAnywhereIsResumed(t *testing.T) {
	whole := sessiontest.NewTape(t, "table-radio", "two-meters")
	whole.Until("spot-checks")
	for cut := 1; cut < len(whole.Lines); cut += 11 {
		r := sessiontest.TapeOf(t, whole.Plan)
		r.Lines = append(r.Lines, whole.Lines[:cut]...)
		r.Again(time.Minute)
		r.Until("")
		closed(t, r)
		if _, err := session.Replay(r.Plan, sessiontest.Label, r.Lines); err != nil {
			t.Errorf("cut after line %d: %v", cut, err)
		}
	}
}
