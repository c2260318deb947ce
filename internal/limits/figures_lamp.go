package limits

import "example.com/powerup/internal/unit"

// figuresLamp: the lamp limiter, and the transformer alone behind it.
var figuresLamp = []Figure{
	seen("lamp-exponent", number(0.55), "lamp current goes as lamp volts to the power of", "published lamp re-rating law"),
	memory("cold-lamp-ratio-low", number(10), "hot over cold ohms of a lamp, from", "tungsten filament data"),
	memory("cold-lamp-ratio-high", number(15), "hot over cold ohms of a lamp, to", "tungsten filament data"),
	practice("lamp-first-low", unit.Ampere(0.11), "lamp for the transformer alone and for the heaters, from"),
	practice("lamp-first-high", unit.Ampere(0.17), "lamp for the transformer alone and for the heaters, to"),
	practice("lamp-last", number(1.7), "the last lamp passes at least this times the set's rated current"),
	practice("half-fault", unit.Percent(50), "of the set's watts more: the fault that the lamp of the ramp should tell from the healthy set"),
	practice("lamp-early", unit.Second(5), "transformer alone: lamp volts are first read after"),
	practice("lamp-late", unit.Second(60), "transformer alone: lamp volts are read again after"),
	practice("lamp-rise", unit.Percent(5), "transformer alone: lamp volts that rise by more between the two are a stop"),
	practice("idle-warm", 5*minute, "transformer alone: warmth is felt for after"),

	practice("magnetising", unit.Ampere(40e-3), "magnetising current taken for a transformer at 230 V"),
	practice("magnetising-volts", unit.Volt(230), "tap volts of that figure"),
	practice("idle-pass", unit.Percent(12), "idle watts of a good transformer, of its volt-amperes, at most"),
	practice("idle-query", unit.Percent(25), "idle watts above this share of the volt-amperes are a stop"),
	practice("iron-typical", unit.Percent(9), "iron loss taken for a transformer, of its volt-amperes"),
	practice("va-of-watts", number(0.95), "size of a transformer unknown: the set's rated watts divided by"),
	practice("regulation-typical", unit.Percent(15), "winding volts printed on load are raised by, regulation unknown"),
}
