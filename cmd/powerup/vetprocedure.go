package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/powerup/procedures"
)

// unroll makes the plan of a procedure over each set at each bench, open and
// boxed, and tells every refusal once, with where it was met first.
func (o vetOptions) unroll(procedure source, out io.Writer) error {
	var all []error
	sheets, benches := among(o.sheet, procedures.Sheets()), among(o.bench, procedures.Benches())
	seen := map[string]bool{}
	for _, set := range sheets {
		for _, bench := range benches {
			for _, boxed := range []bool{false, true} {
				err := unrollOne(procedure, set, bench, boxed)
				if err == nil || seen[err.Error()] {
					continue
				}
				seen[err.Error()] = true
				all = append(all, err, fmt.Errorf("first met on %s at %s, %s part", set, bench, map[bool]string{false: "open", true: "boxed"}[boxed]))
			}
		}
	}
	if len(all) > 0 {
		return errors.Join(all...)
	}
	fmt.Fprintf(out, "%s: unrolled over %s, at %s, open and boxed\n", procedure.name, strings.Join(sheets, ", "), strings.Join(benches, ", "))
	return nil
}

func unrollOne(procedure source, set, bench string, boxed bool) error {
	s := sources{procedure: procedure, boxed: boxed}
	var err error
	if s.set, err = open(procedures.Sheets(), set); err != nil {
		return err
	}
	if err := s.takeBench(bench); err != nil {
		return err
	}
	if err := s.set.refused(); err != nil {
		return err
	}
	_, err = s.plan()
	return err
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
