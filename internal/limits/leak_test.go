package limits

import (
	"math"
	"testing"

	"example.com/powerup/internal/unit"
)

func TestLeakageOfElectrolytics(t *testing.T) {
	for _, c := range []struct {
		why     string
		of      func(unit.Farad, unit.Volt) unit.Ampere
		c, v    float64
		want    float64 // mA
		tol     float64
		printed string
	}{
		{"old, 450 V", OldLeak, 16e-6, 450, 0.94, 1e-9, "published table prints 0.94, seen"},
		{"old, 250 V", OldLeak, 40e-6, 250, 1.10, 1e-9, "published table prints 1.10, seen"},
		{"old, 350 V", OldLeak, 16e-6, 350, 0.70, 1e-9, "computed by the table's K 0.025"},
		{"old, 275 V", OldLeak, 50e-6, 275, 1.55, 1e-9, "computed by the table's K 0.025"},
		{"old, 100 V", OldLeak, 10e-6, 100, 0.40, 1e-9, "computed by the table's K 0.01"},
		{"old, just above 100 V", OldLeak, 10e-6, 100.1, 0.50, 1e-9, "computed by the table's K 0.02"},
		{"old, 32 µF", OldLeak, 32e-6, 450, 1.58, 1e-9, "computed by the table's K 0.04"},
		{"new, 450 V", NewLeak, 16e-6, 450, 0.072, 1e-9, "0.01 C V µA, memory"},
	} {
		got := float64(c.of(unit.Farad(c.c), unit.Volt(c.v))) * 1e3
		if !near(got, c.want, c.tol) {
			t.Errorf("%s: %v mA, want %v (%s)", c.why, got, c.want, c.printed)
		}
	}
}

func TestACapacitorNobodyHasMayNotLeak(t *testing.T) {
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		for name, of := range map[string]func(unit.Farad, unit.Volt) unit.Ampere{"old": OldLeak, "new": NewLeak} {
			if a, b := of(unit.Farad(bad), 250), of(16e-6, unit.Volt(bad)); a != 0 || b != 0 {
				t.Errorf("%s: %v F leaks %v, %v V leaks %v", name, bad, a, bad, b)
			}
		}
	}
}

func TestANewCapacitorLeaksLessThanAnOldOne(t *testing.T) {
	// Common practice, no source: the limits never cross on sizes a set has.
	for _, c := range []unit.Farad{8e-6, 16e-6, 32e-6, 50e-6} {
		for _, v := range []unit.Volt{100, 250, 350, 450} {
			if !(NewLeak(c, v) < OldLeak(c, v)) {
				t.Errorf("%v at %v: new %v, old %v", c, v, NewLeak(c, v), OldLeak(c, v))
			}
		}
	}
}
