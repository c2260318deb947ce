package session

import (
	"errors"
	"fmt"
	"strings"

	"example.com/powerup/internal/engine"
)

func (s *Session) promptUnplug() Prompt {
	return Prompt{ID: "stop/unplugged", Block: "stop", Word: "unplugged", Rows: []Row{
		{"Do", "SWITCH OFF at the wall, then plug OUT, where you can see it."},
		{"DANGER", fmt.Sprintf("the capacitors hold a charge after the plug is out: HT up to %s", s.htText())},
		{"Type", "unplugged"},
	}}
}

func (s *Session) answerUnplug(a *Answered, line string) error {
	if err := s.word(line, "unplugged"); err != nil {
		return err
	}
	if err := s.step(engine.Event{Kind: engine.Off}); err != nil {
		return err
	}
	a.record("unplugged")
	t, path := s.dischargeTime()
	if d, ok := s.decay(); ok {
		s.waitTo = s.now.plus(d)
	}
	a.say("Wait", t+": "+path+". Hands out.")
	return nil
}

// stoppedRows end the making safe.
func (s *Session) stoppedRows() []Row {
	return []Row{
		{"Label", "red label on the set: FAILED - DO NOT CONNECT. Nobody can waive it."},
		{"To go on", "name the repair by its letter and say the cause, or park: all is kept."},
	}
}

func (s *Session) promptRepair() Prompt {
	p := Prompt{ID: "stop/repair", Block: "stop"}
	if s.stopOf != nil {
		slot := s.plan.Slots[s.stopOf.Slot]
		p.Rows = append(p.Rows, Row{"Stopped", Titled(slot.Check, slot.Item) + ": " + s.stopOf.Reason})
	}
	for _, c := range s.plan.Classes {
		name := strings.TrimSpace(c.Letter + " " + c.Part)
		words := c.Words
		if c.Letter == "n" {
			words = "nothing in the set: a lead, a contact or the meter, say which; it must then pass twice"
		}
		p.Rows = append(p.Rows, Row{"", name + "  " + words})
	}
	p.Rows = append(p.Rows, Row{"Type", "the letter, then cause and repair in your own words; or park"})
	return p
}

func (s *Session) answerRepair(a *Answered, line string) error {
	c, ok := s.plan.ClassOf(line)
	if !ok {
		return fmt.Errorf("%q is not one of the letters", clip(line))
	}
	_, words, _ := strings.Cut(line, " ")
	if len(strings.Fields(words)) == 0 {
		return errors.New("cause and repair are not said\nhint: the letter, then what was wrong and what was done")
	}
	return s.mend(a, c, line, s.plan.Classes[c].Letter == "n")
}

func (s *Session) mend(a *Answered, c engine.Class, line string, doubt bool) error {
	before := s.state.Held
	if err := s.step(engine.Event{Kind: engine.Mend, Class: c, Doubt: doubt}); err != nil {
		return err
	}
	a.record("repair", "letter", s.plan.Classes[c].Letter, "say", line)
	s.tellVoided(a, before, s.plan.Classes[c].Letter, line)
	return nil
}
