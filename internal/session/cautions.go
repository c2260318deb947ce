package session

import (
	"slices"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/unit"
)

// cautionRows give the cautions of a prompt that have not stood in this session
// yet: each is read once where it first counts, and not skipped over for ever.
func (s *Session) cautionRows(p Prompt) []Row {
	var rows []Row
	for _, id := range s.cautionsOf(p) {
		if s.cautioned[id] {
			continue
		}
		if c, ok := checks.CautionOf(id); ok {
			rows = append(rows, Row{string(c.Signal), strings.ReplaceAll(c.Text, "{volts}", s.cautionVolts(id))})
		}
	}
	return rows
}

// cautionVolts are the most there can be of what a caution is about.
func (s *Session) cautionVolts(id string) string {
	if id == "mains-on" {
		return "up to " + show(unit.KindVolt, float64(s.plan.Profile.MainsTop))
	}
	return "up to " + s.htText()
}

// cautionsOf are the ids that the readings of a prompt carry; before mains goes
// on those of the whole block.
func (s *Session) cautionsOf(p Prompt) []string {
	var ids []string
	add := func(more []string) {
		for _, id := range more {
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	for _, f := range p.Fields {
		if f.Slot >= 0 {
			add(s.plan.Slots[f.Slot].Check.Cautions)
		}
	}
	if p.ID == "power" {
		for _, slot := range s.plan.Slots {
			if s.plan.Blocks[slot.Block].ID == p.Block {
				add(slot.Check.Cautions)
			}
		}
	}
	return ids
}
