package session_test

import (
	"errors"
	"fmt"
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

// Another program may say anywhere that it goes on, and no more than that.
func TestALineOfAnotherProgramStandsAside(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("bench/call")
	for name, c := range map[string]struct {
		fields  map[string]string
		follows bool
	}{
		"its version":    {map[string]string{"program": "v2"}, true},
		"no version":     {map[string]string{"program": ""}, false},
		"nothing":        {nil, false},
		"a field more":   {map[string]string{"program": "v2", "by": "anna"}, false},
		"another's name": {map[string]string{"by": "v2"}, false},
	} {
		for at := range len(r.Lines) + 1 {
			l := session.Logged{Record: session.Record{Kind: session.KindProgram, Fields: c.fields}}
			_, err := session.Replay(r.Plan, sessiontest.Label, slices.Insert(slices.Clone(r.Lines), at, l))
			if (err == nil) != c.follows || err != nil && !errors.Is(err, session.ErrDiffers) {
				t.Errorf("%s, as line %d: %v", name, at+1, err)
			}
		}
	}
}

// The first line that does not follow is named, and what of it differs.
func TestWhatDiffersIsNamed(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("bench/call")
	at := slices.IndexFunc(r.Lines, func(l session.Logged) bool { return l.Kind == "bench" })
	for _, c := range []struct {
		kind   string
		fields map[string]string
		says   string
	}{
		{"bench", map[string]string{"here": "other"}, `says bench, and bench follows with another "here"`},
		{"bench", map[string]string{"here": "as listed", "who": ""}, `says bench, and bench follows with another "who"`},
		{"bench", nil, `says bench, and bench follows with another "here"`},
		{"note", map[string]string{"here": "other"}, "says note, and bench follows"},
	} {
		lines := slices.Clone(r.Lines)
		lines[at].Record = session.Record{Kind: c.kind, Fields: c.fields}
		_, err := session.Replay(r.Plan, sessiontest.Label, lines)
		if want := fmt.Sprintf("%v: line %d %s", session.ErrDiffers, lines[at].Seq, c.says); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
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
