package describe

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/powerup/internal/unit"
)

// group is what stands between two commas of an answer: the first form that fits.
type group struct {
	tidy  func(string) string // a spelling of the trade made one of ours; nil: none
	forms []form
}

// form is one way to write a group: its fields, a word each, in their order; or
// one word that stands for all of it.
type form struct {
	word   string // "none"
	stands []Put
	fields []field
}

// field is one value of a file.
type field struct {
	name, path string
	kind       unit.Kind         // None: a word
	words      map[string]string // other words for a value
	choices    []string          // its values, where they are few
	count      bool              // a whole number
	rest       bool              // all words that are left, as one text
	texts      bool              // so too, as a list with ; between
	many       bool              // all words that are left, as a list
	ranges     unit.Kind         // all words that are left, as ranges of such a meter
	upper      bool
	serves     string // what it is for, where no window of a reading follows from it
	without    string // what it means that a file which must have it has it not yet
	comment    string
}

// notPrinted stands for what a sheet does not give.
const notPrinted = "-"

func (l *Line) read(answer string) ([]Put, error) {
	parts := l.parts(answer)
	if strings.TrimSpace(answer) == notPrinted {
		parts = make([]string, len(l.groups))
		for i := range parts {
			parts[i] = notPrinted
		}
	}
	if len(parts) > len(l.groups) {
		return nil, fmt.Errorf("%d things stand between commas, and this line has %d\nhint: like %s", len(parts), len(l.groups), l.Like)
	}
	var puts []Put
	for i, part := range parts {
		more, err := l.groups[i].read(strings.TrimSpace(part))
		if err == nil {
			err = l.swallowed(&l.groups[i], part)
		}
		if err != nil {
			return nil, err
		}
		puts = append(puts, more...)
	}
	if len(puts) == 0 {
		return nil, fmt.Errorf("nothing was typed\nhint: like %s; - where it is not printed", l.Like)
	}
	return puts, nil
}

// parts splits an answer at each comma that no quotes stand round, and before a
// list of texts at each semicolon: there no value has one. Quotes serve nothing
// else.
func (l *Line) parts(text string) []string {
	list := slices.IndexFunc(l.groups, func(g group) bool { return g.forms[0].holds(func(x field) bool { return x.texts }) })
	quoted, part := false, 0
	return strings.Split(strings.Map(func(r rune) rune {
		switch {
		case r == '"':
			quoted = !quoted
			return -1
		case !quoted && (r == ',' || r == ';' && part < list):
			part++
			return '\n'
		}
		return r
	}, text), "\n")
}

// swallowed refuses a text of any words that has a value of another group in it:
// that one would be missing, and nobody would see it.
func (l *Line) swallowed(g *group, text string) error {
	if !g.forms[0].holds(func(x field) bool { return x.rest }) {
		return nil
	}
	for x := range l.fields {
		for _, word := range append(slices.Sorted(maps.Keys(x.words)), x.choices...) {
			if among(text, word) {
				return fmt.Errorf("%s: %q stands in it, and is an answer of its own: %s\nhint: a comma stands between them, like %s", g.forms[0].fields[0].name, word, x.name, l.Like)
			}
		}
	}
	return nil
}

// among tells whether a word stands in a text, hyphens or none.
func among(text, word string) bool {
	text = " " + strings.Join(bare(text), " ") + " "
	return strings.Contains(text, " "+strings.Join(bare(word), " ")+" ") || strings.Contains(text, " "+strings.Join(bare(word), "")+" ")
}

func bare(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

func (g *group) read(text string) ([]Put, error) {
	switch text {
	case "":
		return nil, nil // as it was
	case notPrinted:
		return g.cleared(nil), nil
	}
	if g.tidy != nil {
		text = g.tidy(text)
	}
	var first error
	for _, f := range g.forms {
		puts, err := f.read(text)
		if err == nil {
			return g.cleared(puts), nil
		}
		if first == nil {
			first = err
		}
	}
	return nil, first
}

// cleared adds to what was typed of a group that its other fields are gone.
func (g *group) cleared(puts []Put) []Put {
	set, typed := map[string]bool{}, len(puts) > 0
	for _, p := range puts {
		set[p.Path] = true
	}
	for _, f := range g.forms {
		for _, p := range f.all() {
			if !set[p.Path] {
				set[p.Path] = true
				puts = append(puts, Put{Name: p.Name, Path: p.Path, Gone: typed})
			}
		}
	}
	return puts
}

func (f *form) holds(is func(field) bool) bool { return slices.ContainsFunc(f.fields, is) }

// all are the fields of a form, with no value.
func (f *form) all() []Put {
	var out []Put
	for _, p := range f.stands {
		out = append(out, Put{Name: p.Name, Path: p.Path})
	}
	for _, x := range f.fields {
		out = append(out, Put{Name: x.name, Path: x.path})
	}
	return out
}

func (f *form) read(text string) ([]Put, error) {
	if f.word != "" {
		if !strings.EqualFold(text, f.word) {
			return nil, fmt.Errorf("%q is not %s", text, f.word)
		}
		return f.stands, nil
	}
	words := strings.Fields(text)
	all := words
	var puts []Put
	for _, x := range f.fields {
		if len(words) == 0 {
			break
		}
		value, rest, err := x.take(words)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", x.name, err)
		}
		puts, words = append(puts, Put{Name: x.name, Path: x.path, Value: value}), rest
	}
	if over := len(words); over > 0 {
		return nil, f.fields[len(f.fields)-1].tooMuch(all[len(all)-over-1], words)
	}
	return puts, nil
}

