package console

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session/sessiontest"
)

// parts are the open and the boxed work at every shipped bench, on a full sheet
// and on a sparse one.
func parts(t *testing.T) map[string]Work {
	t.Helper()
	all := map[string]Work{}
	for _, sheet := range []string{"table-radio", "sparse-radio"} {
		for _, bench := range []string{"one-meter", "two-meters", "three-meters"} {
			all[sheet+" with "+bench] = WorkOf(sessiontest.Plan(t, sheet, bench))
		}
	}
	all["boxed"] = WorkOf(sessiontest.Boxed(t, "table-radio", "two-meters"))
	return all
}

// kept holds a text to the one that is kept under testdata.
func kept(t *testing.T, name, text string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if text != string(want) {
		got, old := strings.Split(text, "\n"), strings.Split(string(want), "\n")
		for n := range min(len(got), len(old)) {
			if got[n] != old[n] {
				t.Fatalf("%s, line %d\n got  %s\n want %s\nhint: go test ./internal/console -run %s -update", name, n+1, got[n], old[n], t.Name())
			}
		}
		t.Fatalf("%s: %d lines, want %d", name, len(got), len(old))
	}
}

// some pages of the example radio, to the letter: the first, one dead, one
// energised, the last.
func shortened(pages []Leaf) []Leaf {
	var out []Leaf
	for _, p := range pages {
		if slices.Contains([]string{"first", "openings", "heaters", "end"}, strings.TrimPrefix(p.ID, "trainer-")) {
			out = append(out, p)
		}
	}
	return out
}

func TestPagesAreKeptToTheLetter(t *testing.T) {
	w := WorkOf(sessiontest.Plan(t, "table-radio", "two-meters"))
	for _, c := range []struct {
		name      string
		clubNight bool
	}{{"plan", false}, {"club-night", true}} {
		pages := shortened(w.Pages(c.clubNight))
		var text, html bytes.Buffer
		w.Text(&text, pages, false)
		if err := w.HTML(&html, pages); err != nil {
			t.Fatal(err)
		}
		kept(t, c.name+".txt", text.String())
		kept(t, c.name+".html", html.String())
	}
}

// On paper a form feed parts the pages; a terminal gets none.
func TestPagesArePartedByFormFeedsOnPaperOnly(t *testing.T) {
	w := WorkOf(sessiontest.Plan(t, "table-radio", "two-meters"))
	pages := w.Pages(false)
	for _, c := range []struct {
		terminal bool
		want     int
	}{{true, 0}, {false, len(pages) - 1}} {
		var out bytes.Buffer
		w.Text(&out, pages, c.terminal)
		if got := strings.Count(out.String(), "\f"); got != c.want {
			t.Errorf("terminal %v: %d form feeds, want %d", c.terminal, got, c.want)
		}
		if got := strings.Count(out.String(), ", page "); got != len(pages) {
			t.Errorf("terminal %v: %d pages say which they are, want %d", c.terminal, got, len(pages))
		}
	}
}

// What the pages count is what a session types: each line once, with all that
// stands before it, and the lines before and after the work.
func TestTheLinesOfThePagesAreThoseCounted(t *testing.T) {
	for name, w := range parts(t) {
		minutes := w.Start.Minutes + w.End.Minutes
		for _, s := range w.Stages {
			typed := 0
			for _, l := range s.Lines {
				typed += len(l.Before) + l.Times
			}
			if typed != s.Share.Lines {
				t.Errorf("%s: stage %s shows %d lines and counts %d", name, s.Name, typed, s.Share.Lines)
			}
			minutes += s.Minutes
		}
		cost := w.Plan.Cost()
		if got := w.all(); got.Lines != cost.Lines || got.Minutes != int(cost.Time.Minutes()) || minutes != got.Minutes {
			t.Errorf("%s: %+v, the whole costs %+v", name, got, cost)
		}
	}
}

