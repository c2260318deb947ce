package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// asleep moves the wall clock alone, as a computer that sleeps does.
func asleep(r *sessiontest.Tape, d time.Duration) {
	r.Now = session.Instant{Wall: r.Now.Wall.Add(d), Mono: r.Now.Mono + time.Second}
}

func TestComputerAsleepEndsAProof(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/windings")
	asleep(r, 2*time.Hour)
	r.Say(r.Radio.Line(r.Prompt()))
	if r.State().Supply == engine.Dead {
		t.Error("proved dead two hours ago counts, because the computer slept")
	}
}

func TestComputerAsleepWithMainsOnIsLeftOn(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#50")
	asleep(r, 40*time.Minute)
	r.Say(r.Radio.Line(r.Prompt()))
	if r.State().Mode != engine.LeftOn {
		t.Errorf("state %+v", r.State())
	}
}

func TestDayIsCountedFromTheReadingNotFromThePark(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	for range 2 {
		r.Say("park")
		r.Again(13 * time.Hour)
		r.Until("hold-1")
	}
	if n := len(r.Readings("mains-insulation")); n != 2 {
		t.Errorf("insulation was read %d times in 26 hours", n)
	}
}

func TestClockSetBackVoidsWhatStandsForADay(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	r.Say("park")
	r.Again(-48 * time.Hour)
	r.Until("mains-side/insulation")
}

func TestWholeLineWaitsAfterACorrection(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "one-meter")
	r.Until("transformer/half-b@300s")
	r.TakeBack("lamp-late")
	r.Until("power")
	r.Say("power")
	if r.Prompt().Wait == 0 {
		t.Errorf("%s is asked without its wait", r.Prompt().ID)
	}
}

// TestClockSetBackMakesNoProofYounger: the clock is put an hour back, and then the
// computer sleeps for half an hour.
func TestClockSetBackMakesNoProofYounger(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/windings")
	asleep(r, -time.Hour)
	r.Say("5 5")
	asleep(r, 30*time.Minute)
	r.Say(r.Radio.Line(r.Prompt()))
	if r.State().Supply == engine.Dead {
		t.Error("proved dead half an hour ago counts, because the clock had been set back")
	}
}

// A late reading counts with its own time: it is said, it stands on the record, and
// the soak is longer by as much.
func TestALateReadingCountsWithItsOwnTime(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("soak/output-cathode@300s")
	r.Pass(r.Prompt().Wait + 4*time.Minute)
	a := r.Say(r.Radio.Line(r.Prompt()))
	if got := row(a, "Late"); !strings.Contains(got, "wanted at 5m0s") {
		t.Errorf("%q", got)
	}
	var after time.Duration
	for _, rec := range a.Records {
		if rec.Kind == "reading" && rec.Fields["check"] == "output-cathode" {
			after, _ = time.ParseDuration(rec.Fields["after"])
		}
	}
	if after < 9*time.Minute || after > 12*time.Minute {
		t.Errorf("on record at %v", after)
	}
	if wait := r.Prompt().Wait; wait < 9*time.Minute { // 15 min is ten after the one at 5 min
		t.Errorf("the next is due in %v", wait)
	}
}
