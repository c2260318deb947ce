package session_test

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

// row gives the text of the first row with a label.
func row(a session.Answered, label string) string {
	for _, r := range a.Rows {
		if r.Label == label {
			return r.Text
		}
	}
	return ""
}

func TestClipLocksMainsUntilTheLineReadsFree(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	if got := row(r.Say("clip on"), "CLIP ON"); got == "" {
		t.Fatal("the clip was not put on record")
	}
	r.Say("release")
	if id := r.Prompt().ID; id != "clip-off" {
		t.Errorf("under a clip %s is asked", id)
	}
	if got := row(r.Say("clip off 3k"), "STILL ON?"); got == "" || !r.State().Clip {
		t.Error("3 kΩ on the line took the clip off")
	}
	if got := row(r.Say("clip off 215k"), "CLIP OFF"); got == "" || r.State().Clip {
		t.Error("215 kΩ of 217 kΩ did not take the clip off")
	}
	r.Until("")
	closed(t, r)
}

func TestClipBeforeTheFirstReadingOfTheLine(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("mains-side/taps")
	r.Say("clip on")
	r.Say(r.Radio.Line(r.Prompt())) // the mains side may be read under a clip
	r.Until("clip-off")
	if got := row(r.Say("9k 214k 217k"), "Not taken"); !strings.Contains(got, "INV-44") {
		t.Errorf("the HT line under a clip: %q", got)
	}
	r.Say("clip off 100k") // under the stop line of 110.6 kΩ
	if !r.State().Clip {
		t.Error("100 kΩ took the clip off")
	}
	r.Say("clip off 150k")
	r.Until("")
	closed(t, r)
}

func TestWrongEntryIsReadAgainAndStaysOnRecord(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/black-ht1")
	a := r.TakeBack("cathode-resistor")
	if got := row(a, "Taken back"); !strings.Contains(got, "entry "+r.Readings("cathode-resistor")[0].Fields["number"]) {
		t.Fatalf("told %q", got)
	}
	if id := r.Prompt().ID; id != "dead-ht/black-chassis" {
		t.Errorf("after the correction %s is asked", id)
	}
	r.Until("")
	closed(t, r)
	if n := len(r.Readings("cathode-resistor")); n != 2 {
		t.Errorf("%d readings of the cathode resistor on record, want both", n)
	}
}

func TestWrongDeadReadingFoundWhileLiveSwitchesOff(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#60")
	r.TakeBack("output-transformer")
	if id := r.Prompt().ID; id != "proof-full.1" {
		t.Errorf("a dead reading taken back with mains on leads to %s", id)
	}
	r.Until("")
	closed(t, r)
}

func TestSetWithoutAFuseIsNotAskedForItsOhms(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"set-fuse-mark": "0"}
	r.Until("")
	closed(t, r)
	for _, l := range r.Lines {
		if l.Fields["check"] == "set-fuse" {
			t.Errorf("a fuse that is not there was read: %v", l.Fields)
		}
	}
}

func TestInsulationInPoorConditionMayBeAccepted(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"mains-insulation": "8M"}
	r.Until("query/mains-side/mains-insulation")
	r.Say("cause 1 damp, dried gently")
	if r.State().Queried {
		t.Fatal("the limit is met, and the condition could not be accepted")
	}
	r.Until("")
	closed(t, r)
}

func TestPersonsQueryIsNeverAccepted(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"neutral-path": "2"}
	r.Until("query/mains-side/neutral-path")
	for _, line := range []string{"second 2", "cause 1 it is old"} {
		r.Say(line)
	}
	if !r.State().Queried || r.State().Mode != engine.Working {
		t.Errorf("state %+v", r.State())
	}
	r.Say("0.3") // the switch cleaned: measured again
	r.Until("")
	closed(t, r)
}

func TestGateQueryNeedsASecondReading(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"grid-leak": "600k"}
	r.Until("query/dead-ht/grid-leak@V4")
	if got := row(r.Say("cause 1"), "Not taken"); !strings.Contains(got, "INV-23") {
		t.Errorf("accepted on one reading: %q", got)
	}
	for _, no := range []string{
		"second 610k", "second 610k by b", "second 610k by z", "second 610k later", "second 610k way",
		"second 610k seen", "second 610k seen anna", "second by a", "second later",
	} {
		if got := row(r.Say(no), "Not taken"); got == "" {
			t.Errorf("%q was taken for a second reading", no)
		}
	}
	if got := row(r.Say("second 470k by a"), "Differs"); got == "" {
		t.Error("a second reading that differs was let through")
	}
	r.Say("second 610 kΩ by a")
	if got := row(r.Say("cause 1"), "Accepted"); got == "" {
		t.Error("two readings that agree were not accepted")
	}
}

