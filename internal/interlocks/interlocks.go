// Package interlocks lists everything that the program refuses, by id: what
// each interlock says, which package keeps it, which test would fail without
// it, and what of it is not kept yet.
package interlocks

import (
	"strings"

	"example.com/powerup/internal/engine"
)

// Kind says when an interlock acts.
type Kind string

// The kinds of interlock.
const (
	Gate    Kind = "gate"    // at run time, in the engine's states and events
	Numbers Kind = "numbers" // at run time, from a number or an instant; the engine gets the verdict
	Load    Kind = "load"    // when a file is read or a plan is made
	Record  Kind = "record"  // in what is written
	Screen  Kind = "screen"  // in what is shown, and when
)

// Row is one interlock. A row without a test says in NotYet or Refused why.
type Row struct {
	ID      string
	Kind    Kind
	Says    string
	Kept    []string // packages
	Tests   []string // "internal/engine TestName/part of a subtest's name"
	Refused string   // it could be owed only by what the program refuses: what that is
	NotYet  string   // what is not enforced, and what stands in for it; empty: all is
}

// All lists the interlocks in the order of their ids. The sentences of the
// engine's are its own, as a refusal quotes them.
func All() []Row {
	out := make([]Row, len(table))
	for i, r := range table {
		out[i] = withEngine(r)
	}
	return out
}

// withEngine puts what the engine says and proves of a row before the row's own.
func withEngine(r Row) Row {
	var says, tests []string
	for _, g := range engine.Gates() {
		if g.ID == r.ID {
			says = append(says, g.Sentence)
			tests = append(tests, "internal/engine TestAGateRefusesItsCaseAndNoOther/"+r.ID)
		}
	}
	for _, p := range engine.Properties() {
		if p.ID != r.ID {
			continue
		}
		if len(says) == 0 {
			says = append(says, p.Sentence)
		}
		tests = append(tests, "internal/engine TestAPropertyCatchesItsBadStepAndNoOther/"+r.ID)
	}
	if len(says) > 0 {
		r.Kept = append([]string{"internal/engine"}, r.Kept...)
	}
	if r.Says != "" {
		says = append(says, r.Says)
	}
	r.Says, r.Tests = strings.Join(says, "; "), append(tests, r.Tests...)
	return r
}
