package circuit

import (
	"fmt"
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// Choice is the lamps to use of those at hand.
type Choice struct {
	First    *Lamp // for the transformer alone and for the heaters; nil: none will do
	Ramp     *Lamp // for the ramp; nil: none at hand
	Ceiling  unit.Volt
	TwoSided bool     // the ceiling is high enough for HT to have a lower bound
	Refused  []string // why a lamp is not used first
}

// ChooseLamps picks from lamps by what the circuit computes: first a lamp whose
// rated current suits the transformer alone and whose lines can tell good from
// bad, with the lines furthest apart; for the ramp the one with the highest
// ceiling.
func ChooseLamps(s *Supply, lamps []Lamp, mains unit.Volt, size unit.VoltAmpere) (Choice, error) {
	var c Choice
	apart := 0.0
	for i := range lamps {
		l := &lamps[i]
		ceiling, err := s.Ceiling(*l, mains)
		if err != nil {
			return Choice{}, err
		}
		if c.Ramp == nil || ceiling > c.Ceiling {
			c.Ramp, c.Ceiling = l, ceiling
		}
		pass, stop := IdleLines(mains, *l, size, s.Magnetising)
		switch {
		case !(stop > pass):
			c.Refused = append(c.Refused, fmt.Sprintf("%s: its stop line of %s lies below its pass line of %s with the transformer alone",
				l.Watts, unit.Round(stop.Quantity(), 3), unit.Round(pass.Quantity(), 3)))
		case !suits(l.Rated()):
			c.Refused = append(c.Refused, fmt.Sprintf("%s: its %s are not between %s and %s",
				l.Watts, unit.Round(l.Rated().Quantity(), 2), limits.Lookup("lamp-first-low").Value, limits.Lookup("lamp-first-high").Value))
		case float64(stop/pass) > apart:
			apart, c.First = float64(stop/pass), l
		}
	}
	c.TwoSided = c.Ceiling >= s.Nominal*unit.Volt(limits.Lookup("two-sided").Value.Value/100)
	return c, nil
}

// suits tells whether a lamp's rated current, to two places as lamps are named,
// is right for the transformer alone.
func suits(i unit.Ampere) bool {
	a := math.Round(float64(i)*100) / 100
	return a >= limits.Lookup("lamp-first-low").Value.Value && a <= limits.Lookup("lamp-first-high").Value.Value
}
