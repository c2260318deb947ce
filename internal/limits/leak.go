package limits

import (
	"math"

	"example.com/powerup/internal/unit"
)

// oldLeak has the factor of the published table by the volts applied: JAN-C-62,
// as quoted on a restorers' list (seen).
var oldLeak = []struct {
	upTo unit.Volt
	k    float64 // mA per µF
}{{100, 0.01}, {250, 0.02}, {350, 0.025}, {math.MaxFloat64, 0.04}}

// OldLeak is the most an old electrolytic may leak once formed, at the volts
// applied: K C + 0.3 mA. A capacitance or volts that nothing has give 0.
func OldLeak(c unit.Farad, v unit.Volt) unit.Ampere {
	if !finite(float64(c)) || !finite(float64(v)) {
		return 0
	}
	i := 0
	for v > oldLeak[i].upTo {
		i++
	}
	return unit.Ampere((oldLeak[i].k*float64(c)*1e6 + 0.3) * 1e-3)
}

// NewLeak is the most a new electrolytic leaks whose data sheet is not at hand:
// 0.01 C V µA with C in µF (from memory). As [OldLeak] for what nothing has.
func NewLeak(c unit.Farad, v unit.Volt) unit.Ampere {
	if !finite(float64(c)) || !finite(float64(v)) {
		return 0
	}
	return unit.Ampere(0.01 * float64(c) * float64(v))
}
