package spec

import (
	"fmt"

	"gopkg.in/yaml.v3"
)

const (
	maxDepth = 20
	maxNodes = 20_000
)

// guard refuses what could make a file mean something else than it shows.
func (r *reader) guard(root *yaml.Node) {
	nodes := 0
	var walk func(n *yaml.Node, depth int)
	walk = func(n *yaml.Node, depth int) {
		if nodes++; nodes == maxNodes+1 {
			r.fail(n, "", fmt.Sprintf("the file has more than %d entries", maxNodes), "is this the right file?")
		}
		if depth > maxDepth {
			r.fail(n, "", fmt.Sprintf("this stands more than %d levels deep", maxDepth), "no field of a sheet is so deep: is this the right file?")
			return
		}
		r.guardNode(n)
		for _, c := range n.Content {
			walk(c, depth+1)
		}
	}
	walk(root, 1)
}

func (r *reader) guardNode(n *yaml.Node) {
	const once = "write each value where it belongs, in full"
	if n.Kind == yaml.AliasNode {
		r.fail(n, "", "an alias (*"+n.Value+") is not allowed", once)
		return
	}
	if n.Anchor != "" {
		r.fail(n, "", "an anchor (&"+n.Anchor+") is not allowed", once)
	}
	if n.Style&yaml.TaggedStyle != 0 {
		r.fail(n, "", "a tag ("+n.Tag+") is not allowed", "leave the tag out: each field has its own kind of value")
	}
	if n.Kind == yaml.MappingNode {
		r.guardKeys(n)
	}
}

func (r *reader) guardKeys(n *yaml.Node) {
	first := map[string]int{}
	for i := 0; i < len(n.Content); i += 2 {
		key := n.Content[i]
		line, twice := first[key.Value]
		switch {
		case key.Kind == yaml.AliasNode: // guardNode says so
		case key.Kind != yaml.ScalarNode:
			r.fail(key, "", "a name of a field must be a single word", "write name: value")
		case key.Tag == "!!merge":
			r.fail(key, "", "a merge key (<<) is not allowed", "write each field where it belongs, in full")
		case twice:
			r.fail(key, "", fmt.Sprintf("the field %s stands here twice, first on line %d", quote(key.Value), line), "keep one of the two")
		default:
			first[key.Value] = key.Line
		}
	}
}
