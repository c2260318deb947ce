package limits

import (
	"math"
	"slices"
	"strconv"

	"example.com/powerup/internal/unit"
)

// e24 are the preferred values of IEC 60063 (from memory). E12 is every second
// of them, E6 every fourth.
var e24 = []float64{
	1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0,
	3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1,
}

// Preferred returns one decade of the series E6, E12 or E24 of IEC 60063, from
// 1 up. It panics on any other series: a mistake of the programmer.
func Preferred(series int) []float64 {
	if series != 6 && series != 12 && series != 24 {
		panic("limits: no series E" + strconv.Itoa(series))
	}
	step := len(e24) / series
	values := make([]float64, series)
	for i := range values {
		values[i] = e24[i*step]
	}
	return values
}

// NearestPreferred returns the value of the series whose ratio to v is nearest
// to 1, with the same bits as if it had been typed. What is not above 0 has
// none: NaN.
func NearestPreferred(v float64, series int) float64 {
	values := Preferred(series)
	if !finite(v) {
		return math.NaN()
	}
	decade := int(math.Floor(math.Log10(v)))
	best, off := math.NaN(), math.Inf(1)
	for e := decade - 1; e <= decade+1; e++ {
		for _, m := range values {
			x, err := strconv.ParseFloat(strconv.FormatFloat(m, 'f', 1, 64)+"e"+strconv.Itoa(e), 64)
			if d := math.Abs(math.Log(x / v)); err == nil && d < off {
				best, off = x, d
			}
		}
	}
	return best
}

// fuses are the usual ratings of small cartridge fuses, the R10 series as IEC
// 60127 uses it (from memory).
var fuses = []unit.Ampere{
	0.032, 0.04, 0.05, 0.063, 0.08,
	0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8,
	1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10,
}

// NextFuse returns the next preferred rating at or above a; the size above a
// rating is NextFuse of a little more. It returns 0, a fuse that nothing has,
// for what is not above 0 and for more than the largest.
func NextFuse(a unit.Ampere) unit.Ampere {
	i := slices.IndexFunc(fuses, func(f unit.Ampere) bool { return f >= a })
	if !(a > 0) || i < 0 {
		return 0
	}
	return fuses[i]
}
