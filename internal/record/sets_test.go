package record

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/powerup/internal/transcriptlog"
)

var later = evening.Add(15 * time.Hour)

// accepted is the entry of a closed record, ended so many hours after the
// evening began.
func accepted(file, mark, name string, hours int) Entry {
	return Entry{
		File: file, Sum: "sum of " + file, Ending: transcriptlog.Complete, Accepted: true, Sound: true, Signer: "anna",
		Facts: Facts{Mark: mark, Name: name, Label: "number of " + file, State: Closed, Closing: "tested, not handed back", Ended: evening.Add(time.Duration(hours) * time.Hour)},
	}
}

// with changes an entry.
func (e Entry) with(change func(*Entry)) Entry { change(&e); return e }

func boxed(file string, open Entry, hours int) Entry {
	return accepted(file, open.Facts.Mark, open.Facts.Name, hours).with(func(e *Entry) {
		e.Facts.Boxed, e.Facts.First, e.Facts.FirstSum = true, open.Facts.Label, open.Sum
		e.Facts.Closing = "tested and boxed, not handed back"
	})
}

func stopped(e *Entry) {
	e.Ending, e.Accepted, e.Signer, e.Short = transcriptlog.Open, false, "", "open"
	e.Facts.State, e.Facts.Stop.Check = Stopped, "output-grid"
}

func left(e *Entry) {
	stopped(e)
	e.Facts.State, e.Facts.Owed = Parked, 12
}

func unsigned(e *Entry) {
	e.Accepted, e.Signer, e.Short, e.Why = false, "", "unsigned", "it is not signed"
}

func queriedAt(e *Entry) { e.Facts.Queries = []Query{{"core-warm", "", "a warm room"}} }

// table prints rows for comparison, each note behind its row.
func table(sets []Set) string {
	var b strings.Builder
	for _, s := range sets {
		fmt.Fprintln(&b, strings.TrimRight(strings.Join([]string{s.File + s.Mark, s.Date, s.Outcome, s.Signed, s.Next}, "|"), "|"))
		for _, n := range s.Notes {
			fmt.Fprintf(&b, "  %s: %s\n", n.About, n.Text)
		}
	}
	return b.String()
}

