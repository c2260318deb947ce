package circuit

import "math"

// gauss has nodes and weights of Gauss-Legendre integration over 0..1 (computed).
var gauss = [12][2]float64{
	{0.9907803171233596, 0.02358766819325592},
	{0.9520586281852375, 0.05346966299765909},
	{0.8849513370971523, 0.08003916427167317},
	{0.7936589771433087, 0.1015837133615329},
	{0.6839157494990901, 0.1167462682691774},
	{0.5626167042557345, 0.1245735229067014},
	{0.4373832957442655, 0.1245735229067014},
	{0.3160842505009099, 0.1167462682691774},
	{0.2063410228566913, 0.1015837133615329},
	{0.1150486629028477, 0.08003916427167317},
	{0.0479413718147626, 0.05346966299765909},
	{0.009219682876640378, 0.02358766819325592},
}

// moments are means over one half-cycle of the current pulse i(θ) of one
// anode, θ counted from the crest.
type moments struct {
	mean   float64 // of i
	cosine float64 // of i cos θ
	square float64 // of i²
	slope  float64 // of di/dHT1
}

// arch is one pulse of current through r and an anode of perveance p, driven
// by crest cos θ against a steady HT. It is counted by x, the root of the volts
// across the anode: i = p x³ and crest cos θ = HT + x² + a x³ with a = p r, so
// that only its top, at θ = 0, takes an equation to solve.
type arch struct{ crest, p, a, top float64 }

// dropless stands for a rectifier without drop: a few millivolts at an ampere.
const dropless = 1e3

func newArch(crest, ht1, r, p float64) arch {
	p = min(p, dropless)
	return arch{crest: crest, p: p, a: p * r, top: root(crest-ht1, p*r)}
}

// at is the pulse at a point between its top (s = 0) and x = from (s = 1), with
// dθ/ds of both flanks together. Running with the root of the way from the top
// keeps dθ/ds finite there.
func (k arch) at(from, s float64) (x, cosine, dtheta float64) {
	span := k.top - from
	x = k.top - span*s*s
	less := span * s * s * (k.top + x + k.a*(k.top*k.top+k.top*x+x*x)) / k.crest // 1 - cos θ
	dtheta = 4 * span * s * (2 + 3*k.a*x) * x / (k.crest * math.Sqrt(less*(2-less)))
	return x, 1 - less, dtheta
}

// pulse integrates the pulse through r and one anode of perveance p into a
// steady ht1, driven by crest cos θ. An infinite r is an open winding.
func pulse(crest, ht1, r, p float64) moments {
	var m moments
	if !(crest > ht1) || math.IsInf(r, 1) {
		return m
	}
	k := newArch(crest, ht1, r, p)
	for _, g := range gauss {
		x, cosine, dtheta := k.at(0, g[0])
		w := g[1] * dtheta / math.Pi
		i := k.p * x * x * x
		m.mean += w * i
		m.cosine += w * i * cosine
		m.square += w * i * i
		m.slope -= w * 3 * k.p * x / (2 + 3*k.a*x)
	}
	return m
}

// surplus is the charge, in ampere-radians, that one pulse brings above the
// steady load current: what the reservoir gives back before the next one.
func surplus(crest, ht1, r, p, load float64) float64 {
	if !(crest > ht1) || math.IsInf(r, 1) {
		return 0
	}
	k := newArch(crest, ht1, r, p)
	from := math.Cbrt(load / k.p)
	if !(from < k.top) {
		return 0
	}
	q := 0.0
	for _, g := range gauss {
		x, _, dtheta := k.at(from, g[0])
		q += g[1] * dtheta * (k.p*x*x*x - load)
	}
	return q
}
