package console

import (
	"fmt"
	"strings"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/unit"
)

// firstPage is the whole at a glance: the set and the kit, the stages, the ramp.
func (w Work) firstPage(who audience) Leaf {
	page := Leaf{ID: "first", Title: "the whole"}
	if who != trainer {
		page.Parts = append(page.Parts, w.head(who))
		if a := w.After; a != nil && a.Stopped != "" {
			page.Parts = append(page.Parts, a.stopPart(who))
		}
		page.Parts = append(page.Parts, w.contents())
	}
	if who == trainer {
		page.Parts = append(page.Parts, Part{Rows: append(w.windowRows(), w.lampRows()...)})
	}
	if who != learner {
		page.Parts = append(page.Parts, rampParts(w.Ramp)...)
	}
	return page
}

func (w Work) head(who audience) Part {
	p := w.Plan
	rows := []session.Row{{Label: "Set", Text: fmt.Sprintf("%s, mark %s, %s, %d-core flex", p.Set.Name, p.Set.Mark, p.Set.Construction, p.Set.Flex.Cores)}}
	if w.After != nil {
		rows = append(rows, w.afterRows()...)
	}
	if who == learner {
		rows = append(rows, session.Row{Label: "Sheet", Text: "the learner's: windows, expectations and reasons stand on the trainer's pages, by the same ids of lines. It limits nothing: powerup judges, beside the trainer"})
	} else {
		rows = append(rows, w.windowRows()...)
	}
	rows = append(rows, session.Row{Label: "Needs", Text: w.needs()})
	if who != learner {
		for _, t := range p.Typical {
			rows = append(rows, session.Row{Label: "Typical", Text: t})
		}
	}
	if len(p.Cannot) > 0 {
		rows = append(rows, session.Row{Label: "This kit", Text: "cannot measure " + strings.Join(p.Cannot, ", ")})
	}
	if who == learner {
		rows = append(rows, session.Row{Label: "Lamps", Text: bulbs(p.Lamps)})
	} else {
		rows = append(rows, w.lampRows()...)
	}
	return Part{Rows: rows, Joined: true}
}

func (w Work) windowRows() []session.Row {
	return []session.Row{{Label: "Windows", Text: countWindows(w.cardLines()).String()}}
}

func (w Work) needs() string {
	if !w.Whole {
		return "not known before one of the open queries is found and repaired"
	}
	all := w.all()
	return fmt.Sprintf("%s, about %d h %02d, when everything passes", inLines(all.Lines), all.Minutes/60, all.Minutes%60)
}

func bulbs(l plan.Lamps) string {
	return fmt.Sprintf("%s for transformer and heaters; %s for the ramp", l.First.Watts, l.Ramp.Watts)
}

// lampRows show what each bulb of the bench makes of this set, and say when the
// one of the ramp cannot tell.
func (w Work) lampRows() []session.Row {
	l := w.Plan.Lamps
	rows := []session.Row{{Label: "Lamps", Text: fmt.Sprintf("%s, which it lets reach %s: last step with the lamp in %s", bulbs(l), unit.Round(l.Ceiling.Quantity(), 3), l.Top)}}
	for _, e := range l.Each {
		rows = append(rows, session.Row{Text: fmt.Sprintf("%s: the set reaches %s, the lamp %s; a set that takes half as much again %s, at least %.2f x",
			e.Lamp.Watts, unit.Round(e.Ceiling.Quantity(), 3), unit.Round(e.Healthy.Quantity(), 3), unit.Round(e.Fault.Quantity(), 3), e.Apart)})
	}
	if !l.Tells {
		rows = append(rows, session.Row{Text: "no bulb of this bench that carries the set high enough tells such a fault from a healthy set: lamp volts alone will not stop it, HT and the output stage must"})
	}
	return rows
}

// windowCounts counts the readings of a card by where their windows come from.
// Letters, texts and hold points have none and are not counted.
type windowCounts struct{ known, weak, later int }

func (n windowCounts) String() string {
	return fmt.Sprintf("%d computed, %d typical, %d from readings at the bench", n.known, n.weak, n.later)
}

func countWindows(lines []session.CardLine) (n windowCounts) {
	for _, l := range lines {
		for _, r := range l.Readings {
			switch {
			case r.Weak != "":
				n.weak++
			case !r.Known:
				n.later++
			case r.Expect != "":
				n.known++
			}
		}
	}
	return n
}

// contents are the stages with what each takes.
func (w Work) contents() Part {
	part := Part{Rows: []session.Row{{Label: "STAGES", Text: "a page each; lines are lines typed, proofs and switching on among them"}}}
	row := func(cells ...string) {
		part.Cells = append(part.Cells, cells)
		part.Drawn = append(part.Drawn, strings.TrimRight(fmt.Sprintf("%-14s %5s %9s  %s", cells[0], cells[1], cells[2], cells[3]), " "))
	}
	add := func(name string, s Share, supply string) {
		if s.Lines == 0 { // behind a repair
			row(name, "?", "?", supply)
			return
		}
		row(name, fmt.Sprint(s.Lines), inTime(s.Minutes), supply)
	}
	row("stage", "lines", "time", "supply")
	add("to begin", w.Start, "")
	for _, s := range w.Stages {
		add(s.Name, s.Share, s.Supply.String())
	}
	add("to end", w.End, "")
	if w.Whole {
		add("all", w.all(), "")
	}
	return part
}