func TestFolderIsToldBySets(t *testing.T) {
	t.Parallel()
	first := accepted("a", "1", "radio", 1)
	for _, c := range []struct {
		reason  string
		entries []Entry
		want    string
	}{
		{"the newest record counts", []Entry{accepted("b", "1", "radio", 3).with(queriedAt), first}, `
1|2 Jan 2030|tested, not handed back|anna|query: core-warm
  1: to look at again: Core of the mains transformer after 5 min: a warm room
`},
		{"a boxed record is newer than what it names, whatever its clock said", []Entry{boxed("b", first.with(queriedAt), -9), first.with(queriedAt)}, `
1|2 Jan 2030|boxed, not handed back|anna|query: core-warm
  1: to look at again: Core of the mains transformer after 5 min: a warm room
`},
		{"sets of one mark", []Entry{accepted("b", "1", "amplifier", 1), first, accepted("c", "2", "radio", 1)}, `
1|2 Jan 2030|tested, not handed back|anna
  1: more than one set has this mark; row 1 of it: amplifier
1|2 Jan 2030|tested, not handed back|anna
  1: more than one set has this mark; row 2 of it: radio
2|2 Jan 2030|tested, not handed back|anna
`},
		{"stopped", []Entry{first, accepted("b", "1", "radio", 2).with(stopped)}, `
1|2 Jan 2030|STOPPED, no repair|unsigned|before anything else
  b: OPEN: the set was STOPPED at output-grid, not handed back
  a: an older record: the set was tested, not handed back
`},
		{"an old stop is not forgotten", []Entry{first, accepted("b", "1", "radio", 0).with(stopped)}, `
1|2 Jan 2030|tested, not handed back|anna|an old stop, below
  b: an older record: the set was STOPPED at output-grid, not handed back; no repair is on record
`},
		{"left open once, and begun anew", []Entry{first, accepted("b", "1", "radio", 0).with(left)}, `
1|2 Jan 2030|tested, not handed back|anna
  b: an older record, OPEN: the session was not closed
`},
		{"what is not accepted hides nothing", []Entry{accepted("b", "1", "radio", 9).with(unsigned), first.with(stopped)}, `
1|2 Jan 2030|STOPPED, no repair|unsigned|before anything else
  a: OPEN: the set was STOPPED at output-grid, not handed back
b||NOT ACCEPTED: unsigned
  b: it is not signed
`},
		{"broken, and not to be read", []Entry{{File: "x", Sum: "s", Short: "broken", Why: "line 3"}, {File: "w", Short: "unread", Why: "no permission"}}, `
w||NOT ACCEPTED: unread
  w: no permission
x||BROKEN
  x: line 3
`},
		{"an open record of the other sort", []Entry{first.with(left).with(func(e *Entry) { e.Sound, e.Short = false, "practice" })}, `
a||NOT ACCEPTED: practice
`},
		{"from the future", []Entry{accepted("a", "1", "radio", 99)}, `
1|6 Jan 2030|tested, not handed back|anna
  a: dated in the future by this computer's clock: nothing is known of its age
`},
		{"the first record is gone", []Entry{boxed("b", first, 2)}, `
1|2 Jan 2030|boxed, first missing|anna
  b: goes on from record number of a with SHA-256 sum of a..., which is not here: nothing is known of the inside
`},
		{"the first record is another one", []Entry{boxed("b", first, 2), first.with(func(e *Entry) { e.Sum = "other" })}, `
1|2 Jan 2030|boxed, first differs|anna
  b: goes on from record number of a with SHA-256 sum of a..., and a has that number and other bytes
`},
		{"the first record was changed and signed by nobody", []Entry{boxed("b", first, 2), first.with(unsigned)}, `
1|2 Jan 2030|boxed, first unfit|anna
  b: goes on from a, which is not accepted
a||NOT ACCEPTED: unsigned
  a: it is not signed
`},
		{"the first record is that of another set", []Entry{boxed("b", first, 2), first.with(func(e *Entry) { e.Facts.Name = "amplifier" })}, `
1|2 Jan 2030|tested, not handed back|anna
  1: more than one set has this mark; row 1 of it: amplifier
1|2 Jan 2030|boxed, first unfit|anna
  1: more than one set has this mark; row 2 of it: radio
  b: goes on from a, which is that of another set
`},
		{"the first record was never closed", []Entry{boxed("b", first, 2), first.with(left)}, `
1|2 Jan 2030|boxed, first unfit|anna
  b: goes on from a, which is no closed record of the open set
  a: an older record, OPEN: the session was not closed
`},
		{"the first record has another number", []Entry{boxed("b", first, 2), first.with(func(e *Entry) { e.Facts.Label = "n" })}, `
1|2 Jan 2030|boxed, first unfit|anna
  b: goes on from a, which has another number, not number of a
`},
		{"an older boxed record without its first", []Entry{boxed("b", first, 2), accepted("c", "1", "radio", 3)}, `
1|2 Jan 2030|tested, not handed back|anna
  b: goes on from record number of a with SHA-256 sum of a..., which is not here: nothing is known of the inside
`},
	} {
		if got := "\n" + table(Sets(c.entries, later)); got != c.want {
			t.Errorf("%s: got%swant%s", c.reason, got, c.want)
		}
	}
}

// Whatever the order of the files, the rows are the same, and every file stands
// in exactly one of them.
func TestOrderOfFilesDoesNotMatter(t *testing.T) {
	t.Parallel()
	changes := []func(*Entry){func(*Entry) {}, stopped, left, unsigned, queriedAt}
	rapid.Check(t, func(t *rapid.T) {
		var entries []Entry
		for n := range rapid.IntRange(1, 8).Draw(t, "records") {
			e := accepted(fmt.Sprint("file", n), rapid.SampledFrom([]string{"1", "2"}).Draw(t, "mark"), rapid.SampledFrom([]string{"x", "y"}).Draw(t, "name"), rapid.IntRange(0, 2).Draw(t, "hours"))
			if n > 0 && rapid.Bool().Draw(t, "boxed") {
				e = boxed(e.File, entries[rapid.IntRange(0, n-1).Draw(t, "first")], rapid.IntRange(0, 2).Draw(t, "hours"))
			}
			entries = append(entries, e.with(rapid.SampledFrom(changes).Draw(t, "change")))
		}
		given := slices.Clone(entries)
		want := Sets(entries, later)
		if !reflect.DeepEqual(given, entries) {
			t.Fatal("the entries were changed")
		}
		if got := Sets(rapid.Permutation(entries).Draw(t, "order"), later); !reflect.DeepEqual(got, want) {
			t.Fatalf("another order gives\n%s\nnot\n%s", table(got), table(want))
		}
		sets := map[string]bool{}
		refused := 0
		for _, e := range entries {
			if e.believed() {
				sets[e.Facts.Mark+" "+e.Facts.Name] = true
			} else {
				refused++
			}
			if !e.believed() && !strings.Contains(table(want), e.File+"||") {
				t.Fatalf("%s has no line of its own:\n%s", e.File, table(want))
			}
		}
		if len(want) != len(sets)+refused {
			t.Fatalf("%d rows for %d sets and %d records that are not accepted", len(want), len(sets), refused)
		}
	})
}
