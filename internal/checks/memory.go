package checks

import (
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/unit"
)

// Memory keeps what the circuit gave, for the many windows of one plan that are
// computed at the same volts. A nil Memory keeps nothing.
type Memory struct{ seen map[solvedAt]circuit.Bounds }

// NewMemory is an empty memory. Its supplies must not be changed while it is
// in use.
func NewMemory() *Memory { return &Memory{seen: map[solvedAt]circuit.Bounds{}} }

// solvedAt is all that the answer of one circuit depends on.
type solvedAt struct {
	model  *circuit.Supply
	set    unit.Volt
	lampIn bool
	lamp   circuit.Lamp
	spread circuit.Spread
}

// boundsAt is the set of c at so many volts at its primary. A refusal is not
// kept: it is worked out again, and refuses again.
func (c Case) boundsAt(set unit.Volt, spread circuit.Spread) (circuit.Bounds, error) {
	at := solvedAt{model: c.Model, set: set, spread: spread}
	if c.Lamp != nil {
		at.lampIn, at.lamp = true, *c.Lamp
	}
	if c.Memory != nil {
		if b, ok := c.Memory.seen[at]; ok {
			return b, nil
		}
	}
	b, err := c.Model.BoundsAtSet(set, c.Lamp, spread)
	if err == nil && c.Memory != nil {
		c.Memory.seen[at] = b
	}
	return b, err
}
