package unit

import (
	"fmt"
	"math"
	"testing"
)

func TestPrintsAsTheTradeWrites(t *testing.T) {
	for _, c := range []struct {
		q    fmt.Stringer
		want string
	}{
		{Ohm(4700), "4.7 kΩ"},
		{Ohm(1.05e9), "1.05 GΩ"},
		{Ohm(0.22), "0.22 Ω"},
		{Ohm(0.1), "0.1 Ω"},
		{Ohm(0.047), "47 mΩ"},
		{Ohm(999), "999 Ω"},
		{Ohm(1e6), "1 MΩ"},
		{Ohm(5e12), "5000 GΩ"},
		{Volt(230), "230 V"},
		{Volt(0.5), "0.5 V"},
		{Volt(-12.5), "-12.5 V"},
		{Volt(0.05), "50 mV"},
		{Volt(1500), "1.5 kV"},
		{Volt(0), "0 V"},
		{Volt(math.Copysign(0, -1)), "0 V"},
		{Ampere(0.0123), "12.3 mA"},
		{Ampere(0.75), "750 mA"},
		{Ampere(0.0005), "0.5 mA"},
		{Ampere(50e-6), "50 µA"},
		{Farad(32e-6), "32 µF"},
		{Farad(100e-9), "100 nF"},
		{Farad(1e-3), "1000 µF"},
		{Farad(0.5e-12), "0.5 pF"},
		{Farad(0), "0 F"},
		{Watt(60), "60 W"},
		{Watt(0.25), "0.25 W"},
		{Celsius(20), "20 °C"},
		{Celsius(-5.5), "-5.5 °C"},
		{Second(60), "60 s"},
		{Second(3600), "3600 s"},
		{Second(0.5), "0.5 s"},
		{Second(0.03), "30 ms"},
		{Percent(90), "90 %"},
		{Percent(0.01), "0.01 %"},
		{Metre(2.5), "2.5 m"},
		{SquareMetre(0.75e-6), "0.75 mm²"},
		{SquareMetre(1e-6), "1 mm²"},
		{Hertz(50), "50 Hz"},
		{OhmPerVolt(10e3), "10 kΩ/V"},
		{OhmPerVolt(500), "500 Ω/V"},
		{VoltAmpere(60), "60 VA"},
		{Quantity{KindNumber, 3}, "3"},
		{Quantity{}, "0"},
		{Quantity{KindNumber + 1, 7}, "7"},

		{Volt(math.NaN()), "not a number"},
		{Volt(math.Inf(1)), "∞ V"},
		{Ohm(math.Inf(-1)), "-∞ Ω"},
		{Quantity{KindNumber, math.Inf(1)}, "∞"},

		// Exact, whatever it costs: this is not 0.3.
		{Volt(0.1) + Volt(math.Nextafter(0.2, 1)), "0.30000000000000004 V"},
		// In kilovolts it would have nine digits after the point, which is not read.
		{Volt(1234567.123456), "1234567.123456 V"},
		{Farad(123456.7), "123456.7 F"},
		{Volt(1e-6), "0.001 mV"},
	} {
		if got := c.q.String(); got != c.want {
			t.Errorf("%#v prints %q, want %q", c.q, got, c.want)
		}
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct {
		x      float64
		digits int
		want   string
		reason string
	}{
		{353.553390593, 3, "354 V", "computed: 250 V times root 2"},
		{353.553390593, 4, "353.6 V", "one digit more"},
		{-353.55, 2, "-350 V", "zeros fill up"},
		{999.6, 3, "1 kV", "carries into the next prefix"},
		{0.0123456, 2, "12 mV", "small"},
		{0.30000000000000004, 15, "0.3 V", "takes the dirt off a sum"},
		{123, 0, "100 V", "at least one digit"},
		{123, -5, "100 V", "at least one digit"},
		{0, 3, "0 V", "nothing"},
		{math.NaN(), 3, "not a number", "stays"},
		{math.Inf(-1), 3, "-∞ V", "stays"},
	} {
		if got := Round(Volt(c.x).Quantity(), c.digits).String(); got != c.want {
			t.Errorf("%s: Round(%v, %d) = %q, want %q", c.reason, c.x, c.digits, got, c.want)
		}
	}
	if got := Round(Quantity{KindVolt, math.MaxFloat64}, 2).Value; !same(got, math.MaxFloat64) {
		t.Errorf("rounding up the greatest float gave %v, want it unchanged", got)
	}
}

func TestEveryKindHasWords(t *testing.T) {
	for k := range Kind(len(kinds)) {
		spec := k.spec()
		if k.Name() == "" || len(spec.steps) == 0 {
			t.Errorf("kind %d has no name or no prefix", k)
		}
		if k == None {
			continue
		}
		if _, err := Parse(k, spec.example); err != nil || spec.noun == "" {
			t.Errorf("the hint's example %q for %q is refused itself: %v", spec.example, spec.noun, err)
		}
		if k != KindNumber && (k.Unit() == "" || spec.spelled[0] != k.Unit() || spec.one == "") {
			t.Errorf("%s: printed unit %q is not the first spelling %q", k.Name(), k.Unit(), spec.spelled)
		}
	}
	if got := KindOhm.Unit() + " " + KindOhm.Name() + ", " + KindVolt.Unit() + " " + KindVolt.Name(); got != "Ω ohms, V volts" {
		t.Errorf("got %q", got)
	}
}