// Each stage shows every caution of its readings, and what stands in its supply,
// whatever stands on another page.
func TestEveryStageCarriesItsOwnCautions(t *testing.T) {
	for name, w := range parts(t) {
		for _, s := range w.Stages {
			var said []string
			for _, c := range s.Cautions {
				said = append(said, c.Text)
			}
			all := strings.Join(said, "\n")
			want := "TREAT AS LIVE AND CHARGED"
			if s.Supply.Energised() {
				want = "MAINS ON"
			}
			if !strings.Contains(all, want) {
				t.Errorf("%s: stage %s does not say %s", name, s.Name, want)
			}
			if hot := s.Supply == engine.Raised || s.Supply == engine.Full; hot && !w.Plan.Boxed && !strings.Contains(all, "HIGH VOLTAGE up to 428 V") && strings.HasPrefix(name, "table-radio") {
				t.Errorf("%s: stage %s does not say how high its volts are: %s", name, s.Name, all)
			}
			for _, l := range s.Lines {
				for _, r := range l.Readings {
					for _, id := range r.Slot.Check.Cautions {
						if !cautioned(id, all) {
							t.Errorf("%s: stage %s reads %s and leaves out the caution %s", name, s.Name, r.Slot.ID, id)
						}
					}
				}
			}
		}
	}
}

// cautioned tells whether a caution, or what says the same of the supply, stands
// in a text.
func cautioned(id, text string) bool {
	c, ok := checks.CautionOf(id)
	before, after, _ := strings.Cut(c.Text, "{volts}")
	stands := map[string]string{"mains-on": "MAINS ON", "high-voltage": "HIGH VOLTAGE"}[id]
	return ok && strings.Contains(text, before) && strings.Contains(text, after) || stands != "" && strings.Contains(text, stands)
}

// Where a hold stands the work may be parked before it is released; a stage with
// mains on is parked behind a proof or not at all.
func TestParkingIsAtDeadPointsOnly(t *testing.T) {
	for name, w := range parts(t) {
		holds := 0
		for _, s := range w.Stages {
			for _, p := range s.Parks {
				if !p.Known || p.Share.Lines < 4 {
					t.Errorf("%s: stage %s: %+v", name, s.Name, p)
				}
				if s.Supply.Energised() && p.Where != atProof {
					t.Errorf("%s: stage %s is parked with mains on: %+v", name, s.Name, p)
				}
				if p.Where == atHold {
					holds++
				}
			}
		}
		want := 0
		for _, s := range w.Plan.Slots {
			if s.Hold != "" {
				want++
			}
		}
		if holds != want || want == 0 {
			t.Errorf("%s: %d holds to park at, want %d", name, holds, want)
		}
	}
}

// The learner's pages have no window, no reason and no verdict, and say all the
// rest; the trainer's have each of them, on the same line.
func TestTheLearnersPagesTellNoAnswer(t *testing.T) {
	for name, w := range parts(t) {
		handed, kept := w.pagesFor(learner), w.pagesFor(trainer)
		answers := linesOf(kept)
		if got := linesOf(handed); len(got) != len(answers) || len(got) == 0 {
			t.Errorf("%s: %d lines for the learner, %d for the trainer", name, len(got), len(answers))
		}
		var out bytes.Buffer
		w.Text(&out, handed, true)
		said := strings.Join(strings.Fields(out.String()), " ")
		for _, wrong := range []string{"a STOP", " - query", " - pass", "computed for a healthy set", "Expect"} {
			if strings.Contains(said, wrong) {
				t.Errorf("%s: the learner is told %q", name, wrong)
			}
		}
		for _, l := range w.cardLines() {
			for _, r := range l.Readings {
				entry, ok := answers[l.ID]
				if !ok {
					t.Fatalf("%s: the trainer has no line %s", name, l.ID)
				}
				if told := strings.Join(entry, "\n"); r.Expect != "" && !strings.Contains(told, r.Expect) || !strings.Contains(told, r.Danger) || !strings.Contains(told, r.Why) {
					t.Errorf("%s: the trainer is not told of %s", name, r.Slot.ID)
				}
				for _, reason := range []string{r.Why, r.Danger} {
					if reason != "" && strings.Contains(said, strings.Join(strings.Fields(reason), " ")) {
						t.Errorf("%s: the learner is told of %s: %s", name, r.Slot.ID, reason)
					}
				}
				if r.Leads != "" && !strings.Contains(said, r.Leads) {
					t.Errorf("%s: the learner is not told the leads of %s", name, r.Slot.ID)
				}
			}
		}
	}
}

// linesOf are the lines of pages by id, with all that they say.
func linesOf(pages []Leaf) map[string][]string {
	out := map[string][]string{}
	for _, page := range pages {
		for _, part := range page.Parts {
			for _, e := range part.Entries {
				out[e.ID] = append(out[e.ID], "")
				for _, i := range e.Readings {
					out[e.ID] = append(out[e.ID], append(append(slices.Clone(i.More), i.Why...), i.Title, i.Expect, i.Danger)...)
				}
			}
		}
	}
	return out
}