// tooMuch says what is wrong with words that are left after a field: a unit of
// something else, or one thing too many.
func (x field) tooMuch(before string, words []string) error {
	if x.kind != unit.None && digits.MatchString(before[len(before)-1:]) && !digits.MatchString(words[0][:1]) {
		if _, err := x.quantity(before + " " + words[0]); err != nil {
			return fmt.Errorf("%s: %w", x.name, err)
		}
	}
	return fmt.Errorf("%q is too much after %s\nhint: a comma stands between what does not belong together", strings.Join(words, " "), x.name)
}

// take reads the field from the front of the words.
func (x field) take(words []string) (value string, rest []string, err error) {
	switch {
	case x.rest:
		return scalar(strings.Join(words, " ")), nil, nil
	case x.texts:
		var all []string
		for text := range strings.SplitSeq(strings.Join(words, " "), ";") {
			all = append(all, scalar(strings.TrimSpace(text)))
		}
		return "[" + strings.Join(all, ", ") + "]", nil, nil
	case x.ranges != unit.None:
		var all []string
		for _, word := range words {
			one, err := rangeOf(x.ranges, word)
			if err != nil {
				return "", nil, err
			}
			all = append(all, one)
		}
		return strings.Join(all, ", "), nil, nil
	case x.many:
		var all []string
		for len(words) > 0 {
			if value, words, err = x.one(words); err != nil {
				return "", nil, err
			}
			all = append(all, value)
		}
		return "[" + strings.Join(all, ", ") + "]", nil, nil
	}
	return x.one(words)
}

func (x field) one(words []string) (value string, rest []string, err error) {
	word := words[0]
	switch {
	case word == notPrinted:
		return "", words[1:], nil
	case x.kind == unit.None && x.upper:
		return scalar(strings.ToUpper(word)), words[1:], nil
	case x.kind == unit.None:
		for typed, written := range x.words {
			if strings.EqualFold(typed, word) {
				return written, words[1:], nil
			}
		}
		if x.count && digits.MatchString(word) {
			return word, words[1:], nil
		}
		return scalar(word), words[1:], nil
	}
	if len(words) > 1 { // a number and its unit
		if q, err := x.quantity(word + " " + words[1]); err == nil {
			return q, words[2:], nil
		}
	}
	q, err := x.quantity(word)
	return q, words[1:], err
}

// quantity reads a number as it is typed at the bench. What a file has is in one
// spelling.
func (x field) quantity(text string) (string, error) {
	e, err := unit.ParseEntry(x.kind, text)
	switch {
	case err != nil:
		return "", err
	case e.Form != unit.Exact:
		return "", fmt.Errorf("%q is no number\nhint: - where it is not printed", text)
	}
	return unit.Quantity{Kind: x.kind, Value: e.Value}.String(), nil
}

// plain is text that means the same in YAML with quotes and without.
var plain = regexp.MustCompile(`^[A-Za-z]+[A-Za-z0-9 ./()-]*$`)

var digits = regexp.MustCompile(`^[0-9]+$`)

// scalar is a text as a value of a file.
func scalar(text string) string {
	if plain.MatchString(text) && !strings.EqualFold(text, "null") {
		return text
	}
	return strconv.Quote(text)
}

// show is what a file gives of a group, as an answer.
func (g *group) show(given map[string][]string) string {
	for _, f := range g.forms {
		if text, ok := f.show(given); ok {
			return text
		}
	}
	return notPrinted
}

func (f *form) show(given map[string][]string) (string, bool) {
	if f.word != "" {
		for _, p := range f.stands {
			if len(given[p.Path]) != 1 || given[p.Path][0] != p.Value {
				return "", false
			}
		}
		return f.word, true
	}
	var all []string
	any := false
	for _, x := range f.fields {
		values := given[x.path]
		any = any || len(values) > 0
		switch {
		case len(values) == 0:
			all = append(all, notPrinted)
		case x.texts:
			all = append(all, guarded(strings.Join(values, "; ")))
		default:
			all = append(all, guarded(strings.Join(values, " ")))
		}
	}
	for len(all) > 0 && all[len(all)-1] == notPrinted {
		all = all[:len(all)-1]
	}
	return strings.Join(all, " "), any
}

// guarded puts quotes round a text with a comma.
func guarded(text string) string {
	if strings.Contains(text, ",") {
		return `"` + text + `"`
	}
	return text
}

// has tells whether a field is one of the group's.
func (g *group) has(path string) bool {
	for _, f := range g.forms {
		for _, p := range f.all() {
			if p.Path == path {
				return true
			}
		}
	}
	return false
}

// fields are all of a line.
func (l *Line) fields(yield func(field) bool) {
	for _, g := range l.groups {
		for _, f := range g.forms {
			for _, x := range f.fields {
				if !yield(x) {
					return
				}
			}
		}
	}
}

// has tells whether a field, or a part or the whole of one, is asked on the line.
func (l *Line) has(field string) bool {
	field, _, _ = strings.Cut(field, "[")
	for x := range l.fields {
		if x.path == field || field != "" && strings.HasPrefix(x.path, field+".") {
			return true
		}
	}
	return false
}

func (l *Line) comment(path string) string {
	for x := range l.fields {
		if x.path == path {
			return x.comment
		}
	}
	return ""
}
