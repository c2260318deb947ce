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

func newVetCommand() *cobra.Command {
	return &cobra.Command{
		Use: "vet FILE...", Short: "read files strictly and report everything that is wrong with them", Args: cobra.MinimumNArgs(1),
		Long: `Reads set sheets, bench, meter, procedure and answers files strictly, and tells
all that is wrong, with file, line and column. Of a set sheet it also tells what
does not agree, and what leaving a line out costs. Whether a procedure's checks
and windows hold on a set, powerup plan tells.`,
		RunE: func(c *cobra.Command, args []string) error { return runVet(args, c.OutOrStdout(), c.ErrOrStderr()) },
	}
}

func runVet(args []string, out, errs io.Writer) error {
	bad := false
	for _, name := range args {
		src, err := anyFile(name)
		if err != nil {
			return err
		}
		remarks, err := src.vet()
		if err != nil {
			complain(errs, err)
			bad = true
			continue
		}
		for _, severity := range []sheet.Severity{sheet.Warn, sheet.Note} {
			for _, e := range spec.PlaceRemarks(src.name, src.text, of(severity, remarks)) {
				fmt.Fprintf(out, "%s: %v\n", severity, e)
			}
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
