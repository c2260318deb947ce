package unit

import (
	"math"
	"strings"
	"testing"
)

// same compares bits as far as a reading goes: NaN equals nothing.
func same(got, want float64) bool { return math.Abs(got-want) <= 0 }

// isRefusal holds every refusal to the one voice: fact, line, hint.
func isRefusal(t *testing.T, err error) string {
	t.Helper()
	if err == nil {
		t.Fatal("accepted")
	}
	fact, hint, found := strings.Cut(err.Error(), "\nhint: ")
	if !found || fact == "" || hint == "" || strings.HasSuffix(fact, ".") || strings.Contains(hint, "\n") {
		t.Errorf("not a fact and a hint on its own line: %q", err)
	}
	return err.Error()
}

func TestParseTakes(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		text   string
		want   float64
		reason string
	}{
		{KindOhm, "4.7 kΩ", 4700, "the printed form; the prefix moves the point and rounds nothing"},
		{KindOhm, "4.7 k\u03a9", 4700, "Greek omega"},
		{KindOhm, "4.7 k\u2126", 4700, "the ohm sign"},
		{KindOhm, "4.7 kohm", 4700, "a keyboard without omega"},
		{KindOhm, "4.7kohms", 4700, "the space may be left out"},
		{KindOhm, "10 Mohm", 1e7, "capital M is mega"},
		{KindOhm, "10 mohm", 0.01, "small m is milli"},
		{KindOhm, "1.05 GΩ", 1.05e9, "insulation"},
		{KindOhm, "0.1 Ω", 0.1, "no prefix"},
		{KindOhm, "-3 Ω", -3, "a charged capacitor makes an ohmmeter read below zero; who judges must see it"},
		{KindVolt, "230 V", 230, "mains"},
		{KindVolt, "+0.5 V", 0.5, "a sign on a limit"},
		{KindVolt, "-0 V", 0, "minus nothing is nothing"},
		{KindVolt, "-12.5 V", -12.5, "bias"},
		{KindVolt, "1 volt", 1, "the word"},
		{KindVolt, "50 mV", 0.05, "milli"},
		{KindVolt, "1.5 kV", 1500, "kilo"},
		{KindAmpere, "12.3 mA", 0.0123, "milli"},
		{KindAmpere, "50 uA", 50e-6, "u for micro"},
		{KindAmpere, "50 \u00b5A", 50e-6, "the micro sign"},
		{KindAmpere, "50 \u03bcA", 50e-6, "Greek mu"},
		{KindAmpere, "3 amps", 3, "the word"},
		{KindFarad, "32 µF", 32e-6, "micro"},
		{KindFarad, "10 nF", 10e-9, "nano"},
		{KindFarad, "330 pF", 330e-12, "pico"},
		{KindWatt, "60 W", 60, "a lamp"},
		{KindWatt, "250 mW", 0.25, "a resistor"},
		{KindCelsius, "20 °C", 20, "the room"},
		{KindCelsius, "-5 C", -5, "a keyboard without the degree sign"},
		{KindSecond, "60 s", 60, "a wait"},
		{KindSecond, "30 ms", 0.03, "an RCD"},
		{KindPercent, "90 %", 90, "per cent of a hundred"},
		{KindPercent, "2.5%", 2.5, "no space"},
		{KindMetre, "2.5 m", 2.5, "a flex; here m is the unit"},
		{KindSquareMetre, "0.75 mm²", 0.75e-6, "a flex; the value is in m²"},
		{KindSquareMetre, "0.75 mm2", 0.75e-6, "a keyboard without the raised 2"},
		{KindHertz, "50 Hz", 50, "mains"},
		{KindOhmPerVolt, "20 kΩ/V", 20e3, "a moving-coil meter"},
		{KindOhmPerVolt, "1000 ohms/V", 1000, "an old service sheet"},
		{KindVoltAmpere, "60 VA", 60, "a transformer"},
		{KindNumber, "3", 3, "a count has no unit"},
		{KindVolt, "9999999.999999 V", 9999999.999999, "7 digits before the point and 6 after"},
	} {
		got, err := Parse(c.kind, c.text)
		if err != nil || !same(got, c.want) {
			t.Errorf("%s: Parse(%s, %q) = %v, %v; want %v", c.reason, c.kind.Name(), c.text, got, err, c.want)
		}
	}
}

