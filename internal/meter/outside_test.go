package meter

import (
	"errors"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// A leaking coupling capacitor and the grid leak after it divide the volts of
// the anode before it, as a source and a meter do: V Rg/(R + Rg), computed.
func TestLeakOfACouplingCapacitorLiftsTheGrid(t *testing.T) {
	for _, c := range []struct {
		why  string
		rail unit.Volt
		leak unit.Ohm
		want float64
		tol  float64
	}{
		{"20 MΩ at 250 V", 250, 20e6, 5.74, 0.005},
		{"20 MΩ at 100 V, driver warm", 100, 20e6, 2.30, 0.005},
		{"20 MΩ at 224 V, driver cold", 224, 20e6, 5.14, 0.005},
		{"1.17 GΩ at 250 V", 250, 1.17e9, 0.1, 0.001},
		{"235 MΩ at 250 V", 250, 235e6, 0.5, 0.002},
		{"94 MΩ at 100 V", 100, 94e6, 0.5, 0.003},
		{"210 MΩ at 224 V", 224, 210e6, 0.5, 0.002},
		{"344 MΩ at 366 V", 366, 344e6, 0.5, 0.001},
	} {
		about(t, c.why, float64(Loaded(c.rail, c.leak, 470e3)), c.want, c.tol)
	}
}

// Anode to anode a winding of 275-0-275 V has 550 V r.m.s. at 230 V of mains and
// 605 V at 253 V, 778 and 856 V at the crest (computed): on a meter of 600 V the
// one just fits and the other does not, nor does either crest.
func TestAnodeToAnodeIsTooMuchForTheMeter(t *testing.T) {
	for volts, fits := range map[float64]bool{2 * 275: true, 2 * 275 * 253 / 230: false, 778: false, 856: false} {
		_, _, err := Uncertainty(digital(), sheet.ACVolts, volts)
		if fits == errors.Is(err, ErrUnfit) || fits != (err == nil) {
			t.Errorf("%v V on a meter of 600 V: %v, want it to fit: %v", volts, err, fits)
		}
	}
}
