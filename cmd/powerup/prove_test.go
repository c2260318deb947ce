package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/session/sessiontest"
)

func TestOwnFilesAreProvedBeforeTheyRun(t *testing.T) {
	src, p, err := gather("table-radio", "double-wound", "two-meters")
	if err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	w := world{err: &errs}
	src.set.text = append(slices.Clone(src.set.text), "# mine\n"...)
	if err := w.proving(src, p)(t.Context()); err != nil {
		t.Fatal(err)
	}
	sessiontest.ForgetHold(p)
	err = w.proving(src, p)(t.Context())
	if exitCode(err) != errUsage.code || !strings.Contains(err.Error(), "all is answered well, up to mains at first-full") {
		t.Errorf("with a hold that may be forgotten: %v", err)
	}
	for line := range strings.Lines(errs.String()) {
		if !strings.HasPrefix(line, "Proving 148 readings in every order") {
			t.Errorf("said %q", line)
		}
	}
}

func TestStopKeyEndsAProof(t *testing.T) {
	src, p, err := gather("table-radio", "double-wound", "two-meters")
	if err != nil {
		t.Fatal(err)
	}
	src.set.text = nil
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(stopped{os.Interrupt})
	if err := (world{err: io.Discard}).proving(src, p)(ctx); exitCode(err) != errAborted.code {
		t.Errorf("%v", err)
	}
}

func TestWhatComesWithTheProgramIsProvedByItsTests(t *testing.T) {
	src, _, err := gather("table-radio", "double-wound", "two-meters")
	if err != nil {
		t.Fatal(err)
	}
	src.bench.name = "bench.yaml" // a copy says the same
	if !src.shipped() {
		t.Error("a copy counts as another file")
	}
	for name, change := range map[string]func(*sources){
		"set": func(s *sources) { s.set.text = nil }, "procedure": func(s *sources) { s.procedure.text = nil },
		"bench": func(s *sources) { s.bench.text = nil }, "meter": func(s *sources) { s.meters = slices.Clone(s.meters); s.meters[0].text = nil },
	} {
		other := src
		if change(&other); other.shipped() {
			t.Errorf("with another %s it counts as shipped", name)
		}
	}
}

func TestWhatIsNotProvedIsToldAsAStory(t *testing.T) {
	_, p, err := gather("table-radio", "double-wound", "two-meters")
	if err != nil {
		t.Fatal(err)
	}
	sessiontest.ForgetHold(p)
	var out bytes.Buffer
	_, err = vetOptions{}.prove("mine.yaml", []pairPlan{{pair{"table-radio", "two-meters", false}, p}}, &out)
	if err == nil || out.Len() > 0 {
		t.Fatalf("%v, %s", err, &out)
	}
	found := foundIn("wrong", err.Error())
	if len(found) != 2 || len(found[0].Story) != 2 || len(found[0].Hints) != 1 || found[1].Text != "met on table-radio at two-meters, open part" {
		t.Errorf("%+v", found)
	}
}
