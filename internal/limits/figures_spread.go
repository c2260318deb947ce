package limits

import "example.com/powerup/internal/unit"

// figuresSpread: how far good parts lie from what the sheet says. Their corners
// make the pass lines of the HT side, so each says why it is as wide as it is.
var figuresSpread = []Figure{
	practice("spread-winding", unit.Percent(5), "volts and ohms of a winding not measured yet").
		because("sheets print rounded figures, and wire is drawn and wound within a few per cent"),
	practice("spread-winding-read", unit.Percent(1), "volts of a winding read with the transformer alone").
		because("what is left is the meter's error and mains that move between two readings"),
	practice("spread-resistor", unit.Percent(10), "a resistor not measured yet").
		because("the silver ring of the time is 10 %; one that has drifted further is found dead"),
	practice("spread-resistor-read", unit.Percent(2), "a resistor read dead").
		because("what is left is the meter's error and the part's warmth at work"),
	practice("spread-capacitor-low", unit.Percent(20), "an electrolytic, downward").
		because("made and marked so; one that has lost more is worn"),
	practice("spread-capacitor-high", unit.Percent(50), "an electrolytic, upward").
		because("made and marked so: plates are etched for at least the value"),
	practice("spread-valve", unit.Percent(20), "current of a valve at given volts").
		because("new valves of one type lie about so far from the published current; a worn one is to be a query"),
}
