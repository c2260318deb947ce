package spec

import (
	"encoding"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/powerup/internal/sheet"

	"gopkg.in/yaml.v3"
)

var fileKinds = []string{"set", "meter", "bench", "procedure", "answers"}

// fill puts a file's fields into the struct that to points to. It is both the
// check of names and kinds and the decoding, so that nothing can be decoded in
// another way than it was checked.
func (r *reader) fill(root *yaml.Node, key string, to any) {
	if root.Kind != yaml.MappingNode {
		r.fail(root, "", "the file is "+kindName(root)+", not a group of fields", "begin with a copy of one of the examples")
		return
	}
	switch found := fileKind(root); {
	case found == "":
		r.fail(root, "", fmt.Sprintf("the file does not begin with %q", key+":"), "begin with a copy of one of the examples")
	case found != key:
		r.fail(root, "", fmt.Sprintf("this is a %s file, and a %s file is wanted", found, key), "")
	case key == "procedure": // its fields stand at the top
		r.value(root, reflect.ValueOf(to).Elem(), "")
	default:
		r.below(root, key, to)
	}
}

// fileKind is the first key at a file's top that names a kind of file.
func fileKind(root *yaml.Node) string {
	for i := 0; i < len(root.Content); i += 2 {
		if key := root.Content[i].Value; slices.Contains(fileKinds, key) {
			return key
		}
	}
	return ""
}

// below reads what stands at the one key that a file has at its top.
func (r *reader) below(root *yaml.Node, key string, to any) {
	for i := 0; i < len(root.Content); i += 2 {
		name := root.Content[i]
		if name.Value == key {
			r.value(root.Content[i+1], reflect.ValueOf(to).Elem(), "")
			continue
		}
		r.fail(name, "", fmt.Sprintf("unknown field %s beside %q", quote(name.Value), key),
			fmt.Sprintf("all fields stand below %q, with spaces before each", key))
	}
}

// value puts one node into one field.
func (r *reader) value(n *yaml.Node, v reflect.Value, path string) {
	r.at[path] = n
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		r.fail(n, path, "nothing stands here", "give a value, or leave the field out when it is not known")
		return
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	if q, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		r.quantity(n, q, path)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		r.group(n, v, path)
	case reflect.Slice:
		r.list(n, v, path)
	case reflect.String:
		v.SetString(r.text(n, path))
	case reflect.Bool:
		v.SetBool(r.yes(n, path))
	case reflect.Int:
		v.SetInt(int64(r.count(n, path)))
	default:
		panic("spec: no way to read a " + v.Type().String())
	}
}

func (r *reader) group(n *yaml.Node, v reflect.Value, path string) {
	if n.Kind != yaml.MappingNode {
		r.fail(n, path, "a group of fields is wanted, and this is "+kindName(n), "write the fields below it, one a line: "+strings.Join(names(v.Type()), ", "))
		return
	}
	fields := map[string]reflect.Value{}
	for i := range v.NumField() {
		name := yamlName(v.Type().Field(i))
		if name != "" {
			fields[name] = v.Field(i)
		}
	}
	for i := 0; i < len(n.Content); i += 2 {
		key := n.Content[i]
		if f, ok := fields[key.Value]; ok {
			r.value(n.Content[i+1], f, join(path, key.Value))
			continue
		}
		what, hint := unknown(key.Value, v.Type())
		r.fail(key, path, what, hint)
	}
	if line := v.FieldByName("Line"); line.IsValid() {
		line.SetInt(int64(n.Line))
	}
	if at := v.FieldByName("At"); at.IsValid() && at.Type() == reflect.TypeFor[sheet.Place]() {
		at.Set(reflect.ValueOf(r.place(n, path)))
	}
}

// place is where a group stands, with the place of each of its values.
func (r *reader) place(n *yaml.Node, path string) sheet.Place {
	p := sheet.Place{File: Visible(r.file), Line: n.Line, Column: n.Column, Field: path, Fields: map[string][2]int{}}
	for i := 0; i < len(n.Content); i += 2 {
		p.Fields[n.Content[i].Value] = [2]int{n.Content[i+1].Line, n.Content[i+1].Column}
	}
	return p
}

func (r *reader) list(n *yaml.Node, v reflect.Value, path string) {
	if n.Kind != yaml.SequenceNode {
		r.fail(n, path, "a list is wanted, and this is "+kindName(n), "write it as [first, second], or one a line after a dash")
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content)))
	for i, c := range n.Content {
		r.value(c, v.Index(i), path+"["+strconv.Itoa(i)+"]")
	}
}

// names are the fields that a group may have, in the order of the type.
func names(t reflect.Type) []string {
	var all []string
	for i := range t.NumField() {
		if name := yamlName(t.Field(i)); name != "" {
			all = append(all, name)
		}
	}
	return all
}

// yamlName is a field's name in a file; a field that no file gives has none.
func yamlName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
	if name == "-" {
		return ""
	}
	return name
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func kindName(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a group of fields"
	case yaml.SequenceNode:
		return "a list"
	}
	return "a single value"
}
