package session

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

// Standing is the caution for the present state of the supply. It is first and
// last on the screen and cannot be scrolled or paged away.
func (s *Session) Standing() []string {
	switch {
	case s.state.Supply.Energised():
		return s.standingOn()
	case s.told != nil && s.told.cost.After.Supply != engine.Dead:
		return nothingProved()
	case s.state.Supply == engine.Dead && s.state.Unproved != 0:
		return []string{"DANGER - CHARGED BY A TEST: " + s.nodeNames(s.state.Unproved) + ". Hands off until it is proved dead."}
	case s.state.Supply == engine.Dead:
		return []string{fmt.Sprintf("%s at %s. Good until %s, or until you leave the bench.", strings.ToUpper(s.deadText()), s.proofAt.clock(), s.goodUntil())}
	}
	return nothingProved()
}

func nothingProved() []string {
	return []string{"DANGER - TREAT AS LIVE AND CHARGED. Nothing is proved dead."}
}

// deadText says how far the set is proved dead.
func (s *Session) deadText() string {
	switch {
	case s.plan.Boxed:
		return "plug pins proved dead, not the inside"
	case s.state.Proof == engine.LeadProof:
		return "dead for one move"
	}
	return "proved dead"
}

// standingOn takes the most there can be: behind a lamp, too, the set sees the
// whole mains when it draws little.
func (s *Session) standingOn() []string {
	mains := show(unit.KindVolt, float64(s.plan.Profile.MainsTop))
	if s.state.Supply == engine.Limited && !s.plan.Boxed {
		return []string{fmt.Sprintf("DANGER - MAINS ON, up to %s at the set, %s peak at its HT winding. One hand, no touching metal, emergency off in reach.", mains, s.htText())}
	}
	return []string{
		fmt.Sprintf("DANGER - MAINS ON, up to %s at the set. One hand, no touching metal, emergency off in reach.", mains),
		fmt.Sprintf("DANGER - HIGH VOLTAGE up to %s d.c. Can kill. Leads are clipped on dead; do not move them.", s.htText()),
	}
}

func (s *Session) htText() string { return show(unit.KindVolt, float64(s.htBound())) }

func (s *Session) goodUntil() string {
	idle := s.entryAt.plus(seconds("proof-idle"))
	longest := s.proofAt.plus(seconds("proof-longest"))
	if longest.Mono < idle.Mono {
		idle = longest
	}
	return idle.clock()
}

func (i Instant) clock() string { return i.Wall.Format("15:04") }

func withItem(text, item string) string { return strings.ReplaceAll(text, "{item}", item) }
