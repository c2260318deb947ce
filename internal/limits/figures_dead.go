package limits

import "example.com/powerup/internal/unit"

// figuresDead: tests of the HT side with the plug out.
var figuresDead = []Figure{
	practice("settled-agree", unit.Percent(5), "two readings this near are settled"),
	practice("settled-apart", unit.Second(60), "and were taken this far apart"),
	practice("settled-constants", number(5), "a charging line is expected to settle after this times R x C"),
	practice("path-most", unit.Ohm(500e3), "a drawn path of the HT line above this counts as none"),
	practice("ht-short", unit.Ohm(5e3), "HT line with nothing known of its path: a dead short below"),

	practice("leak-volts", unit.Volt(250), "HT line at volts: the tester's setting"),
	practice("leak-read-first", unit.Second(60), "HT line at volts: first reading after"),
	practice("leak-read-second", unit.Second(120), "HT line at volts: second reading after"),
	practice("leak-tester-current", unit.Ampere(3e-3), "HT line at volts: the tester gives at 250 V at least"),
	practice("leak-tester-error", unit.Percent(5), "HT line at volts: the tester reads leakage to within"),
	practice("leak-path-share", number(0.5), "HT line at volts: the path takes at most this share of the tester's current"),
	practice("loop-supply-volts", unit.Volt(200), "HT line at volts from a supply of at least"),
	practice("loop-supply-series", unit.Ohm(100e3), "and through"),

	practice("watts-of-heaters", number(0.9), "a set's watts over those of its heaters, at least: printed figures are rounded"),
	practice("watts-hard", number(1.5), "a set's watts over those of its heaters and of the most its rectifier gives at no-load HT: above this look at it again"),
	practice("watts-most", number(3), "and above this one of the figures is not this set's"),
	practice("reservoir-most", number(1.5), "a reservoir above this times the rectifier's maximum is a stop"),
	computed("no-load-over-working", number(1.5), "HT without load over working HT, where only the working HT is known, at most", "1.414 Va.c. over the d.c. volts: 1.36 for the outputs published for a rectifier of the EZ80's ratings, 1.47 for a radio at 73 mA; the next half up"),
	practice("cathode-most", unit.Volt(30), "printed volts of an output valve's cathode with a resistor, less than"),

	practice("coupling-pass", unit.Volt(0.1), "a coupling capacitor may lift the grid by"),
	practice("coupling-stop", unit.Volt(0.5), "a coupling capacitor that lifts the grid by more is a stop"),

	practice("primary-typical-low", number(0.03), "primary ohms of a set unknown, from this times V²/VA"),
	practice("primary-typical-high", number(0.08), "primary ohms of a set unknown, to this times V²/VA"),
	practice("primary-least", unit.Ohm(5), "primary at 230 V whose size is not on the sheet: a stop below"),
	practice("primary-least-volts", unit.Volt(230), "tap volts of that figure; it goes as volts squared"),

	memory("grid-leak-most", unit.Ohm(1e6), "grid leak of an output valve, cathode bias, where its data says nothing", "output valve data sheets"),
	memory("grid-leak-most-fixed", unit.Ohm(0.3e6), "grid leak of an output valve, fixed bias, where its data says nothing", "output valve data sheets"),
}
