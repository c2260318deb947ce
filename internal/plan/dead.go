package plan

import (
	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/sheet"
)

// dead lays out a stage on a set without mains: one block, a line for each run
// of checks that share a place.
func (b *builder) dead() error {
	block := b.p.addBlock(Block{ID: b.stage.Stage, Stage: b.stage.Stage, Stands: standsIn(b.stage.Stage), Note: b.stage.Note, Supply: b.supply})
	place := ""
	for i, step := range b.stage.Steps {
		if step.Hold != "" {
			if err := b.holdHere(i); err != nil {
				return err
			}
			place = ""
			b.hold(step, block)
			continue
		}
		readings, err := b.readings(step, step.Check)
		if err != nil {
			return err
		}
		for _, r := range readings {
			at := deadPlaces[r.check.ID]
			if at == "" {
				at = r.check.ID
			}
			if at != place {
				place = at
				b.p.Lines = append(b.p.Lines, Line{ID: b.stage.Stage + "/" + at})
				b.continuity(r.check.ID, block)
			}
			b.add(r, block)
		}
	}
	return nil
}

// continuity puts the primary's ohms in front of an insulation test between
// mains and chassis: without it, an open switch passes (INV-40).
func (b *builder) continuity(id string, block int) {
	if id != "mains-insulation" && id != "warm-insulation" {
		return
	}
	c, ok := checks.Find("primary-here")
	if !ok {
		return
	}
	for _, item := range c.Items(b.p.Set) {
		b.add(reading{check: c, item: item}, block)
	}
}

func (b *builder) hold(step sheet.Step, block int) {
	b.p.Lines = append(b.p.Lines, Line{ID: step.Hold})
	b.p.addSlot(Slot{ID: step.Hold, Hold: step.Hold, Stage: b.stage.Stage, Block: block})
}

// add puts a reading on the line that was opened last.
func (b *builder) add(r reading, block int) {
	b.p.addSlot(Slot{
		ID: b.stage.Stage + "/" + slotID(r, 0), Check: r.check, Item: r.item, After: r.after, Narrow: r.narrow,
		Stage: b.stage.Stage, Block: block,
		Letter: b.p.letterFor(b.k, r.check.ID, r.item, r.check.Function),
	})
}

func (p *Plan) addBlock(b Block) int {
	p.Blocks = append(p.Blocks, b)
	return len(p.Blocks) - 1
}

// addSlot appends a slot to the line that was opened last.
func (p *Plan) addSlot(s Slot) {
	s.Line = len(p.Lines) - 1
	s.Meter = p.meter(s.Letter)
	p.Slots = append(p.Slots, s)
	p.Lines[s.Line].Slots = append(p.Lines[s.Line].Slots, len(p.Slots)-1)
}
