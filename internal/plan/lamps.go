package plan

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// chooseLamps picks the bulb for the transformer alone and the bulb for the
// ramp from those the bench has. The circuit decides; a kit without a fitting
// bulb is refused.
func (p *Plan) chooseLamps() error {
	lamps := make([]circuit.Lamp, len(p.Bench.Lamps))
	for i, w := range p.Bench.Lamps {
		lamps[i] = circuit.Lamp{Watts: w, Volts: p.Bench.LampVolts}
	}
	tap := p.Model.Nominal
	c, err := circuit.ChooseLamps(p.Model, lamps, tap, p.size())
	if err != nil {
		return err
	}
	if c.First == nil || c.Ramp == nil {
		return errors.New("no bulb on this bench can judge the transformer alone: " + strings.Join(c.Refused, "; ") + "\nhint: 25 to 40 W filament lamps at 230 V")
	}
	if !c.TwoSided { // INV-56
		return fmt.Errorf("INV-56: no bulb on this bench lets this set reach %s of its tap: the largest carries it to %s\nhint: HT cannot be proved before the lamp comes out; a larger filament lamp is wanted, 100 W at 230 V for a set of some 50 W",
			limits.Lookup("two-sided").Value, round(c.Ceiling))
	}
	step := limits.Lookup("ceiling-step").Value.Value
	top := math.Floor(float64(c.Ceiling/tap)*100/step) * step
	p.Lamps = Lamps{
		First: *c.First, Ramp: *c.Ramp, Ceiling: c.Ceiling,
		Top: unit.Percent(min(top, 100)), Change: c.First.Watts != c.Ramp.Watts,
		Tells: c.Tells, Each: c.Each,
	}
	return nil
}

// size is the transformer's rating, from the sheet or from the set's watts.
func (p *Plan) size() unit.VoltAmpere {
	switch {
	case p.Set.Transformer.Rating != nil:
		return *p.Set.Transformer.Rating
	case p.Set.Watts != nil:
		return unit.VoltAmpere(float64(*p.Set.Watts) / limits.Lookup("va-of-watts").Value.Value)
	}
	return 0
}
