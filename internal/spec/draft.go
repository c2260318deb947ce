package spec

import (
	"slices"

	"example.com/powerup/internal/sheet"

	"gopkg.in/yaml.v3"
)

// A draft is a file that may not be whole yet. Its errors are those of loading it,
// and do not keep the fields that can be read from being given.

// DraftSet reads what a set sheet gives so far. No value is given of a file that
// cannot be read at all.
func DraftSet(b []byte) (*sheet.Set, Errors) { return draft(b, "set", setRules) }

// DraftMeter is DraftSet for a meter sheet.
func DraftMeter(b []byte) (*sheet.Meter, Errors) { return draft(b, "meter", meterRules) }

// DraftBench is DraftSet for a bench file.
func DraftBench(b []byte) (*sheet.Bench, Errors) { return draft(b, "bench", benchRules) }

func draft[T any](b []byte, key string, rules func(*reader, *T)) (*T, Errors) {
	var (
		r     = newReader("")
		root  *yaml.Node
		value T
	)
	for _, pass := range []func(){
		func() { r.bytes(b) },
		func() { root = r.parse(b) },
		func() { r.guard(root) },
		func() { r.fill(root, key, &value) },
	} {
		if pass(); len(r.errs) > 0 {
			r.errs.sort()
			return nil, r.errs
		}
	}
	r.tags(&value)
	lacks := r.errs
	if !slices.ContainsFunc(lacks, func(e *Error) bool { return e.What != missing }) {
		r.errs = nil
		rules(r, &value)
		r.errs = append(slices.Clip(lacks), slices.DeleteFunc(r.errs, func(e *Error) bool { return missed(lacks, e.Field) })...)
	}
	return &value, r.errs
}

// missed tells whether a field is among those that are not there yet: nothing else
// is wrong with it.
func missed(lacks Errors, field string) bool {
	return slices.ContainsFunc(lacks, func(e *Error) bool { return e.Field == field })
}

// Given are the single values of a file by their paths, as they are written; of a
// list all its single values.
func Given(b []byte, key string) map[string][]string {
	given := map[string][]string{}
	root, err := editable(b, key, "")
	if err != nil {
		return given
	}
	var walk func(n *yaml.Node, path string)
	walk = func(n *yaml.Node, path string) {
		switch n.Kind {
		case yaml.ScalarNode:
			given[path] = append(given[path], n.Value)
		case yaml.SequenceNode:
			for _, c := range n.Content {
				walk(c, path)
			}
		case yaml.MappingNode:
			for i := 0; i < len(n.Content); i += 2 {
				walk(n.Content[i+1], join(path, n.Content[i].Value))
			}
		}
	}
	walk(root.Content[1], "")
	return given
}

// Texts are the texts of a list in one line.
func Texts(list string) []string {
	var out []string
	if n, err := fragment(list); err == nil && n != nil {
		for _, c := range n.Content {
			out = append(out, c.Value)
		}
	}
	return out
}
