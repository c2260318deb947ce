package session

import (
	"errors"
	"fmt"
	"slices"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
)

// errDerivedSecond tells how a query on a worked-out value gets its second
// reading: by hand it would be no reading at all.
var errDerivedSecond = errors.New("this value is worked out from other readings\nhint: wrong N takes one of them back; read it again, and where the result agrees a cause may answer for it")

// againDerived lets a worked-out query that came out the same after one of its
// readings was taken again count as read a second time (INV-23).
func (s *Session) againDerived(a *Answered, r Reading) {
	slot := s.plan.Slots[r.Slot]
	if slot.Check.Answer != checks.Derived || !s.state.Queried {
		return
	}
	for n := len(s.wrote) - 2; n >= 0; n-- {
		before := s.wrote[n]
		if before.Slot != r.Slot || before.Verdict != engine.Query || !s.inputsSince(slot.Check.Inputs, n) {
			continue
		}
		if agree(before.Value.Value, r.Value.Value, volts("second-agree")/100) && s.step(engine.Event{Kind: engine.Agree}) == nil {
			a.say("Agrees", fmt.Sprintf("with entry %d, its readings taken again: a cause may now answer for it.", before.Number))
		}
		return
	}
}

// inputsSince tells whether one of the checks was read after entry n.
func (s *Session) inputsSince(inputs []string, n int) bool {
	return slices.ContainsFunc(s.wrote[n+1:], func(r Reading) bool {
		return slices.Contains(inputs, s.plan.Slots[r.Slot].Check.ID)
	})
}
