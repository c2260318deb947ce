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
	TwoSided bool       // the ceiling is high enough for HT to have a lower bound
	Tells    bool       // behind Ramp a half fault reads beyond the stop line of lamp volts
	Each     []Prospect // every lamp at hand, in the order given
	Refused  []string   // why a lamp is not used first
}

// Prospect is what one lamp makes of a set with everything on.
type Prospect struct {
	Lamp    Lamp
	Ceiling unit.Volt // at the primary of the healthy set
	Healthy unit.Volt // across the lamp, by the law
	Fault   unit.Volt // the same with a half fault: the set takes half as much again at its tap
	// Apart is the least that a half fault reads over the most that the healthy set
	// reads, by the law or for tungsten. A dead short puts the whole mains on the
	// lamp, and reads more than any half fault.
	Apart float64
}

// Tells tells whether the lamp separates the half fault from the healthy set:
// whatever its curve, it then reads beyond the stop line.
func (p Prospect) Tells() bool { return p.Apart > limits.BandOf("lamp").QueryHi }

// ChooseLamps picks from lamps by what the circuit computes. First is a lamp
// whose rated current suits the transformer alone and whose lines can tell good
// from bad, with the lines furthest apart. For the ramp it is the one that best
// separates the healthy set from a half fault among those that carry the set
// high enough; where none does, the one with the highest ceiling.
func ChooseLamps(s *Supply, lamps []Lamp, mains unit.Volt, size unit.VoltAmpere) (Choice, error) {
	var c Choice
	enough := s.Nominal * unit.Volt(limits.Lookup("two-sided").Value.Value/100)
	apart, best := 0.0, Prospect{}
	for i := range lamps {
		l := &lamps[i]
		p, err := s.prospect(*l, mains)
		if err != nil {
			return Choice{}, err
		}
		c.Each = append(c.Each, p)
		if c.Ramp == nil || p.better(best, enough) {
			c.Ramp, best = l, p
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
	c.Ceiling, c.Tells = best.Ceiling, best.Tells()
	c.TwoSided = c.Ceiling >= enough
	return c, nil
}

// better tells whether p suits the ramp better than q: by separation when both
// carry the set to enough, else by how far they carry it.
func (p Prospect) better(q Prospect, enough unit.Volt) bool {
	if p.Ceiling >= enough && q.Ceiling >= enough {
		return p.Apart > q.Apart
	}
	return p.Ceiling > q.Ceiling
}

// prospect solves the set behind the lamp, healthy and with a half fault.
func (s *Supply) prospect(l Lamp, mains unit.Volt) (Prospect, error) {
	rated, err := s.AtSet(s.Nominal, nil)
	if err != nil {
		return Prospect{}, err
	}
	half := *s
	half.Idle += rated.Input * unit.Watt(limits.Lookup("half-fault").Value.Value/100)
	well, err := s.AtMains(mains, &l)
	if err != nil {
		return Prospect{}, err
	}
	ill, err := half.AtMains(mains, &l)
	if err != nil {
		return Prospect{}, err
	}
	most := max(well.Lamp, l.tungsten(well.Primary, mains))
	least := min(ill.Lamp, l.tungsten(ill.Primary, mains))
	return Prospect{Lamp: l, Ceiling: well.Set, Healthy: well.Lamp, Fault: ill.Lamp, Apart: float64(least / most)}, nil
}

// tungsten is the volts across a real lamp that carries i, up to most.
func (l Lamp) tungsten(i unit.Ampere, most unit.Volt) unit.Volt {
	lo, hi := unit.Volt(0), most
	for range 60 {
		if v := (lo + hi) / 2; l.Real(v) < i {
			lo = v
		} else {
			hi = v
		}
	}
	return (lo + hi) / 2
}

// suits tells whether a lamp's rated current, to two places as lamps are named,
// is right for the transformer alone.
func suits(i unit.Ampere) bool {
	a := math.Round(float64(i)*100) / 100
	return a >= limits.Lookup("lamp-first-low").Value.Value && a <= limits.Lookup("lamp-first-high").Value.Value
}
