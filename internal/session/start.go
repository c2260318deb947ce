package session

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/engine"
)

func (s *Session) promptBench() Prompt {
	rows := []Row{
		{"Set", fmt.Sprintf("%s, mark %s, %s, %d-core flex", s.plan.Set.Name, s.plan.Set.Mark, s.plan.Set.Construction, s.plan.Set.Flex.Cores)},
		{"Bench", s.benchText()},
		{"Law", "this guide is for a person already able to work safely with mains. Your country's law and a licensed person's judgement come first."},
		{"", "The program cannot switch anything off and cannot see the set."},
	}
	if len(s.plan.Cannot) > 0 {
		rows = append(rows, Row{"This kit", "cannot measure " + strings.Join(s.plan.Cannot, ", ")})
	}
	return Prompt{ID: "start/bench", Rows: append(rows, Row{"Type", "same if all of the bench is here as listed, else park and mend the bench file"}), Word: "same"}
}

func (s *Session) benchText() string {
	var parts []string
	for _, m := range s.plan.Bench.Meters {
		parts = append(parts, fmt.Sprintf("meter %s (%s) at %s", m.Letter, m.Sheet, m.Stays))
	}
	if s.plan.Bench.Tester != "" {
		parts = append(parts, "tester T ("+s.plan.Bench.Tester+")")
	}
	for _, l := range s.plan.Bench.Lamps {
		parts = append(parts, "lamp "+l.String())
	}
	return strings.Join(parts, ", ")
}

func (s *Session) answerBench(a *Answered, line string) error {
	if err := s.word(line, "same"); err != nil {
		return err
	}
	a.record("bench", "here", "as listed")
	s.phase = askUnplugged
	return nil
}

func (s *Session) answerUnplugged(a *Answered, line string) error {
	if err := s.word(line, "unplugged"); err != nil {
		return err
	}
	a.record("unplugged")
	s.phase = askTouched
	return nil
}

func (s *Session) promptTouched() Prompt {
	rows := []Row{{"Touched", "since the record began or was last closed, beyond what it lists: letters"}}
	for _, c := range s.plan.Classes {
		name := c.Letter
		if c.Part != "" {
			name += " " + c.Part
		}
		rows = append(rows, Row{"", name + "  " + c.Words})
	}
	return Prompt{ID: "start/touched", Rows: append(rows, Row{"Type", "n for nothing, or a letter and what it was; a semicolon between two"})}
}

// answerTouched takes what was altered. After a stop this line may also tell
// cause and repair.
func (s *Session) answerTouched(a *Answered, line string) error {
	classes, err := s.alterations(line)
	if err != nil {
		return err
	}
	if s.state.Mode == engine.Stopped && s.lettersOf(classes) != "n" {
		return s.mend(a, classes, line)
	}
	return s.tell(a, alteration{classes: classes, line: line, events: s.alterEvents(classes)})
}

func (s *Session) tellLost(a *Answered, before engine.Facts) {
	if lost := s.lost(before); len(lost) > 0 {
		a.say("Void", fmt.Sprintf("%d readings are owed again: %s", len(lost), strings.Join(lost, ", ")))
	}
}

// lost are the readings that were facts before and are no more.
func (s *Session) lost(before engine.Facts) []string {
	var lost []string
	for i, slot := range s.plan.Slots {
		if before.Has(i) && !s.state.Held.Has(i) && slot.Hold == "" && !slot.Look {
			lost = append(lost, slot.ID)
		}
	}
	return lost
}
