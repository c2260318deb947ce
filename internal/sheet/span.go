package sheet

import (
	"math"
	"regexp"
	"strconv"

	"example.com/powerup/internal/unit"
)

// Kind is the quantity that a function measures; a function that is none of
// ours measures nothing.
func (f Function) Kind() unit.Kind {
	switch f {
	case DCVolts, ACVolts:
		return unit.KindVolt
	case OhmsF, Insulation, Bond:
		return unit.KindOhm
	case ACAmps, Leakage, Touch:
		return unit.KindAmpere
	case Capacitance:
		return unit.KindFarad
	case Thermo:
		return unit.KindCelsius
	case Wattage:
		return unit.KindWatt
	}
	return unit.None
}

// Span gives the first span of a function, and false when the meter has none.
// An insulation tester has one for each of its test volts: see SpanAt.
func (m *Meter) Span(f Function) (Span, bool) {
	for _, s := range m.Functions {
		if s.Function == f {
			return s, true
		}
	}
	return Span{}, false
}

// SpanAt gives the span of a function that tests with the given volts.
func (m *Meter) SpanAt(f Function, test unit.Volt) (Span, bool) {
	for _, s := range m.Functions {
		if s.Function == f && s.Test != nil && *s.Test == test {
			return s, true
		}
	}
	return Span{}, false
}

// RangeFor gives the smallest range that can show v, in the unit of the span's
// function, of either sign. No range shows a NaN.
func (s Span) RangeFor(v float64) (Range, bool) {
	var best Range
	found := false
	for _, r := range s.Ranges {
		if math.Abs(v) <= r.Top.Value && (!found || r.Top.Value < best.Top.Value) {
			best, found = r, true
		}
	}
	return best, found
}

// Top is the top of the span's highest range; a span without one shows nothing.
func (s Span) Top() unit.Quantity {
	top := unit.Quantity{Kind: s.Function.Kind()}
	for _, r := range s.Ranges {
		if r.Top.Value > top.Value {
			top = r.Top
		}
	}
	return top
}

var category = regexp.MustCompile(`^CAT (I|II|III|IV) ([0-9]{2,4}) V$`)

// Overvoltage gives the meter's overvoltage category, 1 to 4, and the volts it
// holds for; 0 when the meter is marked with none. Source of the categories:
// IEC 61010-031, from memory.
func (m *Meter) Overvoltage() (class int, volts unit.Volt) {
	found := category.FindStringSubmatch(m.Category)
	if found == nil {
		return 0, 0
	}
	digits, _ := strconv.Atoi(found[2]) // four digits at most
	class = map[string]int{"I": 1, "II": 2, "III": 3, "IV": 4}[found[1]]
	return class, unit.Volt(digits)
}
