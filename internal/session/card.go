package session

import (
	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
)

// CardLine is one entry line of the bench card, with the windows of its
// readings as far as they are known before anything is touched.
type CardLine struct {
	ID       string
	Block    plan.Block
	Wait     float64 // seconds
	Readings []CardReading
	Cold     string // its mains comes on after so long off; empty: at once
	Then     string // what ends a line whose tests charge something; empty: nothing
}

// CardReading is one reading of the card.
type CardReading struct {
	Slot   plan.Slot
	Meter  string        // letter, function and range; empty: no instrument
	Leads  string        // where they go; empty: none are placed
	Window checks.Window // zero: not a number, or not known yet
	Expect string        // empty: not a number
	Danger string
	Why    string
	Weak   string    // what was taken from typical values
	Known  bool      // the window can be computed from the sheet alone
	Waits  string    // why it is not known yet
	Step   *RampStep // of HT1 at a step of a raise; nil: another reading, or not known
}

// Card is the whole work before anything is touched.
func Card(p *plan.Plan) []CardLine {
	s := New(p, "", Instant{})
	var out []CardLine
	for n, line := range p.Lines {
		out = append(out, s.CardLine(n, line.Slots))
	}
	return out
}

// CardLine is line n of the plan with some of its slots, and their windows as
// things stand.
func (s *Session) CardLine(n int, slots []int) CardLine {
	line := s.plan.Lines[n]
	c := CardLine{ID: line.ID, Wait: float64(line.Wait)}
	var nodes engine.Nodes
	for _, i := range slots {
		c.Block = s.plan.Blocks[s.plan.Slots[i].Block]
		c.Readings = append(c.Readings, s.cardReading(i))
		nodes |= s.plan.Engine.Slots[i].Charges
	}
	if c.Block.Cold > 0 {
		c.Cold = coldText(c.Block)
	}
	if nodes != 0 {
		c.Then = thenText(s.nodeFields(nodes))
	}
	return c
}

func (s *Session) cardReading(i int) CardReading {
	slot := s.plan.Slots[i]
	r := CardReading{Slot: slot, Leads: leadText(slot.Check, s.item(i))}
	if slot.Letter != "" {
		r.Meter = slot.Letter + ", " + meterText(slot.Check)
	}
	if slot.Hold != "" || slot.Check.Rule == nil {
		r.Known = true
		return r
	}
	w, err := s.window(i)
	if err != nil {
		r.Expect, r.Waits = "from readings before it", err.Error()
		return r
	}
	r.Known, r.Window, r.Step = true, w, s.rampStep(i, w)
	r.Expect, r.Danger, r.Why = Span(w.Kind, w.Pass), dangerText(w), w.Sum
	if w.Grade == checks.Typical {
		r.Weak = "typical: " + w.Typical
	}
	return r
}
