package interlocks

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
)

// at is the table radio taken to a prompt.
func at(t *testing.T, prompt string) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until(prompt)
	return r
}

// with is the radio's line with the word of one field replaced.
func with(r *sessiontest.Tape, field int, word string) string {
	words := strings.Fields(r.Radio.Line(r.Prompt()))
	words[field] = word
	return strings.Join(words, " ")
}

func TestAProofEndsAfterAnHour(t *testing.T) { // INV-08; common practice, no source
	r := at(t, "dead-ht/ht-line")
	for range 7 { // entries keep it from ending by their want
		r.Pass(10 * time.Minute)
		r.Submit("?", r.Now)
	}
	if r.State().Supply == engine.Dead || !strings.HasPrefix(r.Standing()[0], "DANGER") {
		t.Errorf("after 70 minutes: %q", r.Standing())
	}
}

func TestAJumpOfTheWallClockEndsTheDay(t *testing.T) { // INV-35; common practice, no source
	for jump, void := range map[time.Duration]bool{time.Minute: false, 3 * time.Minute: true, -3 * time.Minute: true} {
		r := at(t, "hold-1")
		r.Now.Wall = r.Now.Wall.Add(jump)
		r.Submit("release", r.Now)
		if got := strings.HasPrefix(r.Prompt().ID, "mains-side/insulation"); got != void {
			t.Errorf("a jump of %v leads to %s", jump, r.Prompt().ID)
		}
	}
}

func TestInsulationIsAskedForWithThePrimary(t *testing.T) { // INV-40
	r := at(t, "mains-side/insulation")
	r.Pass(16 * time.Minute) // the ohms of a moment ago end with the proof
	r.Submit("?", r.Now)
	r.Until("mains-side/insulation")
	if name := r.Prompt().Fields[0].Name; name != "pri here" {
		t.Fatalf("before the insulation %q is asked", name)
	}
	r.Say(with(r, 0, "OL"))
	if s := r.StopReading(); s == nil || r.Plan.Slots[s.Slot].Check.ID != "primary-here" {
		t.Errorf("OL through switch and primary leads to %s, stopped by %+v", r.Prompt().ID, s)
	}
}

func TestTheBenchIsTriedInEverySession(t *testing.T) { // INV-42
	r := at(t, "hold-2")
	r.Say("park")
	r.Again(time.Hour)
	want := []string{"rcd", "discharge-tool", "lamp-cold", "meter-source", "leads", "tester-apart", "tester-joined", "call"}
	r.Until("bench/bench")
	r.Until("proof")
	for _, id := range want {
		read := func(l session.Logged) bool { return l.Kind == "reading" && l.Fields["check"] == id }
		resumed := slices.IndexFunc(r.Lines, func(l session.Logged) bool { return l.Kind == "resume" })
		if resumed < 0 || !slices.ContainsFunc(r.Lines[resumed:], read) {
			t.Errorf("%s was not read again", id)
		}
	}
}

func TestEarlierReadingsStandForNothing(t *testing.T) { // INV-54
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Set.Reported = nil
	without := sessiontest.Made(t, in)
	in.Set.Reported = []sheet.Reported{{Check: "mains-insulation", Value: "500 MΩ", Meter: "x", Date: "2029-12-24"}}
	if with := sessiontest.Made(t, in); len(with.Slots) != len(without.Slots) || len(with.Slots) == 0 {
		t.Errorf("%d readings with an earlier one, %d without", len(with.Slots), len(without.Slots))
	}
}

func TestWhatTheKitLacksIsSaidFirst(t *testing.T) { // INV-62
	r := sessiontest.TapeOf(t, sessiontest.Boxed(t, "table-radio", "two-meters"))
	for _, row := range r.Prompt().Rows {
		if row.Label == "This kit" && strings.Contains(row.Text, "cannot measure touch-current") {
			return
		}
	}
	t.Errorf("the first prompt says %v", r.Prompt().Rows)
}

func TestReadingsBehindAStopAreNotUsed(t *testing.T) { // INV-63
	r := at(t, "dead-ht/black-ht1")
	a := r.Say("OL 1.2k 1.01k")
	var kinds []string
	for _, rec := range a.Records {
		kinds = append(kinds, rec.Kind)
	}
	if want := []string{"entry", "reading", "stop", "not-used", "not-used"}; !slices.Equal(kinds, want) {
		t.Errorf("an open output transformer gives %v, want %v", kinds, want)
	}
}
