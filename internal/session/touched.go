package session

import (
	"errors"
	"fmt"
	"strings"

	"example.com/powerup/internal/engine"
)

// alterations reads the letters of what was touched: clauses of one letter and
// words, a semicolon between them. What names no row, or could hide a second
// letter in its words, is refused: an alteration that is not heard voids nothing.
func (s *Session) alterations(line string) ([]engine.Class, error) {
	clauses := strings.Split(line, ";")
	var out []engine.Class
	for _, clause := range clauses {
		words := strings.Fields(clause)
		if len(words) == 0 {
			return nil, errors.New("a letter is wanted before and after each semicolon")
		}
		classes := s.plan.ClassesOf(clause)
		switch {
		case s.plan.Inside(clause):
			return nil, fmt.Errorf("%q is work inside, and this part tests a closed set\nhint: park. Hands stay out of it until it is discharged and proved dead inside. Its open part is owed again, from the beginning: powerup run", clip(clause))
		case len(classes) == 0 && s.plan.Boxed:
			return nil, fmt.Errorf("%q is not one of the letters\nhint: n for nothing", clip(clause))
		case len(classes) == 0:
			return nil, fmt.Errorf("%q is not one of the letters\nhint: n for nothing, ? if you are not sure", clip(clause))
		case words[0] == "n" && len(clauses) > 1:
			return nil, errors.New("n is nothing at all, and stands alone")
		}
		for _, w := range words[1:] {
			if len(s.plan.ClassesOf(strings.Trim(w, ".,:+&/"))) > 0 {
				return nil, fmt.Errorf("%q could be a letter of its own\nhint: a semicolon between two alterations: p coupling; h second can", clip(w))
			}
		}
		out = append(out, classes...)
	}
	return out, nil
}

// alterEvents are what each class of a line of alterations is to the engine.
func (s *Session) alterEvents(classes []engine.Class) []engine.Event {
	var out []engine.Event
	for _, c := range classes {
		if s.plan.Classes[c].Letter != "n" {
			out = append(out, engine.Event{Kind: engine.Alter, Class: c})
		}
	}
	return out
}

// touched tells of an alteration while the session goes on.
func (s *Session) touched(a *Answered, line string) error {
	if s.phase != working && s.phase != askClose || s.Stopped() {
		return errors.New("this prompt has no place for it\nhint: touched is for a dead set at work; after a stop the repair is asked for")
	}
	classes, err := s.alterations(line)
	if err != nil {
		return err
	}
	s.counts.Words++
	return s.tell(a, alteration{classes: classes, line: line, events: s.alterEvents(classes)})
}

func (s *Session) lettersOf(classes []engine.Class) string {
	var out []string
	for _, c := range classes {
		out = append(out, s.plan.Classes[c].Letter)
	}
	return strings.Join(out, " ")
}

// asksLetter tells whether the present prompt asks what was touched or repaired.
func (s *Session) asksLetter() bool {
	return s.phase == askTouched || s.phase == working && s.todo().Act == engine.Repair
}
