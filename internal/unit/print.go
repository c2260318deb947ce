package unit

import (
	"math"
	"strconv"
	"strings"
)

// String prints the shortest decimal that is exactly q, with the prefix the
// trade would use: "4.7 kΩ", "0.5 V", "12.3 mA", "0.75 mm²". NaN prints "not a
// number" and an infinity "∞ V"; neither is ever read back.
//
// Parse reads the text back to the same bits whenever some prefix of the kind
// leaves at most 7 digits before the point and 6 after it. That holds for every
// value the parser gave, and not for every computed one: 0.1+0.2 volts prints
// all its digits and is refused.
func (q Quantity) String() string {
	if math.IsNaN(q.Value) {
		return "not a number"
	}
	text, st := q.decimal()
	if sign := st.signs[0] + q.Kind.Unit(); sign != "" {
		text += " " + sign
	}
	return text
}

// Round returns q to the given number of significant digits, at least one, for
// display. NaN, the infinities and what would overflow come back as they are.
func Round(q Quantity, digits int) Quantity {
	text := strconv.FormatFloat(q.Value, 'e', max(digits, 1)-1, 64)
	if x, err := strconv.ParseFloat(text, 64); err == nil {
		q.Value = x
	}
	return q
}

// decimal gives q's number as text and the prefix it is counted in.
func (q Quantity) decimal() (string, step) {
	if math.IsInf(q.Value, 0) {
		text := "∞"
		if q.Value < 0 {
			text = "-∞"
		}
		return text, step{prefix: unity}
	}
	digits, exp := shortest(q.Value)
	st := q.Kind.choose(digits, exp)
	whole, frac := place(digits, exp-st.exp)
	text := whole
	if frac != "" {
		text += "." + frac
	}
	if q.Value < 0 {
		text = "-" + text
	}
	return text, st
}

// shortest gives the fewest digits that name |x| alone, without zeros at the
// ends, and the power of ten of the first.
func shortest(x float64) (digits string, exp int) {
	mantissa, e, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', -1, 64), "e")
	exp, _ = strconv.Atoi(e) // written by FormatFloat
	return strings.Replace(mantissa, ".", "", 1), exp
}

// place puts the decimal point behind the digit that counts ones, where the
// first digit counts 10^exp. No arithmetic, so nothing is rounded.
func place(digits string, exp int) (whole, frac string) {
	switch n := exp + 1; {
	case digits == "0":
		return "0", ""
	case n <= 0:
		return "0", strings.Repeat("0", -n) + digits
	case n >= len(digits):
		return digits + strings.Repeat("0", n-len(digits)), ""
	default:
		return digits[:n], digits[n:]
	}
}

// choose picks the trade's prefix for digits x 10^exp, or, where the parser would
// refuse that spelling, the first it reads.
func (k Kind) choose(digits string, exp int) step {
	steps := k.spec().steps
	usual := steps[len(steps)-1]
	for _, st := range steps {
		if digits == "0" && st.exp == 0 || digits != "0" && exp >= st.from {
			usual = st
			break
		}
	}
	if readable(place(digits, exp-usual.exp)) {
		return usual
	}
	for _, st := range steps {
		if readable(place(digits, exp-st.exp)) {
			return st
		}
	}
	return usual
}

func readable(whole, frac string) bool {
	return len(whole) <= maxWhole && len(frac) <= maxFrac
}
