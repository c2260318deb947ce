package limits

import "example.com/powerup/internal/unit"

// figuresBench: meters, slips in typed readings, and the scope of the program.
var figuresBench = []Figure{
	practice("scope-ht", unit.Volt(500), "working HT above is out of scope"),
	practice("voltmeter-input", unit.Ohm(10e6), "meter for grids and other high-resistance points, at least"),
	practice("printed-volts", unit.Percent(15), "printed volts, brought to today's mains and meter, hold within: sound sets of one type differ so much"),
	practice("loading-said", unit.Percent(1), "a meter that shows less by more than this is named beside the window"),
	practice("sheet-meter", unit.OhmPerVolt(1000), "meter of printed volts when the sheet names none, besides one of 10 MΩ"),
	practice("routes-agree", unit.Percent(10), "two routes to one quantity agree within this, on top of both uncertainties"),
	practice("second-agree", unit.Percent(10), "a second reading by another meter or method agrees within"),
	practice("late-reading", unit.Second(60), "a reading of a timed series is called late after"),
	practice("second-later", 5*minute, "the same meter once more counts as a second reading after"),
	practice("outlet-agree", unit.Percent(3), "volts at the outlet before and after mains was on agree within; else what was read between is read again"),
	practice("removal-agree", unit.Percent(10), "a clip is off when the HT line reads its last ohms less at most"),
	practice("record-room", number(1<<20), "bytes free where the record is kept: with less nothing is switched on"),
	practice("slip-thousand", unit.Percent(5), "a reading this near 1000 or 1/1000 of the expected one: the prefix is asked for"),
	practice("slip-far", number(10), "a reading this many times off its window is typed again"),
}
