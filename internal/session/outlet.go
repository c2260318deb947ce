package session

import (
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

// noteMains takes today's mains from the outlet, after mains was on in a block.
// Volts that no mains has are on the record, and said: no window follows from
// them.
func (s *Session) noteMains(a *Answered, fields []Field, words []string, block int) {
	for n, f := range fields {
		if f.Node != atMains {
			continue
		}
		before := s.mainsRead
		e, _ := unit.ParseEntry(unit.KindVolt, words[n])
		if !s.mainsIs(unit.Volt(e.Value)) {
			a.say("Mains?", fmt.Sprintf("%s is no mains of this country: not used. Read the outlet again at the next proof.", show(unit.KindVolt, e.Value)))
		}
		s.bracket(a, block, before)
	}
}

// mainsIs takes v for today's mains, unless no mains has so many volts: then nobody
// knows what it is.
func (s *Session) mainsIs(v unit.Volt) bool {
	low := unit.Volt(volts("outlet-low")) * s.plan.Profile.MainsLow
	high := unit.Volt(volts("outlet-high")) * s.plan.Profile.MainsTop
	if s.mainsRead = v; !(v >= low && v <= high) {
		s.mainsRead = 0
	}
	return s.mainsRead > 0
}

// bracket takes back what was judged by the outlet's volts of before, where
// those of after do not agree: nobody knows what the set had meanwhile (INV-16).
func (s *Session) bracket(a *Answered, block int, before unit.Volt) {
	if before == 0 || s.plan.Blocks[block].AtLampBox() || agree(float64(before), float64(s.mainsRead), volts("outlet-agree")/100) {
		return
	}
	held := s.state.Held
	for i, slot := range s.plan.Slots {
		if slot.Block == block && held.Has(i) && slot.Check.Life > engine.Period {
			_ = s.step(engine.Event{Kind: engine.Retract, Slot: i}) // refused after a stop, which takes more back
		}
	}
	if held == s.state.Held {
		return
	}
	a.record("outlet-moved", "before", before.String(), "after", s.mainsRead.String())
	a.say("Outlet", fmt.Sprintf("%v before mains was on, %v after: what was read between does not count", before, s.mainsRead))
	s.tellLost(a, held)
}
