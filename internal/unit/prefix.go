package unit

import (
	"math"
	"slices"
	"strings"
)

// A prefix scales a unit by a power of ten.
type prefix struct {
	signs    []string // as printed first, then other spellings
	word     string
	exp      int
	withUnit bool // alone it could be read as a unit
}

var (
	giga  = prefix{signs: []string{"G"}, word: "giga", exp: 9}
	mega  = prefix{signs: []string{"M"}, word: "mega", exp: 6}
	kilo  = prefix{signs: []string{"k"}, word: "kilo", exp: 3}
	unity = prefix{signs: []string{""}}
	milli = prefix{signs: []string{"m"}, word: "milli", exp: -3}
	micro = prefix{signs: []string{micron, greekMu, "u"}, word: "micro", exp: -6}
	nano  = prefix{signs: []string{"n"}, word: "nano", exp: -9}
	pico  = prefix{signs: []string{"p"}, word: "pico", exp: -12}

	// Resistors are marked 4.7K as often as 4.7k.
	kiloOrCapital = prefix{signs: []string{"k", "K"}, word: "kilo", exp: 3}
	// "20m" of resistance is as often typed for 20 MΩ, and "5 m" of time could
	// be minutes; with the unit they are plain.
	milliWithUnit = prefix{signs: []string{"m"}, word: "milli", exp: -3, withUnit: true}
	// The unit mm² carries its scale itself.
	squareMilli = prefix{signs: []string{""}, exp: -6}
)

// A step is a prefix some kind uses, printed for values from 10^from up; the
// last of a kind also for everything below.
type step struct {
	prefix
	from int
}

// never keeps a prefix that is read from being printed by choice.
const never = math.MaxInt

// A code is a letter in the place of the decimal point: 4k7, 0R22, 1n5.
// Source: IEC 60062:2016, from memory.
type code struct {
	letter string
	exp    int
	first  bool // it may also come before the first digit: R47, n15
	unit   bool // it names the unit and not only the scale
}

var (
	ohmCodes = []code{
		{"R", 0, true, true}, {"k", 3, false, false}, {"K", 3, false, false}, {"M", 6, false, false}, {"G", 9, false, false},
	}
	faradCodes = []code{
		{"p", -12, true, false}, {"n", -9, true, false}, {"u", -6, true, false}, {micron, -6, true, false}, {greekMu, -6, true, false},
	}
)

// cutCode takes a letter code and the digits after it off the front of s. A
// letter without digits after it is a prefix, save R: 47R.
func cutCode(codes []code, s string, hasWhole bool) (c code, frac, rest string, ok bool) {
	for _, c := range codes {
		after, found := strings.CutPrefix(s, c.letter)
		if !found {
			continue
		}
		frac, rest := cutDigits(after)
		if hasWhole && (frac != "" || c.unit) || !hasWhole && c.first && frac != "" {
			return c, frac, rest, true
		}
	}
	return code{}, "", s, false
}

// A suffix is what may follow the digits: prefix, unit, both or neither.
type suffix struct {
	exp    int
	prefix string // as written
	unit   bool   // the unit was written
}

// match finds the one meaning s has after a number of kind k.
func (k Kind) match(s string) (suffix, bool) {
	spec := k.spec()
	for _, st := range spec.steps {
		for _, sign := range st.signs {
			rest, found := strings.CutPrefix(s, sign)
			unit := slices.Contains(spec.spelled, rest)
			if found && (unit || rest == "" && !st.withUnit) {
				return suffix{exp: st.exp, prefix: sign, unit: unit}, true
			}
		}
	}
	return suffix{}, false
}
