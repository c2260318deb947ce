// Package circuit computes what the HT supply of a set gives at given mains
// volts, with or without a lamp in series, and how its capacitors discharge.
//
// The HT is found in its periodic steady state: one period is integrated by the
// implicit trapezoid, and Newton's method finds the state that returns to itself
// ([Supply.Solve]). Valves, rectifier, lamp and heaters follow their own laws. A
// no-ripple estimate, which takes the reservoir to hold steady volts, gives the
// start and, being cheap, the way in which a reading moves with each part: the
// corners of the tolerances are found by it ([Supply.BoundsAtSet]).
//
// Sources: rectifier and valves by the three-halves-power law of Child (1911)
// and Langmuir (1913); capacitor-input rectifiers after O. H. Schade, Proc. IRE,
// July 1943 (both from memory); lamp by the published re-rating exponents.
package circuit

import "example.com/powerup/internal/unit"

// ModelError is the relative error of the model in volts and currents, ripple
// apart: no reference circuit (ngspice-39, 5 µs steps) lies further off than a
// tenth of it, and the corners, which are found by the estimate, lie within it.
const ModelError = 0.002

// RippleError is the relative error of the computed ripple.
const RippleError = 0.01

// Lamp is a filament lamp in series with the set.
type Lamp struct {
	Watts unit.Watt // label
	Volts unit.Volt // rated
}

// Valve is one cathode-biased valve by the law Ik = K (Vg + Vg2/Mu - Ik Rk)^1.5.
// Its screen is fed from HT2 through ScreenR, its anode from HT1 through AnodeR
// when FromHT1 is set, else from HT2. An infinite AnodeR is an open anode: the
// screen then takes the whole current.
type Valve struct {
	Name     string
	K        float64 // A/V^1.5
	Mu       float64
	CathodeR unit.Ohm
	Grid     unit.Volt
	ScreenR  unit.Ohm
	Share    float64 // of the cathode current that goes to the screen
	AnodeR   unit.Ohm
	FromHT1  bool
}

// Lumped is a load without valves of its own: Current at Volts on HT2, and FromHT1
// out of the reservoir besides, both going as the given power of HT2.
type Lumped struct {
	Current, FromHT1 unit.Ampere
	Volts            unit.Volt
	Power            float64
}

// Henry is an inductance.
type Henry float64

// Supply is an HT supply with its loads. All ohms hot. An infinite HalfA or
// HalfB is an open half winding, an infinite Perveance a rectifier without drop.
// A bridge and one anode have the whole winding in Secondary and HalfA.
type Supply struct {
	Nominal     unit.Volt // tap volts
	Frequency   unit.Hertz
	Secondary   unit.Volt // open-circuit volts of one half with Nominal on the primary
	Primary     unit.Ohm
	HalfA       unit.Ohm
	HalfB       unit.Ohm
	HeaterPower unit.Watt // of all heaters at their nominal volts, drawn through the primary
	HeaterExp   float64   // heater resistance goes as volts to this power, 0.4
	HeaterOpen  float64   // heater winding's volts with Nominal on the primary and no load, over the heaters' nominal volts; 0: 1
	HeaterR     unit.Ohm  // of the heater winding, as seen at the primary
	Idle        unit.Watt // iron
	Magnetising unit.Ampere
	Topology    Topology
	Perveance   float64   // A/V^1.5 of one rectifier anode
	Junction    *Junction // in place of a valve
	Reservoir   unit.Farad
	Leak        unit.Ohm // across the reservoir; 0: none
	Smoothing   unit.Ohm
	Choke       Henry // with Smoothing as its ohms; 0: a resistor
	Second      unit.Farad
	Bleed       unit.Ohm // at HT2; 0: none
	Rest        unit.Ohm // dividers and triodes at HT2, hot; 0: none
	Output      Valve
	Others      []Valve
	Lumped      Lumped
}

// Point is the computed state of a set at one mains volts.
type Point struct {
	Set                          unit.Volt // at the set's primary leads
	Lamp                         unit.Volt // across the lamp; 0 without
	Primary                      unit.Ampere
	HT1, HT2                     unit.Volt
	HTCurrent                    unit.Ampere
	OPT                          unit.Volt // across the output transformer's primary; HT1 when it is open
	Cathode                      unit.Volt // of the output valve
	CathodeCurrent, AnodeCurrent unit.Ampere
	Screen                       unit.Volt // HT2 less the drop in ScreenR
	Ripple                       unit.Volt // peak to peak at HT1
	Heater                       float64   // heater volts as a fraction of nominal
	Input                        unit.Watt // of the set, lamp left out
}
