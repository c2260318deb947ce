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

type vetOptions struct{ sheet, bench string }

func newVetCommand() *cobra.Command {
	var o vetOptions
	c := &cobra.Command{
		Use: "vet FILE...", Short: "read files strictly and report everything that is wrong with them", Args: cobra.MinimumNArgs(1),
		Long: `Reads set sheets, bench, meter, procedure and answers files strictly, and tells
all that is wrong, with file, line and column. Of a set sheet it also tells what
does not agree, and what leaving a line out costs.

A procedure is unrolled too, its open and its boxed part, over the sheet and the
bench given, or over every sheet and bench that come with the program. That
shows for those that nothing is left out that guards, that stages, raises and
waits are as the program wants them, that no window is wider than its check's,
and that the gates before mains can be met. Each set and bench tells its first
fault only: put it right and vet again.

It does not show this for other sets and benches: powerup plan and powerup run
unroll over yours again, and refuse what does not hold. Nor does it yet go
through every order in which readings, stops and alterations could come. A
window that follows from readings is compared when they are there; a narrower
one can only take away from it.`,
		RunE: func(c *cobra.Command, args []string) error {
			return o.run(args, c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&o.sheet, "sheet", "", "set a procedure is unrolled over: a `NAME` of list sheets, or a file (default: each of them)")
	c.Flags().StringVar(&o.bench, "bench", "", "bench it is unrolled for: a `NAME` of list benches, or a file (default: each of them)")
	return c
}

func (o vetOptions) run(args []string, out, errs io.Writer) error {
	bad := false
	for _, name := range args {
		src, err := anyFile(name)
		if err != nil {
			return err
		}
		remarks, err := src.vet()
		if err == nil && hasKey(src.text, "procedure:") {
			err = o.unroll(src, out)
		}
		if err != nil {
			complain(errs, err)
			bad = true
			continue
		}
		for _, severity := range []sheet.Severity{sheet.Warn, sheet.Note} {
			sayPlaced(out, src, severity, of(severity, remarks))
		}
		if len(of(sheet.Warn, remarks)) == 0 {
			fmt.Fprintf(out, "%s: nothing wrong found\n", name)
		}
	}
	if bad {
		return quiet{errUsage}
	}
	return nil
}

// sayPlaced prints remarks on a set sheet; other files have none.
func sayPlaced(out io.Writer, s source, severity sheet.Severity, remarks []sheet.Remark) {
	if len(remarks) == 0 {
		return
	}
	for _, e := range spec.PlaceRemarks(s.name, s.text, remarks) {
		fmt.Fprintf(out, "%s: %v\n", severity, e)
	}
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
