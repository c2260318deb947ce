package console

import (
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
)

// Leaf is one page of a plan on paper. Text and HTML print the same pages.
type Leaf struct {
	ID, Title  string
	Number, Of int // among those for its audience
	Parts      []Part
}

// Part stands under a rule of its own, or goes on from the one before.
type Part struct {
	ID      string // of a lead position; empty: another part
	Rows    []session.Row
	Drawn   []string   // lines that are laid out already: a table, a plot
	Cells   [][]string // what is drawn, cell by cell under a head; nil: it is no table
	Notes   []session.Row
	Entries []Entry
	Joined  bool // no rule before it
}

// Entry is one line that is typed.
type Entry struct {
	ID, Note string
	Before   []session.Row // what is typed before it
	Readings []Item
	Then     string
}

// Item is one reading of an entry.
type Item struct {
	Mark   string // its class; empty: a hold
	Title  string
	Expect string
	Blanks []string // what room is left to write down
	More   []string // how it is read
	Danger string   // which side stops
	Why    []string
}

// audience is whom pages are for. The zero value is told everything.
type audience uint8

// Who works at the bench; who learns, and sees no window, expectation or reason;
// who teaches, and sees nothing else.
const (
	worker audience = iota
	learner
	trainer
)

// Pages lays out all that is owed: for a club night the learner's pages first,
// then the trainer's with what those leave out, by the same ids.
func (w Work) Pages(clubNight bool) []Leaf {
	if !clubNight {
		return w.pagesFor(worker)
	}
	return append(w.pagesFor(learner), w.pagesFor(trainer)...)
}

func (w Work) pagesFor(who audience) []Leaf {
	pages := []Leaf{w.firstPage(who)}
	for _, s := range w.Stages {
		pages = append(pages, s.page(who, w.Whole))
	}
	if who != trainer {
		pages = append(pages, w.lastPage())
	}
	for i := range pages {
		pages[i].Number, pages[i].Of = i+1, len(pages)
		if who == trainer {
			pages[i].ID, pages[i].Title = "trainer-"+pages[i].ID, "TRAINER: "+pages[i].Title
		}
	}
	return pages
}

// page is that of one stage.
func (s Stage) page(who audience, whole bool) Leaf {
	page := Leaf{ID: s.Name, Title: "stage " + s.Name}
	head := Part{Rows: []session.Row{{Label: "STAGE", Text: s.Name + ", supply " + s.Supply.String()}}}
	if who != trainer {
		head.Rows = append(head.Rows, session.Row{Label: "Needs", Text: s.needs(whole)})
		head.Rows = append(head.Rows, s.Cautions...)
		head.Rows = append(head.Rows, s.parkRows()...)
	}
	page.Parts = append(page.Parts, head)
	block := ""
	var told said
	for _, l := range s.Lines {
		if l.Block.ID != block {
			block, told = l.Block.ID, said{map[string]bool{}, map[string]string{}}
			page.Parts = append(page.Parts, Part{ID: block, Rows: positionRows(l.Block)})
			if l.Block.Stage != s.Name && len(l.Before) == 0 {
				page.goesOn(l.Block.Stage)
			}
		}
		part := &page.Parts[len(page.Parts)-1]
		part.Entries = append(part.Entries, l.entry(who, told))
	}
	return page
}

// goesOn says of a position that was taken in the stage before that it stays.
func (p *Leaf) goesOn(stage string) {
	rows := &p.Parts[len(p.Parts)-1].Rows
	*rows = append(*rows, session.Row{Text: "goes on from stage " + stage + ": mains and leads stay as they are"})
}

// needs is what a stage takes.
func (s Stage) needs(whole bool) string {
	if s.Share.Lines == 0 && !whole {
		return "lines and minutes not known before the repair"
	}
	return s.Share.text() + ", proofs and switching on included, when everything passes"
}

func (s Share) text() string { return fmt.Sprintf("%s, about %s", inLines(s.Lines), inTime(s.Minutes)) }

func inLines(n int) string {
	if n == 1 {
		return "1 line"
	}
	return fmt.Sprintf("%d lines", n)
}

