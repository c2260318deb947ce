package meter

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
)

// Fields are the parts of s a verdict rests on, as exact decimals for the log;
// an open end is left out.
func (s Shown) Fields() map[string]string {
	f := map[string]string{"x": decimal(s.X), "u": decimal(s.U), "censored": strconv.FormatBool(s.Censored)}
	if !math.IsInf(s.Lo, 0) {
		f["lo"] = decimal(s.Lo)
	}
	if !math.IsInf(s.Hi, 0) {
		f["hi"] = decimal(s.Hi)
	}
	return f
}

// ParseShown reads what Fields has written. It refuses any other spelling and
// what would be no reading. Rule 1 of judging reads by it: it is frozen with that.
func ParseShown(f map[string]string) (Shown, error) {
	s := Shown{Lo: math.Inf(-1), Hi: math.Inf(1), X: math.NaN(), U: math.NaN(), taken: true}
	for key, text := range f {
		var err error
		switch key {
		case "x":
			s.X, err = ParseDecimal(text)
		case "u":
			s.U, err = ParseDecimal(text)
		case "lo":
			s.Lo, err = ParseDecimal(text)
		case "hi":
			s.Hi, err = ParseDecimal(text)
		case "censored":
			s.Censored = text == "true"
			if s.Censored != (text != "false") {
				err = fmt.Errorf("%q is neither true nor false", text)
			}
		default:
			err = fmt.Errorf("no such part of a reading")
		}
		if err != nil {
			return Shown{}, fmt.Errorf("%s: %w", key, err)
		}
	}
	if !s.Taken() {
		return Shown{}, fmt.Errorf("%v is no reading", f)
	}
	return s, nil
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

var plain = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?$`)

// ParseDecimal reads a number in the one spelling a log has for it: the
// shortest plain decimal, without exponent.
func ParseDecimal(text string) (float64, error) {
	if !plain.MatchString(text) {
		return math.NaN(), fmt.Errorf("%q is not a plain decimal number", text)
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || decimal(x) != text {
		return math.NaN(), fmt.Errorf("%q is not the shortest spelling of its number", text)
	}
	return x, nil
}
