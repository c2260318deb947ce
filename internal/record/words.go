package record

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/session"
)

// Outcome is what became of the set, in few words that fit a table.
func (f Facts) Outcome() string {
	switch f.State {
	case Stopped:
		return "STOPPED, no repair"
	case LeftOn:
		return "broken off, mains on"
	case BrokenOff:
		return "broken off"
	case Parked:
		if f.Owed < 0 {
			return "parked"
		}
		return fmt.Sprintf("parked, %d owed", f.Owed)
	case Closed:
		return strings.Replace(f.closing("closed, words not known"), "tested and boxed", "boxed", 1)
	}
	return "not known"
}

// Word is the same in one word, or two.
func (f Facts) Word() string {
	switch f.State {
	case Stopped:
		return "STOPPED"
	case LeftOn:
		return "LEFT ON"
	case BrokenOff:
		return "broken off"
	case Parked:
		return "parked"
	case Closed:
		return "closed"
	}
	return "not known"
}

// Result is the same as a sentence.
func (f Facts) Result() string {
	switch f.State {
	case Stopped:
		return "the set was STOPPED at " + f.stoppedAt() + ", not handed back"
	case Closed:
		return "the set was " + f.closing(strangely)
	}
	return "the session was not closed"
}

// strangely is said of a close in any other words than this program's own, which
// could say what they like.
const strangely = "closed with words that this program does not know"

// closing is what became of a set, in the close line's words; where they are none
// of this program's own, it is said otherwise.
func (f Facts) closing(otherwise string) string {
	if f.Strange {
		return otherwise
	}
	return cmp.Or(f.Closing, "closed without a word")
}

// stoppedAt names the check where the set was stopped, if there is such a check.
func (f Facts) stoppedAt() string {
	if f.Stop.Check == "" {
		return "a check that is not named"
	}
	if _, ok := checks.Find(f.Stop.Check); !ok {
		return "a check that this program does not know"
	}
	return f.Stop.Check
}

// lapses is when the readings that stand for a day are over.
func (f Facts) lapses() time.Time {
	until := f.Day.Add(seconds("day"))
	if away := f.Ended.Add(seconds("day")); away.Before(until) {
		return away
	}
	return until
}

// Next is when and why somebody should look at the set again, in a cell of a
// table; empty: nothing is owed.
func (f Facts) Next(now time.Time) string {
	switch {
	case f.State == Stopped:
		return "before anything else"
	case f.State == Closed:
		return queried(f.Queries)
	case f.State == Unknown:
		return ""
	case f.Day.IsZero():
		return "resume"
	case f.lapsed(now):
		return "resume: lapsed"
	}
	return "resume by " + f.lapses().In(now.Location()).Format("2 Jan 15:04")
}

// NextWords is the same in full.
func (f Facts) NextWords(now time.Time) string {
	switch {
	case f.State == Stopped:
		return "before anything else: nothing accepts a stop; resume asks for cause and repair"
	case f.State == Closed || f.State == Unknown:
		return f.queries()
	case f.Day.IsZero():
		return "resume: nothing was read yet that stands for a day only"
	case f.lapsed(now):
		return "lapsed, facts of a day are gone: resume asks for insulation, bond and HT line again"
	}
	return "resume: good until " + f.lapses().In(now.Location()).Format("2 Jan 2006 15:04 MST")
}

// lapsed tells whether the readings that stand for a day are over; a record from
// the future tells no age.
func (f Facts) lapsed(now time.Time) bool { return !now.Before(f.lapses()) || ahead(f.Ended, now) }

// queried names the accepted query, or counts them.
func queried(all []Query) string {
	switch len(all) {
	case 0:
		return ""
	case 1:
		return "query: " + all[0].Check
	}
	return fmt.Sprintf("%d queries", len(all))
}

// Title names a check for people.
func Title(check, item string) string {
	if c, ok := checks.Find(check); ok {
		return strings.TrimSpace(session.Titled(c, item))
	}
	return strings.TrimSpace(check + " " + item)
}

func (q Query) String() string { return Title(q.Check, q.Item) + ": " + q.Cause }

// queries names the accepted queries with their causes, the first few of many.
func (f Facts) queries() string {
	const few = 3
	var all []string
	for _, q := range f.Queries[:min(few, len(f.Queries))] {
		all = append(all, q.String())
	}
	if more := len(f.Queries) - few; more > 0 {
		all = append(all, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(all, "; ")
}

// Weak counts what an owner could take for proof and is none.
func (f Facts) Weak() []string {
	var out []string
	add := func(n int, one, more string) {
		switch {
		case n == 1:
			out = append(out, "1 "+one)
		case n > 1:
			out = append(out, fmt.Sprintf("%d %s", n, more))
		}
	}
	add(len(f.Queries), "query accepted", "queries accepted")
	add(f.Doubts, "query not answered", "queries not answered")
	add(f.Typical, "window from typical values", "windows from typical values")
	add(len(f.NotRead), "check not read", "checks not read")
	if f.Witness == "" {
		out = append(out, "no witness")
	}
	return out
}
