package limits

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/unit"
)

// IEC 60063, from memory: E6 and E12 written out apart from the table of E24.
func TestPreferredSeries(t *testing.T) {
	for series, want := range map[int][]float64{
		6:  {1.0, 1.5, 2.2, 3.3, 4.7, 6.8},
		12: {1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2},
		24: {1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1},
	} {
		got := Preferred(series)
		if len(got) != len(want) {
			t.Fatalf("E%d has %d values", series, len(got))
		}
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("E%d: %v, want %v", series, got[i], want[i])
			}
			// The rule the series is rounded from, 10^(i/n): no value is further off
			// than 5 % (computed).
			if ideal := math.Pow(10, float64(i)/float64(series)); !near(got[i]/ideal, 1, 0.05) {
				t.Errorf("E%d: %v is far from %v", series, got[i], ideal)
			}
		}
	}
}

func TestNoOtherSeries(t *testing.T) {
	for _, series := range []int{0, -6, 3, 48} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("E%d returned", series)
				}
			}()
			Preferred(series)
		}()
	}
}

func TestNearestPreferred(t *testing.T) {
	for _, c := range []struct {
		v      float64
		series int
		want   float64
		why    string
	}{
		{4700, 6, 4700, "a preferred value is its own"},
		{4.7e-9, 12, 4.7e-9, "also when small, to the bit"},
		{5400, 6, 4700, "4.7 kΩ that has gone high"},
		{5400, 12, 5600, "E12 has one nearer"},
		{135, 24, 130, "an EL84's cathode resistor is none of E24"},
		{9.6, 12, 10, "nearest across the decade, upward"},
		{9.7e5, 6, 1e6, "nearest across the decade, upward"},
		{1.01, 24, 1, "nearest from above"},
		{0.22, 6, 0.22, "below 1"},
		{999.99999, 24, 1000, "just under a decade"},
	} {
		if got := NearestPreferred(c.v, c.series); got != c.want {
			t.Errorf("%v in E%d: %v, want %v: %s", c.v, c.series, got, c.want, c.why)
		}
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := NearestPreferred(bad, 12); !math.IsNaN(got) {
			t.Errorf("%v has the preferred value %v", bad, got)
		}
	}
}

func TestNoPreferredValueIsNearer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		series := rapid.SampledFrom([]int{6, 12, 24}).Draw(t, "series")
		v := math.Exp(rapid.Float64Range(math.Log(1e-12), math.Log(1e9)).Draw(t, "ln v"))
		got := NearestPreferred(v, series)
		off := math.Abs(math.Log(got / v))
		if !(off <= math.Log(1.6)/2) {
			t.Fatalf("%v in E%d: %v is not near", v, series, got)
		}
		for _, m := range Preferred(series) {
			for e := -13.0; e <= 10; e++ {
				if x := m * math.Pow(10, e); math.Abs(math.Log(x/v)) < off-1e-9 {
					t.Fatalf("%v in E%d: %v is nearer than %v", v, series, x, got)
				}
			}
		}
	})
}

func TestNextFuse(t *testing.T) {
	for _, c := range []struct {
		want, next float64
		why        string
	}{
		// Ratings of IEC 60127, from memory.
		{0.339, 0.4, "1.5 times the current of a 52 W set on 230 V"},
		{0.4, 0.4, "a rating is its own"},
		{0.401, 0.5, "one size above"},
		{1.0, 1.0, "a whole ampere"},
		{2.6, 3.15, "not 3 A, which plugs have"},
		{0.001, 0.032, "the smallest"},
		{10, 10, "the largest"},
		{10.1, 0, "above the largest there is none"},
		{0, 0, "no current has no fuse"},
		{-1, 0, "a negative current neither"},
		{math.NaN(), 0, "nor not a number"},
		{math.Inf(1), 0, "nor an endless one"},
	} {
		if got := NextFuse(unit.Ampere(c.want)); float64(got) != c.next {
			t.Errorf("%v A: next is %v, want %v A: %s", c.want, got, c.next, c.why)
		}
	}
}

func TestFuseRatingsRiseByTheTenthRootOfTen(t *testing.T) {
	for i := 1; i < len(fuses); i++ {
		if r := float64(fuses[i] / fuses[i-1]); !near(r, math.Pow(10, 0.1), 0.03) {
			t.Errorf("%v to %v is a step of %v", fuses[i-1], fuses[i], r)
		}
	}
}
