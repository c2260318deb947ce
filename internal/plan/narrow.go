package plan

import (
	"fmt"
	"math"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Narrowed is window w with the author's own lines: they can only take away
// from what passes. The query and stop lines stay the check's.
func Narrowed(w checks.Window, n *sheet.Narrower) (checks.Window, error) {
	if n == nil {
		return w, nil
	}
	own, err := authorLines(w.Kind, n)
	if err != nil {
		return checks.Window{}, err
	}
	w.Pass.Lo, w.Pass.Hi = max(w.Pass.Lo, own.Lo), min(w.Pass.Hi, own.Hi)
	if !(w.Pass.Lo <= w.Pass.Hi) {
		return checks.Window{}, fmt.Errorf("the author's lines leave nothing that passes")
	}
	w.Sum += "; narrower by the procedure: " + n.Because
	return w, nil
}

func authorLines(k unit.Kind, n *sheet.Narrower) (checks.Interval, error) {
	own := checks.Interval{Lo: math.Inf(-1), Hi: math.Inf(1)}
	var err error
	if n.Min != "" {
		if own.Lo, err = unit.Parse(k, n.Min); err != nil {
			return own, err
		}
	}
	if n.Max != "" {
		if own.Hi, err = unit.Parse(k, n.Max); err != nil {
			return own, err
		}
	}
	return own, nil
}

// narrow refuses an author's window that is wider than the check's own
// (INV-17), that leaves nothing, or that stands at a check without one.
func (p *Plan) narrow() error {
	for _, s := range p.Slots {
		if s.Narrow == nil {
			continue
		}
		if err := p.narrowSlot(s); err != nil {
			return fmt.Errorf("%s: INV-17: %s: %w", s.Narrow.At, s.Check.ID, err)
		}
	}
	return nil
}

func (p *Plan) narrowSlot(s Slot) error {
	if s.Check.Rule == nil {
		return fmt.Errorf("this check has no window to narrow")
	}
	own, err := authorLines(s.Check.Kind, s.Narrow)
	if err != nil {
		return err
	}
	if !(own.Lo <= own.Hi) {
		return fmt.Errorf("the author's lines leave nothing that passes")
	}
	w, err := s.Check.Rule(p.caseOf(s))
	if err != nil {
		return nil // follows from readings; the narrower line only takes away then too
	}
	if s.Narrow.Min != "" && own.Lo < w.Pass.Lo || s.Narrow.Max != "" && own.Hi > w.Pass.Hi {
		return fmt.Errorf("the author's window is wider than the check's own\nhint: from %s, up to %s", bound(w.Kind, w.Pass.Lo), bound(w.Kind, w.Pass.Hi))
	}
	_, err = Narrowed(w, s.Narrow)
	return err
}

func bound(k unit.Kind, x float64) string {
	if math.IsInf(x, 0) {
		return "any"
	}
	return unit.Round(unit.Quantity{Kind: k, Value: x}, 4).String()
}

// caseOf is what a window follows from before anything is read.
func (p *Plan) caseOf(s Slot) checks.Case {
	return checks.Case{
		Set: p.Set, Profile: p.Profile, Bench: p.Bench, Meter: s.Meter, Model: p.Model,
		Lamp: p.Blocks[s.Block].Lamp, Item: s.Item, Rung: s.Rung, Taken: map[string]unit.Quantity{},
	}
}
