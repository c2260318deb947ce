package session_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// askedOf is a session with everything read, that waits for the word on a new
// coupling capacitor.
func askedOf(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("close/label")
	r.Say("touched p coupling capacitor, a new one")
	if r.State().Supply != engine.Dead || r.Prompt().ID != "touched/confirm" {
		t.Fatalf("at %s in %+v", r.Prompt().ID, r.State())
	}
	return r
}

// confirmRow is the text of a prompt from the row with a label to the next label.
func confirmRow(p session.Prompt, label string) string {
	var out []string
	in := false
	for _, x := range p.Rows {
		in = x.Label == label || in && x.Label == ""
		if in {
			out = append(out, x.Text)
		}
	}
	return strings.Join(out, "\n")
}

func TestCostOfAnAlterationIsShownBeforeItIsConfirmed(t *testing.T) {
	r := askedOf(t)
	p := r.Prompt()
	if got := confirmRow(p, "Touched"); !strings.Contains(got, "coupling") {
		t.Errorf("understood %q", got)
	}
	for _, part := range []string{
		"looking: Volts stamped on the capacitor, coupling", "openings: Coupling capacitor at volts", "Mains to chassis at 500 V",
		"HT line to chassis", "release of hold-1", "ramp: Grid of the output valve V4", "release of hold-2", "spot-checks: Grid of the output valve V4",
	} {
		if got := confirmRow(p, "Falls"); !strings.Contains(got, part) {
			t.Errorf("%q is not among what falls:\n%s", part, got)
		}
	}
	for _, part := range []string{"soak", "transformer:", "Cathode resistor"} {
		if got := confirmRow(p, "Falls"); strings.Contains(got, part) {
			t.Errorf("%q falls:\n%s", part, got)
		}
	}
}

// The cost that is shown is that of the work that comes: every line counted.
func TestCostOfAnAlterationIsTheWorkThatFollows(t *testing.T) {
	for _, c := range []struct{ at, line string }{
		{"close/label", "p coupling capacitor, a new one"},
		{"close/label", "h the second can"},
		{"close/label", "v output"},
		{"close/label", "x rewound"},
		{"close/label", "? a lump of solder"},
		{"hold-2", "r the cathode resistor"},
		{"warm/", "m the flex"},
	} {
		plain, altered := sessiontest.NewTape(t, "table-radio", "two-meters"), sessiontest.NewTape(t, "table-radio", "two-meters")
		for _, r := range []*sessiontest.Tape{plain, altered} {
			r.Until(c.at)
		}
		from := len(plain.Said)
		altered.Say("touched " + c.line)
		var lines, minutes int
		if _, err := fmt.Sscanf(confirmRow(altered.Prompt(), "Again"), "%d lines, about %d min", &lines, &minutes); err != nil {
			t.Fatalf("%s: %v in %q", c.line, err, confirmRow(altered.Prompt(), "Again"))
		}
		altered.Say("yes")
		plain.Until("")
		altered.Until("")
		closed(t, altered)
		more := len(altered.Said) - len(plain.Said) - 2 // the letter and its word
		if more != lines || from == 0 {
			t.Errorf("%s at %s: %d lines were shown, and %d were typed", c.line, c.at, lines, more)
		}
		if minutes < lines/2 {
			t.Errorf("%s: %d lines in %d min", c.line, lines, minutes)
		}
		t.Logf("%s at %s: %d lines, %d min", c.line, c.at, lines, minutes)
	}
}

func TestNothingIsTakenBesideTheTwoWords(t *testing.T) {
	r := askedOf(t)
	before := r.State()
	for _, line := range []string{"", "y", "YES", "yes please", "n", "nO", "park", "release", "power", "wrong 3", "touched n", "clip on", "0.2", "-", sessiontest.Label} {
		a := r.Say(line)
		if row(a, "Not taken") == "" || r.State() != before || !strings.HasPrefix(r.Prompt().ID, "touched/confirm") || r.Result() != session.Running {
			t.Errorf("%q was taken: %v", line, a.Rows)
		}
	}
	if a := r.Say("?"); row(a, "yes") == "" || row(a, "no") == "" || r.State() != before {
		t.Errorf("? tells %v", a.Rows)
	}
	r.Until("")
	closed(t, r)
}

func TestLetterTakenBackVoidsNothing(t *testing.T) {
	r := askedOf(t)
	before := r.State()
	if got := row(r.Say("no"), "Taken back"); got == "" || r.State() != before || r.Prompt().ID != "close/label" {
		t.Errorf("told %q, at %s", got, r.Prompt().ID)
	}
	kinds := map[string]int{}
	for _, l := range r.Lines {
		kinds[l.Kind]++
	}
	if kinds["told"] != 1 || kinds["not-touched"] != 1 || kinds["altered"] != 1 { // the n at the start
		t.Errorf("on record: %v", kinds)
	}
	r.Until("")
	closed(t, r)
}

// Whatever comes between the letter and its word but no, the reading is gone.
func TestAlterationWithoutAnAnswerIsTrue(t *testing.T) {
	for name, end := range map[string]func(*sessiontest.Tape){
		"the stop key":  func(r *sessiontest.Tape) { r.Keep(r.Abort("the stop key", r.Now)) },
		"a crash":       func(*sessiontest.Tape) {},
		"end of input":  func(r *sessiontest.Tape) { r.Keep(r.Abort("end of input", r.Now)) },
		"a lapse, then": func(r *sessiontest.Tape) { r.Pass(2 * time.Hour); r.Say("yes") },
	} {
		t.Run(name, func(t *testing.T) {
			r := askedOf(t)
			end(r)
			r.Again(time.Minute)
			n := 0
			for _, id := range r.Open() {
				if strings.HasPrefix(id, "openings/coupling-capacitor") || id == "mains-side/mains-insulation" {
					n++
				}
			}
			if n != 2 {
				t.Errorf("%d of two readings are owed: %v", n, r.Open())
			}
			r.Until("")
			closed(t, r)
			if _, err := session.Replay(r.Plan, sessiontest.Label, r.Lines); err != nil {
				t.Error(err)
			}
		})
	}
}

