package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/powerup/internal/plan"
	"example.com/powerup/procedures"
)

// pair is a procedure over a set at a bench, one part of it.
type pair struct {
	set, bench string
	boxed      bool
}

func (p pair) String() string { return fmt.Sprintf("%s at %s, %s part", p.set, p.bench, p.part()) }

func (p pair) part() string {
	if p.boxed {
		return "boxed"
	}
	return "open"
}

// unroll makes the plan of a procedure over each set at each bench, open and
// boxed, and tells every refusal once, with where it was met first. Where there is
// none, each is proved.
func (o vetOptions) unroll(procedure source, progress io.Writer) ([]proof, error) {
	var all []error
	var plans []pairPlan
	seen := map[string]bool{}
	for _, at := range o.pairs() {
		p, err := unrollOne(procedure, at)
		switch {
		case err == nil:
			plans = append(plans, pairPlan{at, p})
		case !seen[err.Error()]:
			seen[err.Error()] = true
			all = append(all, err, fmt.Errorf("first met on %s", at))
		}
	}
	if len(all) > 0 {
		return nil, errors.Join(all...)
	}
	fmt.Fprintf(progress, "%s: unrolled over %s, at %s, open and boxed\n", procedure.name,
		strings.Join(among(o.sheet, procedures.Sheets()), ", "), strings.Join(among(o.bench, procedures.Benches()), ", "))
	return o.prove(procedure.name, plans, progress)
}

func (o vetOptions) pairs() []pair {
	var all []pair
	for _, set := range among(o.sheet, procedures.Sheets()) {
		for _, bench := range among(o.bench, procedures.Benches()) {
			all = append(all, pair{set, bench, false}, pair{set, bench, true})
		}
	}
	return all
}

// pairPlan is a pair that can be worked on.
type pairPlan struct {
	pair
	plan *plan.Plan
}

func unrollOne(procedure source, at pair) (*plan.Plan, error) {
	s := sources{procedure: procedure, boxed: at.boxed}
	var err error
	if s.set, err = open(procedures.Sheets(), at.set); err != nil {
		return nil, err
	}
	if err := s.takeBench(at.bench); err != nil {
		return nil, err
	}
	if err := s.set.refused(); err != nil {
		return nil, err
	}
	return s.plan()
}

// among is the one name given, or those of all that come with the program.
func among(given string, all []procedures.Named) []string {
	if given != "" {
		return []string{given}
	}
	var names []string
	for _, n := range all {
		names = append(names, n.Name)
	}
	return names
}
