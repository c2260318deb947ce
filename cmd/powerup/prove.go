package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strconv"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/procedures"
)

// proof is how far one proof went, for those who want to know.
type proof struct {
	pair
	queries              string // whose open queries were gone through; empty: none
	slots, places, steps int
	seconds              float64
	mebibytes            int // of the program, when it was done
}

// prove goes through every pair, and tells each when it is done.
func (o vetOptions) prove(name string, plans []pairPlan, progress io.Writer) ([]proof, error) {
	var all []proof
	for _, at := range plans {
		for _, scope := range o.scopes(at.plan) {
			pr, err := proveOne(at, scope)
			if err != nil {
				return all, usage(fmt.Errorf("%w\nmet on %s", err, at))
			}
			all = append(all, pr)
			fmt.Fprintf(progress, "%s: proved on %s\n", name, pr)
		}
	}
	return all, nil
}

// scopes is no open query, and with --queries those of each path in turn.
func (o vetOptions) scopes(p *plan.Plan) []engine.Scope {
	all := []engine.Scope{{}}
	for bit := range p.Paths {
		if o.queries {
			all = append(all, engine.Scope{Paths: 1 << bit})
		}
	}
	return all
}

func proveOne(at pairPlan, scope engine.Scope) (proof, error) {
	start := time.Now()
	x, err := at.plan.Prove(scope)
	var mem runtime.MemStats
	runtime.ReadMemStats(&mem)
	pr := proof{
		pair: at.pair, slots: len(at.plan.Slots), places: x.Places, steps: x.Steps,
		seconds: time.Since(start).Seconds(), mebibytes: int(mem.Sys >> 20),
	}
	for bit, path := range at.plan.Paths {
		if scope.Paths == 1<<bit {
			pr.queries = path
		}
	}
	return pr, err
}

func (p proof) String() string {
	queries := ""
	if p.queries != "" {
		queries = ", open queries on " + p.queries
	}
	return fmt.Sprintf("%s%s\n  %d readings, %d places, %d steps, %s s, %d MiB",
		p.pair, queries, p.slots, p.places, p.steps, strconv.FormatFloat(p.seconds, 'f', 1, 64), p.mebibytes)
}

// proving begins to prove what a session is about to go through, while the user
// unlocks the key; the session begins when what it gives has returned without
// error. What comes with the program is proved by the program's own tests.
func (w world) proving(src sources, p *plan.Plan) func(context.Context) error {
	if src.shipped() {
		return func(context.Context) error { return nil }
	}
	done := make(chan error, 1)
	go func() {
		_, err := p.Prove(engine.Scope{})
		done <- err
	}()
	return func(ctx context.Context) error {
		for slow := time.After(time.Second); ; {
			select {
			case err := <-done:
				return proofFault(err)
			case <-ctx.Done():
				return left(context.Cause(ctx))
			case <-slow:
				fmt.Fprintf(w.err, "Proving %d readings in every order that stops and repairs can bring...\n", len(p.Slots))
			}
		}
	}
}

func proofFault(err error) error {
	if err == nil {
		return nil
	}
	return usage(err)
}

// shipped tells whether every file says what one that comes with the program says.
func (s sources) shipped() bool {
	is := func(among []procedures.Named, f source) bool {
		return slices.ContainsFunc(among, func(n procedures.Named) bool { return bytes.Equal(n.Text, f.text) })
	}
	for _, m := range s.meters {
		if !is(procedures.Meters(), m) {
			return false
		}
	}
	return is(procedures.Procedures(), s.procedure) && is(procedures.Sheets(), s.set) && is(procedures.Benches(), s.bench)
}
