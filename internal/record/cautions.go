package record

import (
	"fmt"
	"slices"
	"time"
)

// What a reader of any record could be misled by.
const (
	// CutBack is said of open records.
	CutBack = "who holds an open record can cut it back to an earlier line"
	// AnyKey is said where a signer's name is shown.
	AnyKey = "any key can be listed, under any name, by whoever wrote the signers file"
	// StoppedToo is said where a set was stopped.
	StoppedToo = "a stopped set's record can be complete too: that is said of the record, not of the set"
	// Practice is said of practice records.
	Practice = "a practice record proves nothing about a set"
)

// Cautions are what a reader of this record could be misled by, each only where
// it applies.
func (f Facts) Cautions(signed bool) []string {
	var out []string
	for _, c := range []struct {
		applies bool
		words   string
	}{
		{f.Practice, Practice},
		{f.State == Stopped, StoppedToo},
		{f.Live, "it ends with mains on: treat the set as live and charged"},
		{f.Boxed, "the inside is told by record " + f.First + " alone, which must verify too"},
		{f.State == Closed, "the set may have been opened or altered since"},
		{f.Readings > 0, "readings were typed by hand"},
		{f.SetBack > seconds("wall-jump"), "the clock on the wall was set back by " + minutes(f.SetBack) + " while it was written: its times and ages cannot be relied on"},
		{f.BenchClock, "times are those of a bench clock, which jumps over waits"},
		{!f.BenchClock, "times are that computer's own"},
		{signed, AnyKey},
	} {
		if c.applies {
			out = append(out, c.words)
		}
	}
	return out
}

// minutes words a time of more than one minute.
func minutes(d time.Duration) string { return fmt.Sprintf("%.0f minutes", d.Minutes()) }

// FolderCautions are those of a folder, and what its table says in few words.
func FolderCautions(entries []Entry, now time.Time) []Row {
	any := func(is func(Entry) bool) bool { return slices.ContainsFunc(entries, is) }
	open := func(e Entry) bool { return e.believed() && e.Facts.State != Closed }
	resumed := func(e Entry) bool { return open(e) && e.Facts.State != Stopped }
	var rows []Row
	for _, c := range []struct {
		applies     bool
		label, text string
	}{
		{any(func(e Entry) bool { return e.Facts.Practice }), "practice", Practice},
		{any(func(e Entry) bool { return e.Facts.Practice && !e.Sound }), "", "--practice accepts it as practice"},
		{any(func(e Entry) bool { return e.Facts.State == Stopped }), "STOPPED", StoppedToo},
		{any(open), "unsigned", CutBack},
		{any(resumed), "resume", "readings of insulation, bond and HT line stand for a day; lapsed: these facts are gone, and resume asks for them again"},
		{any(func(e Entry) bool { return e.Accepted }), "signed", AnyKey},
		{true, "times", "are those of the computers that wrote the records; now is " + now.Format("2 Jan 2006 15:04 MST") + " by this computer's clock"},
		{true, "says", "who, what file, what order, unchanged since. Not that a set is safe."},
	} {
		if c.applies {
			rows = append(rows, Row{Label: c.label, Text: c.text})
		}
	}
	return rows
}
