package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// TestASetThatWasLeftOnChangesNoHands: nobody has said that the plug is out.
func TestASetThatWasLeftOnChangesNoHands(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#50")
	r.Pass(40 * time.Minute)
	r.Say("5")
	r.Say("over to carl")
	if l := r.Lines[len(r.Lines)-1]; l.Kind != "refused" {
		t.Errorf("at %s the record has %s %v", r.Prompt().ID, l.Kind, l.Fields)
	}
}

// TestAStageThatIsUnderWayIsNotBrokenOffByAWord: its times would begin again, and a
// line in its middle would stand with mains on longer than mains may without an entry.
func TestAStageThatIsUnderWayIsNotBrokenOffByAWord(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("soak/output-cathode@2700s")
	if a := r.Say("unplugged"); !strings.Contains(row(a, "Not taken"), "soak is under way") || !r.State().Supply.Energised() {
		t.Errorf("%v", a.Rows)
	}
}

// TestResumeWordsTimesByTheClockOnTheWall: a record keeps UTC. 18:00 there is
// 23:00 five hours to the east.
func TestResumeWordsTimesByTheClockOnTheWall(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	r.Say("park")
	s, err := session.Replay(r.Plan, sessiontest.Label, r.Lines)
	if err != nil {
		t.Fatal(err)
	}
	now := r.Now.Wall.Add(time.Hour).In(time.FixedZone("east", 5*3600))
	for _, x := range s.Resume(session.Instant{Wall: now}, time.Hour).Rows {
		if x.Label == "Until" && !strings.Contains(x.Text, "23:01") {
			t.Errorf("at %s: %s %s", now.Format("15:04"), x.Label, x.Text)
		}
	}
}

// TestResumeNamesAnAlterationThatNobodyAnswered: with the plug out no stage with
// mains on was under way.
func TestResumeNamesAnAlterationThatNobodyAnswered(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/windings")
	r.Say("touched m flex")
	s, err := session.Replay(r.Plan, sessiontest.Label, r.Lines)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range s.Resume(session.Instant{Wall: r.Now.Wall.Add(time.Hour)}, time.Hour).Rows {
		if x.Label == "Lapsed" && strings.Contains(x.Text, "mains on") {
			t.Errorf("%s %s", x.Label, x.Text)
		}
	}
}

// TestSlopeOfTheSoakIsThisEveningsAlone: every cathode of the soak reads the same,
// so it does not rise, whatever the spot check of the evening before has shown.
func TestSlopeOfTheSoakIsThisEveningsAlone(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("spot-checks/output-cathode@180s")
	r.Say("230.0 6.60")
	r.Keep(r.Abort("the stop key", r.Now))
	r.Again(3 * time.Hour)
	r.Until("soak/output-cathode@3600s")
	r.Say(r.Radio.Line(r.Prompt()))
	for _, x := range r.Readings("cathode-slope") {
		if x.Fields["value"] != "0 %" {
			t.Errorf("six times 6.00 V in the soak rise by %s a minute", x.Fields["value"])
		}
	}
}

// TestMissedReadingOfTheCoreLengthensTheSoak: it is written as missed, and the end
// is not left unknown.
func TestMissedReadingOfTheCoreLengthensTheSoak(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("soak/output-cathode@2700s")
	words := strings.Fields(r.Radio.Line(r.Prompt()))
	words[len(words)-1] = "-"
	r.Say(strings.Join(words, " "))
	r.Until("")
	if len(r.Readings("core-end")) == 0 {
		t.Error("the core was missed once, and its end was never worked out")
	}
}
