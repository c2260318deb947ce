// Package record puts a transcript that was read whole into words for people who
// were not there: what became of the set, what is owed and by when, what was not
// measured, and what a reader could be misled by. It judges nothing anew and
// opens nothing: it is given what [transcriptlog.Read] found, and the time.
package record

import (
	"strings"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// State is how a record left its set. The zero value is the worst.
type State uint8

// The states.
const (
	Unknown   State = iota // no record that can be relied on
	Stopped                // by a dangerous reading, and no repair is on record
	LeftOn                 // it ends with mains on, as far as it tells
	BrokenOff              // stop key, end of input, or no word at all
	Parked                 // left at a dead point, to be resumed
	Closed
)

// Facts are what one transcript says. Every text in them is its writer's own,
// shortened; none of them keeps the transcript in memory.
type Facts struct {
	Practice, Boxed bool
	Name, Mark      string // of the set
	Label           string // number on the set
	Operator        string
	Procedure       string // name and edition
	Profile         string // of limits, with its date
	Tap             string // empty: the sheet does not say
	BenchClock      bool   // the times are not those of a clock on the wall

	First, FirstSum string // the open record that a boxed one goes on from

	Begun, Ended time.Time
	SetBack      time.Duration // the most that the clock on the wall was set back by
	State        State
	Closing      string // the close line's own words
	Strange      bool   // they are none that this program writes, and are not shown
	Live         bool   // mains was on at its end, as far as it tells
	Stop         Query  // the reading that stopped it, with its reason
	Stage        string // where the last reading was taken
	Owed         int    // readings owed at the park; -1: not said

	Queries  []Query  // accepted ones that stand
	Doubts   int      // queries that nobody has answered for
	Stops    int      // readings that stand and were stops
	Typical  int      // readings that stand, judged by typical values
	Readings int      // readings that stand
	NotRead  []string // ids of checks that were left
	NoVolts  bool     // the HT line was not proved at volts
	Touched  bool     // touch current was read

	Power   Power     // the most that the set was given
	Alone   bool      // at some switching on nobody was within call
	Call    string    // who was within call, as typed
	Seconds int       // second readings that another person saw
	Witness string    // of a hold or of the close; empty: none
	Day     time.Time // when the oldest reading that stands for a day was taken; zero: none
}

// Query is a reading by its check and item, with the cause that it was accepted
// with, or the reason that stopped it.
type Query struct{ Check, Item, Cause string }

// Power is what stood when the set was switched on.
type Power struct{ Supply, Set, Lamp string }

// How much is kept of a text, in columns of a screen: of ids and the program's own
// words, of names that people give, and of what they tell. It is more than any
// session of this program writes, and a bound for what somebody else has written.
const (
	idRoom   = 40
	nameRoom = 120
	textRoom = 200
)

// own copies a text as one line of so many columns, so that the transcript it is
// a part of can go. All but the first alphabets count as wide.
func own(text string, columns int) string {
	var b strings.Builder
	for _, r := range text {
		if columns--; r >= 0x1100 {
			columns--
		}
		if columns < 0 {
			return b.String() + "..."
		}
		if r == '\n' || r == '\r' || r == '\t' {
			r = ' '
		}
		b.WriteRune(r)
	}
	return b.String()
}

// Of gives the facts of a transcript; those of a broken one are not known.
func Of(t transcriptlog.Transcript) Facts {
	if t.Ending == transcriptlog.Broken || len(t.Lines) == 0 {
		return Facts{}
	}
	s := newScan(t.Lines[0])
	for _, l := range t.Lines[1:] {
		s.line(l)
	}
	return s.facts(t.Lines[len(t.Lines)-1])
}
