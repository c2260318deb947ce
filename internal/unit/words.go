package unit

import (
	"math"
	"strings"
)

// Words says q as it is spoken, with the prefix String prints: "two hundred and
// seventeen kilohms", "one point three five kilohms", "minus twelve point five
// volts". NaN is "not a number".
func Words(q Quantity) string {
	if math.IsNaN(q.Value) {
		return "not a number"
	}
	text, st := q.decimal()
	said, minus := strings.CutPrefix(text, "-")
	words := spoken(said)
	if minus {
		words = "minus " + words
	}
	if unit := unitWords(q.Kind.spec(), st, said == "1"); unit != "" {
		words += " " + unit
	}
	return words
}

// unitWords joins prefix and unit; before ohm a prefix loses its last vowel.
func unitWords(spec *kindSpec, st step, single bool) string {
	unit := spec.many
	if single {
		unit = spec.one
	}
	if spec.unit == "" {
		return ""
	}
	prefix := st.word
	if strings.HasPrefix(unit, "ohm") && st.exp > 0 {
		prefix = prefix[:len(prefix)-1]
	}
	return prefix + unit
}

// spoken says a decimal without sign: the whole in hundreds, the rest digit by
// digit.
func spoken(decimal string) string {
	if decimal == "∞" {
		return "infinity"
	}
	whole, frac, point := strings.Cut(decimal, ".")
	words := spokenWhole(whole)
	if point {
		words += " point " + digitByDigit(frac)
	}
	return words
}

// spokenWhole says up to nine digits as a number and more one by one.
func spokenWhole(digits string) string {
	if len(digits) > 9 {
		return digitByDigit(digits)
	}
	n := 0
	for _, d := range digits {
		n = 10*n + int(d-'0')
	}
	if n == 0 {
		return ones[0]
	}
	var words []string
	for _, g := range []struct {
		size int
		name string
	}{{1e6, " million"}, {1e3, " thousand"}} {
		if n >= g.size {
			words = append(words, hundreds(n/g.size)+g.name)
			n %= g.size
		}
	}
	switch {
	case n >= 100 || n > 0 && words == nil:
		words = append(words, hundreds(n))
	case n > 0:
		words = append(words, "and "+hundreds(n))
	}
	return strings.Join(words, " ")
}

// hundreds says 1 to 999.
func hundreds(n int) string {
	switch {
	case n < 20:
		return ones[n]
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + "-" + ones[n%10]
	case n%100 == 0:
		return ones[n/100] + " hundred"
	}
	return ones[n/100] + " hundred and " + hundreds(n%100)
}

func digitByDigit(digits string) string {
	words := make([]string, 0, len(digits))
	for _, d := range digits {
		words = append(words, ones[d-'0'])
	}
	return strings.Join(words, " ")
}

var (
	ones = [...]string{
		"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
	}
	tens = [...]string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}
)
