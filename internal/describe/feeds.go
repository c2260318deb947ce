package describe

import (
	_ "embed"
	"strings"
)

// feeds says for each field of a set sheet which checks it is used for: those
// whose windows become others, or typical, or are not there, without it. It is
// found by trying, on the example set: see the test, which writes it.
//
//go:embed feeds.txt
var feeds string

// Feed is what one field of a set sheet is used for.
type Feed struct {
	Path   string
	Needed bool     // without it the set is not energised
	Checks []string // ids, in the order of the work
	Serves string   // in place of checks
}

// FeedOf gives what a field is used for; false where there is no such field.
func FeedOf(path string) (Feed, bool) {
	for line := range strings.Lines(feeds) {
		name, ids, _ := strings.Cut(strings.TrimSpace(line), ":")
		field, needed := strings.CutPrefix(name, "!")
		if field == path {
			return Feed{field, needed, strings.Fields(ids), Set.serves(path)}, true
		}
	}
	return Feed{}, false
}

func (f *Form) serves(path string) string {
	for i := range f.Lines {
		for x := range f.Lines[i].fields {
			if x.path == path {
				return x.serves
			}
		}
	}
	return ""
}

// Fields are the paths that a form asks for, in its order.
func (f *Form) Fields() []string {
	var out []string
	seen := map[string]bool{}
	for i := range f.Lines {
		for x := range f.Lines[i].fields {
			if !seen[x.path] {
				seen[x.path] = true
				out = append(out, x.path)
			}
		}
	}
	return out
}
