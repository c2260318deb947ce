package checks

import (
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/unit"
)

// Memory keeps what the circuit gave, for the many windows of one plan or session
// that are computed at the same volts. A nil Memory keeps nothing.
type Memory struct {
	seen  map[solvedAt]circuit.Bounds
	lamps map[lampLine]float64
}

// NewMemory is an empty memory. Its supplies must not be changed while it is
// in use.
func NewMemory() *Memory {
	return &Memory{seen: map[solvedAt]circuit.Bounds{}, lamps: map[lampLine]float64{}}
}

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

// lampLine is all that the lamp volts of a line depend on.
type lampLine struct {
	model      *circuit.Supply
	lamp       circuit.Lamp
	mains, set unit.Volt
	times      float64
}

// lampAt is the line of lamp volts at k times a healthy set's, with set volts at
// the primary.
func (c Case) lampAt(set unit.Volt, k float64) (float64, error) {
	mains := c.Mains
	if !(mains > 0) {
		mains = c.Profile.MainsTop
	}
	at := lampLine{c.Model, *c.Lamp, mains, set, k}
	if c.Memory != nil {
		if v, ok := c.Memory.lamps[at]; ok {
			return v, nil
		}
	}
	v, err := at.solve()
	if err == nil && c.Memory != nil {
		c.Memory.lamps[at] = v
	}
	return v, err
}