// A second reading counts by another meter, another way, another pair of eyes,
// or five minutes on.
func TestSecondReadingHasItsOwnRoute(t *testing.T) {
	for how, wait := range map[string]time.Duration{"by A": 0, "way bridge, leg lifted": 0, "seen bob": 0, "later": 5 * time.Minute} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Radio.Faults = map[string]string{"grid-leak": "600k"}
		r.Until("query/dead-ht/grid-leak@V4")
		r.Pass(wait)
		a := r.Say("second 610k " + how)
		if row(a, "Agrees") == "" {
			t.Errorf("%s: told %v", how, a.Rows)
		}
		if last := a.Records[len(a.Records)-1]; last.Fields["how"] != how {
			t.Errorf("recorded %v", last)
		}
	}
}

func TestSlipIsNamedNeverCorrected(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/black-chassis")
	a := r.Say("0.2 1k35 472k 133")
	if row(a, "Slip?") == "" || strings.Contains(row(a, "Do"), "135 ") {
		t.Errorf("told %q, %q", row(a, "Slip?"), row(a, "Do"))
	}
	if a := r.Say("keep"); !r.Stopped() {
		t.Errorf("1.35 kΩ was kept and did not stop: %v", a.Rows)
	}
}

func TestHelpTellsTheWholePrompt(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/windings")
	a := r.Say("?")
	if row(a, "How") == "" || row(a, "Why") == "" {
		t.Errorf("help tells %v", a.Rows)
	}
}

// A worked-out value that gates is accepted only after one of its readings was
// taken again and the result agrees.
func TestWorkedOutQueryNeedsItsReadingsAgain(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"ht-smoothed": "214", "first-full/ht-reservoir#100@180s": "252"} // a supply that sags
	r.Until("query/spot-checks/supply-line")
	if got := row(r.Say("second 5"), "Not taken"); !strings.Contains(got, "worked out") {
		t.Errorf("a worked-out value was seconded by hand: %q", got)
	}
	if got := row(r.Say("cause 1"), "Not taken"); !strings.Contains(got, "INV-23") {
		t.Errorf("accepted at once: %q", got)
	}
	r.TakeBack("spot-checks/opt-volts@V4#100@180s")
	r.Until("query/spot-checks/supply-line")
	if got := row(r.Say("cause 1 mains moved"), "Accepted"); got == "" {
		t.Errorf("the same twice, and not accepted: %+v", r.State())
	}
}

// INV-40: an open switch would let the insulation test pass.
func TestContinuityIsNeverLeftUnread(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("mains-side/taps")
	if got := row(r.Say("- 43.1 46.1"), "Not taken"); !strings.Contains(got, "INV-37") {
		t.Errorf("a tap left unread: %q", got)
	}
	r = sessiontest.TapeOf(t, sessiontest.Boxed(t, "table-radio", "two-meters"))
	r.Until("boxed/insulation")
	if got := row(r.Say("- 150M 9.31 0.2 9.31"), "Not taken"); !strings.Contains(got, "INV-37") {
		t.Errorf("the boxed primary left unread: %q", got)
	}
}

// INV-55: what was not proved at volts stands on the record for ever.
func TestRecordSaysThatTheLineWasNotProvedAtVolts(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Meters["insulation-tester"].Functions = slices.DeleteFunc(in.Meters["insulation-tester"].Functions, func(s sheet.Span) bool { return s.Function == sheet.Leakage })
	r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
	r.Until("")
	closed(t, r)
	if got := r.Lines[len(r.Lines)-1].Fields["not-proved-at-volts"]; got != "true" {
		t.Errorf("the close line says %q", got)
	}
}

// INV-51: what blew the old one may still be there.
func TestNewBulbOrFuseStartsTheRampAgain(t *testing.T) {
	for _, told := range []string{"touched l the bulb failed, a new one is in", "touched m the plug fuse blew, a new one is in"} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Until("hold-2")
		r.Say(told)
		r.Until("ramp")
		if id := r.Prompt().ID; id != "ramp/ht-reservoir#25" {
			t.Errorf("after %q the ramp goes on at %s", told, id)
		}
		r.Until("")
		closed(t, r)
	}
}

// TestNoStepHasMainsOnAndNothingToRead: the heaters' volts brought to today's
// mains fall with the lamp's volts of the stage before, and are worked out again
// from heater volts that are read again.
func TestNoStepHasMainsOnAndNothingToRead(t *testing.T) {
	for _, set := range sheets {
		for _, bench := range benches {
			t.Run(set+" "+bench, func(t *testing.T) {
				r := sessiontest.NewTape(t, set, bench)
				r.Until("ramp/ht-reservoir#50")
				r.TakeBack("lamp-late")
				r.Until("heaters/heater-pins")
				if len(r.Prompt().Fields) == 0 {
					t.Errorf("mains on, and nothing asked: %+v", r.Prompt())
				}
				r.Until("")
				closed(t, r)
			})
		}
	}
}
