package spec

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// id is the form of the names of stages, checks and holds.
var id = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// procedureRules wants steps that each say one thing, and names that can be
// told apart.
func procedureRules(r *reader, p *sheet.Procedure) {
	stages, holds := map[string]bool{}, map[string]bool{}
	for i := range p.Stages {
		s := &p.Stages[i]
		path := fmt.Sprintf("stages[%d]", i)
		r.fresh(path+".stage", "stage", s.Stage, stages)
		for j, need := range s.Needs {
			if !holds[need] {
				r.failAt(fmt.Sprintf("%s.needs[%d]", path, j), "INV-01: no hold "+quote(need)+" stands in an earlier stage", "needs names holds that come before")
			}
		}
		for j := range s.Steps {
			r.step(fmt.Sprintf("%s.steps[%d]", path, j), &s.Steps[j], s.Supply, holds)
		}
	}
}

// fresh wants a name in its right form that was not used before.
func (r *reader) fresh(path, kind, name string, used map[string]bool) {
	r.name(path, name)
	if used[name] {
		r.failAt(path, "the "+kind+" "+quote(name)+" stands here a second time", "each "+kind+" has a name of its own")
	}
	used[name] = true
}

func (r *reader) name(path, name string) {
	if !id.MatchString(name) {
		r.failAt(path, quote(name)+" is no name here", "small letters, digits and single hyphens, as dead-ht")
	}
}

func (r *reader) step(path string, s *sheet.Step, supply string, holds map[string]bool) {
	kind := r.stepKind(path)
	for _, only := range []struct{ field, with string }{
		{"narrower", "check"}, {"after", "check"}, {"dwell", "raise"}, {"read", "raise or cold"},
	} {
		if r.has(path+"."+only.field) && kind != "" && !slices.Contains(strings.Split(only.with, " or "), kind) {
			r.failAt(path+"."+only.field, "this belongs to a step with "+only.with, "")
		}
	}
	switch kind {
	case "check":
		r.name(path+".check", s.Check)
		r.narrower(path+".narrower", s.Narrower)
		rising(r, path+".after", s.After)
	case "hold":
		r.fresh(path+".hold", "hold", s.Hold, holds)
		if supply != "dead" {
			r.failAt(path+".hold", "INV-24: a hold stands here with the supply "+supply, "holds stand only in stages with the supply dead")
		}
	case "cold":
		if supply != "full" {
			r.failAt(path+".cold", "INV-47: a cold start stands here with the supply "+supply, "cold starts stand only in stages with the supply full")
		}
	case "raise":
		rising(r, path+".raise", s.Raise)
		if supply != "raised" && supply != "full" {
			r.failAt(path+".raise", "INV-10: the mains is raised here with the supply "+supply, "steps of the mains stand in stages with the supply raised or full")
		}
	}
	read := map[string]bool{}
	for i, check := range s.Read {
		r.fresh(fmt.Sprintf("%s.read[%d]", path, i), "reading", check, read)
	}
}

// stepKind is the one thing that a step says; empty, and an error, when it says
// none or two.
func (r *reader) stepKind(path string) string {
	kinds := []string{"check", "hold", "raise", "cold"}
	var found []string
	for _, k := range kinds {
		if r.has(path + "." + k) {
			found = append(found, k)
		}
	}
	switch len(found) {
	case 1:
		return found[0]
	case 0:
		r.failAt(path, "this step says nothing to do", "one of: "+strings.Join(kinds, ", "))
	default:
		r.failAt(path+"."+found[1], "this step has both "+strings.Join(found, " and "), "make it two steps")
	}
	return ""
}

// rising wants a list that is not empty and goes up.
func rising[T interface {
	~float64
	fmt.Stringer
}](r *reader, path string, list []T) {
	if r.has(path) && len(list) == 0 {
		r.failAt(path, "the list is empty", "")
	}
	for i := range list {
		if i > 0 && !(list[i] > list[i-1]) {
			r.failAt(fmt.Sprintf("%s[%d]", path, i), list[i].String()+" does not follow "+list[i-1].String(), "each once, the lowest first")
		}
	}
}

// narrower wants an author's window to have an end that is a quantity. Which
// kind it must be, and that it lies inside the check's own, the check decides.
func (r *reader) narrower(path string, n *sheet.Narrower) {
	if n == nil {
		return
	}
	if n.Min == "" && n.Max == "" {
		r.failAt(path, "this narrows nothing", "write min, max or both, each with its unit")
	}
	for _, end := range []struct{ name, text string }{{"min", n.Min}, {"max", n.Max}} {
		if end.text != "" && !anyQuantity(end.text) {
			r.failAt(path+"."+end.name, quote(end.text)+" is not a number with its unit", "write it as 2 GΩ or 0.1 V")
		}
	}
}

func anyQuantity(text string) bool {
	for k := unit.None + 1; k < unit.KindNumber; k++ {
		if _, err := unit.Parse(k, text); err == nil {
			return true
		}
	}
	return false
}
