package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
)

// tellCarried says what a resume finds: what stands and how old it is, what has
// lapsed and why, and what is owed. Left is what was held when it was left, held what
// of it an alteration that nobody answered for has not ended; old is why nothing
// stands any more that stands for a day; empty: it does.
func (s *Session) tellCarried(a *Answered, left, held engine.Facts, old string) {
	kept := s.lasting(s.state.Held)
	lapsed := s.lasting(held.Without(s.state.Held))
	if len(kept) > 0 {
		a.say("Carried", s.ageText(kept)+": "+strings.Join(s.stagesOf(kept), ", "))
	}
	if until, ok := s.dayEnds(); ok {
		a.say("Until", s.moment(until)+": insulation, bond and HT line, which stand for a day")
	}
	if touched := s.lasting(left.Without(held)); len(touched) > 0 {
		a.say("Lapsed", "touched, and the word for it never came: "+strings.Join(s.stagesOf(touched), ", "))
	}
	for _, why := range []struct {
		text string
		of   func(engine.Slot) bool
	}{
		{old, func(slot engine.Slot) bool { return old != "" && slot.Life == engine.Day }},
		{"for one session only", func(slot engine.Slot) bool { return slot.Life == engine.Session || slot.Hold }},
		{"a stage with mains on begins again", func(engine.Slot) bool { return true }},
	} {
		var gone []int
		gone, lapsed = s.part(lapsed, why.of)
		if len(gone) > 0 {
			a.say("Lapsed", why.text+": "+strings.Join(s.stagesOf(gone), ", "))
		}
	}
	a.say("Owed", s.owedText())
}

// lasting are the slots of f that are read, and do not go with their period.
func (s *Session) lasting(f engine.Facts) []int {
	var out []int
	for i := range s.plan.Slots {
		if slot := s.plan.Engine.Slots[i]; f.Has(i) && slot.Life != engine.Period && !slot.Derived {
			out = append(out, i)
		}
	}
	return out
}

// part takes out of some slots those of a kind.
func (s *Session) part(slots []int, of func(engine.Slot) bool) (taken, rest []int) {
	for _, i := range slots {
		if of(s.plan.Engine.Slots[i]) {
			taken = append(taken, i)
		} else {
			rest = append(rest, i)
		}
	}
	return taken, rest
}

// stagesOf are the stages of some slots; a hold and the look through the lamp stand
// for themselves.
func (s *Session) stagesOf(slots []int) []string {
	var out []string
	for _, i := range slots {
		slot := s.plan.Slots[i]
		name := cmp.Or(slot.Hold, slot.Stage)
		if slot.Look {
			name = "the look through the lamp"
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// ageText counts held readings and says how old the oldest is.
func (s *Session) ageText(kept []int) string {
	n, oldest := 0, time.Time{}
	for _, i := range kept {
		if at, ok := s.heldSince(i); ok {
			n++
			if oldest.IsZero() || at.Before(oldest) {
				oldest = at
			}
		}
	}
	switch {
	case n == 0:
		return "no reading"
	case n == 1 && !oldest.After(s.now.Wall):
		return fmt.Sprintf("one reading, of %s, %s", s.moment(oldest), ageOf(s.now.Wall.Sub(oldest)))
	case oldest.After(s.now.Wall):
		return fmt.Sprintf("%d readings, their age not known: the clock was set back", n)
	}
	return fmt.Sprintf("%d readings, the oldest of %s, %s", n, s.moment(oldest), ageOf(s.now.Wall.Sub(oldest)))
}

// dayEnds is when the first held reading that stands for a day lapses.
func (s *Session) dayEnds() (until time.Time, ok bool) {
	for i := range s.plan.Slots {
		at, held := s.heldSince(i)
		if !held || s.plan.Engine.Slots[i].Life != engine.Day {
			continue
		}
		if end := at.Add(seconds("day")); !ok || end.Before(until) {
			until, ok = end, true
		}
	}
	return until, ok
}

// moment is a time of day, with its date when that is not today's.
func (s *Session) moment(at time.Time) string {
	at = at.In(s.now.Wall.Location())
	if at.Format(time.DateOnly) == s.now.Wall.Format(time.DateOnly) {
		return at.Format("15:04")
	}
	return at.Format("2 Jan 15:04")
}

// ageOf is how long ago something was, in one unit.
func ageOf(d time.Duration) string {
	switch {
	case d < time.Minute:
		return "just now"
	case d < 90*time.Minute:
		return fmt.Sprintf("%d min ago", int(d.Minutes()))
	case d < 36*time.Hour:
		return fmt.Sprintf("%d h ago", int(d.Hours()))
	}
	return fmt.Sprintf("%d days ago", int(d.Hours()/24))
}

// owedText is what is left to the end, when everything passes.
func (s *Session) owedText() string {
	way, _ := s.plan.Onward(s.state)
	if !way.Whole {
		return "lines and minutes not known before a repair"
	}
	text := plan.Total(way.Parts()).String() + ", when everything passes"
	if s.Stopped() {
		text += "; first the repair, and what it voids comes on top"
	}
	return text
}