// afterRows say how a record stands.
func (w Work) afterRows() []session.Row {
	a := w.After
	at, record := a.At.Format("2 Jan 2006 15:04"), "record "+a.Label
	if a.Practice {
		record = "PRACTICE " + record
	}
	if a.Closed {
		return []session.Row{{Label: "After", Text: record + ", closed as tested: the boxed part is owed (" + at + ")"}}
	}
	kept := fmt.Sprintf("%d readings stand and are not asked for again", a.Kept)
	if a.Lapsed > 0 {
		kept += fmt.Sprintf("; %d stood for one session or for a day, and are owed again", a.Lapsed)
	}
	rows := []session.Row{
		{Label: "After", Text: record + ", as it would be taken up on " + at + ": the set live and charged, the bench tried anew; what stands for a day lapses later"},
		{Label: "Kept", Text: kept},
	}
	if len(w.Done) > 0 {
		but := ""
		if a.Stopped != "" {
			but = ", but for what falls with the repair"
		}
		rows = append(rows, session.Row{Label: "Done", Text: "done, and still good" + but + ": " + strings.Join(w.Done, ", ")})
	}
	if len(a.Queries) > 0 {
		rows = append(rows, session.Row{Label: "Queries", Text: "accepted and open: " + strings.Join(a.Queries, ", ")})
	}
	return rows
}

// stopPart says that a stop stands, and what each repair of it would cost beyond
// what is owed in any case.
func (a After) stopPart(who audience) Part {
	why := ""
	if who != learner && a.Because != "" {
		why = ": " + a.Because
	}
	part := Part{Rows: []session.Row{
		{Label: "STOPPED", Text: a.Stopped + why},
		{Label: "First", Text: "the set is made safe, then cause and repair are named by their letter. Until then nothing else is asked, and mains refuses"},
		{Label: "Then", Text: "these pages: what is owed whatever was repaired. What falls with the repair comes on top, by its letter:"},
	}}
	for _, r := range a.Repairs {
		part.Rows = append(part.Rows, session.Row{Label: "  " + r.Class.Letter, Text: repairText(r)})
	}
	part.Rows = append(part.Rows, session.Row{Label: "Exactly", Text: "powerup resume RECORD, name the repair, park, and print this again"})
	return part
}

func repairText(r session.Repair) string {
	text := r.Class.Words
	if r.Class.Letter == "n" {
		text = "nothing in the set: a lead, a contact or the meter"
	}
	switch more := r.Cost.More; {
	case !r.Cost.Known:
		text += ": not known how much"
	case more.Lines == 0:
		text += ": nothing more"
	default:
		text += fmt.Sprintf(": %s, %d min more", inLines(more.Lines), int(more.Time.Round(time.Minute).Minutes()))
	}
	if r.Twice {
		text += "; the reading that stopped must then pass twice"
	}
	return text
}

// lastPage says what will be left when all of this is done.
func (w Work) lastPage() Leaf {
	rows := []session.Row{{Label: "END", Text: "when all of it has passed: " + w.Result}}
	if w.Why != "" {
		rows = append(rows, session.Row{Label: "Why not", Text: w.Why})
	}
	rows = append(rows, session.Row{Label: "Needs", Text: w.End.text() + ", to the close"})
	rows = append(rows, cannotRows(w.Plan.Cannot)...)
	if w.Plan.Boxed && w.Why == "" {
		rows = append(rows, session.Row{Label: "Owner", Text: "the cautions read to the owner or left in writing: else it is not handed back"})
	}
	page := Leaf{ID: "end", Title: "the end", Parts: []Part{{Rows: rows}}}
	if w.Boxed != nil {
		page.Parts = append(page.Parts, Part{Rows: w.Boxed.rows()})
	}
	return page
}

// cannotRows name what a kit cannot measure.
func cannotRows(ids []string) []session.Row {
	var rows []session.Row
	for n, id := range ids {
		label, text := [...]string{"This kit", ""}[min(n, 1)], id
		if c, ok := checks.Find(id); ok {
			text = session.Titled(c, "") + " (" + id + ")"
		}
		rows = append(rows, session.Row{Label: label, Text: "cannot finish " + text})
	}
	return rows
}

func (n Next) rows() []session.Row {
	rows := []session.Row{{Label: "THEN", Text: "the boxed part, when the set is back in its cabinet: powerup run --after RECORD"}}
	if n.Refused != nil {
		hint := strings.ReplaceAll(n.Refused.Error(), "\n", "; ")
		return append(rows, session.Row{Label: "This kit", Text: "cannot make it: " + hint})
	}
	rows = append(rows, session.Row{Label: "Needs", Text: n.Share.text() + ", when everything passes"})
	rows = append(rows, cannotRows(n.Cannot)...)
	if n.Why == "" {
		return append(rows, session.Row{Label: "Ends", Text: n.Result + ", once the owner has had the cautions"})
	}
	return append(rows, session.Row{Label: "Ends", Text: n.Result + ": " + n.Why})
}
