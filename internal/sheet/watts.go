package sheet

import (
	"fmt"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// watts holds what the set takes from the mains against what can draw it: its
// heaters at least, and at most those with all that the rectifier may give. Fuses
// follow from it, so that ten times too much would let one pass that never blows.
func (r *review) watts() {
	s := r.set
	load := s.heaterLoad()
	if s.Watts == nil || load.volts == 0 {
		return
	}
	heaters := unit.Watt(float64(load.volts) * float64(load.all()))
	number := func(id string) float64 { return limits.Lookup(id).Value.Value }
	const field = "watts"
	if float64(*s.Watts) < number("watts-of-heaters")*float64(heaters) {
		r.refuse(field, fmt.Sprintf("%v are less than the %v of its heaters alone", *s.Watts, twoDigits(heaters)), "is a digit missing?")
		return
	}
	ht, _, known := s.NoLoadHT(r.profile.MainsNominal)
	v, err := s.RectifierValve()
	if !known || err != nil {
		return
	}
	most := heaters + unit.Watt(float64(ht)*float64(v.Rectifier.IdcMax))
	times := float64(*s.Watts / most)
	what := fmt.Sprintf("%v are %.2g times the %v that its heaters take and its rectifier may give", *s.Watts, times, twoDigits(most))
	switch {
	case times <= number("watts-hard"):
	case times <= number("watts-most"):
		r.warn(field, what, "is something else fed from the set? Fuses follow from this figure")
	default:
		r.refuse(field, what, "is a decimal point missing? Fuses follow from this figure")
	}
}

// twoDigits rounds watts to two digits, for words.
func twoDigits(w unit.Watt) unit.Quantity { return unit.Round(w.Quantity(), 2) }
