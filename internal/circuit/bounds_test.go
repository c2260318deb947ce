package circuit

import (
	"errors"
	"math"
	"testing"

	"example.com/powerup/internal/unit"
)

// names of the bands, in their order.
var names = [readings]string{"set", "HT1", "HT2", "drop", "OPT", "cathode", "screen", "screen drop", "ripple", "lamp", "primary", "line"}

// Corner spreads of the table radio at 230 V (computed by a time-domain solver
// over all 2048 corners). A sum over the same corners by the estimate may differ
// by 2 % of the healthy figure, 3 % where that is below 20.
func TestSpreadsOfTheTableRadio(t *testing.T) {
	for _, c := range []struct {
		name              string
		lamp              bool
		healthy           float64
		known, sheetAlone [2]float64
		scale             float64
	}{
		{"HT1", false, 263.8, [2]float64{251, 276}, [2]float64{239, 288}, 1},
		{"HT2", false, 224.4, [2]float64{210, 239}, [2]float64{198, 251}, 1},
		{"drop", false, 39.3, [2]float64{34.5, 44.7}, [2]float64{30.6, 49.7}, 1},
		{"OPT", false, 15.24, [2]float64{12.9, 17.4}, [2]float64{10.8, 20.8}, 1},
		{"cathode", false, 6.03, [2]float64{5.2, 6.8}, [2]float64{4.7, 7.4}, 1},
		{"screen drop", false, 4.59, [2]float64{3.6, 5.7}, [2]float64{3.2, 6.3}, 1},
		{"ripple", false, 13.0, [2]float64{7.8, 17.8}, [2]float64{7.3, 19}, 1},
		{"primary", false, 237, [2]float64{223, 251}, [2]float64{211, 268}, 1e3},
		{"line", false, 100, [2]float64{95.8, 103.9}, [2]float64{}, 100},
		{"lamp", true, 83.4, [2]float64{79.6, 87.3}, [2]float64{76.2, 91.4}, 1},
		{"OPT", true, 8.76, [2]float64{7.5, 9.9}, [2]float64{6.5, 11.4}, 1},
		{"cathode", true, 3.47, [2]float64{3.0, 3.9}, [2]float64{2.8, 4.2}, 1},
		{"ripple", true, 6.4, [2]float64{4.1, 8.5}, [2]float64{3.9, 8.7}, 1},
	} {
		for spread, want := range map[Spread][2]float64{Known: c.known, All: c.sheetAlone} {
			var l *Lamp
			if c.lamp {
				l = &Lamp{Watts: 60, Volts: 230}
			}
			b, err := tableRadio().BoundsAtMains(230, l, spread)
			if err != nil {
				t.Fatal(err)
			}
			if want[1] == 0 {
				continue // no figure for it
			}
			tol := 0.02 * c.healthy
			if c.healthy < 20 {
				tol = 0.03 * c.healthy
			}
			if c.name == "ripple" {
				tol += 1.5 * RippleError * c.healthy // its own error, and that of its corners
			}
			for i, band := range b.bands() {
				if names[i] != c.name {
					continue
				}
				about(t, c.name+" low", band.Lo*c.scale, want[0], tol)
				about(t, c.name, band.X*c.scale, c.healthy, tol)
				about(t, c.name+" high", band.Hi*c.scale, want[1], tol)
			}
		}
	}
}

// The two corners chosen by the sign of each sensitivity, found by the estimate,
// are the extremes of all 2048 in the time domain.
func TestExtremeCornersOfAll(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	s := tableRadio()
	for _, c := range []struct {
		what   string
		volts  unit.Volt
		lamp   *Lamp
		atSet  bool
		spread Spread
	}{
		{"sheet alone", 230, nil, true, All},
		{"measured", 207, nil, true, Known},
		{"at half the volts", 115, nil, true, All},
		{"behind 60 W", 230, &Lamp{60, 230}, false, All},
		{"behind 60 W, measured at the set", 149, &Lamp{60, 230}, true, Known},
	} {
		t.Run(c.what, func(t *testing.T) {
			b, err := s.bounds(c.volts, c.lamp, c.spread, c.atSet)
			if err != nil {
				t.Fatal(err)
			}
			all := corners{nominal: s, volts: c.volts, lamp: c.lamp, atSet: c.atSet, tol: tolerances(c.spread), exact: true, seen: map[corner][readings]float64{}}
			var lo, hi [readings]float64
			for i := range lo {
				lo[i], hi[i] = math.Inf(1), math.Inf(-1)
			}
			for bits := range 1 << parts {
				var k corner
				for part := range k {
					k[part] = int8(bits>>part&1*2 - 1)
				}
				v, err := all.at(k)
				if err != nil {
					t.Fatal(err)
				}
				for i := range v {
					lo[i], hi[i] = min(lo[i], v[i]), max(hi[i], v[i])
				}
			}
			for i, band := range b.bands() {
				near := ModelError
				if names[i] == "ripple" {
					near = RippleError
				}
				if math.IsInf(hi[i], 0) || names[i] == "line" && c.lamp != nil {
					continue
				}
				about(t, names[i]+" low", band.Lo, lo[i], near*math.Abs(band.X))
				about(t, names[i]+" high", band.Hi, hi[i], near*math.Abs(band.X))
				if !(band.Lo <= band.X && band.X <= band.Hi) {
					t.Errorf("%s: %+v is out of order", names[i], *band)
				}
			}
			if b.Err != ModelError || b.RippleErr != RippleError || !(b.Cold > b.Point.HT1) {
				t.Errorf("errors %v, %v; valves cold %v above working %v", b.Err, b.RippleErr, b.Cold, b.Point.HT1)
			}
		})
	}
}

func TestMeasuringNarrows(t *testing.T) {
	all, err := tableRadio().BoundsAtSet(230, nil, All)
	if err != nil {
		t.Fatal(err)
	}
	known, err := tableRadio().BoundsAtSet(230, nil, Known)
	if err != nil {
		t.Fatal(err)
	}
	for i, a := range all.bands() {
		k := known.bands()[i]
		if !(k.Lo >= a.Lo && k.Hi <= a.Hi && k.X == a.X) {
			t.Errorf("%s: measured %+v, sheet alone %+v", names[i], *k, *a)
		}
	}
	if all.Set.Lo < 230-1e-6 || all.Set.Hi > 230+1e-6 {
		t.Errorf("the volts at the set were measured, yet they spread: %+v", all.Set)
	}
}

// Without the resistors that show the currents there is no line.
func TestNoLineWithoutItsResistors(t *testing.T) {
	s := tableRadio()
	s.Output.AnodeR, s.Output.FromHT1, s.Smoothing = 0, false, 0
	b, err := s.BoundsAtSet(230, nil, All)
	if err != nil || b.Line != (Band{}) {
		t.Errorf("line %+v, %v", b.Line, err)
	}
}

// A corner that has no answer leaves no bounds.
func TestBoundsFailWhole(t *testing.T) {
	s := tableRadio()
	s.Output.Grid = unit.Volt(math.NaN())
	if b, err := s.BoundsAtSet(230, nil, All); !errors.Is(err, ErrNoAnswer) || b != (Bounds{}) {
		t.Errorf("%+v, %v", b, err)
	}
}

func BenchmarkBoundsAtSet(b *testing.B) {
	s := tableRadio()
	for b.Loop() {
		if _, err := s.BoundsAtSet(230, nil, Known); err != nil {
			b.Fatal(err)
		}
	}
}
