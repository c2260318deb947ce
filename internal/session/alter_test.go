package session_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

func TestNotSureIsALetter(t *testing.T) {
	for _, line := range []string{"?", "? who knows"} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Until("hold-1")
		r.Say("park")
		r.Again(time.Hour)
		r.Until("start/touched")
		r.Say(line)
		if got := row(r.Say("yes"), "Void"); got == "" {
			t.Errorf("%q voids nothing", line)
		}
	}
}

func TestAlterationThatIsNotHeardIsRefused(t *testing.T) {
	for _, line := range []string{"p and h", "p coupling, h second can", "n; p coupling", "; p", "q", "ph", "p coupling; "} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Until("hold-1")
		r.Say("park")
		r.Again(time.Hour)
		r.Until("start/touched")
		a := r.Say(line)
		if row(a, "Not taken") == "" || !strings.HasPrefix(r.Prompt().ID, "start/touched") {
			t.Errorf("%q was taken: %v, then %s", line, a.Rows, r.Prompt().ID)
		}
	}
}

func TestTwoAlterationsVoidWhatEachDoes(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	r.Say("park")
	r.Again(time.Hour)
	r.Until("start/touched")
	r.Say("o the output transformer; r the cathode resistor")
	r.Say("yes")
	open := r.Open()
	for _, id := range []string{"dead-ht/output-transformer", "dead-ht/cathode-resistor@V4"} {
		if !slices.Contains(open, id) {
			t.Errorf("%s stands; owed: %v", id, open)
		}
	}
}

func TestAlterationIsToldAsItIsMade(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"neutral-path": "2"}
	r.Until("query/mains-side/neutral-path")
	r.Say("touched m the switch, a new one")
	a := r.Say("yes")
	if r.State().Queried || row(a, "Void") == "" {
		t.Fatalf("told %v", a.Rows)
	}
	r.Radio.Faults = nil
	if r.State().Supply == engine.Dead {
		t.Error("hands were in it, and the set still counts as proved dead")
	}
	r.Until("mains-side/poles")
	r.Until("")
	closed(t, r)
}

func TestAlterationIsRefusedWithMainsOn(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#50")
	if got := row(r.Say("touched p coupling"), "Not taken"); !strings.Contains(got, "INV-18") {
		t.Errorf("told %q", got)
	}
}

// stopped is a session whose grid stopped it at the ceiling of the ramp.
func stopped(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Turns["ramp/output-grid#75"] = []string{"172.5 44.43 1.7"}
	r.Until("stop/repair")
	return r
}

func TestStopIsNotLeftWithoutItsCause(t *testing.T) {
	r := stopped(t)
	for _, line := range []string{"p", "n", "?", "p coupling; h"} {
		if got := row(r.Say(line), "Not taken"); !strings.Contains(got, "cause and repair") {
			t.Errorf("%q: told %q", line, got)
		}
	}
	r.Say("park")
	r.Again(time.Hour)
	r.Until("start/touched")
	if got := row(r.Say("p"), "Not taken"); !strings.Contains(got, "cause and repair") || !r.Stopped() {
		t.Errorf("a stop was left by a letter after a resume: %q", got)
	}
}

func TestRepairThatDoesNotReachTheStopIsNoExplanation(t *testing.T) {
	r := stopped(t)
	r.Say("y a new mains capacitor")
	if got := row(r.Say("yes"), "Twice"); got == "" || r.Stopped() {
		t.Fatalf("told %q", got)
	}
	r.Until("transformer/") // energised work starts again behind the lamp
	r.Until("ramp/output-grid#75")
	a := r.Say(r.Radio.Line(r.Prompt()))
	if row(a, "Once more") == "" {
		t.Errorf("once was enough: %v", a.Rows)
	}
	r.Until("")
	closed(t, r)
}

func TestStopSurvivesAnAbort(t *testing.T) {
	r := stopped(t)
	r.Keep(r.Abort("the stop key", r.Now))
	r.Again(time.Minute)
	r.Until("stop/repair")
	if r.Say("n"); r.State().Mode != engine.Stopped {
		t.Error("n repaired a stop")
	}
}

