package limits

import "example.com/powerup/internal/unit"

// figuresOutput: the output stage at work.
var figuresOutput = []Figure{
	practice("grid-low", unit.Volt(-0.5), "output grid, cathode bias: a query below"),
	practice("grid-pass", unit.Volt(0.25), "output grid, cathode bias: positive by at most"),
	practice("grid-stop", unit.Volt(0.5), "output grid: more positive is a stop"),
	practice("cathode-absent", unit.Volt(0.1), "cathode volts below this with volts across the output transformer: a short"),
	practice("opt-present", unit.Volt(1), "output transformer volts that show anode current, more than"),
	computed("dissipation-exponent", number(2.2), "anode dissipation with cathode bias goes as mains to the power of", "circuit of the worked example, 0.9 to 1.1 of nominal mains"),
	computed("cathode-exponent", number(1.2), "cathode volts with cathode bias go as mains to the power of", "circuit of the worked example, 0.5 to 1.1 of nominal mains"),
	computed("ripple-rms", number(3.15), "peak to peak over r.m.s. of ripple at the reservoir", "simulated supplies, 3.05 to 3.4"),
	practice("rest-typical", unit.Ohm(47e3), "dividers and triodes on the HT line, hot, where the sheet says nothing"),
	practice("grid-early", 1*minute, "full mains: the output grid is read first within"),
	practice("grid-second", 3*minute, "full mains: the output grid is read again at"),
	practice("grid-third", 5*minute, "full mains: the output grid is read again at"),
}
