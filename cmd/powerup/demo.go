package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// The demonstration's files; all are invented.
const (
	demoSheet = "table-radio"
	demoBench = "two-meters"
)

// runDemo takes the example radio through the whole procedure from an embedded
// answers file, in digest; every reading is in the record.
func runDemo(ctx context.Context, w world, o runOptions, args []string) error {
	name := "demo"
	switch {
	case len(args) == 1 && args[0] == "stop":
		name = "demo-stop"
	case len(args) > 0:
		return usage(errors.New("run --demo takes no sheet\nhint: powerup run --demo, or powerup run --demo stop"))
	}
	text, ok := procedures.Find(procedures.Answers(), name)
	if !ok {
		return fmt.Errorf("no answers %q in this program", name)
	}
	answers, err := spec.LoadAnswers(name, text)
	if err != nil {
		return err
	}
	src, p, err := gather(demoSheet, o.procedure, demoBench)
	if err != nil {
		return err
	}
	clock := newBenchClock(w.clock.now().Wall)
	j := job{sources: src, plan: p, practice: true, clock: clock, command: w.command()}
	if j.signer, err = practiceSigner(); err != nil {
		return err
	}
	digest := console.NewDigest(w.out, demoPace(w), name == "demo-stop")
	j.console = &answered{show: digest, lines: answers.Lines, clock: clock}
	j.setLabel("demo-" + label(p, clock))
	j.path = o.out
	digest.Begin(version())
	return j.run(ctx, w)
}

// demoPace is the pause between the digest's lines: at a terminal it can be read
// as it comes, in a pipe it does not wait.
func demoPace(w world) func() {
	if !w.interactive() {
		return func() {}
	}
	return func() { time.Sleep(demoPause) }
}

// About a hundred lines in well under 45 s.
const demoPause = 250 * time.Millisecond
