package sheet

import (
	"fmt"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// printed checks the printed volts against each other.
func (r *review) printed() {
	p := r.set.Printed
	if p == nil {
		return
	}
	r.above("ht2", p.HT2, "ht1", p.HT1, false)
	r.above("anode", p.Anode, "ht1", p.HT1, false)
	r.above("screen", p.Screen, "ht2", p.HT2, true)
	r.above("cathode", p.Cathode, "anode", p.Anode, false)
	if p.Cathode != nil && !(*p.Cathode < unit.Volt(limits.Lookup("cathode-most").Value.Value)) {
		r.refuse("printed.cathode", fmt.Sprintf("%v at the cathode are more than any output valve of a radio has", *p.Cathode), "is a decimal point missing?")
	}
	if p.Meter != nil && p.PerVolt != nil {
		r.refuse("printed.meter-input", "the printed volts were taken with a fixed input resistance or with ohms per volt, not both", "keep the one that the service sheet names")
	}
	if p.PerVolt != nil && p.Range == nil {
		r.note("printed.meter-range", "the range of the meter for the printed volts is missing", "how far it loaded the set is not known: only what both ends allow passes")
	}
}

// above wants one printed voltage to be above another; with equal it may be the
// same.
func (r *review) above(low string, l *unit.Volt, high string, h *unit.Volt, equal bool) {
	if l == nil || h == nil || *l < *h || equal && *l == *h {
		return
	}
	r.refuse("printed."+low, fmt.Sprintf("%s of %v is not below %s of %v", low, *l, high, *h), "they cannot be so in one set: look at the lines again")
}