// refused by both doors, file and bench.
var refused = []struct {
	kind   Kind
	text   string
	says   string // in the fact
	hints  string // in the hint
	reason string
}{
	{KindOhm, "", "there is no number", "a number and its unit", "nothing is no reading"},
	{KindOhm, "5. Ω", "no digit after the decimal sign", "5 or 5.0", "a digit could have been lost"},
	{KindOhm, ".5 Ω", "no digit before the decimal sign", "0.5", "the point could be a speck"},
	{KindVolt, ",5 V", "no digit before the decimal sign", "0.5", "likewise"},
	{KindVolt, "5, V", "no digit after the decimal sign", "5 or 5.0", "likewise"},
	{KindVolt, "1,234 V", "could mean 1234 or 1.234", "write 1234 or 1.234", "a thousand or one and a bit"},
	{KindVolt, "0,500 V", "could mean 0500 or 0.500", "0.500", "three digits after a comma are never guessed at"},
	{KindVolt, "1,234.5 V", "two decimal signs", "nothing between the thousands", "thousands separator"},
	{KindVolt, "1.234,5 V", "two decimal signs", "nothing between the thousands", "thousands separator, continental"},
	{KindVolt, "1.2.3 V", "two decimal signs", "one decimal point", "a version, not a voltage"},
	{KindVolt, "1 234 V", "something between its digits", "one number", "thousands separator, or two readings"},
	{KindVolt, "1_000 V", "something between its digits", "one number", "a programmer's number"},
	{KindVolt, "1'000 V", "something between its digits", "one number", "thousands separator, Swiss"},
	{KindVolt, "nan", "is not a number", "digits first", "NaN must never come in by the door"},
	{KindVolt, "NaN V", "is not a number", "digits first", "with a unit"},
	{KindVolt, "Infinity V", "is not a number", "digits first", "with a unit"},
	{KindVolt, "∞ V", "strange character U+221E", "letters of the keyboard", "the printed form of an infinity is not read back"},
	{KindVolt, "not a number", "is not a number", "digits first", "the printed form of NaN is not read back"},
	{KindVolt, "0x1f V", `ends in "x1f V"`, "give volts", "hexadecimal"},
	{KindVolt, "0b1 V", `ends in "b1 V"`, "give volts", "binary"},
	{KindVolt, "1e3 V", "has an exponent", "prefix", "nobody types an exponent at a bench"},
	{KindVolt, "1E+3 V", "has an exponent", "prefix", "likewise"},
	{KindOhm, "9.9E36", "has an exponent", "prefix", "next to the over-range mark, but not it"},
	{KindVolt, "--2 V", "two signs", "one sign", "minus minus"},
	{KindVolt, "+-2 V", "two signs", "one sign", "plus or minus"},
	{KindVolt, "- 2 V", "is not a number", "digits first", "a dash, and then two"},
	{KindVolt, "+", "is not a number", "digits first", "a sign alone"},
	{KindVolt, "\u22122 V", "a dash for a minus sign", "- of the keyboard", "a minus sign from a word processor"},
	{KindVolt, "abt 250 V", "is not a number", "digits first", "an estimate is a note, not a reading"},
	{KindVolt, "250 ish", `ends in "ish"`, "give volts, such as 230 V", "likewise"},
	{KindVolt, "250 V ish", `ends in "V ish"`, "give volts", "text after the unit"},
	{KindVolt, "250 V or so", `ends in "V or so"`, "give volts", "text after the unit"},
	{KindVolt, "250  V", "a space too many", "give volts", "one space"},
	{KindVolt, "250\tV", "control character", "by hand", "a tab could be a column of a table"},
	{KindVolt, "250 V\x00", "control character", "by hand", "nothing hidden"},
	{KindVolt, "250\x1b[2K V", "control character", "by hand", "an escape sequence"},
	{KindVolt, "2\xff V", "bytes that are no letter", "again", "broken encoding"},
	{KindVolt, "250\u00a0V", "strange character U+00A0", "keyboard", "a hard space"},
	{KindOhm, "4.7 \u043aohm", "strange character U+043A", "keyboard", "a Cyrillic k"},
	{KindVolt, "\u0662 V", "strange character U+0662", "keyboard", "an Arabic digit"},
	{KindVolt, "\uff12 V", "strange character U+FF12", "keyboard", "a full-width digit"},
	{KindVolt, "\u202e2 V", "strange character U+202E", "keyboard", "turns the text round"},
	{KindVolt, "12345678 V", "more digits than a meter shows", "7 digits before", "8 digits before the point"},
	{KindVolt, "1.2345678 V", "more digits than a meter shows", "6 after", "7 digits after it"},
	{KindVolt, "1" + strings.Repeat("0", 400) + " V", "too long", "one number", "would be an infinity"},
	{KindOhm, "12 V", "12 V is not a resistance", "give ohms, such as 4.7 kΩ", "volts on an ohms range"},
	{KindVolt, "4.7 kΩ", "4.7 kΩ is not a voltage", "give volts, such as 230 V", "another kind, with a prefix"},
	{KindWatt, "60 VA", "60 VA is not a power", "give watts", "a transformer's size is no power"},
	{KindVolt, "20 kΩ/V", "20 kΩ/V is not a voltage", "give volts", "another kind"},
	{KindCelsius, "20 m", "20 m is not a temperature", "give degrees Celsius", "another kind"},
	{KindNumber, "5 V", "5 V is not a plain number", "give plain numbers, such as 2", "a count has no unit"},
	{KindNumber, "5k", `ends in "k"`, "no unit and no prefix", "a count has no prefix"},
	{KindCelsius, "68 °F", `ends in "°F"`, "give degrees Celsius", "not converted"},
	{KindVolt, "5 MV", "has the prefix M", "kV, V, mV; m is milli, M is mega", "no set has megavolts: milli was meant, or nothing"},
	{KindVolt, "5M", "has the prefix M", "m is milli, M is mega", "likewise"},
	{KindVolt, "5 µV", "has the prefix µ", "kV, V, mV", "no bench meter here reads microvolts"},
	{KindAmpere, "5 MA", "has the prefix M", "A, mA, µA", "likewise"},
	{KindVolt, "1.5 KV", "has the prefix K", "kV", "capital K is for resistors"},
	{KindOhm, "5 T", "has the prefix T", "GΩ", "beyond any meter"},
	{KindVolt, "270 v", `ends in "v"`, "such as 230 V", "one spelling"},
	{KindFarad, "8 mfd", "milli, micro or mega", "8 µF", "an old can"},
	{KindFarad, "8 mF", "milli, micro or mega", "8 µF", "an old can says mF for what is now µF"},
	{KindFarad, "8 MF", "milli, micro or mega", "8 µF", "an old can"},
	{KindFarad, "32", "any size of capacitance", "32 µF", "picofarads or microfarads"},
	{KindOhm, "20m", "milli or mega", "mohm or Mohm", "shift not pressed: 20 MΩ of insulation would become a bond"},
	{KindSecond, "5 m", "not in seconds", "300 s", "minutes or milliseconds"},
	{KindSecond, "5 min", "not in seconds", "300 s", "one unit of time"},
	{KindSecond, "2h", "not in seconds", "300 s", "likewise"},
	{KindOhm, "4.7R", `ends in "R"`, "4R7", "R takes the point's place"},
	{KindOhm, "4k7J", `ends in "J"`, "give ohms", "the tolerance letter of IEC 60062 is no part of a reading"},
	{KindOhm, "4k7k", "two prefixes", "4k7", "kilo twice"},
	{KindOhm, "4k7 kΩ", "two prefixes", "4k7", "kilo twice"},
	{KindOhm, "4.7k5", `ends in "k5"`, "give ohms", "point and letter"},
	{KindOhm, "4m7", `ends in "m7"`, "give ohms", "milli is no letter code here"},
	{KindOhm, "k47", "is not a number", "digits first", "only R and the capacitor letters lead"},
	{KindOhm, "R", "is not a number", "digits first", "no digits at all"},
	{KindOhm, "4k1234567", "more digits", "6 after", "7 digits after the letter"},
	{KindFarad, "1m5", "milli, micro or mega", "µF", "no capacitor of a set has millifarads"},
	{KindVolt, "4k7", `ends in "k7"`, "give volts", "letter codes are for resistors and capacitors"},
	{KindOhm, "OLD", "is not a number", "digits first", "no word but OL"},
	{None, "5", "nothing says what", "fault of the program", "a kind nobody set"},
	{KindNumber + 1, "5 V", "nothing says what", "fault of the program", "a kind that is none"},
}

