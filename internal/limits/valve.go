package limits

import (
	"slices"
	"strings"
	"sync"

	"example.com/powerup/internal/unit"
)

// Valve is the data of one type. A zero among the figures means that the data
// does not say; who judges by it must not take it for a limit.
type Valve struct {
	Type          string // "EL84"
	US            string // "6BQ5"; several with a stroke between
	Sections      []Section
	HeaterVolts   unit.Volt
	HeaterCurrent unit.Ampere
	SeriesHeater  bool       // made for a chain: the current is the nominal figure
	Output        *Output    // nil: no output valve
	Signal        *Signal    // nil: diode, triode behind a large anode resistor, output valve
	Rectifier     *Rectifier // nil: no rectifier
	Mark          Mark       // of the weakest figure
	Source        string
	Note          string
}

// Section is one system of a valve with its maxima and one working point.
type Section struct {
	Name          string
	VaMax, Vg2Max unit.Volt
	PaMax, Pg2Max unit.Watt
	IkMax         unit.Ampere
	Va, Vg2, Vg1  unit.Volt // the working point
	Ia, Ig2       unit.Ampere
	Gm            float64 // A/V, a mixer's conversion slope
	Mu            float64 // of a triode
}

// Output is an output valve. K and Mu are computed by the law
// Ik = K (Vg1 + Vg2/Mu)^1.5 with all volts to chassis.
type Output struct {
	PaMax, Pg2Max    unit.Watt
	IkMax            unit.Ampere
	VaMax, Vg2Max    unit.Volt
	Share            float64 // of the cathode current that goes to the screen
	K                float64 // A/V^1.5
	Mu               float64 // grid to screen
	GridLeakMax      unit.Ohm
	GridLeakMaxFixed unit.Ohm // with fixed bias
	TypicalRk        unit.Ohm
	Ia, Ig2          unit.Ampere // at the working point
	Pins             Pins
}

// Pins are the contacts of an output system, counted as printed in data.
type Pins struct {
	Grid, Cathode, Anode, Screen int
	Heater                       [2]int
}

// Signal is a pentode or mixer that draws from the HT line by the law
// Ik = K (Vg2/Mu - Ik Rk)^1.5, anode and screen together.
type Signal struct {
	K, Mu      float64 // A/V^1.5, grid to screen
	Share      float64 // of the cathode current that goes to the screen
	TypicalRk  unit.Ohm
	TypicalRg2 unit.Ohm
}

// Rectifier is a rectifier valve; figures are for each anode where two are the
// same. Its law is i = Perveance v^1.5.
type Rectifier struct {
	VacMax         unit.Volt   // r.m.s. each anode, capacitor input
	IdcMax, IpkMax unit.Ampere // d.c. of the whole valve, peak each anode
	PIV            unit.Volt
	CMax           unit.Farad // reservoir
	Series         []Series   // least resistance in each anode lead
	Drop           unit.Volt
	DropAt         unit.Ampere // each anode
	Perveance      float64     // A/V^1.5 each anode
	DirectlyHeated bool
	FullWave       bool
	WarmUp         unit.Second // from cold to HT, about
}

// Series is the least resistance in each anode lead at r.m.s. volts up to At.
type Series struct {
	At   unit.Volt
	Ohms unit.Ohm
}

// ValveOf returns the data of a type by any of its names, in capitals or not.
func ValveOf(name string) (Valve, bool) {
	for _, v := range valves() {
		for _, n := range v.names() {
			if strings.EqualFold(n, name) {
				return v.clone(), true
			}
		}
	}
	return Valve{}, false
}

// Valves returns every type, sorted by name.
func Valves() []Valve {
	all := slices.Clone(valves())
	for i := range all {
		all[i] = all[i].clone()
	}
	return all
}

// valves is the table, made once; what leaves this package is a copy.
var valves = sync.OnceValue(func() []Valve {
	all := slices.Concat(outputValves(), signalValves(), rectifierValves())
	slices.SortFunc(all, func(a, b Valve) int { return strings.Compare(a.Type, b.Type) })
	return all
})

func (v Valve) clone() Valve {
	v.Sections = slices.Clone(v.Sections)
	v.Output, v.Signal, v.Rectifier = copied(v.Output), copied(v.Signal), copied(v.Rectifier)
	if v.Rectifier != nil {
		v.Rectifier.Series = slices.Clone(v.Rectifier.Series)
	}
	return v
}

func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	x := *p
	return &x
}

func (v Valve) names() []string {
	return append(strings.Split(v.US, "/"), v.Type)
}
