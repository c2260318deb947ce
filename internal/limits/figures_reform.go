package limits

import "example.com/powerup/internal/unit"

const reageing = "capacitor maker's re-ageing note, 1993"

// figuresReform: forming old electrolytics from an external supply.
var figuresReform = []Figure{
	seen("reform-volts", unit.Volt(75), "an electrolytic rated above is formed through the large resistor", reageing),
	seen("reform-series", unit.Ohm(100e3), "forming resistor", reageing),
	seen("reform-current", unit.Ampere(1e-3), "forming current, at most", reageing),
	seen("reform-time", 4*hour, "at working volts for at least", reageing),
	practice("reform-rise-time", 5*minute, "leakage that rises at constant volts for this long is a stop"),
	practice("reform-case-rise", unit.Celsius(10), "case above the room by at most"),
	practice("leak-stop", number(3), "leakage above this times the limit is a stop"),
}