func TestBothDoorsRefuse(t *testing.T) {
	for _, c := range refused {
		t.Run(c.text+", "+c.reason, func(t *testing.T) {
			x, errFile := Parse(c.kind, c.text)
			e, errBench := ParseEntry(c.kind, c.text)
			if !math.IsNaN(x) || !math.IsNaN(e.Value) || e.Form != NotRead || e.Unit || e.Raw != c.text {
				t.Errorf("left %v and %+v behind, want NaN and no reading", x, e)
			}
			for _, err := range []error{errFile, errBench} {
				fact, hint, _ := strings.Cut(isRefusal(t, err), "\n")
				if !strings.Contains(fact, c.says) || !strings.Contains(hint, c.hints) {
					t.Errorf("says %q, hints %q; want %q and %q", fact, hint, c.says, c.hints)
				}
			}
		})
	}
}

// What a person may type in a hurry may not stand in a file.
func TestOnlyFilesRefuse(t *testing.T) {
	for _, c := range []struct {
		kind        Kind
		text        string
		says, hints string
	}{
		{KindOhm, "4k7", "a letter code", "write 4.7 kΩ"},
		{KindOhm, "47R", "a letter code", "write 47 Ω"},
		{KindOhm, "4k7 Ω", "a letter code", "write 4.7 kΩ"},
		{KindOhm, "4,7 kΩ", "a decimal comma", "write 4.7 kΩ"},
		{KindOhm, "4.7 KΩ", "a capital K", "write 4.7 kΩ"},
		{KindVolt, "007 V", "a needless zero", "write 7 V"},
		{KindNumber, "010", "a needless zero", "write 10"},
		{KindVolt, "270", "has no unit", "such as 230 V"},
		{KindOhm, "4.7k", "has no unit", "such as 4.7 kΩ"},
	} {
		if _, err := ParseEntry(c.kind, c.text); err != nil {
			t.Errorf("%q is typed at benches, but: %v", c.text, err)
		}
		x, err := Parse(c.kind, c.text)
		msg := isRefusal(t, err)
		if !math.IsNaN(x) || !strings.Contains(msg, c.says) || !strings.Contains(msg, c.hints) {
			t.Errorf("Parse(%q) = %v, %q; want %q and %q", c.text, x, msg, c.says, c.hints)
		}
	}
	for _, text := range []string{"-", "OL", ">20 MΩ", "<0.1 Ω", " 4 Ω", "4 Ω ", "9.9E37", "9.91E37"} {
		x, err := Parse(KindOhm, text)
		isRefusal(t, err)
		if !math.IsNaN(x) {
			t.Errorf("Parse(%q) = %v: a file holds quantities, not readings", text, x)
		}
	}
	if x, err := Parse(KindNumber, "3 "); err == nil {
		t.Errorf("a space at the end was read as part of %v", x)
	}
}

// No text may have two meanings within a kind, or the order of the tables
// would decide.
func TestNoSuffixHasTwoMeanings(t *testing.T) {
	for k := range Kind(len(kinds)) {
		seen := map[string]int{}
		for _, st := range k.spec().steps {
			for _, sign := range st.signs {
				for _, unit := range append([]string{""}, k.spec().spelled...) {
					if unit == "" && st.withUnit {
						continue
					}
					if exp, twice := seen[sign+unit]; twice {
						t.Errorf("%s: %q is 10^%d and 10^%d", k.Name(), sign+unit, exp, st.exp)
					}
					seen[sign+unit] = st.exp
				}
			}
		}
	}
}
