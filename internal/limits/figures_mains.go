package limits

import "example.com/powerup/internal/unit"

const (
	iec61557 = "IEC 61557-2:2019"
	usNote   = "service-safety note in a maker's manual, United States"
)

// figuresMains: insulation, isolation, bond and fuses. What depends on the
// place stands in the profiles.
var figuresMains = []Figure{
	seen("tester-error", unit.Percent(30), "an insulation tester may err by", iec61557),
	computed("tester-guard", number(0.7), "a displayed insulation limit is the limit divided by", "1 - 30 %, the error of "+iec61557),
	practice("insulation-volts", unit.Volt(500), "insulation is tested at"),
	practice("insulation-volts-gentle", unit.Volt(250), "tried first on a damp set or one with filters, and on the HT line"),
	practice("insulation-time", unit.Second(60), "insulation is read after"),
	practice("insulation-condition", unit.Ohm(20e6), "insulation below is damp or tired, though within the limit"),
	practice("warm-retest", 10*minute, "insulation is read again warm within this of switching off"),

	practice("outlet-low", number(0.85), "volts read at an outlet below this times the profile's lowest are no mains: no window follows from them"),
	practice("outlet-high", number(1.1), "and above this times its top"),

	practice("isolation-floor", unit.Ohm(2e6), "isolating transformer, each output pole to its own input pins and to earth, at least"),
	practice("floating-floor", unit.Ohm(20e6), "chassis to earth or to the pins with everything connected, more than"),
	practice("switch-open", unit.Ohm(2e6), "an open mains switch has at least"),
	practice("winding-insulation", unit.Ohm(5e6), "HT winding to the other windings, at least"),
	practice("output-transformer-insulation", unit.Ohm(2e6), "output transformer secondary to primary and chassis, at least"),
	seen("aerial-bleed-low", unit.Ohm(1e6), "bleed across an aerial isolating capacitor, from", usNote),
	seen("aerial-bleed-high", unit.Ohm(5.2e6), "bleed across an aerial isolating capacitor, to", usNote),

	practice("bond-current", unit.Ampere(0.2), "a bond tester gives at least"),
	practice("bond-digit", unit.Ohm(1e-3), "last digit of a bond tester, at most"),
	memory("flex-ohms", unit.Ohm(0.026), "earth core of 0.75 mm², per metre", "resistance of copper flex, 26 mΩ/m"),

	practice("fuse-of-rated", number(1.5), "a set fuse is the next rating at or above this times the rated current"),
	practice("fuse-thin", unit.Ampere(1), "a fuse rated less has ohms that can be read"),
	practice("substitute-current", unit.Ampere(3.5e-3), "source of the substitute touch-current method, limited to"),
}
