package plan

import (
	"errors"
	"math"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/unit"
)

// Rungs of the ramp are whole steps of this size below the lamp's ceiling.
const rungStep = 5 // percent of tap volts

// chooseLamps picks the bulb for the transformer alone and the bulb for the
// ramp from those the bench has.
func (p *Plan) chooseLamps() error {
	tap := p.Model.Nominal
	var best circuit.Lamp
	var ceiling unit.Volt
	for _, w := range p.Bench.Lamps {
		lamp := circuit.Lamp{Watts: w, Volts: p.Bench.LampVolts}
		c, err := p.Model.Ceiling(lamp, tap)
		if err != nil {
			return err
		}
		if c > ceiling {
			best, ceiling = lamp, c
		}
	}
	first, ok := p.firstLamp()
	if !ok || ceiling == 0 {
		return errors.New("no bulb on this bench fits the transformer-only test\nhint: 25 to 40 W filament lamps at 230 V")
	}
	top := math.Floor(float64(ceiling/tap)*100/rungStep) * rungStep
	p.Lamps = Lamps{
		First: first, Ramp: best, Ceiling: ceiling,
		Top: unit.Percent(min(top, 100)), Change: first.Watts != best.Watts,
	}
	return nil
}

// firstLamp is the smallest bulb that passes at least 0.11 A, else the largest
// below that.
func (p *Plan) firstLamp() (circuit.Lamp, bool) {
	var pick circuit.Lamp
	for _, w := range p.Bench.Lamps {
		lamp := circuit.Lamp{Watts: w, Volts: p.Bench.LampVolts}
		switch {
		case pick.Watts == 0,
			lamp.Rated() >= firstLampAmps && (pick.Rated() < firstLampAmps || lamp.Watts < pick.Watts),
			lamp.Rated() < firstLampAmps && pick.Rated() < firstLampAmps && lamp.Watts > pick.Watts:
			pick = lamp
		}
	}
	return pick, pick.Watts > 0
}

const firstLampAmps unit.Ampere = 0.11 // common practice: 0.11 to 0.17 A for the transformer alone
