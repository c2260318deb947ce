package main

import (
	"context"
	"errors"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/transcriptlog"
)

type runOptions struct {
	procedure, bench, out, answers, after string
	demo                                  bool
	procedureGiven                        bool
}

func newRunCommand(w world) *cobra.Command {
	var o runOptions
	c := &cobra.Command{
		Use:   "run [SHEET]",
		Short: "take a set through its first power-up",
		Long: `Takes the set of SHEET, a file of yours or a name of list sheets, through its
first power-up. Without SHEET, at a terminal, it asks for the set; at the first
run it asks what stands on your bench, writes that down, and makes your signing
key. What is not typed at a terminal is practice, and marked so on every line.`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.procedureGiven = c.Flags().Changed("procedure")
			return runRun(c.Context(), w, o, args)
		},
	}
	c.Flags().StringVar(&o.procedure, "procedure", "double-wound", "procedure: a `NAME` of list procedures, or a file")
	c.Flags().StringVar(&o.bench, "bench", "", "bench: a `NAME` of list benches, or a file (default: bench.yaml in the configuration folder)")
	c.Flags().StringVarP(&o.out, "out", "o", "", "where the record goes, a new `FILE` (default: one in the data folder)")
	c.Flags().StringVar(&o.answers, "answers", "", "drive the session from an answers `FILE`: practice only")
	c.Flags().StringVar(&o.after, "after", "", "the boxed part, for the set of the closed `RECORD` of its open part")
	c.Flags().BoolVar(&o.demo, "demo", false, "the example radio in digest, start to finish; with the word stop, a stop: practice only")
	return c
}

// job is one session to run: its files, its plan, where it is recorded, and how
// it is signed.
type job struct {
	sources  sources
	plan     *plan.Plan
	label    string
	path     string // empty: a new one in the data folder
	practice bool
	signer   transcriptlog.Signer
	clock    clock
	command  string // what a command line for the user begins with
	console  console.Prompter
}

func runRun(ctx context.Context, w world, o runOptions, args []string) error {
	if o.demo {
		return runDemo(ctx, w, o, args)
	}
	if o.answers == "" && w.interactive() {
		ctx = onStop(ctx)
	}
	if o.after != "" {
		if len(args) > 0 {
			return usage(errors.New("--after takes the set from the record; no sheet is named with it"))
		}
		return runAfter(ctx, w, o)
	}
	chosen, err := choose(ctx, w, o, args)
	if err != nil {
		return left(err)
	}
	src, p, err := gather(chosen.sheet, chosen.procedure, chosen.bench)
	if err != nil {
		return err
	}
	sayRemarks(w.err, src.set, p)
	proved := w.proving(src, p)
	j := job{sources: src, plan: p, clock: w.clock, command: w.command()}
	if err := w.untaken(o.out); err != nil {
		return err
	}
	if err := j.attach(ctx, w, o.answers); err != nil {
		return err
	}
	j.setLabel(label(p, j.clock))
	j.path = o.out
	if err := proved(ctx); err != nil {
		return err
	}
	if !j.practice {
		sayBench(w.out, src)
	}
	return j.run(ctx, w)
}

// attach connects the session to its input: a person at a terminal, whose key
// signs, or anything else, which is practice.
func (j *job) attach(ctx context.Context, w world, answers string) error {
	var err error
	switch {
	case answers != "":
		j.practice = true
		bench := newBenchClock(w.clock.now().Wall)
		j.clock = bench
		if j.console, err = scripted(w.out, answers, bench); err != nil {
			return err
		}
	case w.interactive():
		j.console = newTyped(ctx, w)
	default:
		j.practice = true
		j.clock = newBenchClock(w.clock.now().Wall)
		lines := console.NewLines(w.out, console.NewReader(w.in).Line)
		lines.Echo()
		j.console = lines
	}
	j.signer, err = signerFor(ctx, w, j.practice, j.plan.Bench)
	return err
}

func scripted(out io.Writer, path string, clock *benchClock) (*answered, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, usage(err)
	}
	a, err := spec.LoadAnswers(path, text)
	if err != nil {
		return nil, usage(err)
	}
	lines := console.NewLines(out, nil)
	lines.Echo()
	return &answered{show: lines, lines: a.Lines, clock: clock}, nil
}

// label is the number that is written on the set and names the record.
func label(p *plan.Plan, c clock) string {
	return c.now().Wall.Format("2006-01-02") + "-" + fileSafe(p.Set.Mark)
}

// setLabel gives the session its number, and tells it to a script.
func (j *job) setLabel(label string) {
	j.label = label
	if a, ok := j.console.(*answered); ok {
		a.label = label
	}
}

func fileSafe(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '_'
	}, text)
}

// run records, drives and, at the close, signs.
func (j *job) run(ctx context.Context, w world) error {
	log, err := j.create(w)
	if err != nil {
		return err
	}
	defer log.Close()
	defer w.claim(j.path)()
	now := j.clock.now()
	if err := log.Append(stamp(now), header(j.sources, j.plan, j.label, transcriptlog.Fingerprint(j.signer.PublicKey()), j.clock)); err != nil {
		return err
	}
	d := &driver{session: session.New(j.plan, j.label, now), record: log, console: j.console, clock: j.clock, free: w.freeAt(j.path)}
	return j.finish(d, d.drive(ctx), log, w.out)
}
