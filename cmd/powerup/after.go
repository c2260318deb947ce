package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"

	"example.com/powerup/internal/transcriptlog"
)

// first is the record of an open session that a boxed one goes on from.
type first struct {
	label    string
	sum      string // SHA-256 of its file
	practice bool
	sources  sources
}

// readFirst takes a record that is whole, closed as tested, and signed by a key
// that is believed here.
func readFirst(path string) (first, error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return first{}, usage(err)
	}
	t := transcriptlog.Read(raw)
	if t.Ending != transcriptlog.Complete {
		return first{}, usage(fmt.Errorf("%s is %s: a boxed session goes on from one that was closed\nhint: powerup verify %s", path, t.Ending, shell(path)))
	}
	head, end := t.Lines[0], t.Lines[len(t.Lines)-1]
	if head.Fields["part"] == boxedPart || end.Fields["open"] != "0" {
		return first{}, usage(fmt.Errorf("%s is not an open session that ended with nothing owed", path))
	}
	if name, no := (verifyOptions{practice: head.Practice}).signature(raw, path, t); name == "" {
		return first{}, usage(fmt.Errorf("%s does not verify: %s", path, no.why))
	}
	src, err := sourcesOf(head)
	if err != nil {
		return first{}, err
	}
	sum := sha256.Sum256(raw)
	return first{label: head.Fields["label"], sum: hex.EncodeToString(sum[:]), practice: head.Practice, sources: src}, nil
}

// runAfter runs the boxed part of the procedure that the record of o.after was
// made with, on the same set.
func runAfter(ctx context.Context, w world, o runOptions) error {
	before, err := readFirst(o.after)
	if err != nil {
		return err
	}
	src := before.sources
	src.boxed, src.after, src.afterSum = true, before.label, before.sum
	if o.bench != "" {
		if err := src.takeBench(o.bench); err != nil {
			return err
		}
	}
	p, err := src.plan()
	if err != nil {
		return err
	}
	proved := w.proving(src, p)
	j := job{sources: src, plan: p, clock: w.clock, command: w.command()}
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
	return j.run(ctx, w)
}

// boxedPart is what the first line of a boxed session's record says of itself.
const boxedPart = "boxed"
