package limits

import (
	"math"
	"testing"

	"example.com/powerup/internal/unit"
)

func TestCopperRise(t *testing.T) {
	for _, c := range []struct {
		r1, r2           unit.Ohm
		t1, room1, room2 unit.Celsius
		want             float64
		source           string
	}{
		// Formula: heating-test clause for motors and appliances, seen.
		{30, 36, 20, 20, 20, 50.9, "computed: 0.2 x 254.5"},
		{30, 36, 20, 20, 24, 46.9, "computed: less the 4 K the room has risen"},
		{28.0, 33.6, 20, 20, 24, 46.9, "computed: 0.2 x 254.5 - 4"},
		{180, 214, 18, 18, 22, 43.7, "computed"},
		{4.20, 5.02, 25, 25, 25, 50.7, "computed"},
		{46, 55, 20, 20, 20, 49.8, "computed"},
		{46, 46, 20, 20, 20, 0, "no change, no rise"},
	} {
		if got := CopperRise(c.r1, c.r2, c.t1, c.room1, c.room2); !near(float64(got), c.want, 0.05) {
			t.Errorf("%v to %v: %v, want %v (%s)", c.r1, c.r2, got, c.want, c.source)
		}
	}
	for _, r1 := range []unit.Ohm{0, -30, unit.Ohm(math.NaN())} {
		if got := CopperRise(r1, 36, 20, 20, 20); !math.IsNaN(float64(got)) {
			t.Errorf("from %v Ω: %v", float64(r1), got)
		}
	}
}

func TestCopperFactor(t *testing.T) {
	// 30 Ω at 20 °C is 35.9 Ω at 70 °C (computed); an electrical-engineering
	// formula page has 0.00393 per kelvin at 20 °C (seen).
	if got := 30 * CopperFactor(70, 20); !near(got, 35.9, 0.05) {
		t.Errorf("30 Ω is %v Ω at 70 °C, want 35.9", got)
	}
	if got := CopperFactor(21, 20) - 1; !near(got, 0.00393, 5e-6) {
		t.Errorf("%v per kelvin, want 0.00393", got)
	}
	if got := CopperFactor(20, 20); got != 1 {
		t.Errorf("no change gives %v", got)
	}
}

func TestCopperFactorAndRiseAgree(t *testing.T) {
	// A winding brought from 18 °C to 75 °C in a room gone from 18 to 23 °C.
	r2 := unit.Ohm(180 * CopperFactor(75, 18))
	if got := CopperRise(180, r2, 18, 18, 23); !near(float64(got), 75-23, 1e-9) {
		t.Errorf("rise %v, want 52", got)
	}
}
