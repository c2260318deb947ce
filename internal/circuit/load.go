package circuit

import (
	"math"

	"example.com/powerup/internal/unit"
)

// draw is what hangs on the reservoir.
type draw struct {
	kind drawKind
	amps float64 // of constant
}

type drawKind uint8

const (
	working  drawKind = iota // hot valves, bleeder and dividers
	cold                     // the bleeder only: valves and what hangs on them draw nothing yet
	constant                 // a given current
)

// drawn is the HT at one value of the solver's unknown x, with slopes against x.
type drawn struct{ ht1, amps, dht1, damps float64 }

// at gives HT1 and the current out of the reservoir. With working and cold
// loads x is HT2, from which every current follows; with a constant current x
// is HT1.
func (d draw) at(s *Supply, x float64) drawn {
	if d.kind == constant {
		return drawn{ht1: x, amps: d.amps, dht1: 1}
	}
	t := s.takes(x, d.kind == working)
	h := drawn{ht1: x + t.rest*float64(s.Smoothing), dht1: 1 + t.dRest*float64(s.Smoothing)}
	h.amps = t.rest + t.anode + siemens(s.Leak)*h.ht1
	h.damps = t.dRest + t.dAnode + siemens(s.Leak)*h.dht1
	return h
}

// takes is what is drawn with ht2 on the smoothed line, with slopes against it:
// the output anode out of HT1 where it is fed from there, the rest out of HT2.
// Cold, only the bleeder draws: the valves do not, nor the dividers that hang on
// them.
type takes struct{ anode, dAnode, rest, dRest float64 }

func (s *Supply) takes(ht2 float64, hot bool) takes {
	g := siemens(s.Bleed)
	var t takes
	if hot {
		g += siemens(s.Rest)
		for k := range s.Others {
			i, di := s.Others[k].current(ht2)
			t.rest, t.dRest = t.rest+i, t.dRest+di
		}
		i, di := s.Output.current(ht2)
		if s.Output.FromHT1 {
			t.anode, t.dAnode = (1-s.Output.share())*i, (1-s.Output.share())*di
		}
		t.rest, t.dRest = t.rest+i-t.anode, t.dRest+di-t.dAnode
	}
	if l := &s.Lumped; hot && l.Volts > 0 && ht2 > 0 {
		part := math.Pow(ht2/float64(l.Volts), l.Power)
		t.rest, t.dRest = t.rest+float64(l.Current)*part, t.dRest+float64(l.Current)*part*l.Power/ht2
		t.anode, t.dAnode = t.anode+float64(l.FromHT1)*part, t.dAnode+float64(l.FromHT1)*part*l.Power/ht2
	}
	t.rest, t.dRest = t.rest+g*ht2, t.dRest+g
	return t
}

// siemens is 1/r; a path of 0 Ω is one that does not exist.
func siemens(r unit.Ohm) float64 {
	if r > 0 {
		return 1 / float64(r)
	}
	return 0
}

// screen is the output valve's screen volts with the current ik.
func (v *Valve) screen(ht2, ik float64) float64 { return ht2 - v.share()*ik*float64(v.ScreenR) }

// primary is the volts across the output transformer's primary with the
// current ia; an open primary shows the whole HT1 on a meter.
func (v *Valve) primary(ht1, ia float64) float64 {
	if math.IsInf(float64(v.AnodeR), 1) {
		return ht1
	}
	return ia * float64(v.AnodeR)
}
