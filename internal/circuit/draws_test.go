package circuit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/powerup/internal/unit"
)

// Parts drawn evenly from their bands, each for itself: no reading of the table
// radio, in the time domain, lies outside the two extreme corners widened by the
// model's own error (computed: 5000 draws at each of three points).
func TestDrawsLieBetweenTheCorners(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	for _, c := range []struct {
		what   string
		volts  unit.Volt
		lamp   *Lamp
		atSet  bool
		spread Spread
	}{
		{"sheet alone, whole mains", 230, nil, true, All},
		{"measured, at half the volts", 115, nil, true, Known},
		{"sheet alone, behind 60 W", 230, &Lamp{60, 230}, false, All},
	} {
		t.Run(c.what, func(t *testing.T) {
			s := tableRadio()
			b, err := s.bounds(c.volts, c.lamp, c.spread, c.atSet)
			if err != nil {
				t.Fatal(err)
			}
			band := tolerances(c.spread)
			r := rand.New(rand.NewPCG(2, 3))
			var lo, hi [readings]float64
			for i := range lo {
				lo[i], hi[i] = math.Inf(1), math.Inf(-1)
			}
			var upper corner
			for part := range upper {
				upper[part] = 1
			}
			for range fewer(5000) {
				one := corners{nominal: s, volts: c.volts, lamp: c.lamp, atSet: c.atSet, exact: true, seen: map[corner][readings]float64{}}
				for part := range one.tol {
					one.tol[part].hi = band[part].lo + (band[part].hi-band[part].lo)*r.Float64()
				}
				v, err := one.at(upper)
				if err != nil {
					t.Fatal(err)
				}
				for i := range v {
					lo[i], hi[i] = min(lo[i], v[i]), max(hi[i], v[i])
				}
			}
			for i, band := range b.bands() {
				room := b.Err * math.Abs(band.X)
				if names[i] == "ripple" {
					room = b.RippleErr * math.Abs(band.X)
				}
				if !(lo[i] >= band.Lo-room && hi[i] <= band.Hi+room) {
					t.Errorf("%s: drawn %g to %g, corners %+v", names[i], lo[i], hi[i], *band)
				}
				if width := band.Hi - band.Lo; width > 1e-6*band.X {
					t.Logf("%s: %.4g to %.4g of %.4g to %.4g, %.0f %% of the band", names[i], lo[i], hi[i], band.Lo, band.Hi, 100*(hi[i]-lo[i])/width)
				}
			}
		})
	}
}
