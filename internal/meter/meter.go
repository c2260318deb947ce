// Package meter says how far a reading can be from the truth, from the sheet of
// the meter that took it, and what a meter that shows no number has shown.
package meter

import (
	"errors"
	"fmt"
	"math"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// ErrUnfit is in the chain when the meter cannot take the reading: it lacks the
// function, no range holds the value, or its sheet does not say enough.
var ErrUnfit = errors.New("meter unfit")

// expand turns an accuracy limit ±a into the expanded uncertainty U: the limit
// is taken as a rectangular distribution, u = a/√3, and U = 2 u (JCGM 100:2008
// 4.3.7 and 6.3.3, from memory).
const expand = 2 / 1.7320508075688772

// midScale is the middle of an ohmmeter's scale over its highest mark (common
// practice: 20 Ω on a scale to 2 kΩ, 2 kΩ on one to 200 kΩ).
const midScale = 0.01

// Uncertainty is the expanded uncertainty U of the reading x, in x's unit, and
// the range it is taken on: the one with the least U among those that hold x,
// which for a digital meter is the smallest.
func Uncertainty(m *sheet.Meter, f sheet.Function, x float64) (u float64, r sheet.Range, err error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return math.NaN(), sheet.Range{}, fmt.Errorf("%w: %v is no reading", ErrUnfit, x)
	}
	best := math.Inf(1)
	top := math.Inf(-1)
	for i := range m.Functions {
		s := &m.Functions[i]
		if s.Function != f {
			continue
		}
		for _, candidate := range s.Ranges {
			top = max(top, candidate.Top.Value)
			if !(math.Abs(x) <= candidate.Top.Value) {
				continue
			}
			if a := limit(m.Kind, s, candidate, x); a < best {
				best, r = a, candidate
			}
		}
	}
	switch {
	case math.IsInf(top, -1):
		return math.NaN(), r, fmt.Errorf("%w: %s has no function %q", ErrUnfit, m.Name, f)
	case math.IsInf(best, 1):
		return math.NaN(), r, fmt.Errorf("%w: no range of %s holds it, the highest ends at %v", ErrUnfit, m.Name, top)
	}
	return best * expand, r, nil
}

// limit is the limit of error of one range at x: of reading and last digits for
// figures, of full scale for a needle on volts. A needle's ohms scale is cramped
// at both ends: with p of the arc off, θ = M/(M+x), the error is p (M+x)²/M, M
// being mid-scale (computed).
func limit(k sheet.MeterKind, s *sheet.Span, r sheet.Range, x float64) float64 {
	p := float64(s.Percent) / 100
	if k != sheet.MovingCoil {
		return p*math.Abs(x) + float64(s.Digits)*r.Digit.Value
	}
	if s.Function == sheet.OhmsF {
		m := r.Top.Value * midScale
		return p * (m + x) * (m + x) / m
	}
	return p * r.Top.Value
}

// Top is the highest value the meter can show on the function.
func Top(m *sheet.Meter, f sheet.Function) (unit.Quantity, error) {
	top := unit.Quantity{Value: math.Inf(-1)}
	for i := range m.Functions {
		if m.Functions[i].Function != f {
			continue
		}
		for _, r := range m.Functions[i].Ranges {
			if r.Top.Value > top.Value {
				top = r.Top
			}
		}
	}
	if !(top.Value > 0) {
		return unit.Quantity{Value: math.NaN()}, fmt.Errorf("%w: %s has no function %q", ErrUnfit, m.Name, f)
	}
	return top, nil
}
