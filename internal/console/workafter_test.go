package console

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// breaks are ways in which a session is broken off.
var breaks = []struct {
	name   string
	faults map[string]string
	off    func(*sessiontest.Tape)
	away   time.Duration
	done   []string // stages that are among those with nothing owed
	owed   []string // and among those with something
}{
	{"parked at hold 1", nil, func(r *sessiontest.Tape) { r.Until("hold-1"); r.Say("park") }, time.Hour, []string{"looking", "openings", "mains-side"}, []string{"bench", "dead-ht", "transformer", "ramp"}},
	{"for a day", nil, func(r *sessiontest.Tape) { r.Until("hold-1"); r.Say("park") }, 25 * time.Hour, []string{"looking"}, []string{"bench", "mains-side"}},
	{"at once", nil, func(r *sessiontest.Tape) { r.Until("start/touched"); r.Say("park") }, time.Minute, nil, []string{"bench", "looking", "openings"}},
	{"with mains on, in the ramp", nil, func(r *sessiontest.Tape) { r.Until("ramp/ht-reservoir#60"); stopKey(r) }, 10 * time.Minute, []string{"heaters"}, []string{"ramp", "dead-ht"}},
	{"in the soak", nil, func(r *sessiontest.Tape) { r.Until("soak/output-cathode@1800s"); stopKey(r) }, 12 * time.Hour, []string{"first-full"}, []string{"ramp", "soak", "warm"}},
	{"in a line, queried", map[string]string{"neutral-path": "2"}, func(r *sessiontest.Tape) { r.Until("query/"); r.Say("park") }, time.Hour, []string{"openings"}, []string{"mains-side"}},
	{"before the close", nil, func(r *sessiontest.Tape) { r.Until("close/close"); r.Say("park") }, time.Hour, []string{"soak", "spot-checks"}, []string{"bench"}},
	{
		"stopped and mended",
		map[string]string{"output-grid": "1.7"},
		func(r *sessiontest.Tape) {
			r.Until("stop/repair")
			r.Say("p coupling capacitor leaked and was renewed")
			r.Say("yes")
			r.Say("park")
		},
		time.Hour,
		[]string{"heaters"},
		[]string{"openings", "ramp"},
	},
	{
		"altered and not answered for", nil,
		func(r *sessiontest.Tape) { r.Until("hold-1"); r.Say("touched x another tap"); stopKey(r) },
		time.Hour,
		[]string{"looking"},
		[]string{"mains-side"},
	},
}

func stopKey(r *sessiontest.Tape) { r.Keep(r.Abort("the stop key", r.Now)) }

// workAfter is what a record owes.
func workAfter(t *testing.T, r *sessiontest.Tape, away time.Duration) Work {
	t.Helper()
	s, err := session.Replay(r.Plan, sessiontest.Label, r.Lines)
	if err != nil {
		t.Fatal(err)
	}
	return WorkAfter(r.Plan, s, sessiontest.Label, session.Instant{Wall: r.Now.Wall.Add(away)}, away)
}

// typedLines are the lines of readings that a session types, in their order.
func typedLines(w Work) []string {
	var out []string
	for _, s := range w.Stages {
		for _, l := range s.Lines {
			for range l.Times {
				out = append(out, l.ID)
			}
		}
	}
	return out
}

// asked are those that were typed, but for what surrounds them.
func asked(r *sessiontest.Tape) []string {
	var out []string
	for _, e := range r.Said {
		id, _, _ := strings.Cut(e.At, "~")
		place, _, _ := strings.Cut(id, "/")
		if slices.Contains([]string{"start", "close", "stop", "touched", "power", "watch", "proof-quick", "proof-full.1", "proof-full.2", "proof-node"}, place) {
			continue
		}
		out = append(out, id)
	}
	return out
}

// What is printed after a record is what a resume then asks, line for line.
func TestWhatIsPrintedAfterARecordIsWhatAResumeAsks(t *testing.T) {
	for n, b := range breaks { // the benches in turn
		bench := []string{"one-meter", "two-meters", "three-meters"}[n%3]
		t.Run(bench+", "+b.name, func(t *testing.T) {
			r := sessiontest.NewTape(t, "table-radio", bench)
			r.Radio.Faults = b.faults
			b.off(r)
			w := workAfter(t, r, b.away)
			r.Radio.Faults = nil
			r.Again(b.away)
			r.Until("")
			if got, want := typedLines(w), asked(r); !slices.Equal(got, want) {
				t.Errorf("printed\n%q\nasked\n%q", got, want)
			}
			if passphrase, all := 1, w.all().Lines; all != len(r.Said)+passphrase {
				t.Errorf("%d lines are counted and %d typed", all, len(r.Said)+passphrase)
			}
			for _, name := range b.done {
				if !slices.Contains(w.Done, name) {
					t.Errorf("%s is not among what is done: %v", name, w.Done)
				}
			}
			for _, name := range b.owed {
				if !slices.ContainsFunc(w.Stages, func(s Stage) bool { return s.Name == name }) {
					t.Errorf("%s is not owed; done: %v", name, w.Done)
				}
			}
			fits(t, textOf(w, false))
		})
	}
}

