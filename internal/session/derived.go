package session

import (
	"errors"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
)

// runDerived judges what is computed from readings as soon as it is owed.
func (s *Session) runDerived(a *Answered) {
	for s.phase == working && s.told == nil && s.state.Mode == engine.Working && !s.state.Queried {
		todo := s.todo()
		if todo.Act == engine.Enter && s.absent(todo.Slot) {
			if err := s.leaveAbsent(a, todo.Slot); err != nil {
				a.say("Not taken", err.Error())
				return
			}
			continue
		}
		if todo.Act != engine.Enter || s.plan.Slots[todo.Slot].Check.Answer != checks.Derived {
			return
		}
		if err := s.derive(a, todo.Slot); err != nil {
			a.say("Not taken", err.Error())
			return
		}
	}
}

// absent tells whether the set has no such part, as an earlier reading showed.
func (s *Session) absent(i int) bool {
	if !s.plan.Engine.Slots[i].MayLack {
		return false
	}
	_, err := s.window(i)
	return errors.Is(err, checks.ErrAbsent)
}

func (s *Session) leaveAbsent(a *Answered, i int) error {
	if err := s.step(engine.Event{Kind: engine.Leave, Absent: true}); err != nil {
		return err
	}
	a.record("no-such-part", "slot", s.plan.Slots[i].ID)
	return nil
}

// derive judges what slot i is worked out to. What gives no value is left where
// it may be; where it guards somebody, its readings are taken again: a prompt
// that nothing answers must not stand.
func (s *Session) derive(a *Answered, i int) error {
	slot := s.plan.Slots[i]
	q, err := slot.Check.Derive(s.caseOf(i))
	unsettled := errors.Is(err, checks.ErrUnsettled)
	switch {
	case unsettled && s.now.since(s.powerAt) >= seconds("soak-longest"):
		return s.put(a, Reading{Slot: i, Prompt: "derived", Verdict: engine.Stop, Reason: factOf(err)}, nil)
	case err != nil && !unsettled && s.missed(i):
		s.remade[i] = true
		return s.readAgain(a, i, err)
	case err != nil && !unsettled && slot.Check.Crit == engine.E:
		return s.leave(a, i)
	case err != nil:
		return s.readAgain(a, i, err)
	}
	w, err := s.window(i)
	if err != nil {
		return s.readAgain(a, i, err)
	}
	shown := meter.Read(q.Value, 0)
	j := judge(w, shown, slot.Check.Crit)
	raw := strings.Join(slot.Check.Inputs, " ")
	return s.put(a, Reading{Slot: i, Prompt: "derived", Raw: raw, Value: q, Verdict: j.Verdict, Reason: j.Reason}, &judged{window: w, shown: shown})
}

// missed tells whether of the series that slot i is worked out from some were read
// and some left: the series is then made once more, and takes longer by it.
func (s *Session) missed(i int) bool {
	read, left := false, false
	for j := range s.plan.Slots {
		if s.plan.Slots[j].After > 0 && s.plan.Engine.Sources(i).Has(j) {
			read, left = read || s.state.Held.Has(j), left || s.state.Unread.Has(j)
		}
	}
	return read && left && !s.remade[i]
}

// readAgain takes back the readings of its own stage that slot i would be worked
// out from. Without any, it is left where it may be.
func (s *Session) readAgain(a *Answered, i int, why error) error {
	before := s.state.Held
	sources := s.plan.Engine.Sources(i)
	if sources == (engine.Facts{}) {
		return s.leave(a, i)
	}
	for j := range s.plan.Slots {
		if sources.Has(j) {
			if err := s.step(engine.Event{Kind: engine.Retract, Slot: j}); err != nil {
				return err
			}
		}
	}
	slot := s.plan.Slots[i]
	a.record("read-again", "slot", slot.ID, "because", factOf(why))
	a.say("Again", Titled(slot.Check, slot.Item)+" cannot be worked out: "+factOf(why))
	s.tellLost(a, before)
	return nil
}

// factOf is an error without its hint, which is for another place.
func factOf(err error) string {
	fact, _, _ := strings.Cut(err.Error(), "\n")
	return fact
}
