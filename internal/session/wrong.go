package session

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
)

// wrong takes back the reading of an entry that was typed wrongly. Nothing is
// edited: the old entry stays on the record, and the reading is asked for again
// with what may have been decided by it.
func (s *Session) wrong(a *Answered, text string) error {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n < 1 || n > len(s.wrote) {
		return fmt.Errorf("there is no entry %q\nhint: wrong and the number of a reading, 1 to %d", clip(text), len(s.wrote))
	}
	r := s.wrote[n-1]
	if s.plan.Slots[r.Slot].Check.Answer == checks.Derived {
		return fmt.Errorf("entry %d is worked out from others\nhint: wrong and the number of the one that was typed wrongly", n)
	}
	before := s.state.Held
	if err := s.takeBack(r.Slot); err != nil {
		return err
	}
	slot := s.plan.Slots[r.Slot]
	a.record("wrong", "number", strconv.Itoa(n), "slot", slot.ID, "say", r.Raw)
	a.say("Taken back", fmt.Sprintf("entry %d, %s %s: it stays on the record, marked wrong", n, fieldName(slot.Check, s.item(r.Slot)), r.Raw))
	s.tellLost(a, before)
	return nil
}

// takeBack ends the newest reading of slot i, and what was known by it.
func (s *Session) takeBack(i int) error {
	if err := s.step(engine.Event{Kind: engine.Retract, Slot: i}); err != nil {
		return err
	}
	s.forgetLine()
	if s.plan.Slots[i].Check.Supply.Energised() { // mains or scale may have been told by it
		s.forgetSupply()
	}
	return nil
}
