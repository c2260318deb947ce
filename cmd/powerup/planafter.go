package main

import (
	"bytes"
	"errors"
	"fmt"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/transcriptlog"
)

// owed is what a record owes: of one that is open what resume would ask for now,
// of a closed one the boxed part that run --after would run. The file is read,
// not locked, and nothing is written.
func (o planOptions) owed(w world) (console.Work, error) {
	if o.procedureGiven {
		return console.Work{}, usage(errors.New("--after takes the procedure from the record"))
	}
	raw, err := readRecord(o.after)
	if err != nil {
		return console.Work{}, usage(err)
	}
	t := transcriptlog.Read(raw)
	switch {
	case t.Ending == transcriptlog.Broken:
		return console.Work{}, fmt.Errorf("transcript %s: %w: line %d: %s", o.after, transcriptlog.ErrBroken, t.BadLine, t.Reason)
	case t.Ending == transcriptlog.Complete:
		return o.owedBoxed(w)
	case o.bench != "":
		return console.Work{}, usage(errors.New("an open record is taken up at its own bench; --bench is for the boxed part after a closed one"))
	}
	if !bytes.HasSuffix(raw, []byte("\n")) {
		complain(w.err, errors.New("a line was torn off at the end of the record, and does not count"))
	}
	return owedOpen(w, t.Lines, o.after)
}

// owedOpen takes an open record up, in memory alone.
func owedOpen(w world, lines []transcriptlog.Line, path string) (console.Work, error) {
	j, s, err := takeUp(lines, path, w.command())
	if err != nil {
		return console.Work{}, err
	}
	if other := followed(lines); other != "" {
		complain(w.err, errors.New(other))
	}
	now := w.clock.now()
	work := console.WorkAfter(j.plan, s, j.label, now, awaySince(lines, now))
	work.After.Practice = j.practice
	return work, nil
}

// owedBoxed is the boxed part after a closed record, at the bench of that or at
// another.
func (o planOptions) owedBoxed(w world) (console.Work, error) {
	before, err := readFirst(o.after)
	if err != nil {
		return console.Work{}, err
	}
	src, err := before.boxed(o.bench)
	if err != nil {
		return console.Work{}, err
	}
	p, err := src.plan()
	if err != nil {
		return console.Work{}, err
	}
	if other := before.madeOtherwise(); other != "" {
		complain(w.err, errors.New(other))
	}
	work := console.WorkBoxed(p, before.label, w.clock.now().Wall)
	work.After.Practice = before.practice
	return work, nil
}