// Wherever a session is broken off, with whatever query accepted in it, what is
// printed is what a resume asks.
func TestARecordBrokenOffAnywhereIsPrintedAsItIsAsked(t *testing.T) {
	const apart = 7 // lines between two places
	for cut := 2; ; cut += apart {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Radio.Faults = map[string]string{"smoothing-resistor": "1.4k", "hum": "h"}
		for n := 0; n < cut && r.Result() == session.Running; n++ {
			r.Say(r.Radio.Line(r.Prompt()))
		}
		if r.Result() != session.Running {
			if cut < 80 {
				t.Fatalf("the session was over after %d lines", cut)
			}
			return
		}
		away := []time.Duration{time.Hour, 30 * time.Hour}[cut%2]
		if r.Say("park"); r.Result() != session.Parked {
			stopKey(r) // mains is on
		}
		w := workAfter(t, r, away)
		r.Again(away)
		r.Radio.Faults = nil
		r.Until("")
		if got, want := typedLines(w), asked(r); !slices.Equal(got, want) {
			t.Errorf("after %d lines printed\n%q\nasked\n%q", cut, got, want)
		}
		if all := w.all().Lines; all != len(r.Said)+1 {
			t.Errorf("after %d lines %d are counted and %d typed", cut, all, len(r.Said)+1)
		}
	}
}

// Of a stop that is not mended the pages say so first, and what each repair costs
// beyond them is what it then costs.
func TestAStopIsMendedFirstAndItsRepairHasItsCost(t *testing.T) {
	for _, stop := range []struct{ at, say string }{{"output-grid", "1.7"}, {"grid-leak", "12k"}, {"mains-insulation", "0.5M"}} {
		for _, repair := range []struct{ letter, part, line string }{
			{"p", "coupling", "p coupling capacitor leaked and was renewed"},
			{"h", "", "h reservoir leaked and was renewed"},
			{"?", "", "? nobody knows what was done"},
			{"r", "", "r grid leak burnt and was renewed"},
		} {
			t.Run(stop.at+" and "+repair.line, func(t *testing.T) {
				r := sessiontest.NewTape(t, "table-radio", "two-meters")
				r.Radio.Faults = map[string]string{stop.at: stop.say}
				r.Until("stop/repair")
				r.Say("park")
				w := workAfter(t, r, time.Hour)
				if w.After.Stopped == "" || !strings.Contains(textOf(w, false), "STOPPED") || len(w.After.Repairs) != len(r.Plan.Classes) {
					t.Fatalf("%+v", w.After)
				}
				i := slices.IndexFunc(w.After.Repairs, func(c session.Repair) bool { return c.Class.Letter == repair.letter && c.Class.Part == repair.part })
				more := w.After.Repairs[i].Cost
				r.Radio.Faults = nil
				r.Radio.Turns["stop/repair"] = []string{repair.line}
				r.Again(time.Hour)
				r.Until("")
				want := len(r.Said) + 1 // the passphrase
				if len(more.Void) == 0 {
					want++ // nothing falls, and no yes is asked for
				}
				if got := w.all().Lines + more.More.Lines; !more.Known || got != want {
					t.Errorf("counted %d lines and %d with the repair, typed %d", w.all().Lines, more.More.Lines, want)
				}
				for _, id := range typedLines(w) {
					if !slices.Contains(asked(r), id) {
						t.Errorf("%s is printed and was not asked", id)
					}
				}
			})
		}
	}
}

// With too many queries open nobody knows the way: what is owed is printed, and
// that its lines and minutes are not known.
func TestTooManyQueriesAreNotCountedBeyondTheRepair(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{ // on six paths
		"socket-insulation": "10M", "cathode-resistor": "150", "grid-leak": "550k", "smoothing-resistor": "1.4k", "half-winding@a": "305", "speech-coil": "3.5",
	}
	r.Until("stop/repair")
	r.Say("park")
	w := workAfter(t, r, time.Hour)
	text := strings.Join(strings.Fields(textOf(w, false)), " ")
	for _, want := range []string{
		"Needs not known before one of the open queries is found and repaired",
		"Queries accepted and open: mains, rectifier, bias, speaker, ht, output-stage",
		"STAGE ramp, supply raised Needs lines and minutes not known before the repair",
		"transformer ? ? limited", "line ramp/ht-reservoir#25",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not printed", want)
		}
	}
	if w.Whole || w.After.Stopped != "" || strings.Contains(text, notAsked) {
		t.Errorf("whole %v, stopped at %q", w.Whole, w.After.Stopped)
	}
}

// The learner is told which reading stopped, and not what it should have been.
func TestTheLearnerIsNotToldWhyItStopped(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"output-grid": "1.7"}
	r.Until("stop/repair")
	r.Say("park")
	w := workAfter(t, r, time.Hour)
	for who, want := range map[audience]bool{worker: true, learner: false} {
		page := w.firstPage(who)
		told := false
		for _, part := range page.Parts {
			for _, row := range part.Rows {
				told = told || strings.Contains(row.Text, w.After.Because)
			}
		}
		if told != want || w.After.Because == "" {
			t.Errorf("audience %d: told %q: %v", who, w.After.Because, told)
		}
	}
}

// The boxed part after a closed record is the boxed plan, and says what it is.
func TestAfterAClosedRecordTheBoxedPartIsOwed(t *testing.T) {
	p := sessiontest.Boxed(t, "table-radio", "two-meters")
	w := WorkBoxed(p, "2030-01-02-4711", time.Date(2030, 1, 3, 18, 0, 0, 0, time.UTC))
	if got, want := typedLines(w), typedLines(WorkOf(p)); !slices.Equal(got, want) || len(got) == 0 {
		t.Errorf("%q, want %q", got, want)
	}
	if text := strings.Join(strings.Fields(textOf(w, false)), " "); !strings.Contains(text, "record 2030-01-02-4711, closed as tested: the boxed part is owed") {
		t.Errorf("%.300s", text)
	}
}
