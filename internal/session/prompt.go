package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

// Prompt is what is asked next.
type Prompt struct {
	ID     string
	Rows   []Row         // what to do, where the leads go, what is expected
	Word   string        // what the line must begin with; empty: nothing
	Fields []Field       // what is typed, in order
	Wait   time.Duration // still to wait before it may be answered
	Waits  string        // what for
	Block  string        // changes when the set or the leads do
}

// Field is one thing to type.
type Field struct {
	Name string // "HT1", "lamp V"
	Kind unit.Kind
	Slot int // -1: part of a proof
	Node string
	Text bool // takes the rest of the line

	Repeat int // with AtRepeat: the slot that is read again
}

// Prompt gives what is asked now.
func (s *Session) Prompt() Prompt { return s.shown(s.ask()) }

// shown is a prompt with its cautions, its wait and how often it was tried.
func (s *Session) shown(p Prompt) Prompt {
	p.Rows = append(s.cautionRows(p), p.Rows...)
	p.ID = s.tried(p.ID)
	if due, ok := s.due(); ok && s.phase == working && s.slip == "" && s.told == nil {
		p.Wait = max(0, due.Mono-s.now.Mono)
	}
	if s.waitTo.Mono > s.now.Mono {
		p.Wait, p.Waits = s.waitTo.Mono-s.now.Mono, "hands out while the capacitors discharge"
	}
	return p
}

// tried is the id of a prompt with the number of times it was asked.
func (s *Session) tried(id string) string {
	if n := s.tries[id]; n > 0 {
		return fmt.Sprintf("%s~%d", id, n+1)
	}
	return id
}

// answerable is what a line answers: of a line of readings without its rows,
// whose windows nobody looks at.
func (s *Session) answerable() Prompt {
	if todo := s.todo(); s.phase == working && s.told == nil && todo.Act == engine.Enter {
		return s.lineAsked(todo.Slot)
	}
	return s.ask()
}

func (s *Session) ask() Prompt {
	if s.told != nil && s.phase != over {
		return s.promptConfirm()
	}
	switch s.phase {
	case askBench:
		return s.promptBench()
	case askUnplugged:
		return Prompt{ID: "start/unplugged", Word: "unplugged", Rows: []Row{
			{"Do", "Plug out of the wall, where you can see it."},
			{"Stop", "Ctrl+C at any moment. The record is written first."},
		}}
	case askTouched:
		return s.promptTouched()
	case askLabel:
		return s.promptLabel()
	case askClose:
		return s.promptClose()
	case over:
		return Prompt{}
	}
	return s.promptWork()
}

func (s *Session) promptWork() Prompt {
	todo := s.todo()
	switch todo.Act {
	case engine.Unplug:
		return s.promptUnplug()
	case engine.ProveLead:
		return s.promptLeadProof()
	case engine.ProveFull:
		return s.promptFullProof()
	case engine.ProveSecond:
		return s.promptSecondProof()
	case engine.ProveNodes:
		return s.promptNodes()
	case engine.SwitchOn:
		return s.promptPower(todo.Block)
	case engine.Release:
		return s.promptRelease(todo.Slot)
	case engine.Resolve:
		return s.promptResolve(todo.Slot)
	case engine.Repair:
		return s.promptRepair()
	case engine.Unclip:
		return s.promptUnclip()
	case engine.Finish:
		return s.promptLabel()
	case engine.Enter:
		return s.promptLine(todo.Slot)
	}
	return Prompt{}
}

// promptLine asks for what is owed of the line that slot i is on.
func (s *Session) promptLine(i int) Prompt {
	p := s.lineAsked(i)
	readings := slices.DeleteFunc(slices.Clone(p.Fields), func(f Field) bool { return f.Slot < 0 })
	p.Rows = append(s.raiseRows(i), s.fieldRows(readings)...)
	switch behind := p.Fields[len(readings):]; {
	case len(behind) > 0 && behind[0].Node == AtRepeat:
		p.Rows = append(p.Rows, Row{"Again", "at the end " + behind[0].Name + ": from the meter, not from the screen; - where it was not read again"})
	case len(behind) > 0:
		p.Rows = append(p.Rows, Row{"Then", thenText(behind)})
	}
	p.Rows = append(p.Rows, Row{"Type", typeText(p)})
	return p
}

// thenText ends a line that charges nodes.
func thenText(nodes []Field) string {
	return "let the tester discharge it, use the tool where volts remain, and prove it dead: " + typeText(Prompt{Fields: nodes})
}

// lineAsked is that without its rows. The nodes it charges come last.
func (s *Session) lineAsked(i int) Prompt {
	line := s.plan.Lines[s.plan.Slots[i].Line]
	var nodes engine.Nodes
	if s.state.Line == s.plan.Slots[i].Line+1 { // another line's are proved dead elsewhere
		nodes = s.state.Unproved
	}
	p := Prompt{ID: line.ID, Block: s.plan.Blocks[s.plan.Slots[i].Block].ID}
	for _, j := range line.Slots {
		slot := s.plan.Slots[j]
		if j < i || s.state.Held.Has(j) || s.state.Unread.Has(j) || slot.Check.Answer == checks.Derived || s.absent(j) {
			continue
		}
		nodes |= s.plan.Engine.Slots[j].Charges
		p.Fields = append(p.Fields, Field{Name: fieldName(slot.Check, s.item(j)), Kind: slot.Check.Kind, Slot: j, Text: slot.Check.Answer == checks.Text || slot.Check.Answer == checks.Found})
	}
	if again, ok := s.repeatField(i); ok && nodes == 0 && len(p.Fields) > 0 {
		p.Fields = append(p.Fields, again)
	}
	if nodes != 0 {
		p.Fields = append(p.Fields, s.nodeFields(nodes)...)
	}
	return p
}

