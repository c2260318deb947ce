package console

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Text prints pages for paper of 80 columns. Between them stands a form feed, or
// on a terminal an empty line.
func (w Work) Text(out io.Writer, pages []Leaf, terminal bool) {
	for n, page := range pages {
		switch {
		case n > 0 && terminal:
			fmt.Fprintln(out)
		case n > 0:
			fmt.Fprint(out, "\f")
		}
		t := typed{out}
		t.ends(w.sheetName(), fmt.Sprintf("%s, page %d of %d", page.Title, page.Number, page.Of))
		for _, part := range page.Parts {
			t.part(part)
		}
	}
}

// sheetName tells a loose sheet from those of another set.
func (w Work) sheetName() string {
	return w.Plan.Set.Name + ", mark " + w.Plan.Set.Mark
}

// typed prints pages line by line.
type typed struct{ w io.Writer }

func (t typed) line(text string) { fmt.Fprintln(t.w, text) }

func (t typed) row(label, text string) {
	for _, line := range row(label, text) {
		t.line(line)
	}
}

// ends prints two texts at either end of a line; the left one is cut to fit.
func (t typed) ends(left, right string) {
	l, right := []rune(clean(left)), clean(right)
	if room := width - utf8.RuneCountInString(right) - 2; len(l) > room {
		l = append(l[:max(0, room-3)], []rune("...")...)
	}
	t.line(string(l) + strings.Repeat(" ", width-len(l)-utf8.RuneCountInString(right)) + right)
}

func (t typed) part(p Part) {
	if !p.Joined {
		t.line("")
		t.line(strings.Repeat("-", width))
	}
	for _, r := range p.Rows {
		t.row(r.Label, r.Text)
	}
	if p.Joined && len(p.Drawn) > 0 {
		t.line("")
	}
	for _, line := range p.Drawn {
		t.line(line)
	}
	for _, r := range p.Notes {
		t.row(r.Label, r.Text)
	}
	for _, e := range p.Entries {
		t.entry(e)
	}
}

func (t typed) entry(e Entry) {
	for _, r := range e.Before {
		t.row(r.Label, r.Text)
	}
	t.row("line", strings.TrimSpace(e.ID+"  "+e.Note))
	for _, r := range e.Readings {
		t.item(r)
	}
	if e.Then != "" {
		t.row("  then", e.Then)
	}
}

func (t typed) item(i Item) {
	text, mark := i.Title, i.Mark
	if mark == "" {
		mark = "hold"
	}
	if i.Expect != "" {
		text += ": " + i.Expect
	}
	t.row("  "+mark, text)
	for _, more := range i.More {
		t.row("", more)
	}
	if i.Danger != "" {
		t.row("", i.Danger)
	}
	for _, why := range i.Why {
		t.row("", why)
	}
	if room := strings.Join(i.Blanks, " ______________ "); room != "" {
		t.row("", room+" ______________")
	}
}