// The document is well-formed, has the lines of the text, and nothing in it
// reaches out of it or runs.
func TestHTMLIsOneClosedDocument(t *testing.T) {
	for name, w := range parts(t) {
		for _, clubNight := range []bool{false, true} {
			pages := w.Pages(clubNight)
			var out bytes.Buffer
			if err := w.HTML(&out, pages); err != nil {
				t.Fatal(err)
			}
			heads, err := elements(out.Bytes(), "h2")
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			var ids []string
			for _, page := range pages {
				for _, part := range page.Parts {
					for _, e := range part.Entries {
						ids = append(ids, strings.TrimSpace(e.ID+" "+e.Note))
					}
				}
			}
			if !slices.Equal(heads, ids) || len(ids) == 0 {
				t.Errorf("%s: the lines are\n%q\nwant\n%q", name, heads, ids)
			}
			for _, wrong := range []string{"http", "<script", "url(", "@import", "src=", "href=", "ZgotmplZ", "<no value>"} {
				if strings.Contains(out.String(), wrong) {
					t.Errorf("%s: %s stands in the document", name, wrong)
				}
			}
			if sizes := regexp.MustCompile(`@page[^}]*size`).FindString(out.String()); sizes != "" {
				t.Errorf("%s: a size of paper is fixed: %s", name, sizes)
			}
		}
	}
}

// elements reads a document strictly and gives the texts in its elements of a
// name.
func elements(raw []byte, name string) ([]string, error) {
	d := xml.NewDecoder(bytes.NewReader(raw))
	d.Entity = xml.HTMLEntity
	var out []string
	inside := false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return out, err
		}
		switch e := token.(type) {
		case xml.StartElement:
			if e.Name.Local == name {
				inside, out = true, append(out, "")
			}
		case xml.EndElement:
			inside = inside && e.Name.Local != name
		case xml.CharData:
			if inside {
				out[len(out)-1] += string(e)
			}
		}
	}
}

// What comes from a file is text, whatever it looks like.
func TestHTMLAndTextNeutraliseWhatCameFromAFile(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Set.Name, in.Set.Mark = "<b>&\"\x1b[2J\x07", "</style><script>alert(1)</script>"
	in.Procedure.Stages[0].Note = "<img src=x onerror=alert(1)>\u2028"
	w := WorkOf(sessiontest.Made(t, in))
	var out bytes.Buffer
	if err := w.HTML(&out, w.Pages(true)); err != nil {
		t.Fatal(err)
	}
	titles, err := elements(out.Bytes(), "title")
	if err != nil {
		t.Fatal(err)
	}
	if want := in.Set.Name; len(titles) != 1 || !strings.HasPrefix(titles[0], "<b>&\"?[2J?, mark </style><script>") {
		t.Errorf("the title is %q, want %q neutralised", titles, want)
	}
	for _, wrong := range []string{"<b>&", "<script", "<img", "\x1b", "\x07", "\u2028"} {
		if strings.Contains(out.String(), wrong) {
			t.Errorf("%q stands in the document", wrong)
		}
	}
	fits(t, textOf(w, true))
}

// A name that fills the line leaves room for which page it is.
func TestALongNameIsCutAndThePageIsNot(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Set.Name = strings.Repeat("Ω", 200)
	w := WorkOf(sessiontest.Made(t, in))
	pages := w.Pages(true)
	text := textOf(w, true)
	fits(t, strings.ReplaceAll(text, in.Set.Name, ""))
	if got := strings.Count(text, "..."); got < len(pages) {
		t.Errorf("%d names are cut, want %d", got, len(pages))
	}
}

// The last page says what this kit cannot finish, and what would finish it.
func TestTheLastPageSaysHowItEnds(t *testing.T) {
	open := WorkOf(sessiontest.Plan(t, "table-radio", "two-meters"))
	boxed := WorkOf(sessiontest.Boxed(t, "table-radio", "two-meters"))
	for _, c := range []struct {
		w    Work
		want []string
	}{
		{open, []string{"tested, not handed back", "powerup run --after RECORD", "tested and boxed, not handed back", "touch-current", "14 lines"}},
		{boxed, []string{"tested and boxed, not handed back", "touch current not measured", "cannot finish Touch current"}},
	} {
		var out bytes.Buffer
		c.w.Text(&out, []Leaf{c.w.lastPage()}, true)
		for _, want := range c.want {
			if text := strings.Join(strings.Fields(out.String()), " "); !strings.Contains(text, want) {
				t.Errorf("%q is not on the last page:\n%s", want, text)
			}
		}
	}
}
