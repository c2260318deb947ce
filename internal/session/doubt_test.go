package session_test

import (
	"strings"
	"testing"

	"example.com/powerup/internal/session/sessiontest"
)

// TestTypingErrorThatStoppedEndsNoSession: the stamp is a query on this sheet,
// which does not give the open-circuit volts, and can never pass.
func TestTypingErrorThatStoppedEndsNoSession(t *testing.T) {
	r := sessiontest.NewTape(t, "sparse-radio", "two-meters")
	r.Until("looking/stamped")
	r.Say("45 450 400")
	r.Until("stop/repair")
	r.Say("n typed 45 for 450")
	r.Until("looking/stamped")
	r.Say(r.Radio.Line(r.Prompt()))
	if got := row(r.Say("cause 1"), "Not taken"); !strings.Contains(got, "INV-13") {
		t.Fatalf("accepted on one reading: %q", got)
	}
	r.Say("second 450 seen bob")
	if got := row(r.Say("cause 1"), "Accepted"); got == "" {
		t.Errorf("not accepted on two that agree: %+v", r.State())
	}
	r.Until("")
	closed(t, r)
}

// A fuse stopped the session, and then the set turns out to have none: it cannot
// be read twice.
func TestPartThatIsNotThereEndsNoSession(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("mains-side/poles")
	r.Say("0.1 5k 0.4 OL 0.3 0.4")
	r.Until("stop/repair")
	r.Say("n not the caps of a fuse")
	r.Until("mains-side/poles")
	r.TakeBack("set-fuse-mark")
	r.Until("looking/fuse-marks")
	r.Say("0")
	r.Until("")
	closed(t, r)
	if len(r.Readings("set-fuse")) != 1 {
		t.Error("a fuse that is not there was read again")
	}
}
