package session

import (
	"maps"
	"slices"
	"strings"

	"example.com/powerup/internal/plan"
)

// Valued gives the slots whose values windows may follow from now.
func (s *Session) Valued() []int {
	var out []int
	for _, v := range s.values {
		out = append(out, v.slot)
	}
	return out
}

// RepeatsOf are the slots that are read again.
func RepeatsOf(p *plan.Plan) string {
	var out []string
	for _, j := range slices.Sorted(maps.Values(repeats(p))) {
		out = append(out, p.Slots[j].ID)
	}
	return strings.Join(out, " ")
}

// Split is what is said of a line against the fields of a prompt.
func Split(p Prompt, line string) error {
	_, err := split(p, line)
	return err
}
