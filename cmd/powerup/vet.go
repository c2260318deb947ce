package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

type vetOptions struct {
	sheet, bench  string
	queries, json bool
}

func newVetCommand() *cobra.Command {
	var o vetOptions
	c := &cobra.Command{
		Use: "vet FILE...", Short: "read files strictly, prove procedures, tell all that is wrong", Args: cobra.MinimumNArgs(1),
		Long: `Reads set sheets, bench, meter, procedure and answers files strictly, and tells
all that is wrong, with file, line and column. Of a set sheet it also tells what
does not agree, and what leaving a line out costs.

A procedure is unrolled too, its open and its boxed part, over the sheet and the
bench given, or over every sheet and bench that come with the program. That
shows for those that nothing is left out that guards, that stages, raises and
waits are as the program wants them, that no window is wider than its check's,
and that the gates before mains can be met. Each set and bench tells its first
fault only: put it right and vet again.

What is unrolled is then proved: every order is gone through in which readings,
queries, stops, repairs, alterations, time limits, clips and restarts can come,
some seconds for each set and bench. No interlock may break in any of them, and
from everywhere the work must come to its end. What does not hold is told as the
shortest story that leads there. Open queries are taken as closed; --queries
also goes through those of each part or path in turn, ten times as long. What it
does not go through is two open queries at once: those are held by what the
program asserts after every step of a session.

It does not show this for other sets and benches: powerup run unrolls over yours
and proves that before it begins. A window that follows from readings is
compared when they are there; a narrower one can only take away from it.

With --json all of it is one JSON document; DEVELOPERS.md has its fields.`,
		RunE: func(c *cobra.Command, args []string) error {
			return o.run(args, c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&o.sheet, "sheet", "", "set a procedure is unrolled over: a `NAME` of list sheets, or a file (default: each of them)")
	c.Flags().StringVar(&o.bench, "bench", "", "bench it is unrolled for: a `NAME` of list benches, or a file (default: each of them)")
	c.Flags().BoolVar(&o.queries, "queries", false, "also go through the open queries of each part or path in turn")
	c.Flags().BoolVar(&o.json, "json", false, "one JSON document on standard output, for programs")
	return c
}

// vetted is what was found of one file.
type vetted struct {
	name     string
	wrong    error
	remarks  spec.Errors // warnings, then notes
	warnings int         // how many of them
	proved   []proof
}

func (o vetOptions) run(args []string, out, errs io.Writer) error {
	progress := out
	if o.json {
		progress = errs
	}
	var all []vetted
	bad := false
	for _, name := range args {
		v, err := o.vet(name, progress)
		if err != nil {
			return err
		}
		all = append(all, v)
		bad = bad || v.wrong != nil
		if !o.json {
			v.print(out, errs)
		}
	}
	if o.json {
		if err := vetJSON(out, all); err != nil {
			return err
		}
	}
	if bad {
		return quiet{errUsage}
	}
	return nil
}

func (o vetOptions) vet(name string, progress io.Writer) (vetted, error) {
	v := vetted{name: name}
	src, err := anyFile(name)
	if err != nil {
		return v, err
	}
	remarks, err := src.vet()
	if err == nil && hasKey(src.text, "procedure:") {
		v.proved, err = o.unroll(src, progress)
	}
	v.wrong = err
	warnings, notes := of(sheet.Warn, remarks), of(sheet.Note, remarks)
	v.warnings = len(warnings)
	v.remarks = append(placed(src, warnings), placed(src, notes)...)
	return v, nil
}

func (v vetted) print(out, errs io.Writer) {
	if v.wrong != nil {
		complain(errs, v.wrong)
		return
	}
	for n, e := range v.remarks {
		fmt.Fprintf(out, "%s: %v\n", v.severity(n), e)
	}
	if v.warnings == 0 {
		fmt.Fprintf(out, "%s: nothing wrong found\n", v.name)
	}
}

func (v vetted) severity(n int) sheet.Severity {
	if n < v.warnings {
		return sheet.Warn
	}
	return sheet.Note
}

// placed gives remarks on a set sheet their lines; other files have none.
func placed(s source, remarks []sheet.Remark) spec.Errors {
	if len(remarks) == 0 {
		return nil
	}
	return spec.PlaceRemarks(s.name, s.text, remarks)
}

// anyFile finds a file by path, or one that comes with the program.
func anyFile(name string) (source, error) {
	return open(slices.Concat(procedures.Sheets(), procedures.Benches(), procedures.Meters(), procedures.Procedures()), name)
}

// vet loads a file by the kind its first key names; a set sheet is reviewed too.
func (s source) vet() ([]sheet.Remark, error) {
	var err error
	switch {
	case hasKey(s.text, "meter:"):
		_, err = spec.LoadMeter(s.name, s.text)
	case hasKey(s.text, "bench:"):
		_, err = spec.LoadBench(s.name, s.text)
	case hasKey(s.text, "procedure:"):
		_, err = spec.LoadProcedure(s.name, s.text)
	case hasKey(s.text, "answers:"):
		_, err = spec.LoadAnswers(s.name, s.text)
	default:
		if err = s.refused(); err == nil {
			return s.review()
		}
	}
	return nil, err
}

func hasKey(text []byte, key string) bool {
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, key) {
			return true
		}
	}
	return false
}
