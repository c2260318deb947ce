package limits

import "example.com/powerup/internal/unit"

// figuresSpread: how far good parts lie from what the sheet says. Their corners
// make the pass lines of the HT side.
var figuresSpread = []Figure{
	practice("spread-winding", unit.Percent(5), "volts and ohms of a winding not measured yet"),
	practice("spread-winding-read", unit.Percent(1), "volts of a winding read with the transformer alone"),
	practice("spread-resistor", unit.Percent(10), "a resistor not measured yet"),
	practice("spread-resistor-read", unit.Percent(2), "a resistor read dead"),
	practice("spread-capacitor-low", unit.Percent(20), "an electrolytic, downward"),
	practice("spread-capacitor-high", unit.Percent(50), "an electrolytic, upward"),
	practice("spread-valve", unit.Percent(20), "current of a valve at given volts"),
}