// raiseRows tell the step of a raise that the line of slot i is read at, as long
// as the set is not known to stand there; with a full disk nothing is raised.
func (s *Session) raiseRows(i int) []Row {
	slot := s.plan.Slots[i]
	if s.full && s.state.Supply.Energised() {
		return []Row{{"Disk", s.fullText()}}
	}
	if !s.state.Supply.Energised() || slot.Rung == 0 || slot.Rung == s.rung || slot.Rung == 100 && s.rung == 0 {
		return nil
	}
	text := "the variable transformer " + s.raiseText(slot.Rung)
	if s.oneMeter() && !s.plan.Blocks[slot.Block].AtLampBox() {
		text += "; by its scale as read before"
	}
	return []Row{{"Raise", text}}
}

// fullStory is how many readings a line may have for each to be told in full.
const fullStory = 2

// fieldRows tell each reading in full where there are few, else in one row each:
// ? gives the rest.
func (s *Session) fieldRows(fields []Field) []Row {
	var rows []Row
	for n, f := range fields {
		if len(fields) <= fullStory {
			rows = append(rows, s.slotRows(f.Slot, n == 0)...)
			continue
		}
		rows = append(rows, Row{strconv.Itoa(n + 1), s.briefly(f)})
	}
	if len(fields) > fullStory {
		rows = append(rows, Row{"?", "how, why and what each means"})
	}
	return rows
}

// briefly is one reading in a line of many.
func (s *Session) briefly(f Field) string {
	slot := s.plan.Slots[f.Slot]
	c, item := slot.Check, s.item(f.Slot)
	text := Titled(c, item)
	for n, x := range c.Choices {
		text += [...]string{": ", ", "}[min(n, 1)] + x.Key + " " + x.Words
	}
	if c.Answer == checks.Number {
		if w, err := s.window(f.Slot); err == nil {
			text += ": " + Span(w.Kind, w.Pass) + dangerWords(w)
		}
	}
	if c.Red != "" {
		text += ". " + withItem(c.Red, item) + " to " + withItem(c.Black, item)
	}
	return text
}

// item is what slot i is about: its own item, but the bulb in the box is the
// ramp's once that has been fitted.
func (s *Session) item(i int) string {
	slot := s.plan.Slots[i]
	if slot.Check.ID != "lamp-cold" {
		return slot.Item
	}
	for j, other := range s.plan.Slots {
		if other.Check.ID == "lamp-fitted" && s.state.Held.Has(j) {
			return other.Item
		}
	}
	return slot.Item
}

func fieldName(c checks.Check, item string) string {
	if item == "" || strings.Contains(c.Short, "{item}") {
		return withItem(c.Short, item)
	}
	return c.Short + " " + item
}

func typeText(p Prompt) string {
	text := p.Word
	for _, f := range p.Fields {
		if text != "" {
			text += ", "
		}
		text += f.Name
	}
	return text
}

// slotRows is what one reading needs on screen: a short line each in a line of
// many, the whole story where it stands alone.
func (s *Session) slotRows(i int, first bool) []Row {
	slot := s.plan.Slots[i]
	c := slot.Check
	item := s.item(i)
	rows := []Row{{"Read", Titled(c, item)}}
	if first && slot.Letter != "" {
		rows = append(rows, Row{"Meter " + slot.Letter, meterText(c)})
	}
	if leads := leadText(c, item); leads != "" {
		rows = append(rows, Row{"Leads", leads})
	}
	if c.Method != "" {
		rows = append(rows, Row{"How", c.Method})
	}
	for _, choice := range c.Choices {
		rows = append(rows, Row{"", choice.Key + "  " + choice.Words})
	}
	if c.Answer == checks.Number {
		rows = append(rows, s.expect(i)...)
	}
	return rows
}

// Titled is a check's title with the item it is about.
func Titled(c checks.Check, item string) string {
	if item == "" || strings.Contains(c.Title, "{item}") {
		return withItem(c.Title, item)
	}
	return c.Title + ", " + item
}

// leadText says where the leads of a check go, nothing where it has none.
func leadText(c checks.Check, item string) string {
	var leads []string
	if c.Red != "" {
		leads = append(leads, "red on "+withItem(c.Red, item))
	}
	if c.Black != "" {
		leads = append(leads, "black on "+withItem(c.Black, item))
	}
	return strings.Join(leads, ", ")
}

func meterText(c checks.Check) string {
	text := string(c.Function)
	if c.Range != "" {
		text += ", " + c.Range
	}
	return text
}
