package session

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"example.com/powerup/internal/engine"
)

// operatorName is what stands on records: one word, as in a file of known keys.
var operatorName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._@+-]{0,59}$`)

// overTo gives the bench to another pair of hands. Nothing that was read falls by
// it; who is within call is told anew, and holds are released by the one who goes
// on.
func (s *Session) overTo(a *Answered, rest string) error {
	to, name, _ := strings.Cut(rest, " ")
	name = strings.TrimSpace(name)
	switch {
	case to != "to" || !operatorName.MatchString(name):
		return fmt.Errorf("%q is nobody to go over to\nhint: over to NAME, one word of letters, digits, '.', '_', '@', '+' and '-'", clip(rest))
	case strings.EqualFold(name, s.operator()):
		return fmt.Errorf("%s works here already", s.operator())
	case s.state.Supply.Energised() || s.state.Mode == engine.LeftOn:
		return errors.New("the set is on: no hands change at a live set\nhint: switch off and give the proof that the next prompt asks for, then over to " + name)
	}
	if s.Stopped() {
		return errors.New("a stop stands: who was there at it tells cause and repair\nhint: make the set safe and name the repair, or park; then over to " + name)
	}
	before := s.state.Held
	for i, slot := range s.plan.Slots {
		if slot.Check.ID == "call" && s.state.Held.Has(i) {
			if err := s.step(engine.Event{Kind: engine.Retract, Slot: i}); err != nil {
				return fmt.Errorf("%w\nhint: not now; park keeps all, and a resume may go over to %s", err, name)
			}
		}
	}
	s.forgetLine()
	a.record("over", "from", s.operator(), "to", name)
	a.say("Over to", fmt.Sprintf("%s, from %s. The record is signed at its close by the key that %s unlocked.", name, s.operator(), s.plan.Bench.Operator))
	s.operators = append(s.operators, name)
	s.counts.Words++
	s.tellLost(a, before)
	return nil
}

// operator is who works now.
func (s *Session) operator() string {
	if n := len(s.operators); n > 0 {
		return s.operators[n-1]
	}
	return s.plan.Bench.Operator
}

// operatorsText is who has worked, in their order; empty where nobody took over.
func (s *Session) operatorsText() string {
	if len(s.operators) == 0 {
		return ""
	}
	return strings.Join(append([]string{s.plan.Bench.Operator}, s.operators...), ", ")
}
