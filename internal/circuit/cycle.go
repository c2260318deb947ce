package circuit

import (
	"fmt"
	"math"
)

// cycle solves one mains cycle at the given resistances, starting near guess.
//
// Behind lamp and primary resistance the mains is a source of less volts with
// the heaters, the iron and the magnetising reactance across it. The
// reactance counts in the steady sine, not for the short pulses of the
// rectifier, which carry no direct current through a full-wave winding.
func (s *Supply) cycle(src source, d draw, guess float64) (cycle, error) {
	n := float64(s.Secondary / s.Nominal)
	series := src.lamp + float64(s.Primary)
	g := 1/src.heater + float64(s.Idle)/float64(s.Nominal*s.Nominal)
	b := float64(s.Magnetising) / float64(s.Nominal)
	behind := src.crest / math.Hypot(1+series*g, series*b)
	fromMains := 1 / (1 + series*g) // part of a pulse that comes from the mains
	c := cycle{crest: n * behind}
	c.halfA = float64(s.HalfA) + n*n*series*fromMains
	c.halfB = float64(s.HalfB) + n*n*series*fromMains
	m, err := s.balance(&c, d, guess)
	if err != nil {
		return c, err
	}
	// The sine without pulses, in phase with the volts behind the primary and a
	// quarter cycle after it; then the pulses' share is added to the squares.
	amps, lag := behind*g, behind*b
	volts, lead := behind*(1+series*g), behind*series*b
	k := n * fromMains
	c.primary = rms(amps, lag, k, m)
	c.behind = rms(behind, 0, -k*series, m)
	c.set = rms(volts-src.lamp*amps, lead-src.lamp*lag, -k*src.lamp, m)
	c.input = (volts*amps+lead*lag)/2 + volts*k*m.cosine - src.lamp*c.primary*c.primary
	return c, nil
}

// rms is that of a cos θ + b sin θ + k i(θ) with the pulses i.
func rms(a, b, k float64, m moments) float64 {
	return math.Sqrt(max((a*a+b*b)/2+2*a*k*m.cosine+k*k*m.square, 0))
}

// balance finds the HT at which the mean rectifier current is what is drawn,
// by Newton's steps kept inside a bracket: the difference only falls with HT.
func (s *Supply) balance(c *cycle, d draw, guess float64) (moments, error) {
	lo, hi := 0.0, c.crest
	x := guess
	for range stepLimit {
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		h := d.at(s, x)
		m := pulse(c.crest, h.ht1, c.halfA, s.Perveance)
		if c.halfA != c.halfB {
			m = m.and(pulse(c.crest, h.ht1, c.halfB, s.Perveance))
		}
		short := m.mean - h.amps
		if short > 0 {
			lo = x
		} else {
			hi = x
		}
		step := short / (h.damps - m.slope*h.dht1)
		if lo == 0 && hi <= 1e-12*c.crest {
			return moments{}, fmt.Errorf("%w: the supply cannot give %g A", ErrNoAnswer, h.amps)
		}
		if math.Abs(step) <= 1e-12*c.crest || hi-lo <= 1e-12*c.crest {
			c.x, c.drawn = x, h
			return m, nil
		}
		x += step
	}
	return moments{}, fmt.Errorf("%w: the HT did not balance in %d steps", ErrNoAnswer, stepLimit)
}

// and is the mean over a full cycle of two half-cycles.
func (m moments) and(o moments) moments {
	return moments{(m.mean + o.mean) / 2, (m.cosine + o.cosine) / 2, (m.square + o.square) / 2, (m.slope + o.slope) / 2}
}

// ripple is the peak to peak volts at the reservoir: the charge one pulse
// brings above the load, over its capacitance.
func (s *Supply) ripple(c *cycle) float64 {
	q := surplus(c.crest, c.ht1, c.halfA, s.Perveance, c.amps)
	if c.halfA != c.halfB {
		q = max(q, surplus(c.crest, c.ht1, c.halfB, s.Perveance, c.amps))
	}
	return q / (2 * math.Pi * float64(s.Frequency) * float64(s.Reservoir))
}
