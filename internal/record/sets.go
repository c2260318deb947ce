package record

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// Entry is one file of a folder, after it was verified.
type Entry struct {
	File     string
	Sum      string // SHA-256 of its bytes, in hexadecimal digits
	Ending   transcriptlog.Ending
	Facts    Facts
	Accepted bool
	Sound    bool   // of the sort that was asked for, and every verdict is the rule's
	Signer   string // where it is accepted
	Short    string // why it is not, in a word
	Why      string // and in a sentence, where the word does not say it all
}

// believed tells whether what the record says may stand for its set: it was
// accepted, or it is open, which nobody can sign.
func (e Entry) believed() bool {
	open := e.Ending == transcriptlog.Open || e.Ending == transcriptlog.RecoveredOpen
	return e.Accepted || open && e.Sound
}

// Set is one row of a folder: all records of one set that are believed, or one
// record that is not and stands for nothing.
type Set struct {
	Mark, Name, Date, Outcome, Signed, Next string

	File  string // of a record that is not believed, instead of mark and date
	Notes []Note
}

// Note is what a row has no room for.
type Note struct{ About, Text string }

func (s *Set) note(about, text string) { s.Notes = append(s.Notes, Note{about, text}) }

// Sets gives the rows of a folder: sets by mark and name, then the records that
// are not believed, by file. The order of the entries does not matter.
func Sets(entries []Entry, now time.Time) []Set {
	all := slices.Clone(entries)
	slices.SortFunc(all, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.Facts.Mark, b.Facts.Mark), cmp.Compare(a.Facts.Name, b.Facts.Name),
			a.Facts.Ended.Compare(b.Facts.Ended), cmp.Compare(a.File, b.File))
	})
	var sets, refused []Set
	var group []Entry
	for _, e := range all {
		if !e.believed() {
			refused = append(refused, refusedRow(e))
			continue
		}
		if len(group) > 0 && !sameSet(e, group[0]) {
			sets, group = append(sets, row(group, all, now)), nil
		}
		group = append(group, e)
	}
	if len(group) > 0 {
		sets = append(sets, row(group, all, now))
	}
	nameTwins(sets)
	slices.SortFunc(refused, func(a, b Set) int { return cmp.Compare(a.File, b.File) })
	return append(sets, refused...)
}

func sameSet(a, b Entry) bool { return a.Facts.Mark == b.Facts.Mark && a.Facts.Name == b.Facts.Name }

// refusedRow is the row of a record that is not believed.
func refusedRow(e Entry) Set {
	s := Set{File: e.File, Outcome: "NOT ACCEPTED: " + e.Short}
	if e.Sum != "" && e.Ending == transcriptlog.Broken {
		s.Outcome = e.Ending.String()
	}
	if e.Why != "" {
		s.note(e.File, e.Why)
	}
	return s
}

// row is that of a set: its latest record counts, and what the others have left
// behind is told.
func row(group, all []Entry, now time.Time) Set {
	at := latest(group)
	last := group[at]
	f := last.Facts
	s := Set{Mark: cmp.Or(f.Mark, "no mark"), Name: f.Name, Date: date(f.Ended, now), Outcome: f.Outcome(), Signed: last.Signer}
	if !last.Accepted {
		s.Signed = "unsigned"
		s.note(last.File, last.Ending.String()+": "+f.Result())
	}
	if ahead(f.Ended, now) {
		s.note(last.File, "dated in the future by this computer's clock: nothing is known of its age")
	}
	f.Queries = slices.Concat(s.goesOn(last, all), f.Queries)
	s.Next = f.Next(now)
	if f.State == Closed && len(f.Queries) > 0 {
		s.note(s.Mark, "to look at again: "+f.queries())
	}
	for i, old := range group {
		if i != at {
			s.older(old, last, all)
		}
	}
	return s
}

// goesOn tells what is wrong with the record that the last one goes on from, or
// gives the queries that were accepted there.
func (s *Set) goesOn(last Entry, all []Entry) []Query {
	if !last.Facts.Boxed {
		return nil
	}
	l := linked(last, all)
	if l.wrong != "" {
		s.Outcome = "boxed, " + l.wrong
		s.note(last.File, l.text)
	}
	return l.open.Facts.Queries
}

// latest is the record that counts: the last by its clock, or what goes on from
// it, which carries its digest and so came later whatever the clocks said.
func latest(group []Entry) int {
	at := len(group) - 1
	for {
		next := slices.IndexFunc(group, func(e Entry) bool { return e.Facts.Boxed && e.Facts.FirstSum == group[at].Sum })
		if next < 0 || next == at {
			return at
		}
		at = next
	}
}

func date(t, now time.Time) string { return t.In(now.Location()).Format("2 Jan 2006") }

// older tells what an older record of the set has left behind.
func (s *Set) older(old, last Entry, all []Entry) {
	switch f := old.Facts; {
	case f.State == Stopped:
		if last.Facts.State != Stopped {
			s.Next = "an old stop, below"
		}
		s.note(old.File, "an older record: "+f.Result()+"; no repair is on record")
	case !old.Accepted:
		s.note(old.File, "an older record, "+old.Ending.String()+": "+f.Result())
	case last.Facts.State != Closed: // which is not the last word on the set
		s.note(old.File, "an older record: "+f.Result())
	}
	if old.Facts.Boxed {
		if l := linked(old, all); l.wrong != "" {
			s.note(old.File, l.text)
		}
	}
}

// nameTwins tells sets of one mark apart by their names.
func nameTwins(sets []Set) {
	nth := 0
	for i := range sets {
		after := i > 0 && sets[i-1].Mark == sets[i].Mark
		before := i+1 < len(sets) && sets[i+1].Mark == sets[i].Mark
		if !after {
			nth = 0
		}
		if nth++; after || before {
			n := Note{sets[i].Mark, fmt.Sprintf("more than one set has this mark; row %d of it: %s", nth, cmp.Or(sets[i].Name, "no name"))}
			sets[i].Notes = slices.Insert(sets[i].Notes, 0, n)
		}
	}
}
