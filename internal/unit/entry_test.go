package unit

import (
	"math"
	"strings"
	"testing"
)

func TestEntryTakesNumbers(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		text   string
		want   float64
		unit   bool
		reason string
	}{
		{KindOhm, "4.7 kΩ", 4700, true, "as in a file"},
		{KindOhm, "4.7k", 4700, false, "prefix for unit"},
		{KindOhm, "4.7K", 4700, false, "as resistors are marked"},
		{KindOhm, "217k", 217e3, false, "as a meter shows it"},
		{KindOhm, "4.7 kohm", 4700, true, "no omega on the keyboard"},
		{KindOhm, "133 ohm", 133, true, "asked for the unit"},
		{KindOhm, "133", 133, false, "the prompt has said the unit"},
		{KindOhm, "2M", 2e6, false, "capital M"},
		{KindOhm, "20 mohm", 0.02, true, "milli with its unit"},
		{KindOhm, "  4k7  ", 4700, false, "spaces around do not count"},
		{KindOhm, "4k7 ohm", 4700, true, "letter code and unit"},
		{KindOhm, "00.2", 0.2, false, "some displays show leading zeros"},
		{KindOhm, "-0.1", -0.1, false, "the sign is kept"},
		{KindVolt, "270 V", 270, true, "HT"},
		{KindVolt, "-12.5 V", -12.5, true, "bias"},
		{KindVolt, "+2 V", 2, true, "one sign"},
		{KindVolt, "-0.0", 0, false, "minus nothing is nothing"},
		{KindVolt, "50m", 0.05, false, "no M for volts, so m is plain"},
		{KindVolt, "4,7", 4.7, false, "decimal comma"},
		{KindVolt, "4,75", 4.75, false, "two digits after the comma"},
		{KindVolt, "4,7501", 4.7501, false, "four digits after the comma"},
		{KindAmpere, "300 mA", 0.3, true, "with unit"},
		{KindAmpere, "38m", 0.038, false, "prefix for unit"},
		{KindFarad, "32u", 32e-6, false, "a size is wanted, not the unit"},
		{KindFarad, "32 µF", 32e-6, true, "with unit"},
		{KindFarad, "10n", 10e-9, false, "prefix for unit"},
		{KindFarad, "0.00001 F", 10e-6, true, "with unit"},
		{KindSquareMetre, "0.75", 0.75e-6, false, "a flex is in mm²"},
		{KindCelsius, "21", 21, false, "the room"},
		{KindPercent, "75", 75, false, "of the tap"},
		{KindNumber, "3", 3, false, "a count"},
	} {
		e, err := ParseEntry(c.kind, c.text)
		if err != nil || e.Form != Exact || !same(e.Value, c.want) || e.Unit != c.unit || e.Raw != c.text {
			t.Errorf("%s: ParseEntry(%q) = %+v, %v; want %v, unit %v", c.reason, c.text, e, err, c.want, c.unit)
		}
	}
}

// Source: IEC 60062:2016, marking codes for resistors and capacitors, from memory.
func TestLetterCodesOfIEC60062(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want float64
	}{
		{KindOhm, "R10", 0.1},
		{KindOhm, "R47", 0.47},
		{KindOhm, "0R22", 0.22},
		{KindOhm, "1R0", 1},
		{KindOhm, "3R32", 3.32},
		{KindOhm, "47R", 47},
		{KindOhm, "59R04", 59.04},
		{KindOhm, "100R", 100},
		{KindOhm, "1K0", 1e3},
		{KindOhm, "4k7", 4.7e3},
		{KindOhm, "4K7", 4.7e3},
		{KindOhm, "59K04", 59.04e3},
		{KindOhm, "1M0", 1e6},
		{KindOhm, "2M2", 2.2e6},
		{KindOhm, "1G05", 1.05e9},
		{KindFarad, "p10", 0.1e-12},
		{KindFarad, "3p32", 3.32e-12},
		{KindFarad, "n15", 0.15e-9},
		{KindFarad, "1n5", 1.5e-9},
		{KindFarad, "4n7", 4.7e-9},
		{KindFarad, "u10", 0.1e-6},
		{KindFarad, "\u00b510", 0.1e-6},
		{KindFarad, "\u03bc10", 0.1e-6},
		{KindFarad, "2u2", 2.2e-6},
		{KindFarad, "2\u00b52", 2.2e-6},
		{KindFarad, "2\u03bc2", 2.2e-6},
	} {
		e, err := ParseEntry(c.kind, c.text)
		rUnit := strings.Contains(c.text, "R") // it stands for the ohm
		if err != nil || e.Form != Exact || !same(e.Value, c.want) || e.Unit != rUnit {
			t.Errorf("ParseEntry(%q) = %+v, %v; want %v", c.text, e, err, c.want)
		}
	}
}

