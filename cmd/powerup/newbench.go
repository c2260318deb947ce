package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// newBench asks for a bench file, writes it to path and gives the path. Nothing is
// written before all is answered.
func newBench(ctx context.Context, w world, path string) (string, error) {
	fmt.Fprintln(w.out, "There is no bench file yet: what stands on your bench, evening after evening.")
	i := interview{
		w: w, asked: asker(w, false), refuse: benchRefused, offers: offered(yamlHere()),
		draft: draft{Draft: describe.Draft{Form: describe.Bench(wholePath)}, file: path},
	}
	if err := i.hold(ctx); err != nil {
		return "", err
	}
	if err := i.draft.keep(); err != nil {
		return "", fmt.Errorf("bench file: %w", err)
	}
	fmt.Fprintf(w.out, "Bench file  %s\n            written; %s describe --bench mends it when the bench changes\n", path, w.command())
	return path, nil
}

// benchRefused tells what of a bench cannot be used here: an operator whom no
// signers file can hold, a meter sheet that is not there or of another kind.
func benchRefused(d describe.Draft) error {
	b, _ := spec.DraftBench(d.Text)
	if b == nil {
		return nil // the loader says so
	}
	if b.Operator != "" {
		if err := listable(b.Operator); err != nil {
			return err
		}
	}
	for _, m := range b.Meters {
		if err := instrument(m.Sheet, false); err != nil {
			return err
		}
	}
	if b.Tester != "" {
		return instrument(b.Tester, true)
	}
	return nil
}

// instrument tells what keeps a meter sheet from being used as a tester's, or as a
// meter's.
func instrument(name string, tester bool) error {
	src, err := open(procedures.Meters(), name)
	if err != nil {
		return err
	}
	m, err := spec.LoadMeter(src.name, src.text)
	switch {
	case err != nil:
		return usage(err)
	case tester && m.Kind != sheet.Tester:
		return usage(fmt.Errorf("%s is no insulation tester but %s", name, m.Kind))
	case !tester && m.Kind == sheet.Tester:
		return usage(fmt.Errorf("%s is an insulation tester\nhint: it has a line of its own", name))
	}
	return nil
}

// offered are the meter sheets to choose from, by the field that they are for: the
// folder's and the program's.
func offered(here []source) map[string]string {
	var meters, testers []string
	add := func(s source) {
		m, err := spec.LoadMeter(s.name, s.text)
		switch {
		case err != nil:
		case m.Kind == sheet.Tester:
			testers = append(testers, s.name)
		default:
			meters = append(meters, s.name)
		}
	}
	for _, s := range here {
		if hasKey(s.text, "meter:") {
			add(s)
		}
	}
	for _, n := range procedures.Meters() {
		add(source{n.Name, n.Text})
	}
	return map[string]string{"meters.sheet": strings.Join(meters, ", "), "tester": strings.Join(testers, ", ")}
}

// wholePath makes the path of a meter sheet of one's own hold in any folder. A
// name of list meters stays.
func wholePath(name string) string {
	if _, ok := procedures.Find(procedures.Meters(), name); ok {
		return name
	}
	if abs, err := filepath.Abs(name); err == nil {
		return abs
	}
	return name
}