func TestEntryTakenBackAtTheLastQuestionIsReadAgain(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("close/close")
	for _, l := range r.Lines {
		if l.Fields["check"] == "cathode-resistor" {
			r.Say("wrong " + l.Fields["number"])
		}
	}
	if id := r.Prompt().ID; id != "dead-ht/black-chassis" {
		t.Errorf("%s is asked", id)
	}
	r.Until("")
	closed(t, r)
}

func TestOpenLeadTakesNoClipOff(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	r.Say("clip on")
	for _, line := range []string{"clip off OL", "clip off >20M", "clip off", "clip off -", "clip", "clip away"} {
		if r.Say(line); !r.State().Clip {
			t.Errorf("%q took the clip off", line)
		}
	}
	a := r.Say("clip off -3k")
	if row(a, "STOP") == "" || r.State().Supply == engine.Dead || !r.State().Clip {
		t.Errorf("volts on the ohms range of a clipped line: %v", a.Rows)
	}
}

func TestVoltsOnOhmsInASecondReadingStop(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"grid-leak": "600k"}
	r.Until("query/dead-ht/grid-leak@V4")
	if r.Say("second -600k by a"); !r.Stopped() {
		t.Error("a charged part passed as a second reading that was not taken")
	}
}

func TestParkIsForADeadSet(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#50")
	if r.Say("park"); r.Result() != session.Running {
		t.Error("parked with mains on")
	}
}

func TestNothingIsTakenAfterTheEnd(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	r.Say("park")
	if got := row(r.Say("wrong 3"), "Not taken"); !strings.Contains(got, "over") {
		t.Errorf("told %q", got)
	}
}

// A clip that is not there is not taken off, and volts told with it prove
// nothing: mains may be on meanwhile.
func TestClipThatIsNotOnIsNotTakenOff(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#50")
	r.Say("keep") // the wait is over, nothing else
	before := r.State()
	for _, line := range []string{"clip off -3", "clip off 217k", "clip off OL"} {
		if a := r.Say(line); row(a, "Not taken") == "" || r.State() != before {
			t.Errorf("%q gives %v and %+v", line, a.Rows, r.State())
		}
	}
}

// Nobody reaches the HT line of a boxed set, with a clip or to read it free.
func TestBoxedSetTakesNoClip(t *testing.T) {
	r := sessiontest.TapeOf(t, sessiontest.Boxed(t, "table-radio", "two-meters"))
	r.Until("boxed/insulation")
	if got := row(r.Say("clip on"), "Not taken"); got == "" || r.State().Clip {
		t.Errorf("a clip was put on a boxed set: %q", got)
	}
	r.Until("")
	closed(t, r)
}

// Volts where an ohmmeter stands: the set is not dead, whatever was proved.
func TestVoltsOnOhmsEndTheProof(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("mains-side/taps")
	r.Say("-3 43.1 46.1")
	if got := r.Standing()[0]; !r.Stopped() || !strings.HasPrefix(got, "DANGER - TREAT AS LIVE AND CHARGED") {
		t.Errorf("stopped %v, stands %q", r.Stopped(), got)
	}
	r.Say("m the plug was in, taken out")
	r.Until("proof-full.1")
	r.Until("")
	closed(t, r)
}

// An alteration that costs nothing is answered all the same.
func TestAlterationThatVoidsNothingIsNoted(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("bench/bench")
	if got := row(r.Say("touched t moved back"), "Noted"); got == "" {
		t.Error("nothing was said")
	}
}

// What a test charged before the session was broken off is not asked for at a
// bench line, which it does not belong to.
func TestChargedNodeIsNotAskedForAtTheBench(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("openings/tester")
	r.Say(">20M 210M 9.31 0.2 0.2 9.31")
	r.Keep(r.Abort("the stop key", r.Now))
	r.Again(time.Hour)
	r.Until("bench/call")
	if n := len(r.Prompt().Fields); n != 1 {
		t.Errorf("%d things are asked who asks for one", n)
	}
	r.Until("")
	closed(t, r)
}
