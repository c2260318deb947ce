package session

import (
	"slices"
	"strings"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
)

// Cautions are what stands while a stage of a plan is worked on, and each caution
// of its readings, as a session shows them. Paper proves nothing: with mains off
// the set counts as live and charged.
func Cautions(p *plan.Plan, stage string) []Row {
	s := New(p, "", Instant{})
	var asked Prompt
	for i, slot := range p.Slots {
		if slot.Stage != stage {
			continue
		}
		asked.Fields = append(asked.Fields, Field{Slot: i})
		if supply := p.Blocks[slot.Block].Supply; supply.Energised() {
			s.state.Supply = supply
		}
	}
	standing := s.Standing()
	var rows []Row
	for _, line := range standing {
		signal, text, _ := strings.Cut(line, " - ")
		rows = append(rows, Row{signal, text})
	}
	s.cautioned["mains-on"] = s.state.Supply.Energised() // said by what stands
	s.cautioned["high-voltage"] = len(standing) > 1
	return append(rows, s.cautionRows(asked)...)
}

// Ending is how the session will end as things stand, when all that is owed
// passes, and why it is no more than that; no reason: the owner has had the
// cautions and the set may be handed back.
func (s *Session) Ending() (result, why string) { return s.resultText(), s.whyNotBack() }

// Repair is what naming one row of the alterations as the repair of the stop that
// stands would cost.
type Repair struct {
	Class plan.Class
	Twice bool // it does not explain the reading that stopped
	Cost  plan.Again
}

// Repairs are all of them, from a state in which the set is made safe.
func (s *Session) Repairs(safe engine.State) []Repair {
	var out []Repair
	for n, c := range s.plan.Classes {
		events, twice := s.mendEvents([]engine.Class{engine.Class(n)})
		if cost, err := s.plan.Again(safe, events); err == nil {
			out = append(out, Repair{c, twice, cost})
		}
	}
	return out
}

// Kept are the ids of the readings that are held.
func (s *Session) Kept() []string {
	var held []int
	for i := range s.plan.Slots {
		if s.state.Held.Has(i) {
			held = append(held, i)
		}
	}
	return s.namesOf(held)
}

// OpenQueries are the paths on which an accepted query stands.
func (s *Session) OpenQueries() []string {
	return slices.DeleteFunc(slices.Clone(s.plan.Paths), func(path string) bool {
		bit := slices.Index(s.plan.Paths, path)
		return s.state.Standing&(1<<bit) == 0
	})
}
