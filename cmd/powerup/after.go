package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/record"
	"example.com/powerup/internal/transcriptlog"
)

// first is the record of an open session that a boxed one goes on from.
type first struct {
	label    string
	sum      string // SHA-256 of its file
	practice bool
	sources  sources
	by       string             // who signed it
	made     maker              // with what
	end      transcriptlog.Line // its last
}

// readFirst takes a record that is whole, closed as tested, and signed by a key
// that is believed here.
func readFirst(path string) (first, error) {
	raw, err := readRecord(path)
	if err != nil {
		return first{}, usage(err)
	}
	t := transcriptlog.Read(raw)
	if t.Ending != transcriptlog.Complete {
		return first{}, usage(fmt.Errorf("%s is %s: a boxed session goes on from one that was closed\nhint: powerup verify %s", path, t.Ending, shell(path)))
	}
	head, end := t.Lines[0], t.Lines[len(t.Lines)-1]
	if head.Fields["part"] == boxedPart {
		return first{}, usage(fmt.Errorf("%s is not an open session, but a boxed one: it goes on from the record of the open set", path))
	}
	who, no := (verifyOptions{practice: head.Practice}).signature(raw, path, t)
	if !who.signed() {
		return first{}, usage(fmt.Errorf("%s does not verify: %s", path, no.why))
	}
	judged, why := judgeAgain(t.Lines)
	if why != "" {
		return first{}, usage(fmt.Errorf("%s does not verify: its readings cannot be judged again as it says: %s", path, console.Clean(why)))
	}
	if no := notPassed(t, judged); no != "" {
		return first{}, usage(fmt.Errorf("%s is not an open session that ended with nothing owed: %s", path, no))
	}
	src, err := sourcesOf(head)
	if err != nil {
		return first{}, err
	}
	sum := sha256.Sum256(raw)
	return first{label: head.Fields["label"], sum: hex.EncodeToString(sum[:]), practice: head.Practice, sources: src, by: who.by.Name, made: makerOf(t.Lines), end: end}, nil
}

// say tells what a boxed session goes on with. Nothing follows from it, and it is on
// no record.
func (f first) say(out io.Writer, now time.Time, p *plan.Plan) {
	n := f.end.Fields
	closed := f.end.Time.In(now.Location())
	console.PrintRow(out, "After", fmt.Sprintf("%s, closed %s, %s, signed by %s", f.label, closed.Format("2 Jan 2006 15:04"), record.Age(closed, now), f.by))
	console.PrintRow(out, "Kept", fmt.Sprintf("its readings stand through boxing, and none is asked again: %s pass, %s query accepted, %s not read", n["pass"], n["accepted"], n["not-read"]))
	if other := f.madeOtherwise(); other != "" {
		console.PrintRow(out, "Program", other)
	}
	console.PrintRow(out, "Lapsed", "the proof of dead, the bench as it was tried, who is within call; primary and insulation are read anew in the cabinet")
	console.PrintRow(out, "Owed", p.Cost().String()+", when everything passes")
}

// madeOtherwise says what of the first record was not made as the boxed part will
// be; empty: nothing.
func (f first) madeOtherwise() string {
	other := f.made.other()
	if other == "" {
		return ""
	}
	return fmt.Sprintf("made with %s: %s, and this is %s. Its readings stand as they were judged; the boxed part is judged here and now", other, f.made, thisProgram())
}

// boxed are the files of the boxed part, with another bench where one is named.
func (f first) boxed(bench string) (sources, error) {
	src := f.sources
	src.boxed, src.after, src.afterSum = true, f.label, f.sum
	if bench == "" {
		return src, nil
	}
	err := src.takeBench(bench)
	return src, err
}

// runAfter runs the boxed part of the procedure that the record of o.after was
// made with, on the same set.
func runAfter(ctx context.Context, w world, o runOptions) error {
	before, err := readFirst(o.after)
	if err != nil {
		return err
	}
	src, err := before.boxed(o.bench)
	if err != nil {
		return err
	}
	p, err := src.plan()
	if err != nil {
		return err
	}
	proved := w.proving(src, p)
	j := job{sources: src, plan: p, clock: w.clock, command: w.command()}
	if err := w.untaken(o.out); err != nil {
		return err
	}
	if err := j.attach(ctx, w, o.answers); err != nil {
		return err
	}
	if j.practice != before.practice {
		return usage(errors.New("a practice record and a real one are never mixed\nhint: a real record goes on at a terminal, a practice record with --answers or from a pipe"))
	}
	j.setLabel(before.label + "-boxed")
	j.path = o.out
	if err := proved(ctx); err != nil {
		return err
	}
	before.say(w.out, j.clock.now().Wall, p)
	return j.run(ctx, w)
}

// boxedPart is what the first line of a boxed session's record says of itself.
const boxedPart = "boxed"
