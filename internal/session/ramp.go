package session

import (
	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/unit"
)

// Ramp is what the circuit says of each step at which HT1 is read while the
// volts are turned up, first with the lamp in and then without.
type Ramp struct {
	TwoSidedFrom unit.Percent // of tap volts: HT1 has a lower bound from here
	Rating       unit.Volt    // the lowest of the two electrolytics; 0: not known
	Steps        []RampStep
	Unknown      []string // slots of HT1 at a step that has no figures
}

// RampStep is one step of a raise, with the window of HT1 there.
type RampStep struct {
	Rung     unit.Percent // of tap volts
	Lamp     *circuit.Lamp
	TwoSided bool // the window of HT1 has a low side
	Figures  checks.Figures
	HT1      checks.Window
}

// RampOf collects the steps of a card. A step that is read in several lead
// positions with the same lamp stands once.
func RampOf(p *plan.Plan, lines []CardLine) Ramp {
	r := Ramp{TwoSidedFrom: twoSidedFrom(p)}
	type key struct {
		rung unit.Percent
		in   bool
	}
	seen := map[key]bool{}
	for _, l := range lines {
		for _, c := range l.Readings {
			k := key{c.Slot.Rung, l.Block.Lamp != nil}
			switch {
			case !ofRamp(c.Slot) || seen[k]:
			case c.Step == nil:
				r.Unknown = append(r.Unknown, c.Slot.ID)
			default:
				seen[k], r.Rating = true, c.Step.Figures.Rating
				r.Steps = append(r.Steps, *c.Step)
			}
		}
	}
	return r
}

// ofRamp tells whether a slot is HT1 at a step of a raise.
func ofRamp(s plan.Slot) bool { return s.Check.ID == "ht-reservoir" && s.Rung > 0 }

// rampStep gives the figures of slot i beside its window w, nil where it is no
// step or has none.
func (s *Session) rampStep(i int, w checks.Window) *RampStep {
	slot := s.plan.Slots[i]
	if !ofRamp(slot) {
		return nil
	}
	k := s.caseOf(i)
	f, err := checks.FiguresOf(k)
	if err != nil {
		return nil
	}
	return &RampStep{Rung: slot.Rung, Lamp: k.Lamp, TwoSided: k.TwoSided, Figures: f, HT1: w}
}
