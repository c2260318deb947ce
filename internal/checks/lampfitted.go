package checks

import (
	"fmt"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// lampFitted asks for the amperes of a lamp that was changed, as worked out from
// its label: a lamp is known by its current, and the number shows that somebody
// has looked.
func lampFitted() Check {
	return Check{
		ID: "lamp-fitted", Title: "Lamp now in the box, its amperes", Short: "lamp A",
		Crit: engine.G, Life: engine.Lasting,
		Kind: unit.KindAmpere, Danger: limits.Both,
		Method:  "Plug out. Let the old bulb cool, fit the other, read its label: watts divided by volts are its amperes. A filament lamp only.",
		Meaning: "too large a lamp limits too little; another kind of lamp does not limit at all.",
		Causes: []string{
			"rounded watts or volts on the label: cold ohms of the lamp show it",
			"a label for another mains voltage: its own volts on the glass show it",
		},
		Cautions: []string{"lamp-limiter", "hot-parts"},
		Rule: func(c Case) (Window, error) {
			if c.Bench == nil {
				return Window{}, fmt.Errorf("%w: the volts the lamps are rated at\nhint: lamp-volts in the bench file", ErrNoData)
			}
			w, err := unit.ParseWatt(c.Item)
			if err != nil {
				return Window{}, fmt.Errorf("lamp %q: %w", c.Item, err)
			}
			rated := float64(circuit.Lamp{Watts: w, Volts: c.Bench.LampVolts}.Rated())
			return drafted("lamp-fitted", unit.KindAmpere, rated, fmt.Sprintf("%v / %v = %s", w, c.Bench.LampVolts, amount(unit.KindAmpere, rated))).window()
		},
	}
}
