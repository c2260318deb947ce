// Package describe makes the files around a set, set sheet, meter sheet and bench
// file, from short answers in the order in which a person reads them off: a
// service sheet, a meter's booklet, the bench. The text of the file is the draft:
// each answer is written into it and judged by the loader of such files, so that
// nothing is taken here that would be refused there.
package describe

import (
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
)

// Form is what is asked for one kind of file, a line at a time.
type Form struct {
	Key   string // the file's first key
	Head  string // the comment above it
	Lines []Line

	load   func([]byte) spec.Errors         // what is wrong with the file so far
	review func([]byte) []sheet.Remark      // what contradicts itself or is missing; nil: nothing is known of that
	given  func([]byte) map[string][]string // what the file gives, by the paths of the lines; nil: as it stands there
	write  func([]byte, []Put) []spec.Put   // how answers are written, where they are no fields of their own; nil: they are
}

// Put is one field as it was understood.
type Put struct {
	Name  string // for people: "primary"
	Path  string
	Value string // as written in the file; empty: not printed
	Gone  bool   // not typed, where the rest of its group was
}

// Line is one line that is asked.
type Line struct {
	Title  string                               // what is wanted, in the order it is typed
	Like   string                               // an answer
	Where  string                               // where it is found
	when   func(given map[string][]string) bool // whether it is asked; nil: always
	groups []group
}

// Draft is a file in the making.
type Draft struct {
	Form *Form
	Text []byte
}

// Heard is what came of an answer.
type Heard struct {
	Puts    []Put
	Remarks []sheet.Remark // what the sheet now says against itself, and what is missing of this line
}

// Answer takes the answer to line i. What stands between two commas is a group:
// one that was typed is the whole of it, one that was not stays as it is, and -
// takes it out. Of an answer that cannot be taken the error says what would
// be right, and the draft is as before.
func (d Draft) Answer(i int, answer string) (Draft, Heard, error) {
	line := &d.Form.Lines[i]
	puts, err := line.read(answer)
	if err != nil {
		return d, Heard{}, err
	}
	given := d.Form.gives(d.Text)
	puts = slices.DeleteFunc(puts, func(p Put) bool { return p.Gone && len(given[p.Path]) == 0 })
	next := d
	if next.Text, err = spec.Edit(d.Text, d.Form.Key, d.Form.Head, d.Form.written(d.Text, line, puts)); err != nil {
		return d, Heard{}, err
	}
	heard := Heard{Puts: puts, Remarks: d.Form.news(line, d.Text, next.Text)}
	for _, e := range d.Form.load(next.Text) {
		switch {
		case !line.has(e.Field):
		case e.What != Missing || !line.left(e.Field, puts):
			return d, Heard{}, fault(e)
		default:
			heard.lacks(line, e.Field)
		}
	}
	return next, heard, nil
}

// lacks adds what it means that a field is missing, where no remark says so.
func (h *Heard) lacks(line *Line, path string) {
	if slices.ContainsFunc(h.Remarks, func(r sheet.Remark) bool { return r.Field == path }) {
		return
	}
	for x := range line.fields {
		if x.path == path && x.without != "" {
			h.Remarks = append(h.Remarks, sheet.Remark{Severity: sheet.Note, Field: path, What: x.name + ": not on the sheet", Hint: x.without})
		}
	}
}

// Missing is what the loader says of a field that every such file has, or that
// belongs to another one. The first may be left out for now: the file is not
// whole then.
const Missing = "this is missing"

// left tells whether nothing was typed of the group of a field. In a list nothing
// is left.
func (l *Line) left(path string, puts []Put) bool {
	if strings.Contains(path, "[") {
		return false
	}
	for _, g := range l.groups {
		if !g.has(path) {
			continue
		}
		for _, p := range puts {
			if p.Value != "" && g.has(p.Path) {
				return false
			}
		}
	}
	return true
}

// fault is an error of the loader about what was just typed: it has no line yet.
func fault(e *spec.Error) error {
	text := e.Field + ": " + e.What
	if e.Hint != "" {
		text += "\nhint: " + e.Hint
	}
	return fmt.Errorf("%s", text)
}

// written are the fields that puts write into the file.
func (f *Form) written(text []byte, line *Line, puts []Put) []spec.Put {
	if f.write != nil {
		return f.write(text, puts)
	}
	var out []spec.Put
	for _, p := range puts {
		out = append(out, spec.Put{Path: p.Path, Value: p.Value, Comment: line.comment(p.Path)})
	}
	return out
}

// news are the remarks that an answer to a line brought about: all about its own
// fields, and of others those that contradict what is there and were not said
// before.
func (f *Form) news(line *Line, before, after []byte) []sheet.Remark {
	if f.review == nil {
		return nil
	}
	said := map[sheet.Remark]bool{}
	for _, r := range f.review(before) {
		said[r] = true
	}
	var out []sheet.Remark
	for _, r := range f.review(after) {
		if line.has(r.Field) || r.Severity != sheet.Note && !said[r] && f.has(after, f.LineOf(r.Field)) {
			out = append(out, r)
		}
	}
	return out
}

// Remarks are what the file as a whole has to say.
func (d Draft) Remarks() []sheet.Remark {
	if d.Form.review == nil {
		return nil
	}
	return d.Form.review(d.Text)
}

// Faults are what keeps the file from being loaded.
func (d Draft) Faults() spec.Errors { return d.Form.load(d.Text) }

// Has tells whether the file gives anything of line i.
func (d Draft) Has(i int) bool { return d.Form.has(d.Text, i) }

// Asks tells whether line i is asked, as things stand.
func (d Draft) Asks(i int) bool {
	when := d.Form.Lines[i].when
	return when == nil || when(d.Form.gives(d.Text))
}

func (f *Form) gives(text []byte) map[string][]string {
	if f.given != nil {
		return f.given(text)
	}
	return spec.Given(text, f.Key)
}

func (f *Form) has(text []byte, i int) bool {
	given := f.gives(text)
	if i < 0 {
		return false
	}
	for x := range f.Lines[i].fields {
		if len(given[x.path]) > 0 {
			return true
		}
	}
	return false
}

// Shows is what the file gives of line i, in the words of an answer.
func (d Draft) Shows(i int) string {
	given := d.Form.gives(d.Text)
	var all []string
	for _, g := range d.Form.Lines[i].groups {
		all = append(all, g.show(given))
	}
	for len(all) > 0 && all[len(all)-1] == notPrinted {
		all = all[:len(all)-1]
	}
	return strings.Join(all, ", ")
}

// LineOf is the line that a remark about a field belongs to, -1 for none.
func (f *Form) LineOf(field string) int {
	for i := range f.Lines {
		if f.Lines[i].has(field) {
			return i
		}
	}
	return -1
}
