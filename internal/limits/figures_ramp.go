package limits

import "example.com/powerup/internal/unit"

// figuresRamp: raising the volts, the first start at full mains, what cuts it short.
var figuresRamp = []Figure{
	practice("step-reached", unit.Percent(2), "of tap volts: a step counts as reached within"),
	practice("largest-step", unit.Percent(25), "of tap volts: the volts rise by at most, from one step to the next"),
	practice("ceiling-step", unit.Percent(5), "of tap volts: a lamp's ceiling is rounded down to"),
	practice("not-at-volts-hold", unit.Second(600), "HT line not tested at volts: the first step that shows HT is held"),
	practice("emits-from", unit.Percent(40), "of tap volts: below it a valve rectifier may give nothing at all"),
	practice("dwell", unit.Second(60), "stay on a step on the first pass"),
	practice("settling", unit.Second(20), "stay on a step passed before"),
	practice("settled", 3*minute, "at a step: readings have settled, and HT may no longer stand at its valves-cold figure"),
	practice("grid-wait", 5*minute, "the output grid is read again at the ceiling after"),
	practice("two-sided", unit.Percent(75), "of tap volts: HT has a lower bound from"),
	practice("two-sided-direct", unit.Percent(70), "of tap volts: the same with a solid-state or directly heated rectifier"),
	practice("two-sided-dwell", unit.Second(60), "and stood there for"),
	practice("cold-off", 3*minute, "off before the first cold start at full mains"),
	practice("shield", 15*minute, "shield and eye protection stay for, from the first full mains"),

	practice("rating-stop", number(1.1), "HT above this times the lowest capacitor's rating is a stop at any instant"),
	practice("rating-longest", unit.Second(30), "HT above the lowest capacitor's rating is a stop after"),
	practice("ht-fall", unit.Percent(2), "HT that falls by more in a minute at constant mains: off at once"),
	practice("part-hot", unit.Celsius(60), "a part not meant to run hot that passes this: off at once"),
	practice("part-hot-time", 5*minute, "when it does so within"),

	practice("slope-readings", number(3), "a slope is taken from at least so many readings"),
	practice("slope-span", 2*minute, "and over at least"),
	practice("slope-from", 3*minute, "and from"),
}
