package layers

import (
	"slices"
	"strings"
	"testing"
)

// internal/earlyterm does its work only if it is initialised before bubbletea;
// its own tests show that on a small binary. Here is the program itself.
func TestEarlytermComesBeforeBubbletea(t *testing.T) {
	const (
		program = module + "cmd/powerup"
		early   = module + "internal/earlyterm"
		asks    = "github.com/charmbracelet/bubbletea"
	)
	if !slices.ContainsFunc(packages(t), func(p listed) bool { return p.ImportPath == program }) {
		t.Skip("there is no cmd/powerup")
	}
	imports := map[string][]string{}
	for _, p := range goList(t, "-deps", program) {
		for i, path := range p.Imports {
			if to, ok := p.ImportMap[path]; ok {
				p.Imports[i] = to
			}
		}
		imports[p.ImportPath] = p.Imports
	}
	if _, ok := imports[asks]; !ok {
		t.Skip("cmd/powerup does not import bubbletea")
	}
	order := initOrder(imports)
	we, it := slices.Index(order, early), slices.Index(order, asks)
	if we < 0 || it < 0 || we > it {
		t.Errorf("earlyterm is number %d and bubbletea number %d of %d to be initialised: the first must come before the second; import it in package main",
			we, it, len(order))
	}
}

// initOrder sorts packages as a Go program initialises them: again and again
// the first by import path whose imports are all initialised. Source: The Go
// Programming Language Specification, "Program initialization". A package that
// is not in the map holds back all that import it.
func initOrder(imports map[string][]string) []string {
	var waiting, order []string
	for path := range imports {
		waiting = append(waiting, path)
	}
	slices.Sort(waiting)
	done := map[string]bool{"C": true, "unsafe": true}
	ready := func(path string) bool {
		return !slices.ContainsFunc(imports[path], func(p string) bool { return !done[p] })
	}
	for next := slices.IndexFunc(waiting, ready); next >= 0; next = slices.IndexFunc(waiting, ready) {
		order = append(order, waiting[next])
		done[waiting[next]] = true
		waiting = slices.Delete(waiting, next, next+1)
	}
	return order
}

func TestInitOrder(t *testing.T) {
	for _, c := range []struct {
		reason  string
		imports map[string][]string
		want    string
	}{
		{"by path where nothing else decides", map[string][]string{"b": nil, "a": nil}, "a b"},
		{"an import comes first", map[string][]string{"a": {"b"}, "b": nil}, "b a"},
		{"back to the first as soon as it is ready", map[string][]string{"a": {"b"}, "b": nil, "c": nil}, "b a c"},
		{"a path that sorts late comes late", map[string][]string{"z/early": {"l"}, "tea": {"l"}, "l": nil}, "l tea z/early"},
		{"nothing waits for what is not there", map[string][]string{"a": {"gone"}, "b": nil}, "b"},
	} {
		if got := strings.Join(initOrder(c.imports), " "); got != c.want {
			t.Errorf("%s: got %s, want %s", c.reason, got, c.want)
		}
	}
}
