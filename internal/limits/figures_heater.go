package limits

import "example.com/powerup/internal/unit"

const cp1005 = "1962 trade article quoting British practice, BS CP1005"

// figuresHeater: heaters, and what cathodes stand.
var figuresHeater = []Figure{
	seen("heater-recommended", unit.Percent(7), "heater volts lie within, recommended", cp1005),
	seen("heater-outer", unit.Percent(10), "heater volts lie within, outer limit", cp1005),
	practice("heater-glow", unit.Second(60), "every heater glows in less than"),
	practice("heaters-settled", 3*minute, "heaters and thermistor have settled after"),
	practice("emitting", unit.Percent(85), "of tap volts: cathodes are known to emit from"),
	practice("low-emission", 15*minute, "HT on cathodes below that for at most"),
}
