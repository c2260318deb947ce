package circuit

import "math"

// root solves x² + a x³ = u for x >= 0; u <= 0 gives 0, NaN gives NaN. Both three-halves-power
// laws come down to it: a valve with R in its cathode, i = P (v - R i)^1.5, is
// i = P x³ with a = P R and u = v.
//
// Newton from above: the start is never below the root and the left side is
// convex there, so that the steps only fall.
func root(u, a float64) float64 {
	if u <= 0 {
		return 0
	}
	x := math.Sqrt(u)
	if a*x > 1 {
		x = math.Cbrt(u / a)
	}
	for range 40 {
		step := (x*x + a*x*x*x - u) / (2*x + 3*a*x*x)
		x -= step
		if !(step > lastStep*x) {
			break
		}
	}
	return x
}

// lastStep is a Newton step, as a part of the unknown, after which none is
// needed: the next would be of its square.
const lastStep = 1e-7

// knee is how many times its zero-bias drive a valve with a positive grid can
// use (common practice, no source). It matters only near no HT at all, where the
// law alone would let the grid draw current out of nothing.
const knee = 20

// current is the cathode current of the valve with ht2 on its screen feed, and
// its slope against ht2.
func (v *Valve) current(ht2 float64) (ik, slope float64) {
	if v.K == 0 {
		return 0, 0
	}
	r := float64(v.CathodeR) + v.share()*float64(v.ScreenR)/v.Mu
	drive, gain := float64(v.Grid)+ht2/v.Mu, 1/v.Mu
	if limit := knee * ht2 / v.Mu; drive > limit {
		drive, gain = limit, knee/v.Mu
	}
	x := root(drive, v.K*r)
	return v.K * x * x * x, 3 * v.K * x / (2 + 3*v.K*r*x) * gain
}

// share is the part of the cathode current that the screen takes.
func (v *Valve) share() float64 {
	if math.IsInf(float64(v.AnodeR), 1) {
		return 1
	}
	return v.Share
}

// factor is that of the screen; 1 for a valve that is none.
func (v *Valve) factor() float64 {
	if v.K == 0 {
		return 1
	}
	return v.Mu
}
