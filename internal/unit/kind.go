package unit

// A kindSpec holds everything the parser and the printer know of one kind.
type kindSpec struct {
	unit     string   // as printed
	one      string   // the unit in words
	many     string   // and its plural
	noun     string   // what it measures, with its article: "a resistance"
	example  string   // a right spelling, for hints
	spelled  []string // every accepted spelling of the unit
	steps    []step   // accepted prefixes, largest first
	codes    []code   // letters that stand in the place of the decimal point
	needUnit bool     // a bare number says nothing of its size
}

const (
	omega    = "\u03a9" // Greek capital omega, as printed
	ohmSign  = "\u2126" // the ohm sign, also read
	micron   = "\u00b5" // the micro sign, as printed
	greekMu  = "\u03bc" // Greek small mu, also read
	degree   = "\u00b0"
	squared  = "\u00b2"
	maxWhole = 7 // digits before the decimal sign
	maxFrac  = 6 // digits after it
)

// kinds is read only. A unit's first spelling is the printed one.
var kinds = [...]kindSpec{
	None: {many: "nothing", steps: []step{{unity, 0}}},
	KindVolt: {
		unit: "V", one: "volt", many: "volts", noun: "a voltage", example: "230 V",
		spelled: []string{"V", "volt", "volts"},
		steps:   []step{{kilo, 3}, {unity, -1}, {milli, -3}},
	},
	KindOhm: {
		unit: omega, one: "ohm", many: "ohms", noun: "a resistance", example: "4.7 k" + omega,
		spelled: []string{omega, ohmSign, "ohm", "ohms"},
		steps:   []step{{giga, 9}, {mega, 6}, {kiloOrCapital, 3}, {unity, -1}, {milliWithUnit, -3}},
		codes:   ohmCodes,
	},
	KindAmpere: {
		unit: "A", one: "amp", many: "amps", noun: "a current", example: "38 mA",
		spelled: []string{"A", "amp", "amps"},
		steps:   []step{{unity, 0}, {milli, -4}, {micro, -6}},
	},
	// Milli is left out: old cans say mF and mfd for what is now µF.
	KindFarad: {
		unit: "F", one: "farad", many: "farads", noun: "a capacitance", example: "32 " + micron + "F",
		spelled:  []string{"F"},
		steps:    []step{{unity, never}, {micro, -6}, {nano, -9}, {pico, -12}},
		codes:    faradCodes,
		needUnit: true,
	},
	KindWatt: {
		unit: "W", one: "watt", many: "watts", noun: "a power", example: "60 W",
		spelled: []string{"W"},
		steps:   []step{{kilo, 3}, {unity, -1}, {milli, -3}},
	},
	KindCelsius: {
		unit: degree + "C", one: "degree Celsius", many: "degrees Celsius", noun: "a temperature", example: "20 " + degree + "C",
		spelled: []string{degree + "C", "C"},
		steps:   []step{{unity, 0}},
	},
	KindSecond: {
		unit: "s", one: "second", many: "seconds", noun: "a time", example: "60 s",
		spelled: []string{"s"},
		steps:   []step{{unity, -1}, {milliWithUnit, -3}},
	},
	KindPercent: {
		unit: "%", one: "per cent", many: "per cent", noun: "a percentage", example: "90 %",
		spelled: []string{"%"},
		steps:   []step{{unity, 0}},
	},
	KindMetre: {
		unit: "m", one: "metre", many: "metres", noun: "a length", example: "2.5 m",
		spelled: []string{"m"},
		steps:   []step{{unity, 0}},
	},
	KindSquareMetre: {
		unit: "mm" + squared, one: "square millimetre", many: "square millimetres", noun: "a cross-section", example: "0.75 mm" + squared,
		spelled: []string{"mm" + squared, "mm2"},
		steps:   []step{{squareMilli, 0}},
	},
	KindHertz: {
		unit: "Hz", one: "hertz", many: "hertz", noun: "a frequency", example: "50 Hz",
		spelled: []string{"Hz"},
		steps:   []step{{mega, 6}, {kilo, 3}, {unity, 0}},
	},
	KindOhmPerVolt: {
		unit: omega + "/V", one: "ohm per volt", many: "ohms per volt", noun: "a meter's sensitivity", example: "20 k" + omega + "/V",
		spelled: []string{omega + "/V", ohmSign + "/V", "ohm/V", "ohms/V"},
		steps:   []step{{kilo, 3}, {unity, 0}},
	},
	KindVoltAmpere: {
		unit: "VA", one: "volt-ampere", many: "volt-amperes", noun: "a transformer's size", example: "60 VA",
		spelled: []string{"VA"},
		steps:   []step{{kilo, 3}, {unity, 0}},
	},
	KindNumber: {many: "plain numbers", noun: "a plain number", example: "2", steps: []step{{unity, 0}}},
}

// spec returns the kind's table entry; a kind that is none of ours measures nothing.
func (k Kind) spec() *kindSpec {
	if int(k) >= len(kinds) {
		k = None
	}
	return &kinds[k]
}

// Unit returns the unit as printed, without prefix: "V", "Ω", "mm²". None and
// KindNumber have none.
func (k Kind) Unit() string { return k.spec().unit }

// Name returns the unit in words, plural, as errors say it: "volts", "ohms".
func (k Kind) Name() string { return k.spec().many }
