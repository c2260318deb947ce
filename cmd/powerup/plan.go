package main

import (
	"io"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
)

type planOptions struct {
	procedure, bench string
	json             bool
}

func newPlanCommand() *cobra.Command {
	var o planOptions
	c := &cobra.Command{
		Use: "plan SHEET", Short: "print the whole bench card: every reading, its window and why", Args: cobra.ExactArgs(1),
		Long: `Prints the whole work on the set of SHEET, a file of yours or a name of list
sheets, by lead position: each reading with what it should be, which side is
dangerous and the sum behind it, and what this kit cannot measure. Before that
stands what the circuit of a healthy set gives at each step of the ramp.

With --json all of it is one JSON document; DEVELOPERS.md has its fields.`,
		RunE: func(c *cobra.Command, args []string) error {
			return runPlan(o, args[0], c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&o.procedure, "procedure", "double-wound", "procedure: a `NAME` of list procedures, or a file")
	c.Flags().StringVar(&o.bench, "bench", "", "bench: a `NAME` of list benches, or a file (default: bench.yaml in the configuration folder, else two-meters)")
	c.Flags().BoolVar(&o.json, "json", false, "one JSON document on standard output, for programs")
	return c
}

func runPlan(o planOptions, sheetName string, out, errs io.Writer) error {
	bench := o.bench
	if bench == "" {
		bench = "two-meters"
		if benchKnown() {
			bench = defaultBenchPath()
		}
	}
	src, p, err := gather(sheetName, o.procedure, bench)
	if err != nil {
		return err
	}
	sayRemarks(errs, src.set, p)
	if o.json {
		return console.CardJSON(out, p, session.Card(p))
	}
	console.Card(out, p, session.Card(p))
	return nil
}
