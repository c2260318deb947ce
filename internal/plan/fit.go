package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// fit refuses a kit that would be a hazard itself (INV-41): a meter or leads
// that the set's highest HT can over-run, or that are not made for mains.
func (p *Plan) fit() error {
	if p.Set.Output.Bias == "fixed" {
		return errors.New("INV-29: fixed bias is not done yet: HT on an output valve without proved bias burns it in seconds\nhint: cathode-biased output valves only, for now")
	}
	top := p.Model.NoLoadHT(p.Profile.MainsTop)
	work, err := p.Model.AtSet(p.Model.Nominal, nil)
	if err != nil {
		return fmt.Errorf("the HT supply cannot be computed: %w", err)
	}
	if scope := limits.Lookup("scope-ht"); float64(work.HT1) > scope.Value.Value {
		return fmt.Errorf("INV-28: HT works at %s, above %s: outside what this program does\nhint: high-HT amplifiers, television and transmitters are for other hands", round(work.HT1), scope.Value)
	}
	if p.Bench.Training { // INV-24
		return errors.New("this bench is for training, and a trainer's release by key is not built yet\nhint: work alone or as an equal, without training: true; the record then says: no witness")
	}
	if !p.Bench.RCD && p.Bench.Isolating == "" {
		return errors.New("this bench has neither an RCD nor an isolating transformer: nothing cuts a shock short\nhint: a portable RCD is the least; say rcd: true when it is there")
	}
	if !p.Bench.Variable && !p.Boxed {
		return errors.New("this bench has no variable transformer, and raising a set by lamps of more and more watts is not built yet\nhint: say variable-transformer: true when one is there")
	}
	for _, m := range p.Bench.Meters {
		if err := fitMeter(p.Meters[m.Sheet], m.Letter, top); err != nil {
			return err
		}
	}
	if t := p.meter(testerLetter); t != nil {
		return fitMeter(t, testerLetter, top)
	}
	return nil
}

func fitMeter(m *sheet.Meter, letter string, top unit.Volt) error {
	if m.MaxVolts < top {
		return fmt.Errorf("INV-41: meter %s (%s) and its leads stand %s, and HT without load can reach %s\nhint: another meter, or leads of the right rating", letter, m.Name, m.MaxVolts, round(top))
	}
	if !slices.ContainsFunc([]string{"CAT II ", "CAT III ", "CAT IV "}, func(c string) bool { return strings.HasPrefix(m.Category+" ", c) }) {
		return fmt.Errorf("INV-41: meter %s (%s) is marked %q, and at mains points CAT II is the least", letter, m.Name, m.Category)
	}
	return nil
}

func round(v unit.Volt) string { return unit.Round(v.Quantity(), 3).String() }

// notAtVolts makes up for a kit that cannot test the HT line at volts (INV-55):
// each step up to the first that surely shows HT is held ten minutes under the
// HT watch.
func (p *Plan) notAtVolts() {
	if p.AtVolts() {
		return
	}
	for i := range p.Lines {
		for _, s := range p.Lines[i].Slots {
			slot := p.Slots[s]
			if slot.Stage != rampStage || slot.Check.ID != "ht-reservoir" {
				continue
			}
			p.Lines[i].Wait = unit.Second(limits.Lookup("not-at-volts-hold").Value.Value)
			if slot.Rung >= p.emitsFrom() {
				return
			}
		}
	}
}

// emitsFrom is the step from which the rectifier gives HT at all: one without a
// heater at once.
func (p *Plan) emitsFrom() unit.Percent {
	if v, ok := limits.ValveOf(p.Set.Rectifier); ok && v.Rectifier != nil {
		return unit.Percent(limits.Lookup("emits-from").Value.Value)
	}
	return 0
}

// AtVolts tells whether the HT line is tested at volts before any HT.
func (p *Plan) AtVolts() bool {
	return p.Boxed || slices.ContainsFunc(p.Slots, func(s Slot) bool { return s.Check.ID == "ht-leak" })
}
