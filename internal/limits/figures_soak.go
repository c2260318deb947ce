package limits

import "example.com/powerup/internal/unit"

// figuresSoak: an hour at full mains, and the heat that comes with it.
var figuresSoak = []Figure{
	practice("soak-5", 5*minute, "soak: first reading"),
	practice("soak-15", 15*minute, "soak: second reading"),
	practice("soak-30", 30*minute, "soak: third reading"),
	practice("soak-45", 45*minute, "soak: fourth reading"),
	practice("soak-60", 60*minute, "soak: fifth reading; the soak lasts at least"),
	practice("soak-grid", 20*minute, "soak: the output grid is read again at"),
	practice("soak-step", 15*minute, "soak: an unsettled core is soaked on in steps of"),
	practice("soak-longest", 3*hour, "soak: a core unsettled after is a stop"),
	practice("soak-ratio", number(0.9), "soak: unsettled when the last rise over the one before is above"),
	practice("soak-small-rise", unit.Celsius(3), "soak: an earlier rise below this is too small to reckon from, and is added instead"),
	practice("soak-room", unit.Celsius(25), "end temperatures are reckoned for a room of"),
	practice("core-pass", unit.Celsius(60), "core surface, end value, at most"),
	practice("core-stop", unit.Celsius(80), "core surface, end value: above is a stop"),
	practice("winding-pass", unit.Celsius(85), "winding by resistance, less than"),
	practice("winding-stop", unit.Celsius(95), "winding by resistance: a stop from"),
	practice("winding-early", 2*minute, "hot winding ohms are read from, after off"),
	practice("winding-late", 9*minute, "hot winding ohms are read to, after off"),
	practice("capacitor-rise", unit.Celsius(10), "a new capacitor away from heat is above the room by at most"),
	practice("soak-drift", unit.Percent(1), "soak: HT moves in ten minutes by less than"),
	practice("soak-drift-from", 20*minute, "soak: that holds after"),
}
