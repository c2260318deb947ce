package main

import (
	"cmp"
	"errors"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/console"
)

type planOptions struct {
	procedure, bench, after string
	procedureGiven          bool
	json, html, trainer     bool
}

func newPlanCommand(w world) *cobra.Command {
	var o planOptions
	c := &cobra.Command{
		Use: "plan [SHEET]", Short: "print the whole bench card: every reading, its window and why", Args: cobra.MaximumNArgs(1),
		Long: `Prints the whole work on the set of SHEET, a file of yours or a name of list
sheets, as pages to take to the bench: first the whole at a glance with what the
circuit of a healthy set gives at each step of the ramp, then a page a stage, by
lead position, each reading with what it should be, which side is dangerous and
the sum behind it, then what this kit cannot finish.

With --after only what is owed of a record is printed: as resume would take it
up now, or, when it is closed, the boxed part. Nothing is written.
With --trainer the learner's pages come first, without windows, expectations and
reasons, then the trainer's with them.
With --html the pages are one HTML document, to be printed from a browser.
With --json all of it is one JSON document; DEVELOPERS.md has its fields.`,
		RunE: func(c *cobra.Command, args []string) error {
			o.procedureGiven = c.Flags().Changed("procedure")
			return runPlan(w, o, args)
		},
	}
	c.Flags().StringVar(&o.procedure, "procedure", "double-wound", "procedure: a `NAME` of list procedures, or a file")
	c.Flags().StringVar(&o.bench, "bench", "", "bench: a `NAME` of list benches, or a file (default: bench.yaml in the configuration folder, else two-meters)")
	c.Flags().StringVar(&o.after, "after", "", "only what is owed after the session of `RECORD`")
	c.Flags().BoolVar(&o.trainer, "trainer", false, "for a club night: learner's pages, then the trainer's")
	c.Flags().BoolVar(&o.html, "html", false, "one HTML document on standard output, for a browser to print")
	c.Flags().BoolVar(&o.json, "json", false, "one JSON document on standard output, for programs")
	return c
}

func runPlan(w world, o planOptions, args []string) error {
	work, err := o.work(w, args)
	if err != nil {
		return err
	}
	switch {
	case o.json:
		return work.JSON(w.out)
	case o.html:
		return work.HTML(w.out, work.Pages(o.trainer))
	}
	work.Text(w.out, work.Pages(o.trainer), isTerminal(w.out))
	return nil
}

// work is what is to be printed: the whole of a sheet, or what a record owes.
func (o planOptions) work(w world, args []string) (console.Work, error) {
	switch {
	case o.json && (o.html || o.trainer):
		return console.Work{}, usage(errors.New("--json is for programs, --html and --trainer are for paper\nhint: one or the other"))
	case o.after != "" && len(args) > 0:
		return console.Work{}, usage(errors.New("--after takes the set from the record; no sheet is named with it"))
	case o.after != "":
		return o.owed(w)
	case len(args) == 0:
		return console.Work{}, usage(errors.New("no sheet is named\nhint: powerup plan SHEET, or --after RECORD"))
	}
	bench := cmp.Or(o.bench, benchOrExample())
	src, p, err := gather(args[0], o.procedure, bench)
	if err != nil {
		return console.Work{}, err
	}
	sayRemarks(w.err, src.set, p)
	return console.WorkOf(p), nil
}
