package spec

import (
	"encoding"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// single tells whether a node is one value, and says so when it is not.
func (r *reader) single(n *yaml.Node, path, wanted string) bool {
	if n.Kind == yaml.ScalarNode {
		return true
	}
	r.fail(n, path, wanted+" is wanted, and this is "+kindName(n), "write one value after the colon")
	return false
}

// quantity reads a number with its unit by the unit's own parser.
func (r *reader) quantity(n *yaml.Node, to encoding.TextUnmarshaler, path string) {
	if !r.single(n, path, "a number with its unit") || r.odd(n, path) {
		return
	}
	if err := to.UnmarshalText([]byte(n.Value)); err != nil {
		r.failErr(n, path, err)
	}
}

// failErr notes an error of another package, whose hint stands on a second line.
func (r *reader) failErr(n *yaml.Node, path string, err error) {
	what, hint, _ := strings.Cut(err.Error(), "\nhint: ")
	r.fail(n, path, what, hint)
}

// oddities are spellings of numbers that YAML readers, or people, take for
// different values.
var oddities = []struct {
	like *regexp.Regexp
	what string
}{
	{regexp.MustCompile(`^[-+]?0[xX][0-9a-fA-F]`), "is hexadecimal"},
	{regexp.MustCompile(`^[-+]?0[oO][0-7]`), "is octal"},
	{regexp.MustCompile(`^[-+]?0[bB][01]`), "is binary"},
	{regexp.MustCompile(`^[-+]?0[0-9]`), "begins with a zero, which some read as octal"},
	{regexp.MustCompile(`^[-+]?[0-9][0-9.]*_`), "has an underscore"},
	{regexp.MustCompile(`^[-+]?[0-9][0-9.]*[eE][-+]?[0-9]`), "has an exponent"},
	{regexp.MustCompile(`^[-+]?\.?(?i:nan|inf|infinity)\b`), "is no number of a sheet"},
}

// odd refuses a number in a spelling that could be read in two ways.
func (r *reader) odd(n *yaml.Node, path string) bool {
	for _, o := range oddities {
		if o.like.MatchString(n.Value) {
			r.fail(n, path, quote(n.Value)+" "+o.what, "write a plain decimal number")
			return true
		}
	}
	return false
}

var decimal = regexp.MustCompile(`^(0|[1-9][0-9]{0,4})$`)

// count reads a whole number, such as the cores of a flex.
func (r *reader) count(n *yaml.Node, path string) int {
	if !r.single(n, path, "a whole number") || r.odd(n, path) {
		return 0
	}
	if !decimal.MatchString(n.Value) {
		r.fail(n, path, quote(n.Value)+" is not a whole number from 0 to 99999", "write digits only, as 2")
		return 0
	}
	count, _ := strconv.Atoi(n.Value) // five digits at most
	return count
}

// yes reads true or false.
func (r *reader) yes(n *yaml.Node, path string) bool {
	if !r.single(n, path, "true or false") {
		return false
	}
	if n.Value != "true" && n.Value != "false" {
		r.fail(n, path, quote(n.Value)+" is neither true nor false", "write true or false")
	}
	return n.Value == "true"
}

const maxText = 400

// text reads words that will be shown on one line of a screen.
func (r *reader) text(n *yaml.Node, path string) string {
	if !r.single(n, path, "text") {
		return ""
	}
	text := strings.TrimRight(n.Value, "\n") // a folded text ends with one
	switch {
	case text != Visible(text):
		r.fail(n, path, "the text "+quote(text)+" has a line end or a character that cannot be seen", "keep it on one line; fold a long one after the sign >")
	case strings.TrimSpace(text) != text:
		r.fail(n, path, "the text "+quote(text)+" begins or ends with a space", "take the space away")
	case utf8.RuneCountInString(text) > maxText:
		r.fail(n, path, "the text has more than "+strconv.Itoa(maxText)+" characters", "shorten it")
	}
	return text
}
