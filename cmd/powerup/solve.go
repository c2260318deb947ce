package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/casefile"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
)

const solveLong = `Reads HT supplies as JSON and prints what each gives in its periodic steady
state. One object is one case; there may be several, one after the other, or in
an array. Without FILE they come from the standard input.

With --json each case is answered by one object in one line, in the order
given; else by a table. Volts, amperes, watts. A number may be written as text.
What does not apply is left out, null or an empty text; other names, a name
twice, and what goes with nothing in the case are refused. Names that begin
with ng_ are not read: they are another program's results.

A case that is refused is told on the standard error and not answered; the
cases after it still are, and the exit code is 2. For one that the model has no
answer for --json prints {"id": ..., "error": ...}, and the exit code is 1.

Where the model leaves the law of the output valve, or the law leaves all
valves, the standard error says so; the exit code does not change.

It computes; it judges nothing, and no limit that guards a person is in it.
`

func newSolveCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "solve [FILE]", Short: "compute one HT supply, or many, from its parameters", Args: cobra.MaximumNArgs(1),
		Long: solveLong + "\nParameters:\n" + listNamed(casefile.Parameters()) + "\nResults:\n" + listNamed(casefile.Results()),
		Example: `  powerup solve --json < cases.json
  powerup solve case.json`,
		RunE: func(c *cobra.Command, args []string) error {
			show := solvedTable
			if asJSON {
				show = solvedJSON
			}
			return runSolve(strings.Join(args, ""), show, c.InOrStdin(), c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object a case, one a line")
	return c
}

func listNamed(all []casefile.Named) string {
	var b strings.Builder
	for _, n := range all {
		fmt.Fprintf(&b, "  %-20s  %s\n", n.Name, n.What)
	}
	return b.String()
}

// runSolve answers every case of a file, or of in, as show does.
func runSolve(name string, show solved, in io.Reader, out, errs io.Writer) error {
	if name != "" {
		f, err := os.Open(name)
		if err != nil {
			return usage(fmt.Errorf("%s is not here: %w", name, err))
		}
		defer f.Close()
		in = f
	}
	cases := casefile.NewReader(cmp.Or(name, "stdin"), in)
	var worst error
	for {
		c, err := cases.Next()
		var refused spec.Errors
		switch {
		case errors.Is(err, io.EOF):
			return worst
		case errors.As(err, &refused):
			complain(errs, err)
			worst = quiet{errUsage}
			continue
		case err != nil:
			return err
		}
		a, err := c.Solve()
		if err != nil {
			complain(errs, fmt.Errorf("%s: %w", c.Name(), err))
			worst = cmp.Or(worst, error(quiet{errInternal}))
		}
		if a.Remark != "" {
			fmt.Fprintf(errs, "powerup: %s: %s\n", c.Name(), a.Remark)
		}
		if err := show(out, c, a, err); err != nil {
			return err
		}
	}
}

// solved shows the answer to a case, or that there is none.
type solved func(out io.Writer, c *casefile.Case, a casefile.Answer, noAnswer error) error

func solvedJSON(out io.Writer, c *casefile.Case, a casefile.Answer, noAnswer error) error {
	line := a.JSON()
	if noAnswer != nil {
		line = c.NoAnswer(noAnswer)
	}
	_, err := out.Write(append(line, '\n'))
	return err
}

// shownDigits are as many as the model is good for.
const shownDigits = 4

func solvedTable(out io.Writer, c *casefile.Case, a casefile.Answer, noAnswer error) error {
	if noAnswer != nil {
		return nil // complained of already
	}
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "%s\n", c.Name())
	for _, v := range a.Values {
		fmt.Fprintf(w, "  %s\t%v\t%s\n", v.Name, unit.Round(v.Quantity, shownDigits), v.What)
	}
	return w.Flush()
}
