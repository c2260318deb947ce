package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// choice is what a session is made of, by name or path.
type choice struct{ sheet, procedure, bench string }

// choose takes what the command line names and asks for the rest, where there
// is a terminal that a form can be shown on.
func choose(ctx context.Context, w world, o runOptions, args []string) (choice, error) {
	c := choice{procedure: o.procedure, bench: o.bench}
	if len(args) > 0 {
		c.sheet = args[0]
	}
	if c.bench == "" && benchKnown() {
		c.bench = defaultBenchPath()
	}
	asks := o.answers == "" && w.forms()
	switch {
	case c.sheet != "":
	case !asks:
		return c, usage(errors.New("no set sheet was named\nhint: powerup run my-set.yaml; powerup list sheets shows the examples; powerup run --demo needs none"))
	default:
		if err := c.askSheet(ctx, w, o.procedureGiven); err != nil {
			return c, err
		}
	}
	switch {
	case c.bench != "":
	case !asks:
		return c, usage(fmt.Errorf("there is no bench file yet\nhint: copy one that powerup list benches shows to %s, or name one: --bench two-meters", defaultBenchPath()))
	default:
		var err error
		if c.bench, err = newBench(ctx, w, defaultBenchPath()); err != nil {
			return c, err
		}
	}
	return c, nil
}

// forms tells whether a form can be shown: a terminal at both ends that can
// move its cursor.
func (w world) forms() bool {
	kind := os.Getenv("TERM")
	return w.interactive() && kind != "dumb" && (kind != "" || runtime.GOOS == "windows")
}

func benchKnown() bool {
	_, err := os.Stat(defaultBenchPath())
	return err == nil
}

func (c *choice) askSheet(ctx context.Context, w world, procedureGiven bool) error {
	here := yamlHere()
	q := console.Question{Key: "sheet", Title: "Set sheet"}
	for _, s := range here {
		if !hasKey(s.text, "set:") {
			continue
		}
		if _, err := spec.LoadSet(s.name, s.text); err != nil {
			q.Help += s.name + " does not load: powerup vet " + s.name + " says why. "
			continue
		}
		q.Options = append(q.Options, console.Option{Shown: s.name, Value: s.name})
	}
	for _, n := range procedures.Sheets() {
		q.Options = append(q.Options, console.Option{Shown: n.Name + " (example, invented)", Value: n.Name})
	}
	answers, err := w.ask(ctx, console.Page{Title: "Which set? " + leaving, Questions: []console.Question{q}})
	if err != nil {
		return err
	}
	c.sheet = answers[q.Key]
	fmt.Fprintf(w.out, "Set sheet   %s\n", c.sheet)
	if procedureGiven {
		return nil
	}
	return c.askProcedure(ctx, w, here)
}

const leaving = "Ctrl+C leaves and writes nothing."

// askProcedure asks only where more than one procedure is for such a set.
func (c *choice) askProcedure(ctx context.Context, w world, here []source) error {
	src, err := open(procedures.Sheets(), c.sheet)
	if err != nil {
		return err
	}
	set, err := spec.LoadSet(src.name, src.text)
	if err != nil {
		return usage(err)
	}
	fit := proceduresFor(set, here)
	if len(fit) == 1 {
		c.procedure = fit[0].Value
	}
	if len(fit) < 2 {
		return nil
	}
	answers, err := w.ask(ctx, console.Page{Title: "Which procedure? " + leaving, Questions: []console.Question{
		{Key: "procedure", Title: "Procedure for a " + string(set.Construction) + " set", Options: fit},
	}})
	if err != nil {
		return err
	}
	c.procedure = answers["procedure"]
	fmt.Fprintf(w.out, "Procedure   %s\n", c.procedure)
	return nil
}

// proceduresFor are the procedures that are written for such a set: the
// program's, and those in the folder.
func proceduresFor(set *sheet.Set, here []source) []console.Option {
	var all []source
	for _, n := range procedures.Procedures() {
		all = append(all, source{n.Name, n.Text})
	}
	all = append(all, slices.DeleteFunc(slices.Clone(here), func(s source) bool { return !hasKey(s.text, "procedure:") })...)
	var fit []console.Option
	for _, s := range all {
		if p, err := spec.LoadProcedure(s.name, s.text); err == nil && p.For.Construction == set.Construction {
			fit = append(fit, console.Option{Shown: fmt.Sprintf("%s: %s, edition %d", s.name, p.Name, p.Edition), Value: s.name})
		}
	}
	return fit
}

// yamlHere are the YAML files of the current folder, by name.
func yamlHere() []source {
	var out []source
	for _, pattern := range []string{"*.yaml", "*.yml"} {
		names, _ := filepath.Glob(pattern) // the patterns are well formed
		for _, name := range names {
			if info, err := os.Stat(name); err != nil || !info.Mode().IsRegular() || info.Size() > largestFile {
				continue
			}
			if text, err := os.ReadFile(name); err == nil {
				out = append(out, source{name, text})
			}
		}
	}
	return out
}

// largestFile is more than any file of ours may have.
const largestFile = 1 << 20

// ask shows one form. What was typed before it stood is no answer.
func (w world) ask(ctx context.Context, pages ...console.Page) (map[string]string, error) {
	if err := dropTyped(w.in); err != nil {
		return nil, err
	}
	return console.Form(ctx, w.in, w.out, pages...)
}
