package circuit

import (
	"math"

	"example.com/powerup/internal/unit"
)

// Topology is how the rectifier stands to the HT winding. The zero value is the
// valve set's own.
type Topology uint8

// Two anodes and a centre tap; a bridge on the whole winding; one anode.
const (
	CentreTap Topology = iota
	Bridge
	HalfWave
)

// Junction is a silicon or metal rectifier by the law i = Is (exp(v/(N VT)) - 1)
// with VT of 25.85 mV and Series ohms behind it.
type Junction struct {
	Is     unit.Ampere
	N      float64
	Series unit.Ohm
}

// thermal is kT/q at 300 K in volts.
const thermal = 0.02585

// anode is the way of the current from one end of the winding into the
// reservoir: the rectifier's law with all ohms before it.
type anode struct {
	ohms float64 // +Inf: open
	p    float64 // perveance; 0: a junction
	is   float64
	nvt  float64 // N VT, twice that in a bridge
}

// anodes gives the way of the positive half-cycle and of the negative one, with
// source ohms in front of the winding as seen from it.
func (s *Supply) anodes(source float64) [2]anode {
	var a, b anode
	if j := s.Junction; j != nil {
		in := 1.0
		if s.Topology == Bridge {
			in = 2 // two conduct in series
		}
		a.is, a.nvt, a.ohms = float64(j.Is), in*j.N*thermal, in*float64(j.Series)
	} else {
		a.p = s.perveance()
	}
	b = a
	a.ohms += source + float64(s.HalfA)
	switch s.Topology {
	case CentreTap:
		b.ohms += source + float64(s.HalfB)
	case Bridge:
		b = a
	case HalfWave:
		b.ohms = math.Inf(1)
	}
	return [2]anode{a, b}
}

// current solves for the current at u volts before all ohms and extra more of
// them, starting from the state x of the call before. slope is di/du without
// the extra ohms, x the rectifier's own unknown: the root of its drop, or for a
// junction the logarithm.
func (a *anode) current(u, extra, x float64) (i, slope, state float64) {
	r := a.ohms + extra
	if !(u > 0) || math.IsInf(r, 1) {
		return 0, 0, 0
	}
	if a.p > 0 {
		x = rootNear(u, a.p*r, x)
		g := 1.5 * a.p * x
		return a.p * x * x * x, g / (1 + g*a.ohms), x
	}
	w := a.log(u, r, x)
	i = a.is * math.Expm1(w)
	g := (i + a.is) / a.nvt
	return i, g / (1 + g*a.ohms), w
}

// drop is the volts across the rectifier itself in the state that current gave.
func (a *anode) drop(x float64) float64 {
	if a.p > 0 {
		return x * x
	}
	return a.nvt * x
}

// log solves nvt w + r Is (e^w - 1) = u for w. The left side is convex and the
// start not below the root, so that Newton's steps only fall.
func (a *anode) log(u, r, near float64) float64 {
	w := min(u/a.nvt, math.Log1p(u/(r*a.is))) // the root is below either
	if near > 0 && near < w {
		w = min(w, a.newton(near, u, r)) // from below one step goes above
	}
	for range 60 {
		next := a.newton(w, u, r)
		if !(w-next > lastStep*w) {
			return next
		}
		w = next
	}
	return w
}

func (a *anode) newton(w, u, r float64) float64 {
	e := r * a.is * math.Exp(w)
	return w - (a.nvt*w+e-r*a.is-u)/(a.nvt+e)
}

// rootNear is root with a start from a neighbouring solution.
func rootNear(u, a, near float64) float64 {
	if !(near > 0) || near*near*(1+a*near) < u/4 {
		return root(u, a)
	}
	x := near
	for range 40 {
		step := (x*x*(1+a*x) - u) / (x * (2 + 3*a*x))
		x -= step
		if math.Abs(step) <= lastStep*x {
			break
		}
	}
	return x
}

// perveance is that of what conducts at a time: two valves in a bridge are as one
// of twice the drop. The estimate takes a junction as a valve without drop.
func (s *Supply) perveance() float64 {
	switch {
	case s.Junction != nil:
		return dropless
	case s.Topology == Bridge:
		return min(s.Perveance/(2*math.Sqrt2), dropless)
	}
	return min(s.Perveance, dropless)
}
