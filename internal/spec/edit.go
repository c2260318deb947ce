package spec

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.com/powerup/internal/sheet"

	"gopkg.in/yaml.v3"
)

// Put is one field to write into a file: its path below the file's first key, its
// value as YAML in one line, and the comment that stands above it where it is new.
// Without a value the field is taken out.
type Put struct{ Path, Value, Comment string }

// writable are the kinds of file that can be edited: their types give the order
// of the fields.
var writable = map[string]reflect.Type{
	"set": reflect.TypeFor[sheet.Set](), "meter": reflect.TypeFor[sheet.Meter](), "bench": reflect.TypeFor[sheet.Bench](),
}

// Edit writes fields into a file of the given kind, and leaves its other fields
// and its comments as they are. Of no text it makes a new file, with head above
// it. Nothing is checked that loading it would not check.
func Edit(b []byte, key, head string, puts []Put) ([]byte, error) {
	root, err := editable(b, key, head)
	if err != nil {
		return nil, err
	}
	for _, p := range puts {
		value, err := fragment(p.Value)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.Path, err)
		}
		put(root.Content[1], writable[key], strings.Split(p.Path, "."), value, p.Comment)
	}
	var out bytes.Buffer
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if err := errors.Join(e.Encode(root), e.Close()); err != nil {
		return nil, err
	}
	return spaced(out.Bytes()), nil
}

// editable is the tree of a file, or of an empty one.
func editable(b []byte, key, head string) (*yaml.Node, error) {
	if len(b) == 0 {
		return &yaml.Node{Kind: yaml.MappingNode, HeadComment: head, Content: []*yaml.Node{
			{Kind: yaml.ScalarNode, Value: key}, {Kind: yaml.MappingNode},
		}}, nil
	}
	r := newReader("")
	r.bytes(b)
	if len(r.errs) > 0 {
		return nil, r.errs
	}
	root := r.parse(b)
	if root != nil {
		r.guard(root)
	}
	switch {
	case len(r.errs) > 0:
		return nil, r.errs
	case root.Kind != yaml.MappingNode || len(root.Content) != 2 || root.Content[0].Value != key || root.Content[1].Kind != yaml.MappingNode:
		return nil, fmt.Errorf("the file is no group of fields below %q", key+":")
	}
	return root, nil
}

// fragment is the node of a value; nil for none.
func fragment(value string) (*yaml.Node, error) {
	if value == "" {
		return nil, nil
	}
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(value), &doc); err != nil {
		return nil, err
	}
	unfold(doc.Content[0])
	return doc.Content[0], nil
}

// unfold puts the entries of a list of groups on lines of their own, and so the
// fields of a group that has such a list.
func unfold(n *yaml.Node) (lines bool) {
	for _, c := range n.Content {
		lines = unfold(c) || lines || n.Kind == yaml.SequenceNode && c.Kind == yaml.MappingNode
	}
	if lines {
		n.Style &^= yaml.FlowStyle
	}
	return lines
}

// put sets one field of a group, making the groups on the way to it; with no
// value it takes the field out, and what is empty then. t is the group's type.
func put(group *yaml.Node, t reflect.Type, path []string, value *yaml.Node, comment string) {
	at := keyAt(group, path[0])
	if at < 0 && value == nil {
		return
	}
	if at < 0 {
		at = room(group, t, path[0])
		group.Content = slices.Insert(group.Content, at, &yaml.Node{Kind: yaml.ScalarNode, Value: path[0]}, &yaml.Node{Kind: yaml.MappingNode})
		if len(path) == 1 {
			group.Content[at].HeadComment = comment
		}
	}
	held := group.Content[at+1]
	switch {
	case len(path) == 1 && value != nil:
		value.LineComment = held.LineComment
		group.Content[at+1] = value
		return
	case len(path) == 1:
		held.Content = nil
	case held.Kind == yaml.MappingNode:
		put(held, fieldType(t, path[0]), path[1:], value, comment)
	}
	if len(held.Content) == 0 {
		group.Content = slices.Delete(group.Content, at, at+2)
	}
}

// keyAt is where a group has a field, -1 for nowhere.
func keyAt(group *yaml.Node, name string) int {
	for i := 0; i < len(group.Content); i += 2 {
		if group.Content[i].Value == name {
			return i
		}
	}
	return -1
}

// room is where a new field of a group belongs, by the order of its type.
func room(group *yaml.Node, t reflect.Type, name string) int {
	order := names(t)
	for i := 0; i < len(group.Content); i += 2 {
		if slices.Index(order, group.Content[i].Value) > slices.Index(order, name) {
			return i
		}
	}
	return len(group.Content)
}

// fieldType is the type of the group that a field of t holds.
func fieldType(t reflect.Type, name string) reflect.Type {
	for i := range t.NumField() {
		if f := t.Field(i); yamlName(f) == name {
			if f.Type.Kind() == reflect.Pointer {
				return f.Type.Elem()
			}
			return f.Type
		}
	}
	return reflect.TypeFor[struct{}]()
}

// spaced puts an empty line before each field of the file and what is said
// above it: the writer of YAML keeps none.
func spaced(text []byte) []byte {
	var out bytes.Buffer
	before := ""
	for line := range strings.Lines(string(text)) {
		first := strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "   ") && line[2] != '-'
		if first && before != "" && !strings.HasPrefix(before, "  #") && strings.HasPrefix(before, " ") {
			out.WriteByte('\n')
		}
		out.WriteString(line)
		before = line
	}
	return out.Bytes()
}
