package unit

import (
	"math"
	"strconv"
	"strings"
)

// Parse reads a quantity from a file into the SI unit: digits with a point, at
// most one space, prefix and unit: "4.7 kΩ", "-12.5 V", "0.75 mm²". At most 7
// digits stand before the point and 6 after it. The unit is required, save for
// KindNumber. For keyboards that lack them u stands for µ, ohm for Ω, C for °C and
// mm2 for mm². What only a bench entry may hold (4k7, a decimal comma, a bare
// number) is refused, and so are exponents and everything else. A refusal is
// NaN and an error.
func Parse(k Kind, text string) (float64, error) {
	w, err := read(k, text)
	switch {
	case err != nil:
	case w.loose != "":
		err = refuse("in a file write "+Quantity{k, w.value()}.String(), "%q has %s", text, w.loose)
	case !w.unit && k != KindNumber:
		err = refuse("write the unit too, such as "+k.spec().example, "%q has no unit", text)
	default:
		return w.value(), nil
	}
	return math.NaN(), err
}

// written is a number as it stood in the text. Its digits stay text until
// value, so that a prefix moves the point and never rounds.
type written struct {
	negative    bool
	whole, frac string
	exp         int    // of the prefix or letter code
	scaled      bool   // a prefix, letter code or unit was written
	unit        bool   // the unit was written
	loose       string // what a file may not hold; empty if it may be in one
}

// value is the float nearest to what was written; minus nothing is nothing.
func (w written) value() float64 {
	x, err := strconv.ParseFloat(w.whole+"."+w.frac+"e"+strconv.Itoa(w.exp), 64)
	switch {
	case err != nil:
		return math.NaN() // unreachable: only digits get here, and few
	case w.negative && x != 0:
		return -x
	default:
		return x
	}
}

// read is the one grammar of both doors, file and bench.
func read(k Kind, text string) (w written, err error) {
	if k == None || int(k) >= len(kinds) {
		return w, refuse("this is a fault of the program, not of the entry", "nothing says what %q measures", clip(text))
	}
	if err := legible(text); err != nil {
		return w, err
	}
	rest, err := w.sign(text)
	if err == nil {
		rest, err = w.number(k, text, rest)
	}
	if err == nil {
		err = w.ending(k, text, rest)
	}
	return w, err
}

// sign takes at most one sign off the front.
func (w *written) sign(text string) (string, error) {
	if text == "" || text[0] != '-' && text[0] != '+' {
		return text, nil
	}
	w.negative = text[0] == '-'
	rest := text[1:]
	if rest != "" && (rest[0] == '-' || rest[0] == '+') {
		return rest, refuse("one sign, or none for plus", "%q has two signs", text)
	}
	return rest, nil
}

// number takes the digits with their decimal sign or letter code.
func (w *written) number(k Kind, text, rest string) (string, error) {
	w.whole, rest = cutDigits(rest)
	c, frac, after, coded := cutCode(k.spec().codes, rest, w.whole != "")
	switch {
	case coded:
		w.frac, w.exp, w.scaled, w.unit, w.loose = frac, c.exp, true, c.unit, "a letter code"
		rest = after
	case w.whole == "":
		return rest, noDigits(k, text, rest)
	case rest != "" && (rest[0] == '.' || rest[0] == ','):
		comma := rest[0] == ','
		w.frac, rest = cutDigits(rest[1:])
		if comma {
			w.loose = "a decimal comma"
		}
		if err := w.point(text, rest, comma); err != nil {
			return rest, err
		}
	}
	if len(w.whole) > 1 && w.whole[0] == '0' {
		w.loose = "a needless zero in front"
	}
	if !readable(w.whole, w.frac) {
		return rest, refuse("at most 7 digits before the decimal sign and 6 after it, and a prefix such as k or m",
			"%q has more digits than a meter shows", text)
	}
	return rest, nil
}

// point refuses a decimal sign that could be something else.
func (w *written) point(text, rest string, comma bool) error {
	switch {
	case w.frac == "":
		return refuse("write "+w.whole+" or "+w.whole+".0",
			"%q has no digit after the decimal sign", text)
	case rest != "" && (rest[0] == '.' || rest[0] == ','):
		return refuse("one decimal point, and nothing between the thousands", "%q has two decimal signs", text)
	case comma && len(w.frac) == 3:
		return refuse("write "+w.whole+w.frac+" or "+w.whole+"."+w.frac,
			"%q could mean %s%s or %s.%s", text, w.whole, w.frac, w.whole, w.frac)
	}
	return nil
}

// ending takes prefix and unit, and nothing may be left.
func (w *written) ending(k Kind, text, rest string) error {
	if len(rest) > 1 && rest[0] == ' ' {
		rest = rest[1:]
	}
	s, ok := k.match(rest)
	switch coded := w.scaled; {
	case !ok:
		return badEnding(k, text, rest)
	case coded && s.prefix != "":
		return refuse("a letter code has its prefix already: 4k7", "%q has two prefixes", text)
	case !coded:
		w.exp = s.exp
	}
	w.unit = w.unit || s.unit
	w.scaled = w.scaled || s.unit || s.prefix != ""
	if s.prefix == "K" {
		w.loose = "a capital K for kilo"
	}
	if k.spec().needUnit && !w.scaled {
		return refuse("write the prefix too, such as "+k.spec().example, "%q could be any size of capacitance", text)
	}
	return nil
}

// cutDigits takes the decimal digits off the front of s.
func cutDigits(s string) (digits, rest string) {
	rest = strings.TrimLeft(s, "0123456789")
	return s[:len(s)-len(rest)], rest
}