// A line that comes after the proof has lapsed is not used, and the question
// stands; no then gives the readings back, and the proof is owed.
func TestProofLapsesUnderTheQuestion(t *testing.T) {
	r := askedOf(t)
	r.Pass(2 * time.Hour)
	if a := r.Say("no"); row(a, "Too late") == "" || !strings.HasPrefix(r.Prompt().ID, "touched/confirm") {
		t.Fatalf("told %v", a.Rows)
	}
	r.Say("no")
	if r.State().Supply == engine.Dead || !strings.HasPrefix(r.Prompt().ID, "proof-full.1") {
		t.Errorf("at %s in %+v", r.Prompt().ID, r.State())
	}
}

// Nobody has confirmed the repair, so nothing is repaired; what was soldered is.
func TestRepairWithoutAnAnswerMendsNothing(t *testing.T) {
	r := stopped(t)
	r.Say("p coupling capacitor V4, a new one")
	if r.Prompt().ID != "touched/confirm" || !r.Stopped() {
		t.Fatalf("at %s, stopped %v", r.Prompt().ID, r.Stopped())
	}
	r.Keep(r.Abort("the stop key", r.Now))
	r.Again(time.Minute)
	if !r.Stopped() || r.State().Held.Has(slotOf(t, r, "openings/coupling-capacitor@V4")) {
		t.Errorf("state %+v", r.State())
	}
}

func TestRepairTakenBackIsAskedForAgain(t *testing.T) {
	r := stopped(t)
	before := r.State()
	r.Say("h the wrong letter for it")
	r.Say("no")
	if r.State() != before || r.Prompt().ID != "stop/repair" {
		t.Fatalf("at %s", r.Prompt().ID)
	}
	r.Say("p coupling capacitor V4, a new one")
	r.Until("")
	closed(t, r)
}

func TestNothingToLoseCostsNoWord(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("start/touched")
	r.Say("p coupling capacitor, last week")
	if id := r.Prompt().ID; id == "touched/confirm" {
		t.Error("asked to confirm that nothing falls")
	}
}

// The set is treated as what it will be when the word is given.
func TestSolderIsNotProvedDeadUnderTheQuestion(t *testing.T) {
	r := askedOf(t)
	if got := r.Standing()[0]; !strings.HasPrefix(got, "DANGER") {
		t.Errorf("stands %q", got)
	}
	r.Say("no")
	if got := r.Standing()[0]; !strings.HasPrefix(got, "PROVED DEAD") {
		t.Errorf("after no stands %q", got)
	}
}

// The ramp read again after a new bulb stands for no reading at full mains: what
// is worked out there stays as it was.
func TestRampReadAgainDoesNotStandForFullMains(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("close/label")
	ratio := slotOf(t, r, "spot-checks/ia-ratio")
	r.Say("touched l the bulb failed")
	r.Say("yes")
	if !r.State().Held.Has(ratio) {
		t.Error("the current of the output valve by two routes fell with the ramp")
	}
	r.Until("hold-2")
	r.TakeBack("spot-checks/opt-volts@V4#100@180s") // worked out again, the ramp's cathode being the newest
	r.Until("")
	closed(t, r)
}

// A path with an accepted query is tested again after any alteration.
func TestAnyAlterationVoidsThePathOfAnAcceptedQuery(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"grid-leak": "600k"}
	r.Until("query/dead-ht/grid-leak@V4")
	r.Until("hold-1")
	if r.State().Standing == 0 {
		t.Fatal("no query stands open")
	}
	r.Radio.Faults = nil
	r.Say("touched d a damp night")
	r.Say("yes")
	for _, id := range []string{"dead-ht/grid-leak@V4", "openings/coupling-capacitor@V4"} { // the path of the bias
		if r.State().Held.Has(slotOf(t, r, id)) {
			t.Errorf("%s stands", id)
		}
	}
	if r.State().Standing != 0 || !r.State().Held.Has(slotOf(t, r, "dead-ht/output-transformer")) {
		t.Errorf("state %+v", r.State())
	}
	r.Until("")
	closed(t, r)
}

// A second alteration before the first is read again takes all behind it.
func TestSecondAlterationTakesAllBehindTheFirst(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("close/label")
	r.Say("touched r the cathode resistor")
	r.Say("yes")
	soak := slotOf(t, r, "soak/core#100@1800s")
	if !r.State().Held.Has(soak) {
		t.Fatal("one resistor took the soak")
	}
	r.Say("touched y the mains capacitor")
	if got := confirmRow(r.Prompt(), "Falls"); !strings.Contains(got, "soak: ") {
		t.Errorf("what falls:\n%s", got)
	}
	r.Say("yes")
	if r.State().Held.Has(soak) {
		t.Error("the soak stands behind two alterations")
	}
	if !r.State().Held.Has(slotOf(t, r, "openings/coupling-capacitor@V4")) {
		t.Error("what lies before the first gap fell with it")
	}
}

func slotOf(t *testing.T, r *sessiontest.Tape, id string) int {
	t.Helper()
	for i, slot := range r.Plan.Slots {
		if strings.HasPrefix(slot.ID, id) {
			return i
		}
	}
	t.Fatalf("no slot %s", id)
	return -1
}
