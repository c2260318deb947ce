package session_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

func TestReadingsBehindAQueryWaitForItsAnswer(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/black-chassis")
	r.Say("3 133 472k 133") // a heater winding of 3 Ω is a query of class E
	if !r.State().Queried {
		t.Fatalf("state %+v", r.State())
	}
	a := r.Say("cause 1 the clip")
	for _, part := range []string{"Rk V4 133", "grid leak V4 472"} {
		if !slices.ContainsFunc(a.Rows, func(x session.Row) bool { return x.Label == "PASS" && strings.Contains(x.Text, part) }) {
			t.Errorf("%s was lost behind the query: %v", part, a.Rows)
		}
	}
}

func TestQueriedReadingIsNeverLeft(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"grid-leak": "600k"}
	r.Until("query/dead-ht/grid-leak@V4")
	for _, line := range []string{"-", "cause", "cause 99", "second", "second x"} {
		if r.Say(line); !r.State().Queried {
			t.Errorf("%q settled the query", line)
		}
	}
}

func TestOnlyConditionIsLeftUnread(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/black-chassis")
	if a := r.Say("- 133 472k 133"); row(a, "Not read") == "" || r.Counts().NotRead != 1 {
		t.Errorf("a heater winding not read: %v", a.Rows)
	}
	r.Until("")
	closed(t, r)
}

func TestWorstOfWhatIsFoundIsTheVerdict(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("looking/mains-side")
	if r.Say("2 99"); r.Stopped() {
		t.Error("an item that is not on the page was taken")
	}
	if r.Say("1 2"); !r.Stopped() {
		t.Error("a bare flex did not stop")
	}
}

func TestRecordThatDoesNotFollowIsRefused(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/windings")
	for name, spoil := range map[string]func([]session.Logged) []session.Logged{
		"a verdict made better": func(ls []session.Logged) []session.Logged {
			for i, l := range ls {
				if l.Kind == "reading" {
					f := map[string]string{}
					for k, v := range l.Fields {
						f[k] = v
					}
					f["verdict"] = "query"
					ls[i].Fields = f
					return ls
				}
			}
			return ls
		},
		"a line cut out":    func(ls []session.Logged) []session.Logged { return slices.Delete(ls, 3, 4) },
		"an unknown line":   func(ls []session.Logged) []session.Logged { ls[0].Kind = "reading"; return ls },
		"nothing":           func([]session.Logged) []session.Logged { return nil },
		"a resume of never": func(ls []session.Logged) []session.Logged { ls[0].Kind = "resume"; return ls },
	} {
		if _, err := session.Replay(r.Plan, sessiontest.Label, spoil(slices.Clone(r.Lines))); !errors.Is(err, session.ErrDiffers) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCardKnowsWindowsBeforeAnythingIsTouched(t *testing.T) {
	known, from := 0, 0
	for _, line := range session.Card(sessiontest.Plan(t, "table-radio", "two-meters")) {
		for _, r := range line.Readings {
			switch {
			case r.Known:
				known++
			case r.Expect == "from readings before it":
				from++
			default:
				t.Errorf("%s says %q", r.Slot.ID, r.Expect)
			}
		}
	}
	if known < 80 || from == 0 {
		t.Errorf("%d windows are known, %d follow from readings", known, from)
	}
}
