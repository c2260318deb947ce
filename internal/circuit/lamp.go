package circuit

import (
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// lampExponent is k of the law I = I_n (V/V_n)^k of a filament lamp (published
// lamp re-rating exponents, 0.54 to 0.58; 0.55 in general use).
const lampExponent = 0.55

// coldFloor is hot over cold ohms in the solver: published 14 and 15, computed
// from tungsten 13.5 to 15.
const coldFloor = 14

// Rated is the lamp's current at its rated volts: the steady current into a
// dead short.
func (l Lamp) Rated() unit.Ampere { return unit.Ampere(float64(l.Watts) / float64(l.Volts)) }

// Hot is the resistance at rated volts.
func (l Lamp) Hot() unit.Ohm {
	return unit.Ohm(float64(l.Volts) * float64(l.Volts) / float64(l.Watts))
}

// Cold bounds the resistance of the cold filament.
func (l Lamp) Cold() (lo, hi unit.Ohm) {
	ratio := func(id string) unit.Ohm { return unit.Ohm(limits.Lookup(id).Value.Value) }
	return l.Hot() / ratio("cold-lamp-ratio-high"), l.Hot() / ratio("cold-lamp-ratio-low")
}

// Current is what the lamp passes at v volts across it, by the law.
func (l Lamp) Current(v unit.Volt) unit.Ampere {
	if !(v > 0) {
		return 0
	}
	return l.Rated() * unit.Ampere(math.Pow(float64(v/l.Volts), lampExponent))
}

// resistance is the lamp's when it carries i, by the law.
func (l Lamp) resistance(i float64) float64 {
	r := math.Pow(i/float64(l.Rated()), 1/lampExponent-1)
	return float64(l.Hot()) * max(r, 1.0/coldFloor)
}

// filament is one row of a lamp's curve: volts and current over rated.
type filament struct{ volts, amps float64 }

// Curves computed from the resistivity and emissivity of tungsten, a vacuum
// lamp (labels to 25 W) at 2500 K and a gas-filled one (40 W up) at 2750 K with
// its loss to the gas (computed). Above half the rated volts they are the law.
var (
	vacuum = []filament{
		{0.01, 0.055},
		{0.02, 0.0851},
		{0.05, 0.1524},
		{0.1, 0.2377},
		{0.15, 0.3087},
		{0.2, 0.3717},
		{0.3, 0.478},
		{0.4, 0.5718},
		{0.5, 0.6576},
		{0.6, 0.7339},
		{0.7, 0.8052},
		{0.8, 0.8729},
		{0.9, 0.9377},
		{1, 1},
		{1.1, 1.0564},
	}
	gasFilled = []filament{
		{0.01, 0.124},
		{0.02, 0.1883},
		{0.05, 0.2666},
		{0.1, 0.3335},
		{0.15, 0.3866},
		{0.2, 0.4376},
		{0.3, 0.529},
		{0.4, 0.6128},
		{0.5, 0.6885},
		{0.6, 0.7583},
		{0.7, 0.8248},
		{0.8, 0.8878},
		{0.9, 0.9449},
		{1, 1},
		{1.1, 1.0534},
	}
)

// vacuumTop is the largest label that is a vacuum lamp (common practice).
const vacuumTop = 25

// Real is what a lamp of tungsten passes at v volts across it. At small
// fractions of the rated volts it departs from the law: a gas-filled lamp
// passes up to 60 % more, a vacuum lamp less.
func (l Lamp) Real(v unit.Volt) unit.Ampere {
	if !(v > 0) {
		return 0
	}
	curve := gasFilled
	if l.Watts <= vacuumTop {
		curve = vacuum
	}
	x := float64(v / l.Volts)
	if least := curve[0]; x < least.volts { // nearly cold: its ohms hardly change
		return l.Rated() * unit.Ampere(least.amps*x/least.volts)
	}
	k := 1
	for k < len(curve)-1 && x > curve[k].volts {
		k++
	}
	a, b := curve[k-1], curve[k]
	slope := math.Log(b.amps/a.amps) / math.Log(b.volts/a.volts)
	return l.Rated() * unit.Ampere(a.amps*math.Pow(x/a.volts, slope))
}