func TestEntryTakesWhatIsNoNumber(t *testing.T) {
	for _, c := range []struct {
		text   string
		form   Form
		value  float64
		unit   bool
		reason string
	}{
		{"-", NotRead, math.NaN(), false, "could not be reached"},
		{" - ", NotRead, math.NaN(), false, "spaces do not count"},
		{"OL", Over, math.NaN(), false, "as the display shows it"},
		{"ol", Over, math.NaN(), false, "any case"},
		{"oL", Over, math.NaN(), false, "any case"},
		{"9.9E37", Over, math.NaN(), false, "an instrument's infinity (SCPI-1999 vol. 1, 7.2.1.4, from memory)"},
		{"+9.90000000E+37", Over, math.NaN(), false, "the same at full length"},
		{"9.9e+37", Over, math.NaN(), false, "the same in small letters"},
		{">20M", Above, 20e6, false, "top of the range"},
		{"> 20 MΩ", Above, 20e6, true, "with spaces and unit"},
		{">2M2", Above, 2.2e6, false, "with a letter code"},
		{"<0.1", Below, 0.1, false, "less than a digit"},
		{"<0.1 ohm", Below, 0.1, true, "with unit"},
	} {
		e, err := ParseEntry(KindOhm, c.text)
		sameValue := same(e.Value, c.value) || math.IsNaN(e.Value) && math.IsNaN(c.value)
		if err != nil || e.Form != c.form || !sameValue || e.Unit != c.unit || e.Raw != c.text {
			t.Errorf("%s: ParseEntry(%q) = %+v, %v", c.reason, c.text, e, err)
		}
	}
}

func TestOnlyTheBenchRefuses(t *testing.T) {
	for _, c := range []struct {
		kind        Kind
		text        string
		says, hints string
		reason      string
	}{
		{KindOhm, "1.", `"1." is not a number`, "type OL", "how old digital meters show over range"},
		{KindOhm, "0L", "is not a number", "type OL", "a nought for the letter"},
		{KindOhm, "O.L", "is not a number", "type OL", "with the display's point"},
		{KindVolt, "-OL", "is not a number", "type OL", "over range below zero is not above the top"},
		{KindOhm, "∞", "is not a number", "type OL", "the sign"},
		{KindOhm, "inf", "is not a number", "type OL", "the word"},
		{KindOhm, ">OL", "is not a number", "type OL", "beyond beyond"},
		{KindOhm, "9.91E37", `"9.91E37" is not a number`, "read again", "an instrument's not-a-number (SCPI-1999 vol. 1, 7.2.1.5, from memory)"},
		{KindOhm, "+9.91000000E+37", "is not a number", "read again", "the same at full length"},
		{KindVolt, "-9.9E37", "is not a number", "below zero", "an instrument's minus infinity"},
		{KindOhm, "9.8E37", "has an exponent", "prefix", "no mark of any instrument"},
		{KindOhm, "9.9E37 Ω", "has an exponent", "prefix", "the mark has no unit; never a value"},
		{KindOhm, ">", "there is no number", "number", "nothing after the sign"},
		{KindOhm, ">>5", "is not a number", "digits first", "twice"},
		{KindOhm, "<-5", "no end of a range", "above zero", "no meter shows that"},
		{KindOhm, "<0", "no end of a range", "above zero", "below nothing is an open question"},
		{KindOhm, ">0", "no end of a range", "above zero", "says nothing"},
		{KindFarad, ">20", "any size of capacitance", "32 µF", "bare"},
		{KindOhm, ">12 V", "12 V is not a resistance", "give ohms", "another kind"},
		{KindOhm, "   ", "there is no number", "number", "spaces are nothing: Enter alone never enters a value"},
		{KindOhm, "--", "two signs", "one sign", "not the mark for not read"},
		{None, "-", "nothing says what", "fault of the program", "a kind nobody set has no readings either"},
		{KindNumber + 1, "-", "nothing says what", "fault of the program", "nor has a kind that is none"},
		{None, "9.9E37", "nothing says what", "fault of the program", "likewise"},
	} {
		e, err := ParseEntry(c.kind, c.text)
		msg := isRefusal(t, err)
		if !strings.Contains(msg, c.says) || !strings.Contains(msg, c.hints) {
			t.Errorf("%s: ParseEntry(%q) says %q; want %q and %q", c.reason, c.text, msg, c.says, c.hints)
		}
		if e.Form != NotRead || !math.IsNaN(e.Value) || e.Raw != c.text {
			t.Errorf("%s: ParseEntry(%q) left %+v behind", c.reason, c.text, e)
		}
	}
}
