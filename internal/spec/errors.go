package spec

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Error is one thing that is wrong with a file. Line and Column count from 1,
// columns in characters; a Line of 0 means the file as a whole. Field is a path
// below the file's first key, such as "mains.taps[1]".
type Error struct {
	File   string
	Line   int
	Column int
	Field  string
	What   string
	Hint   string // what would be right; may be empty
}

// Error gives "file:line:column: field: what", and the hint on a line of its
// own. Nothing in it can move a terminal's cursor.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(Visible(e.File))
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Column)
	}
	if e.Field != "" {
		b.WriteString(": " + Visible(e.Field))
	}
	b.WriteString(": " + Visible(e.What))
	if e.Hint != "" {
		b.WriteString("\nhint: " + Visible(e.Hint))
	}
	return b.String()
}

// Errors are all errors of one pass over a file, in the order of the file.
type Errors []*Error

// Error gives one error after the other, each on lines of its own.
func (e Errors) Error() string {
	all := make([]string, len(e))
	for i, one := range e {
		all[i] = one.Error()
	}
	return strings.Join(all, "\n")
}

// Unwrap lets errors.As find the first *Error.
func (e Errors) Unwrap() []error {
	all := make([]error, len(e))
	for i, one := range e {
		all[i] = one
	}
	return all
}

func (e Errors) sort() {
	slices.SortStableFunc(e, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}

// Visible puts a replacement character for each one that cannot be seen.
func Visible(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return unicode.ReplacementChar
	}, s)
}

// quote shows text of a file in a message: escaped, and cut when it is long.
func quote(s string) string {
	const most = 40
	if runes := []rune(s); len(runes) > most {
		return strconv.Quote(string(runes[:most])) + "..."
	}
	return strconv.Quote(s)
}
