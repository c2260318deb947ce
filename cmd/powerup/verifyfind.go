package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"

	"example.com/powerup/internal/record"
	"example.com/powerup/internal/transcriptlog"
)

// finding is what a check of one record came to.
type finding struct {
	record     transcriptlog.Transcript
	sum        string // SHA-256 of its bytes
	attested          // by whom; no name: not accepted
	doubt      doubt
	judged     int
	unfair     string // a reading whose verdict is not the rule's
	failed     string // why it is no test that was passed; empty: it is, or not asked
	recomputed string // what came of playing it again; empty: not asked, or not done
	undone     string // why it could not be played again; empty: it was, or not asked
}

// doubt is why a signature was not accepted: in a word and in a sentence.
type doubt struct{ short, why string }

func check(o verifyOptions, file string) (finding, error) {
	raw, err := readRecord(file)
	if err != nil {
		return finding{}, err
	}
	sum := sha256.Sum256(raw)
	f := finding{record: transcriptlog.Read(raw), sum: hex.EncodeToString(sum[:])}
	f.attested, f.doubt = o.signature(raw, file, f.record)
	f.judged, f.unfair = judgeAgain(f.record.Lines)
	if o.recompute && f.unfair == "" && f.record.Ending != transcriptlog.Broken {
		f.recompute(file)
	}
	if o.passed {
		f.failed = notPassed(f.record, f.judged)
	}
	return f, nil
}

// readRecord reads a file, and no more of one that is too long to be a record
// than shows that it is.
func readRecord(file string) ([]byte, error) { return plainFile(file, transcriptlog.MaxFile) }

// recompute plays the record's entries once more on a plan made from its own
// files: every window, verdict and line must come out the same. Under other rules
// it cannot be done. What does not follow in this version of the program may in
// the one that made it: that is no fault of the record, and no proof of it either.
func (f *finding) recompute(file string) {
	made := makerOf(f.record.Lines)
	if made.rules != thisProgram().rules {
		f.undone = made.unplayed()
		return
	}
	switch err := follows(f.record.Lines, file); {
	case err == nil:
		f.recomputed = made.played(len(f.record.Lines))
	case made.other() != "":
		f.undone = inShort(err.Error()) + "; " + made.unplayed()
	default:
		f.unfair = inShort(err.Error())
	}
}

// follows is why a record does not follow from its files and entries. Of line 1 it
// may say what it likes of where, when, with which key and which program the session
// began.
func follows(lines []transcriptlog.Line, file string) error {
	j, _, err := rebuild(lines, file)
	if err != nil {
		return err
	}
	first := lines[0].Fields
	want := header(j.sources, j.plan, j.label, first["key"], newWallClock()).Fields
	for _, own := range []string{"platform", "guarantees", "clock", "program"} {
		want[own] = first[own]
	}
	if !maps.Equal(want, first) {
		return errors.New("line 1 is not what follows from the files in it")
	}
	return nil
}

// accepted tells whether the record counts as what the caller asked for.
func (f finding) accepted() bool {
	return f.record.Ending == transcriptlog.Complete && f.signed() && f.whyNot() == doubt{}
}

func (f finding) last() transcriptlog.Line {
	if len(f.record.Lines) == 0 {
		return transcriptlog.Line{}
	}
	return f.record.Lines[len(f.record.Lines)-1]
}

// practice tells whether the record says so of itself.
func (f finding) practice() bool { return len(f.record.Lines) > 0 && f.record.Lines[0].Practice }

// whyNot is why the record is not accepted; the zero value: it is.
func (f finding) whyNot() doubt {
	switch {
	case f.record.Ending == transcriptlog.Broken:
		return doubt{"broken", brokenAt(f.record)}
	case f.unfair != "":
		return doubt{"misjudged", "not judged as the rule says: " + f.unfair}
	case f.record.Ending != transcriptlog.Complete && f.doubt.short == "unsigned":
		return doubt{"open", "it is open, and an open record is not signed"}
	case f.doubt == doubt{} && f.undone != "":
		return doubt{"not recomputed", "it cannot be recomputed: " + f.undone}
	case f.doubt == doubt{}:
		return f.objection()
	}
	return f.doubt
}

// objection is what no signature mends: words at the close that could say anything,
// and that the test was not passed, where that was asked.
func (f finding) objection() doubt {
	switch {
	case f.unfair != "" || f.record.Ending == transcriptlog.Broken: // and that says enough
		return doubt{}
	case record.Of(f.record).Strange:
		return doubt{"strange result", "it was closed with words that this program does not know"}
	case f.failed != "":
		return doubt{"not passed", f.failed}
	}
	return doubt{}
}

// brokenAt names the first bad line; of a file as a whole there is none.
func brokenAt(t transcriptlog.Transcript) string {
	if t.BadLine == 0 {
		return inShort(t.Reason)
	}
	return fmt.Sprintf("line %d: %s", t.BadLine, inShort(t.Reason))
}