func inTime(minutes int) string {
	if minutes < 60 {
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d h %02d", minutes/60, minutes%60)
}

// parkRows tell where a stage may be broken off well.
func (s Stage) parkRows() []session.Row {
	text := "at any prompt of this stage, mains being off"
	if s.Supply.Energised() {
		text = "not well inside: mains is on, and what is broken off starts again from its first step"
	}
	rows := []session.Row{{Label: "Park", Text: text}}
	for _, p := range s.Parks {
		rows = append(rows, session.Row{Text: "good: " + p.text()})
	}
	return rows
}

func (p Park) text() string {
	text := map[where]string{
		atHold: p.Hold + ", before it is released", atEnd: "behind the last line", atProof: "behind the proof that follows the last line",
	}[p.Where]
	if !p.Known {
		return text + "; what it costs is not known"
	}
	return text + "; " + p.Share.text() + " more when it is taken up"
}

func (l Line) entry(who audience, told said) Entry {
	e := Entry{ID: l.ID}
	if who != trainer {
		e.Note, e.Then = l.note(), l.Then
		for _, act := range l.Before {
			if act == engine.SwitchOn && l.Cold != "" {
				e.Before = append(e.Before, session.Row{Label: "off", Text: l.Cold})
			}
			e.Before = append(e.Before, actWords(act))
		}
	}
	for _, r := range l.Readings {
		item, shown := itemOf(r, who, told)
		if !shown {
			continue
		}
		if slices.Contains(l.Given, r.Slot.ID) {
			item.More, item.Blanks = append([]string{notAsked}, item.More...), nil
		}
		e.Readings = append(e.Readings, item)
	}
	return e
}

// notAsked is said of a reading that no line of this work asks for: others give it,
// or it stands for no more than a line that nothing else is on.
const notAsked = "no prompt asks for it here"

// note is what stands beside the id of a line.
func (l Line) note() string {
	var notes []string
	if l.Wait > 0 {
		notes = append(notes, fmt.Sprintf("after %g s", l.Wait))
	}
	if l.Times > 1 {
		notes = append(notes, "must pass twice running")
	}
	if len(notes) == 0 {
		return ""
	}
	return "(" + strings.Join(notes, "; ") + ")"
}

// itemOf is one reading as an audience sees it, and whether there is anything in
// it to be told.
func itemOf(r session.CardReading, who audience, told said) (Item, bool) {
	if r.Slot.Hold != "" {
		return Item{Title: "release " + r.Slot.Hold + ", or park"}, who != trainer
	}
	item := Item{Mark: r.Slot.Check.Crit.String(), Title: session.Titled(r.Slot.Check, r.Slot.Item), Blanks: blanks(r, who)}
	if r.Slot.Check.Answer == checks.Derived {
		item.More = []string{"worked out, not typed"}
	}
	if who != trainer {
		item.More = append(item.More, append(told.placed(r), choices(r, who)...)...)
	}
	if who == learner {
		return item, true
	}
	item.Expect, item.Danger = r.Expect, r.Danger
	for _, why := range []string{r.Why, r.Weak} {
		if why != "" {
			item.Why = append(item.Why, why)
		}
	}
	if who == trainer {
		item.More = append(item.More, choices(r, who)...)
	}
	return item, true
}

// blanks are what room is left on paper for: a learner says first what is to be
// expected. One without a name is no line of its own.
func blanks(r session.CardReading, who audience) []string {
	switch answer := r.Slot.Check.Answer; {
	case who == trainer, answer == checks.Derived:
		return nil
	case who == worker:
		return []string{""}
	case answer == checks.Number:
		return []string{"expected", "shown"}
	}
	return []string{"shown"}
}

// said is what has been told of meters and leads in a lead position.
type said struct {
	texts  map[string]bool
	meters map[string]string // by letter: what it was turned to last
}

// placed tells meter and leads of a reading: once in a lead position, and again
// when the meter has been turned to something else since.
func (s said) placed(r session.CardReading) []string {
	var parts []string
	if r.Meter != "" {
		parts = append(parts, "meter "+r.Meter)
	}
	if r.Leads != "" {
		parts = append(parts, r.Leads)
	}
	text, letter := strings.Join(parts, "; "), r.Slot.Letter
	stands := s.texts[text] && s.meters[letter] == r.Meter
	s.texts[text], s.meters[letter] = true, r.Meter
	if text == "" || stands {
		return nil
	}
	return []string{text}
}

// choices are the letters or numbers that answer a reading. What each is judged
// is not the learner's.
func choices(r session.CardReading, who audience) []string {
	var out []string
	for _, c := range r.Slot.Check.Choices {
		text := c.Key + "  " + c.Words
		if who != learner {
			text += " - " + verdictWord(c.Verdict)
		}
		out = append(out, text)
	}
	return out
}

func verdictWord(v engine.Verdict) string {
	if v == engine.Stop {
		return "a STOP"
	}
	return v.String()
}
