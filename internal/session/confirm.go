package session

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
)

// alteration is what was told of one line of letters, with what it would cost.
// Until it is confirmed nothing is judged or switched: no other line is taken,
// and whatever ends the session but the word no makes it true.
type alteration struct {
	classes []engine.Class
	line    string
	events  []engine.Event
	mends   bool // cause and repair of a stop
	doubt   bool // they do not explain it
	cost    plan.Again
}

// The two words of the confirmation.
const (
	isSo  = "yes"
	notSo = "no"
)

// tell takes an alteration: at once where no reading falls by it, else its cost
// is shown and one word is wanted.
func (s *Session) tell(a *Answered, t alteration) error {
	cost, err := s.plan.Again(s.state, t.events)
	if err != nil {
		return err
	}
	t.cost = cost
	if len(cost.Void) == 0 {
		return s.happened(a, t, "")
	}
	s.told = &t
	a.record("told", "letter", s.lettersOf(t.classes), "say", t.line, "void", strings.Join(s.namesOf(cost.Void), " "),
		"more-lines", againLines(cost), "more-minutes", againMinutes(cost))
	return nil
}

// happened voids what the alteration ends, and mends what it mends. Confirmed
// is the word; empty: none was asked for.
func (s *Session) happened(a *Answered, t alteration, confirmed string) error {
	before := s.state.Held
	for _, e := range t.events {
		if err := s.step(e); err != nil {
			return err
		}
	}
	s.told = nil
	s.forgetLine()
	if s.phase == askTouched {
		s.phase = working
	}
	letters := s.lettersOf(t.classes)
	if t.mends {
		a.record("repair", "letter", letters, "say", t.line)
	}
	lost := s.lost(before)
	a.record("altered", "letter", letters, "say", t.line, "void", strings.Join(lost, " "), "confirmed", confirmed)
	switch {
	case len(lost) > 0:
		a.say("Void", fmt.Sprintf("%d readings are owed again", len(lost)))
	case !t.mends:
		a.say("Noted", "nothing that was read falls with it.")
	}
	if t.doubt {
		a.say("Twice", doubtText)
	}
	return nil
}

const doubtText = "this does not explain the reading that stopped: it must now pass twice running."

// unanswered makes an alteration true that nobody has confirmed or taken back.
// It voids; a stop it does not mend.
func (s *Session) unanswered(a *Answered) {
	if s.told == nil {
		return
	}
	t := *s.told
	s.told = nil
	before := s.state.Held
	for _, e := range s.alterEvents(t.classes) {
		_ = s.step(e) // it was taken on trial with the plug out, and nothing has happened since
	}
	a.record("altered", "letter", s.lettersOf(t.classes), "say", t.line, "void", strings.Join(s.lost(before), " "), "confirmed", "no answer")
}

func (s *Session) promptConfirm() Prompt {
	t := s.told
	p := Prompt{ID: "touched/confirm", Block: "touched", Word: isSo}
	for n, c := range t.classes {
		class := s.plan.Classes[c]
		p.Rows = append(p.Rows, Row{[...]string{"Touched", ""}[min(n, 1)], strings.TrimSpace(class.Letter+" "+class.Part) + "  " + class.Words})
	}
	p.Rows = append(p.Rows, s.fallRows(t.cost.Void)...)
	p.Rows = append(p.Rows, Row{"Again", againText(t.cost)})
	if t.doubt {
		p.Rows = append(p.Rows, Row{"Twice", doubtText})
	}
	p.Rows = append(p.Rows, Row{"Type", "yes when it is so; no if nothing of it was touched"})
	return p
}

// confirm takes the one word. Nothing else has a place here.
func (s *Session) confirm(a *Answered, line string) error {
	switch line {
	case isSo:
		s.counts.Words++
		return s.happened(a, *s.told, isSo)
	case notSo:
		s.counts.Words++
		a.record("not-touched", "letter", s.lettersOf(s.told.classes), "say", s.told.line)
		a.say("Taken back", "nothing was touched, nothing falls; both lines stay on the record")
		s.told = nil
		return nil
	case "?":
		a.say(isSo, "what falls counts as never read and is owed again; a repair of a stop is then recorded")
		a.say(notSo, "the letter was wrong: nothing was changed, and the question comes again where one was asked")
		a.say("Else", "nothing else is taken here. Ctrl+C, a lost line or a resume counts as yes, and mends no stop")
		s.counts.Lines--
		return nil
	}
	return errors.New("what was touched waits for its word\nhint: yes when it is so, no if nothing of it was touched; Ctrl+C stops and counts as yes")
}

// fallRows name what would be owed again, a row each stage. What is worked out
// from readings, and the look through the lamp, come of themselves.
func (s *Session) fallRows(void []int) []Row {
	void = slices.DeleteFunc(slices.Clone(void), func(i int) bool {
		return s.plan.Slots[i].Look || s.plan.Slots[i].Check.Answer == checks.Derived
	})
	var rows []Row
	for len(void) > 0 {
		stage := s.plan.Slots[void[0]].Stage
		n := slices.IndexFunc(void, func(i int) bool { return s.plan.Slots[i].Stage != stage })
		if n < 0 {
			n = len(void)
		}
		label := ""
		if len(rows) == 0 {
			label = "Falls"
		}
		rows = append(rows, Row{label, stage + ": " + strings.Join(s.titlesOf(void[:n]), "; ")})
		void = void[n:]
	}
	return rows
}

// titlesOf are the checks of some slots, each once with all its items.
func (s *Session) titlesOf(slots []int) []string {
	var out []string
	for n, i := range slots {
		slot := s.plan.Slots[i]
		if slot.Hold != "" {
			out = append(out, "release of "+slot.Hold)
			continue
		}
		same := func(j int) bool { return s.plan.Slots[j].Hold == "" && s.plan.Slots[j].Check.ID == slot.Check.ID }
		if slices.ContainsFunc(slots[:n], same) {
			continue
		}
		var items []string
		for _, j := range slots[n:] {
			if item := s.item(j); same(j) && item != "" && !slices.Contains(items, item) {
				items = append(items, item)
			}
		}
		out = append(out, Titled(slot.Check, strings.Join(items, ", ")))
	}
	return out
}

// namesOf are the ids of the readings among some slots.
func (s *Session) namesOf(slots []int) []string {
	var out []string
	for _, i := range slots {
		if slot := s.plan.Slots[i]; slot.Hold == "" && !slot.Look {
			out = append(out, slot.ID)
		}
	}
	return out
}

func againText(c plan.Again) string {
	if !c.Known {
		return "lines and minutes not known"
	}
	return fmt.Sprintf("%s lines, about %s min, more than without it", againLines(c), againMinutes(c))
}

func againLines(c plan.Again) string {
	if !c.Known {
		return ""
	}
	return fmt.Sprint(c.More.Lines)
}

func againMinutes(c plan.Again) string {
	if !c.Known {
		return ""
	}
	return fmt.Sprint(int(c.More.Time.Round(time.Minute) / time.Minute))
}
