package spec_test

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"

	"gopkg.in/yaml.v3"
)

// kinds of file, each with a text that gives every field.
var kinds = []struct {
	key, full string
	value     any
	load      func(string, []byte) error
}{
	{"set", fullSet, sheet.Set{}, func(n string, b []byte) error { _, err := spec.LoadSet(n, b); return err }},
	{"meter", fullMeter, sheet.Meter{}, func(n string, b []byte) error { _, err := spec.LoadMeter(n, b); return err }},
	{"bench", fullBench, sheet.Bench{}, func(n string, b []byte) error { _, err := spec.LoadBench(n, b); return err }},
	{"answers", fullAnswers, spec.Answers{}, func(n string, b []byte) error { _, err := spec.LoadAnswers(n, b); return err }},
	{"", fullProcedure, sheet.Procedure{}, func(n string, b []byte) error { _, err := spec.LoadProcedure(n, b); return err }},
}

// tagged is one clause of one validate tag.
type tagged struct {
	path   string // of a field in the full text, such as "mains.taps[0]"
	clause string // such as "gt=0"
	typ    reflect.Type
}

// clauses walks a type and lists every clause of its validate tags, and every
// field of it by its path.
func clauses(t reflect.Type, path string) (tags []tagged, paths []string) {
	for i := range t.NumField() {
		f := t.Field(i)
		name := f.Tag.Get("yaml")
		if name == "-" {
			continue
		}
		at, typ := strings.TrimPrefix(path+"."+name, "."), f.Type
		if typ.Kind() == reflect.Pointer {
			typ = typ.Elem()
		}
		paths = append(paths, at)
		for _, c := range strings.Split(f.Tag.Get("validate"), ",") {
			switch c {
			case "", "omitempty":
			case "dive":
				typ, at = typ.Elem(), at+"[0]"
			default:
				tags = append(tags, tagged{at, c, typ})
			}
		}
		if typ.Kind() == reflect.Slice && typ.Elem().Kind() == reflect.Struct {
			panic(at + " has no dive: nothing in it would be checked")
		}
		if typ.Kind() == reflect.Struct {
			more, below := clauses(typ, at)
			tags, paths = append(tags, more...), append(paths, below...)
		}
	}
	return tags, paths
}

// broken is a value that breaks a clause and no other of its field; good is the
// value that stands there.
func broken(c tagged, good *yaml.Node) *yaml.Node {
	name, param, _ := strings.Cut(c.clause, "=")
	number, _ := strconv.ParseFloat(param, 64)
	list := func(n int) *yaml.Node {
		node := &yaml.Node{Kind: yaml.SequenceNode}
		for range n {
			node.Content = append(node.Content, good.Content[0])
		}
		return node
	}
	text := func(s string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: s} }
	quantity := func(v float64) *yaml.Node {
		q := reflect.New(c.typ).Elem()
		q.SetFloat(v)
		return text(fmt.Sprint(q.Interface()))
	}
	switch kind := c.typ.Kind(); {
	case name == "required" && kind == reflect.String:
		return &yaml.Node{Kind: yaml.ScalarNode, Style: yaml.DoubleQuotedStyle}
	case name == "oneof" && kind == reflect.String:
		return text("nonesuch")
	case name == "oneof" && kind == reflect.Int:
		return text("7")
	case name == "min" && kind == reflect.Slice:
		return list(int(number) - 1)
	case name == "max" && kind == reflect.Slice:
		return list(int(number) + 1)
	case name == "max" && kind == reflect.String:
		return text(strings.Repeat("x", int(number)+1))
	case name == "min" && kind == reflect.Int && number > 0:
		return text(strconv.Itoa(int(number) - 1))
	case name == "max" && kind == reflect.Int:
		return text(strconv.Itoa(int(number) + 1))
	case name == "gt" && kind == reflect.Float64:
		return quantity(number)
	case name == "gte" && kind == reflect.Float64 && number > 0:
		return quantity(number / 10)
	case name == "gte" && kind == reflect.Float64:
		return quantity(-1)
	case name == "lte" && kind == reflect.Float64:
		return quantity(number * 1.5)
	}
	return nil
}

func TestEachTagBreaksItsField(t *testing.T) {
	for _, k := range kinds {
		tags, _ := clauses(reflect.TypeOf(k.value), "")
		if len(tags) == 0 {
			t.Fatalf("%s: no tags found", k.key)
		}
		for _, c := range tags {
			name, _, _ := strings.Cut(c.clause, "=")
			bad := broken(c, find(root(t, k.full, k.key), c.path))
			if bad == nil {
				if name == "min" && c.typ.Kind() == reflect.Int {
					continue // below 0: no text of a count can say it
				}
				t.Errorf("%s %s: no value known that breaks %q", k.key, c.path, c.clause)
				continue
			}
			err := k.load("f", replaced(t, k.full, k.key, c.path, bad))
			var all spec.Errors
			if !errors.As(err, &all) || len(all) != 1 || all[0].Field != c.path {
				t.Errorf("%s %s %q: got %v, want one error there", k.key, c.path, c.clause, err)
			}
		}
	}
}

// A field that no full text gives would be tested by nothing.
func TestFullTextsGiveEveryField(t *testing.T) {
	for _, k := range kinds {
		_, paths := clauses(reflect.TypeOf(k.value), "")
		for _, p := range paths {
			if find(root(t, k.full, k.key), p) == nil {
				t.Errorf("%s: the full text does not give %s", k.key, p)
			}
		}
	}
}

func replaced(t *testing.T, full, key, path string, by *yaml.Node) []byte {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(full), &doc); err != nil {
		t.Fatal(err)
	}
	at := find(top(doc.Content[0], key), path)
	if at == nil {
		t.Fatalf("no field %s in the full text", path)
	}
	*at = *by
	text, err := yaml.Marshal(&doc)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func root(t *testing.T, full, key string) *yaml.Node {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(full), &doc); err != nil {
		t.Fatal(err)
	}
	return top(doc.Content[0], key)
}

func top(n *yaml.Node, key string) *yaml.Node {
	if key == "" {
		return n
	}
	return find(n, key)
}

// find follows a path such as "functions[0].ranges[0].top".
func find(n *yaml.Node, path string) *yaml.Node {
	for _, word := range strings.Split(strings.ReplaceAll(path, "[", ".["), ".") {
		if n == nil {
			return nil
		}
		if digits, isIndex := strings.CutPrefix(word, "["); isIndex {
			i, err := strconv.Atoi(strings.TrimSuffix(digits, "]"))
			if err != nil || i >= len(n.Content) {
				return nil
			}
			n = n.Content[i]
			continue
		}
		var next *yaml.Node
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == word {
				next = n.Content[i+1]
			}
		}
		n = next
	}
	return n
}
