package unit

import (
	"math"
	"testing"
)

func TestWords(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		x    float64
		want string
	}{
		{KindOhm, 217e3, "two hundred and seventeen kilohms"},
		{KindOhm, 1350, "one point three five kilohms"},
		{KindOhm, 133, "one hundred and thirty-three ohms"},
		{KindOhm, 1, "one ohm"},
		{KindOhm, 1e6, "one megohm"},
		{KindOhm, 2.2e6, "two point two megohms"},
		{KindOhm, 1.05e9, "one point zero five gigohms"},
		{KindOhm, 0.02, "twenty milliohms"},
		{KindOhm, 0.1, "zero point one ohms"},
		{KindVolt, -12.5, "minus twelve point five volts"},
		{KindVolt, 0, "zero volts"},
		{KindVolt, -1, "minus one volt"},
		{KindVolt, 1500, "one point five kilovolts"},
		{KindAmpere, 0.038, "thirty-eight milliamps"},
		{KindAmpere, 50e-6, "fifty microamps"},
		{KindFarad, 32e-6, "thirty-two microfarads"},
		{KindFarad, 10e-9, "ten nanofarads"},
		{KindFarad, 330e-12, "three hundred and thirty picofarads"},
		{KindFarad, 1e-3, "one thousand microfarads"},
		{KindWatt, 60, "sixty watts"},
		{KindCelsius, 1, "one degree Celsius"},
		{KindCelsius, -5, "minus five degrees Celsius"},
		{KindSecond, 3600, "three thousand six hundred seconds"},
		{KindSecond, 0.03, "thirty milliseconds"},
		{KindPercent, 90, "ninety per cent"},
		{KindMetre, 2.5, "two point five metres"},
		{KindSquareMetre, 0.75e-6, "zero point seven five square millimetres"},
		{KindHertz, 50, "fifty hertz"},
		{KindOhmPerVolt, 20e3, "twenty kilohms per volt"},
		{KindOhmPerVolt, 500, "five hundred ohms per volt"},
		{KindVoltAmpere, 60, "sixty volt-amperes"},
		{KindNumber, 1, "one"},
		{KindNumber, 1005, "one thousand and five"},
		{KindNumber, 100, "one hundred"},
		{KindNumber, 1e6, "one million"},
		{KindNumber, 1000100, "one million one hundred"},
		{KindNumber, 100000001, "one hundred million and one"},
		{KindNumber, 1000019, "one million and nineteen"},
		{KindNumber, 9999999, "nine million nine hundred and ninety-nine thousand nine hundred and ninety-nine"},
		{KindNumber, 1e9, "one zero zero zero zero zero zero zero zero zero"},
		{None, 21, "twenty-one"},
		{KindVolt, math.NaN(), "not a number"},
		{KindVolt, math.Inf(1), "infinity volts"},
		{KindVolt, math.Inf(-1), "minus infinity volts"},
	} {
		if got := Words(Quantity{c.kind, c.x}); got != c.want {
			t.Errorf("Words(%v) = %q, want %q", Quantity{c.kind, c.x}, got, c.want)
		}
	}
}
