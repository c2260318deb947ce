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
	case s.state.Supply == engine.Dead:
		return []string{fmt.Sprintf("PROVED DEAD at %s. Good until %s, or until you leave the bench.", s.proofAt.clock(), s.goodUntil())}
	}
	return []string{"DANGER - TREAT AS LIVE AND CHARGED. Nothing is proved dead."}
}

func (s *Session) standingOn() []string {
	set := s.plan.Model.Nominal
	if s.state.Supply == engine.Full {
		set = s.plan.Profile.MainsTop
	}
	lines := []string{fmt.Sprintf("DANGER - MAINS ON, up to %s at the set. One hand, no touching metal, emergency off in reach.", show(unit.KindVolt, float64(set)))}
	if s.plan.Blocks[s.state.Block-1].Supply >= engine.Raised {
		lines = append(lines, fmt.Sprintf("DANGER - HIGH VOLTAGE up to %s d.c. Can kill. Leads are clipped on dead; do not move them.", s.htText()))
	}
	return lines
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
