package sessiontest

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// Tape is a session with the record it leaves, in memory, on a clock that
// stands still at prompts and jumps over waits.
type Tape struct {
	t     testing.TB
	Plan  *plan.Plan
	Radio *Radio
	*session.Session
	Now   session.Instant
	Lines []session.Logged
	Said  []Entry // since the beginning or the newest resume
}

// Entry is one line that was typed, and what came of it.
type Entry struct {
	At, Say string
	session.Answered
}

// Label is the number of every taped set.
const Label = "x"

// NewTape begins a session.
func NewTape(t testing.TB, sheetName, benchName string) *Tape {
	t.Helper()
	return TapeOf(t, Plan(t, sheetName, benchName))
}

// TapeOf begins a session on a plan.
func TapeOf(t testing.TB, p *plan.Plan) *Tape {
	t.Helper()
	now := session.Instant{Wall: time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC)}
	return &Tape{t: t, Plan: p, Radio: NewRadio(t, p), Session: session.New(p, Label, now), Now: now}
}

// Pass lets time go by.
func (r *Tape) Pass(d time.Duration) {
	r.Now = session.Instant{Wall: r.Now.Wall.Add(d), Mono: r.Now.Mono + d}
}

// Keep puts an answer's records on the tape.
func (r *Tape) Keep(a session.Answered) {
	for _, rec := range a.Records {
		r.Lines = append(r.Lines, session.Logged{Seq: len(r.Lines) + 1, At: r.Now, Record: rec})
	}
}

// Readings are those on record of a check, or of a slot, in their order.
func (r *Tape) Readings(id string) []session.Record {
	var out []session.Record
	for _, l := range r.Lines {
		if l.Kind == "reading" && (l.Fields["check"] == id || l.Fields["slot"] == id) {
			out = append(out, l.Record)
		}
	}
	return out
}

// TakeBack types that the newest reading of a check or a slot was wrong.
func (r *Tape) TakeBack(id string) session.Answered {
	r.t.Helper()
	all := r.Readings(id)
	if len(all) == 0 {
		r.t.Fatalf("%s was never read", id)
	}
	return r.Say("wrong " + all[len(all)-1].Fields["number"])
}

// Say waits as the prompt asks and types one line.
func (r *Tape) Say(line string) session.Answered {
	p := r.Prompt()
	r.Pass(p.Wait)
	a := r.Submit(line, r.Now)
	r.Said = append(r.Said, Entry{At: p.ID, Say: line, Answered: a})
	r.Keep(a)
	return a
}

// Until answers as the radio until a prompt whose id begins with at, or, with
// at empty, until the session is over.
func (r *Tape) Until(at string) {
	r.t.Helper()
	for n := 0; r.Result() == session.Running; n++ {
		p := r.Prompt()
		if at != "" && strings.HasPrefix(p.ID, at) {
			return
		}
		line := r.Radio.Line(p)
		if n > 400 || line == "" {
			r.t.Fatalf("stuck at %s", p.ID)
		}
		r.Say(line)
	}
	if at != "" {
		r.t.Fatalf("the session ended before %s", at)
	}
}

// Again replays the tape from its beginning, as another start of the program
// would, and resumes after the time away.
func (r *Tape) Again(away time.Duration) {
	r.t.Helper()
	s, err := session.Replay(r.Plan, Label, r.Lines)
	if err != nil {
		r.t.Fatal(err)
	}
	r.Session, r.Said = s, nil
	r.Keep(session.Answered{Records: s.Missing()})
	r.Now = session.Instant{Wall: r.Now.Wall.Add(away)}
	r.Keep(s.Resume(r.Now, away))
}
