package limits

import (
	"math"

	"example.com/powerup/internal/unit"
)

// copperZero is where the straight line of copper's resistance meets zero, in
// degrees below 0 °C: text of a heating-test clause for motors and appliances
// (seen). It gives 0.00393 per kelvin at 20 °C.
const copperZero = 234.5

// CopperFactor is the resistance of copper at hot over that at cold:
// (234.5 + hot)/(234.5 + cold).
func CopperFactor(hot, cold unit.Celsius) float64 {
	return float64((copperZero + hot) / (copperZero + cold))
}

// CopperRise is the temperature of a winding above the room at the end, from
// its resistance r1 at t1, where the room was room1, and r2 in room2:
// (234.5 + t1)(r2 - r1)/r1 - (room2 - room1). NaN unless r1 is above 0.
func CopperRise(r1, r2 unit.Ohm, t1, room1, room2 unit.Celsius) unit.Celsius {
	if !(r1 > 0) {
		return unit.Celsius(math.NaN())
	}
	return (copperZero+t1)*unit.Celsius((r2-r1)/r1) - (room2 - room1)
}
