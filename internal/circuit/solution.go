package circuit

import (
	"math"

	"example.com/powerup/internal/unit"
)

// Solution is a supply in its periodic steady state, with all that a simulation
// of it would show. Ripple is peak to peak where it does not say r.m.s.
type Solution struct {
	Point
	Mains         unit.Volt   // before lamp and set
	Behind        unit.Volt   // r.m.s., behind the primary's resistance
	PrimaryHT     unit.Ampere // r.m.s. of the HT's part of the primary current
	Source        unit.Watt   // from the mains, the lamp's with the set's
	Secondary     unit.Ampere // r.m.s., of one half or of the whole winding
	RectifierPeak unit.Ampere // the mean is HTCurrent
	HT1Peak       unit.Volt   // the highest instant
	RippleRMS     unit.Volt
	Ripple2       unit.Volt // at HT2
	Ripple2RMS    unit.Volt
	ScreenCurrent unit.Ampere // of the output valve
	Anode         unit.Volt
	AnodePower    unit.Watt
	Losses        Losses
	Periods       int     // that it took
	Residual      float64 // how far the last period was from returning to itself, as a part of the crest: 1e-6 at most, or up to 1e-4 where a choke rings without end
}

// Losses is where the watts of the source go.
type Losses struct {
	Lamp, Primary, Heaters, Iron, Secondary, Rectifier unit.Watt
	Leak, Smoothing, Load                              unit.Watt // HT: across the reservoir, in the smoothing's ohms, all else
}

// Sum is all of them.
func (l Losses) Sum() unit.Watt {
	return l.Lamp + l.Primary + l.Heaters + l.Iron + l.Secondary + l.Rectifier + l.Leak + l.Smoothing + l.Load
}

// Solve is the set on whole mains, through the lamp when there is one. An error
// has [ErrNoAnswer] in its chain.
func (s *Supply) Solve(mains unit.Volt, lamp *Lamp) (Solution, error) {
	p, err := s.steady(mains, lamp, false, draw{kind: working})
	if err != nil {
		return Solution{}, err
	}
	f := s.front(p.src)
	out := Solution{
		Point: s.pointOf(p.cycle, p.src, p.high.v1-p.low.v1), Mains: mains, Behind: unit.Volt(p.behind),
		PrimaryHT:     unit.Ampere(f.ratio * math.Sqrt(p.square)),
		Secondary:     unit.Ampere(math.Sqrt(p.square)),
		RectifierPeak: unit.Ampere(p.peak), HT1Peak: unit.Volt(p.high.v1),
		RippleRMS: unit.Volt(math.Sqrt(p.square1)),
		Ripple2:   unit.Volt(p.high.v2 - p.low.v2), Ripple2RMS: unit.Volt(math.Sqrt(p.square2)),
		Losses:  s.losses(&p, &f),
		Periods: p.shots, Residual: p.off,
	}
	if s.Topology == CentreTap && !math.IsInf(float64(max(s.HalfA, s.HalfB)), 1) {
		out.Secondary /= math.Sqrt2 // the halves take turns
	}
	out.Source = out.Input + out.Losses.Lamp
	out.ScreenCurrent = out.CathodeCurrent - out.AnodeCurrent
	out.Anode = s.feed(out.Point) - unit.Volt(float64(out.AnodeCurrent)*float64(s.Output.AnodeR))
	out.AnodePower = unit.Watt(float64(out.Anode-out.Cathode) * float64(out.AnodeCurrent))
	return out, nil
}

// feed is the volts that the output valve's anode is fed from.
func (s *Supply) feed(p Point) unit.Volt {
	if s.Output.FromHT1 {
		return p.HT1
	}
	return p.HT2
}

func (s *Supply) losses(p *period, f *front) Losses {
	squared, behind := p.primary*p.primary, p.behind*p.behind
	return Losses{
		Lamp: unit.Watt(squared * p.src.lamp), Primary: unit.Watt(squared * float64(s.Primary)),
		Heaters: unit.Watt(behind / p.src.heater), Iron: unit.Watt(behind * (f.g - 1/p.src.heater)),
		Secondary: unit.Watt(p.loss.ohms - p.square*f.ohms()), Rectifier: unit.Watt(p.loss.rectifier),
		Leak: unit.Watt(p.loss.leak), Smoothing: unit.Watt(p.loss.smoothing), Load: unit.Watt(p.loss.anode + p.loss.rest),
	}
}
