// Package spec reads the files that people write, set sheet, meter sheet, bench
// file, procedure and answers, from YAML with no cleverness. It is given bytes and
// touches no file.
//
// Reading goes in passes: the bytes, the guards (no alias, anchor, merge key or
// tag, no key twice, not too deep or large), the fields (unknown ones, the kind
// of each value, each quantity by package unit), what must stand in a single
// field, and what must agree between fields. Each pass reports all it finds; a
// pass starts only when the one before found nothing, so that no error follows
// from another.
//
// No number goes through YAML's own rules, by which 010 is 8 and 1_0 is 10:
// every scalar is taken as it was written.
package spec

import (
	"strings"

	"example.com/powerup/internal/sheet"

	"gopkg.in/yaml.v3"
)

// LoadSet reads a set sheet, which begins with the key "set". name is the
// file's name in errors. The sheet is checked against itself by its Review.
func LoadSet(name string, b []byte) (*sheet.Set, error) {
	return load(name, "set", b, setRules)
}

// PlaceRemarks gives remarks on a set the lines of the sheet it was loaded from.
func PlaceRemarks(name string, b []byte, remarks []sheet.Remark) Errors {
	r := newReader(name)
	if root := r.parse(b); root != nil {
		r.fill(root, "set", new(sheet.Set))
	}
	for _, m := range remarks {
		r.failAt(m.Field, m.What, m.Hint)
	}
	return r.errs
}

// LoadMeter reads a meter sheet, which begins with the key "meter".
func LoadMeter(name string, b []byte) (*sheet.Meter, error) {
	return load(name, "meter", b, meterRules)
}

// LoadBench reads a bench file, which begins with the key "bench".
func LoadBench(name string, b []byte) (*sheet.Bench, error) {
	return load(name, "bench", b, benchRules)
}

// LoadProcedure reads a procedure, whose name stands at the key "procedure" and
// whose other fields stand beside it. Whether its checks exist, and whether it
// may do what it says, is decided where it is unrolled over a set.
func LoadProcedure(name string, b []byte) (*sheet.Procedure, error) {
	return load(name, "procedure", b, procedureRules)
}

// reader is one file being read.
type reader struct {
	file string
	at   map[string]*yaml.Node // where each field stands, by its path
	errs Errors
}

func newReader(file string) *reader {
	return &reader{file: file, at: map[string]*yaml.Node{"": {}}}
}

func load[T any](name, key string, b []byte, rules func(*reader, *T)) (*T, error) {
	var (
		r     = newReader(name)
		root  *yaml.Node
		value T
	)
	for _, pass := range []func(){
		func() { r.bytes(b) },
		func() { root = r.parse(b) },
		func() { r.guard(root) },
		func() { r.fill(root, key, &value) },
		func() { r.tags(&value) },
		func() { rules(r, &value) },
	} {
		if pass(); len(r.errs) > 0 {
			r.errs.sort()
			return nil, r.errs
		}
	}
	return &value, nil
}

// fail notes an error at a place of the file.
func (r *reader) fail(n *yaml.Node, path, what, hint string) {
	r.errs = append(r.errs, &Error{
		File: r.file, Line: n.Line, Column: n.Column, Field: path, What: what, Hint: hint,
	})
}

// failAt notes an error at a field, or where the group it is missing from begins.
func (r *reader) failAt(path, what, hint string) {
	for p := path; ; p = parent(p) {
		if n, ok := r.at[p]; ok {
			r.fail(n, path, what, hint)
			return
		}
	}
}

// has tells whether the file gives a field.
func (r *reader) has(path string) bool {
	_, ok := r.at[path]
	return ok
}

// parent is the path of the group or list that a field stands in; the path of
// the whole file is empty.
func parent(path string) string {
	return path[:max(strings.LastIndexAny(path, ".["), 0)]
}
