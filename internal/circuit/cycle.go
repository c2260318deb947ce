package circuit

import (
	"fmt"
	"math"
)

// front is what the HT winding sees at the given lamp and heaters: a sine behind
// ohms. Heaters, iron and the magnetising reactance hang across the primary. The
// reactance counts in the steady sine, not for the short pulses of the
// rectifier, which carry no direct current through a full-wave winding.
type front struct {
	src    source
	ratio  float64 // secondary half over primary
	series float64 // lamp and primary resistance
	g, b   float64 // across the primary, siemens
	behind float64 // crest behind the primary's resistance without pulses
	part   float64 // of a pulse that comes from the mains
}

func (s *Supply) front(src source) front {
	f := front{src: src, ratio: float64(s.Secondary / s.Nominal), series: src.lamp + float64(s.Primary)}
	f.g = 1/src.heater + float64(s.Idle)/float64(s.Nominal*s.Nominal)
	f.b = float64(s.Magnetising) / float64(s.Nominal)
	f.behind = src.crest / math.Hypot(1+f.series*f.g, f.series*f.b)
	f.part = 1 / (1 + f.series*f.g)
	return f
}

// crest is that of one secondary half behind all resistances.
func (f *front) crest() float64 { return f.ratio * f.behind }

// ohms are those before the winding, as seen from it.
func (f *front) ohms() float64 { return f.ratio * f.ratio * f.series * f.part }

// primary gives the primary's side of a cycle with the pulses m: the sine
// without them, in phase with the volts behind the primary and a quarter cycle
// after it; then the pulses' share is added to the squares.
func (f *front) primary(c *cycle, m moments) {
	amps, lag := f.behind*f.g, f.behind*f.b
	volts, lead := f.behind*(1+f.series*f.g), f.behind*f.series*f.b
	k := f.ratio * f.part
	c.primary = rms(amps, lag, k, m)
	c.behind = rms(f.behind, 0, -k*f.series, m)
	c.set = rms(volts-f.src.lamp*amps, lead-f.src.lamp*lag, -k*f.src.lamp, m)
	c.input = (volts*amps+lead*lag)/2 + volts*k*m.cosine - f.src.lamp*c.primary*c.primary
}

// cycle solves one mains cycle at the given resistances by the estimate,
// starting near guess.
func (s *Supply) cycle(src source, d draw, guess float64) (cycle, error) {
	f := s.front(src)
	way := s.anodes(f.ohms())
	c := cycle{crest: f.crest(), halfA: way[0].ohms, halfB: way[1].ohms}
	m, err := s.balance(&c, d, guess)
	if err != nil {
		return c, err
	}
	f.primary(&c, m)
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
		m := pulse(c.crest, h.ht1, c.halfA, s.perveance())
		if c.halfA != c.halfB {
			m = m.and(pulse(c.crest, h.ht1, c.halfB, s.perveance()))
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
	q := surplus(c.crest, c.ht1, c.halfA, s.perveance(), c.amps)
	if c.halfA != c.halfB {
		q = max(q, surplus(c.crest, c.ht1, c.halfB, s.perveance(), c.amps))
	}
	return q / (2 * math.Pi * float64(s.Frequency) * float64(s.Reservoir))
}
