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
// which for a digital meter is the smallest. Of an insulation tester, whose test
// volts are not known here, it is that of the worse span.
func Uncertainty(m *sheet.Meter, f sheet.Function, x float64) (u float64, r sheet.Range, err error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return math.NaN(), sheet.Range{}, fmt.Errorf("%w: %v is no reading", ErrUnfit, x)
	}
	top, err := Top(m, f)
	if err != nil {
		return math.NaN(), sheet.Range{}, err
	}
	worst := math.Inf(-1)
	for _, ranges := range spans(m, f) {
		best := math.Inf(1)
		var on sheet.Range
		for _, c := range ranges {
			if a := limit(m.Kind, c, x); math.Abs(x) <= c.Top.Value && a < best {
				best, on = a, c.Range
			}
		}
		if best > worst && !math.IsInf(best, 1) {
			worst, r = best, on
		}
	}
	if !(worst >= 0) {
		return math.NaN(), sheet.Range{}, fmt.Errorf("%w: no range of %s holds %s, the highest ends at %s",
			ErrUnfit, m.Name, text(unit.Quantity{Kind: top.Kind, Value: x}), top)
	}
	return worst * expand, r, nil
}

// choice is one range with the span it belongs to.
type choice struct {
	sheet.Range
	span *sheet.Span
}

// spans are the ranges of a function, those of each test volts by themselves.
func spans(m *sheet.Meter, f sheet.Function) [][]choice {
	var plain []choice
	var out [][]choice
	for i := range m.Functions {
		s := &m.Functions[i]
		if s.Function != f {
			continue
		}
		var ranges []choice
		for _, r := range s.Ranges {
			ranges = append(ranges, choice{r, s})
		}
		if s.Test == nil {
			plain = append(plain, ranges...)
		} else {
			out = append(out, ranges)
		}
	}
	return append(out, plain)
}

// limit is the limit of error of one range at x: of reading and last digits for
// figures, of full scale for a needle on volts. A needle's ohms scale is cramped
// at both ends: with p of the arc off, θ = M/(M+x), the error is p (M+x)²/M, M
// being mid-scale (computed).
func limit(k sheet.MeterKind, c choice, x float64) float64 {
	p := float64(c.span.Percent) / 100
	if k != sheet.MovingCoil {
		return p*math.Abs(x) + float64(c.span.Digits)*c.Digit.Value
	}
	if c.span.Function == sheet.OhmsF {
		m := c.Top.Value * midScale
		return p * (m + x) * (m + x) / m
	}
	return p * c.Top.Value
}

// Top is the highest value the meter can show on the function, whatever its
// test volts.
func Top(m *sheet.Meter, f sheet.Function) (unit.Quantity, error) { return top(m, f, 1) }

// sureTop is what it can show at least at the top of the function: of several
// test volts the one whose ranges end lowest.
func sureTop(m *sheet.Meter, f sheet.Function) (unit.Quantity, error) { return top(m, f, -1) }

// top is the highest range end of each span, and of these the most or the least
// by sign.
func top(m *sheet.Meter, f sheet.Function, sign float64) (unit.Quantity, error) {
	best := unit.Quantity{Value: math.NaN()}
	for _, ranges := range spans(m, f) {
		var end unit.Quantity
		for _, c := range ranges {
			if c.Top.Value > end.Value {
				end = c.Top
			}
		}
		if end.Value > 0 && !(end.Value*sign <= best.Value*sign) {
			best = end
		}
	}
	if !(best.Value > 0) {
		return best, fmt.Errorf("%w: %s has no function %q", ErrUnfit, m.Name, f)
	}
	return best, nil
}
