package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

func newResumeCommand(w world) *cobra.Command {
	var answers string
	c := &cobra.Command{
		Use: "resume TRANSCRIPT", Short: "go on with a record that was parked or broken off", Args: cobra.ExactArgs(1),
		Long: `Goes through the record again from its own first line, then on from where it
stood. Nothing is known of the set any more: it counts as live and charged, the
bench is tried anew, and you are asked what was touched.

A record that was made with other rules is not gone on with. One of another
version of the program is where every line follows again, word for word; the
record then says which version went on.`,
		RunE: func(c *cobra.Command, args []string) error {
			return runResume(c.Context(), w, args[0], answers)
		},
	}
	c.Flags().StringVar(&answers, "answers", "", "drive the session from an answers `FILE`: practice records only")
	return c
}

func runResume(ctx context.Context, w world, path, answers string) error {
	if answers == "" && w.interactive() {
		ctx = onStop(ctx)
	}
	log, found, err := transcriptlog.ResumeOn(w.files(), path)
	if err != nil {
		return notResumed(w.inUse(err, path), path, w.command())
	}
	defer log.Close()
	defer w.claim(path)()
	j, s, err := takeUp(found.Lines, path, w.command())
	if err != nil {
		return err
	}
	proved := w.proving(j.sources, j.plan)
	practice := j.practice
	j.clock = w.clock
	j.command = w.command()
	if err := j.attach(ctx, w, answers); err != nil {
		return err
	}
	if j.practice != practice {
		return usage(errors.New("a practice record and a real one are never mixed\nhint: a real record is resumed at a terminal, a practice record with --answers or from a pipe"))
	}
	if err := proved(ctx); err != nil {
		return err
	}
	j.setLabel(j.label)
	now := j.clock.now()
	d := &driver{session: s, record: log, console: j.console, clock: j.clock, free: w.freeAt(j.path)}
	if len(found.Torn) > 0 {
		if err := log.Append(stamp(now), found.Record()); err != nil {
			return err
		}
		fmt.Fprintf(w.out, "A line was torn off at the end and did not count; it is kept in %s.\n", found.TornPath)
	}
	if other := followed(found.Lines); other != "" {
		if err := log.Append(stamp(now), goesOn()); err != nil {
			return err
		}
		console.PrintRow(w.out, "Program", other+". It goes on, and that is on record")
	}
	if missing := s.Missing(); len(missing) > 0 {
		if err := log.Append(stamp(now), records(missing)...); err != nil {
			return err
		}
		fmt.Fprintln(w.out, "What was typed last is on record, and what came of it was not: it is now, and is not asked again.")
	}
	if err := d.keep(now, s.Resume(now, awaySince(found.Lines, now))); err != nil {
		return err
	}
	return j.finish(d, d.drive(ctx), log, w.out)
}

// awaySince is how long nobody has gone on with a record.
func awaySince(lines []transcriptlog.Line, now session.Instant) time.Duration {
	return max(0, now.Wall.Sub(lines[len(lines)-1].Time))
}

// notResumed says what to do with a record that cannot be gone on with.
func notResumed(err error, path, command string) error {
	switch {
	case errors.Is(err, transcriptlog.ErrBroken):
		return fmt.Errorf("%w\nhint: nothing is added to it; %[3]s verify %[2]s shows what is left, and %[3]s run begins anew, from nothing known", err, shell(path), command)
	case errors.Is(err, transcriptlog.ErrClosed):
		return fmt.Errorf("%w\nhint: %[3]s verify %[2]s; where it says not signed yet: %[3]s key sign %[2]s", err, shell(path), command)
	}
	return err
}

// rebuild makes the plan from the record's own first line and replays the rest.
func rebuild(lines []transcriptlog.Line, path string) (*job, *session.Session, error) {
	if len(lines) == 0 {
		return nil, nil, usage(fmt.Errorf("%s holds no line: there is nothing to go on with", path))
	}
	src, err := sourcesOf(lines[0])
	if err != nil {
		return nil, nil, err
	}
	p, err := src.plan()
	if err != nil {
		return nil, nil, err
	}
	j := &job{sources: src, plan: p, label: lines[0].Fields["label"], path: path, practice: lines[0].Practice}
	s, err := session.Replay(p, j.label, logged(lines))
	if err != nil {
		return nil, nil, err
	}
	return j, s, nil
}

func logged(lines []transcriptlog.Line) []session.Logged {
	out := make([]session.Logged, len(lines))
	for i, l := range lines {
		out[i] = session.Logged{Seq: l.Seq, At: session.Instant{Wall: l.Time, Mono: l.Mono}, Record: session.Record{Kind: l.Kind, Fields: l.Fields}}
	}
	return out
}
