package meter

import (
	"fmt"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Input is the meter's input resistance on volts, on the range that takes v: a
// moving coil has its ohms per volt times the range's top.
func Input(m *sheet.Meter, f sheet.Function, v unit.Volt) (unit.Ohm, error) {
	if m.Kind == sheet.MovingCoil && m.PerVolt != nil {
		_, r, err := Uncertainty(m, f, float64(v))
		return unit.Ohm(float64(*m.PerVolt) * r.Top.Value), err
	}
	if m.Input == nil || !(*m.Input > 0) {
		return 0, fmt.Errorf("%w: the sheet of %s gives no input resistance", ErrUnfit, m.Name)
	}
	return *m.Input, nil
}

// Loading is what the meter shows at a point of the given source resistance
// that stands at v without it: v Rin/(Rin + Rs).
func Loading(v unit.Volt, source unit.Ohm, m *sheet.Meter, f sheet.Function) (unit.Volt, error) {
	in, err := Input(m, f, v)
	if err != nil {
		return 0, err
	}
	return Loaded(v, source, in), nil
}

// Loaded is the volts of a point under a meter of input resistance in.
func Loaded(v unit.Volt, source, in unit.Ohm) unit.Volt {
	return v * unit.Volt(in/(in+source))
}

// Unloaded is the volts a point had before a meter of input resistance in
// showed v there.
func Unloaded(v unit.Volt, source, in unit.Ohm) unit.Volt {
	return v * unit.Volt((in+source)/in)
}

// TwoRange is the volts of a point without a meter, from two readings of one
// moving coil on ranges whose tops are n to 1, the first on the higher range:
// E = E1 E2 (n-1) / (n E2 - E1).
func TwoRange(high, low unit.Volt, n float64) (unit.Volt, error) {
	d := unit.Volt(n)*low - high
	if !(n > 1 && low > 0 && d > 0 && high >= low) {
		return 0, fmt.Errorf("%v and %v on ranges %v to 1 fit no source resistance", high, low, n)
	}
	return high * low * unit.Volt(n-1) / d, nil
}
