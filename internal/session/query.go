package session

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
)

func (s *Session) promptResolve(i int) Prompt {
	slot := s.plan.Slots[i]
	p := Prompt{ID: "query/" + slot.ID, Block: "query", Fields: nil}
	p.Rows = []Row{
		{"Query", "could be right, and needs a cause. " + Titled(slot.Check, slot.Item)},
		{"Rule", s.answeredBy(i)},
	}
	for n, cause := range slot.Check.Causes {
		p.Rows = append(p.Rows, Row{fmt.Sprintf("cause %d", n+1), cause})
	}
	p.Rows = append(p.Rows, Row{"Type", "a fresh reading; second VALUE HOW; cause N and your own words; or park"})
	return p
}

// answeredBy says what answers for a query of slot i.
func (s *Session) answeredBy(i int) string {
	check := s.plan.Slots[i].Check
	twice := check.Crit == engine.G || engine.InDoubt(&s.plan.Engine, &s.state, i)
	switch {
	case check.Crit == engine.S && !s.plan.Engine.Slots[i].Lenient:
		return "this guards a person: clean the contact and measure again, or mend it and say so first (touched, its letter, what); it is never accepted"
	case twice && check.Answer == checks.Derived:
		return "worked out: wrong N takes one of its readings back; read it again, and where the result agrees a cause may answer"
	case twice:
		return "accepted only after a second reading that agrees; " + secondHow
	case check.Crit == engine.S:
		return "the limit is met, the condition is not good: you may answer for it with a cause; the warm test will tell"
	}
	return "you may answer for it with a cause"
}

func (s *Session) answerResolve(a *Answered, line string, i int) error {
	word, rest, _ := strings.Cut(line, " ")
	switch word {
	case "cause":
		return s.accept(a, rest, i)
	case "second":
		return s.second(a, rest, i)
	}
	slot := s.plan.Slots[i]
	f := Field{Name: slot.Check.Short, Kind: slot.Check.Kind, Slot: i}
	if slot.Check.Answer == checks.Derived {
		return errDerivedSecond
	}
	if err := s.readable(f, line); err != nil {
		return err
	}
	if line == "-" {
		return errors.New("a queried reading cannot be left\nhint: a fresh reading, cause N or park")
	}
	rest2 := s.pending
	s.pending = nil
	if err := s.takeOne(a, s.asked.ID, i, line); err != nil {
		s.pending = rest2
		return err
	}
	return s.goOn(a, rest2, slot.Line)
}

// goOn judges what was typed behind a reading once its query is settled.
func (s *Session) goOn(a *Answered, rest []string, line int) error {
	if s.Stopped() {
		s.cut(a, rest)
		return nil
	}
	if s.state.Queried || len(rest) == 0 {
		s.pending = rest
		return nil
	}
	p := s.ask()
	if todo := s.todo(); todo.Act == engine.ProveNodes {
		return s.proveNodes(a, rest)
	}
	if len(p.Fields) != len(rest) {
		s.runDerived(a)
		p = s.ask()
	}
	if len(p.Fields) != len(rest) || p.ID != s.plan.Lines[line].ID {
		s.cut(a, rest) // asked again
		return nil
	}
	return s.take(a, p, rest, false)
}

func (s *Session) accept(a *Answered, text string, i int) error {
	slot := s.plan.Slots[i]
	num, words, _ := strings.Cut(text, " ")
	n, err := strconv.Atoi(num)
	if err != nil || n < 1 || n > len(slot.Check.Causes) {
		return fmt.Errorf("%q is not one of the causes shown\nhint: cause 1 to %d, then your own words if you like", clip(num), len(slot.Check.Causes))
	}
	if err := s.step(engine.Event{Kind: engine.Accept}); err != nil {
		return err
	}
	s.counts.Accepted++
	a.record("accepted", "slot", slot.ID, "cause", slot.Check.Causes[n-1], "words", words, "by", s.operator())
	a.say("Accepted", fmt.Sprintf("by %s: %s", s.operator(), slot.Check.Causes[n-1]))
	if first := s.wrote[len(s.wrote)-1]; first.Slot == i {
		s.remember(first)
	}
	rest := s.pending
	s.pending = nil
	return s.goOn(a, rest, slot.Line)
}
