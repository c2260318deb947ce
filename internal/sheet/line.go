package sheet

import (
	"fmt"
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// line checks the parts of the HT line against each other.
func (r *review) line() {
	s := r.set
	r.rating("reservoir.rating", s.Reservoir.Rating)
	r.rating("second.rating", s.Second.Rating)
	v, err := s.RectifierValve()
	if err != nil {
		return
	}
	if has := s.Reservoir.Capacitance; has != nil {
		r.reservoir(*has, v.Rectifier.CMax, s.Rectifier)
	}
	if w := s.HTWinding; w != nil && !(w.Volts <= v.Rectifier.VacMax) {
		r.warn("ht-winding.volts", fmt.Sprintf("%v are more than the %v that each anode of %s stands", w.Volts, v.Rectifier.VacMax, s.Rectifier), "is it the volts of one half?")
	}
}

// reservoir checks the first capacitor against what the rectifier may charge.
func (r *review) reservoir(has, most unit.Farad, valve string) {
	far := limits.Lookup("reservoir-most").Value.Value
	switch {
	case most == 0:
		r.note("reservoir.capacitance", "the data of "+valve+" gives no largest reservoir", "whether it can charge this one is not judged")
	case has <= most:
	case has <= most*unit.Farad(far):
		r.warn("reservoir.capacitance", fmt.Sprintf("%v is more than the %v that %s may charge", has, most, valve), "a smaller one spares the rectifier")
	default:
		r.refuse("reservoir.capacitance", fmt.Sprintf("%v is more than %v times the %v that %s may charge", has, far, most, valve), "the peaks of current wear out the rectifier: fit a smaller one")
	}
}

// rating checks a capacitor against the HT it sees when no valve draws current,
// at the profile's top mains. Where that is typical the winding's own reading
// has the last word, before there is HT.
func (r *review) rating(field string, has *unit.Volt) {
	ht, typical, ok := r.set.NoLoadHT(r.profile.MainsTop)
	if has == nil || !ok || *has >= ht {
		return
	}
	what := fmt.Sprintf("a rating of %v is below the %v that stand there before the valves draw current, at %v mains", *has, whole(ht), r.profile.MainsTop)
	if typical {
		r.warn(field, what, "that is a typical figure: the winding is read with the transformer alone, and the rating judged then")
		return
	}
	r.refuse(field, what, "fit a capacitor rated above it")
}

// whole rounds volts up to the next whole one, for words.
func whole(v unit.Volt) unit.Volt { return unit.Volt(math.Ceil(float64(v))) }

// output checks the parts round the output valve.
func (r *review) output() {
	s := r.set
	v, _, err := s.OutputValve()
	if err != nil {
		return
	}
	if leak, most := s.Output.GridLeak, v.Output.GridLeakMax; leak != nil && most > 0 && *leak > most {
		r.refuse("output-stage.grid-leak", fmt.Sprintf("%v is more than the %v that %s may have", *leak, most, v.Type), "with more its grid can drift positive")
	}
	r.cathode(v.Type, v.Output.IkMax)
	r.coupling()
}

// cathode checks the printed cathode volts over the cathode resistor.
func (r *review) cathode(valve string, most unit.Ampere) {
	p, rk := r.set.Printed, r.set.Output.CathodeR
	if p == nil || p.Cathode == nil || rk == nil {
		return
	}
	if most == 0 {
		r.note("output-stage.cathode-resistor", "the data of "+valve+" gives no limit of cathode current", "whether the printed volts suit the resistor is not judged")
		return
	}
	current := unit.Ampere(float64(*p.Cathode) / float64(*rk))
	what := fmt.Sprintf("printed cathode volts over the cathode resistor give %v, and %s may carry %v", amps(current), valve, most)
	switch part, band := float64(current/most), limits.BandOf("cathode-current"); {
	case part <= band.PassHi:
	case !(part <= band.QueryHi):
		r.refuse("output-stage.cathode-resistor", what, "one of the two is not this set's")
	default:
		r.warn("output-stage.cathode-resistor", what, "the valve is run hard: look at both again")
	}
}

// coupling checks the capacitor at the output grid against the rail behind it.
func (r *review) coupling() {
	k := r.set.Output.Coupling
	if k == nil || k.Rating == nil {
		return
	}
	const field, hint = "output-stage.coupling.rating", "its leak is what kills output valves: fit one rated above the rail"
	rail, known := r.set.railVolts()
	if !known {
		r.couplingTypical(*k.Rating)
		return
	}
	if !(*k.Rating >= rail) {
		r.refuse(field, fmt.Sprintf("a rating of %v is below the %v of the rail that feeds the driver", *k.Rating, rail), hint)
	}
	if k.AnodeWarm != nil && !(*k.AnodeWarm < rail) {
		r.refuse("output-stage.coupling.anode-warm", fmt.Sprintf("%v at the driver's anode are not below the %v of its rail", *k.AnodeWarm, rail), "one of the two is wrong")
	}
}

// couplingTypical takes the HT without load for a rail whose volts nobody gives:
// no rail is higher.
func (r *review) couplingTypical(rating unit.Volt) {
	if ht, _, ok := r.set.NoLoadHT(r.profile.MainsNominal); ok && !(rating >= ht) {
		r.warn("output-stage.coupling.rating", fmt.Sprintf("a rating of %v may be below the rail that feeds the driver, at most %v", rating, whole(ht)), "write the rail's volts at output-stage.coupling.rail-volts")
	}
}
