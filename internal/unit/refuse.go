package unit

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is more bytes than any right spelling has.
const longest = 40

// refuse makes an error: the fact, then on its own line what would be right.
func refuse(hint, format string, args ...any) error {
	return errors.New(fmt.Sprintf(format, args...) + "\nhint: " + hint)
}

// clip keeps an overlong text from filling the screen.
func clip(text string) string {
	if len(text) > longest {
		return text[:longest] + "..."
	}
	return text
}

// legible refuses what could hide or look like something else.
func legible(text string) error {
	switch {
	case text == "":
		return refuse("write a number and its unit", "there is no number")
	case len(text) > longest:
		return refuse("one number and its unit", "%q is too long for one quantity", clip(text))
	case !utf8.ValidString(text):
		return refuse("type it again", "%q has bytes that are no letter", text)
	}
	for _, r := range text {
		switch {
		case r >= ' ' && r <= '~' || strings.ContainsRune(omega+ohmSign+micron+greekMu+degree+squared, r):
		case unicode.IsControl(r):
			return refuse("type it again by hand", "%q has a control character", text)
		case r == '\u2212' || r == '\u2013':
			return refuse("use the - of the keyboard", "%q has a dash for a minus sign", text)
		default:
			return refuse("only the letters of the keyboard, Ω, µ, ° and ²", "%q has the strange character %U", text, r)
		}
	}
	return nil
}

// noDigits says why text has no number where one must begin.
func noDigits(k Kind, text, rest string) error {
	if rest != "" && (rest[0] == '.' || rest[0] == ',') {
		return refuse("write a digit in front, such as 0."+rest[1:], "%q has no digit before the decimal sign", text)
	}
	return refuse("digits first, then the unit, such as "+k.spec().example, "%q is not a number", text)
}

// badEnding says why rest, the end of text, is nothing after a number of kind k.
func badEnding(k Kind, text, rest string) error {
	first, size := utf8.DecodeRuneInString(rest)
	switch next := rest[size:]; {
	case first == ' ':
		return refuse(k.give(), "%q has a space too many", text)
	case strings.ContainsRune("_'0123456789", first):
		return refuse("one number, and nothing between its digits", "%q has something between its digits", text)
	case (first == 'e' || first == 'E') && next != "" && strings.ContainsAny(next[:1], "+-0123456789"):
		return refuse("use a prefix instead, such as k or m", "%q has an exponent", text)
	case first == 'R' && k == KindOhm:
		return refuse("R stands in the place of the point: 4R7 or 47R", "%q ends in %q", text, rest)
	case k == KindFarad && (first == 'm' || first == 'M'):
		return refuse("old parts say mF and mfd for what is now µF: write 8 µF if it is that",
			"%q could be read as milli, micro or mega", text)
	case k == KindOhm && rest == "m":
		return refuse("type the unit too: mohm or Mohm", "%q could be read as milli or mega", text)
	case k == KindSecond && (first == 'm' || first == 'h'):
		return refuse("write it in seconds, such as 300 s", "%q is not in seconds", text)
	}
	return badUnit(k, text, rest)
}

// badUnit is the rest of badEnding: a unit or prefix that does not fit.
func badUnit(k Kind, text, rest string) error {
	spec := k.spec()
	switch sign := strangePrefix(spec, rest); {
	case hasOtherUnit(k, rest):
		return refuse(k.give(), "%s is not %s", text, spec.noun)
	case k == KindNumber:
		return refuse("a plain number has no unit and no prefix", "%q ends in %q", text, rest)
	case sign != "":
		return refuse(spec.many+" are written in "+spec.printed()+"; m is milli, M is mega",
			"%q has the prefix %s, which is not used with %s", text, sign, spec.many)
	}
	return refuse(k.give(), "%q ends in %q, which is no unit for %s", text, rest, spec.many)
}

// give is the hint that names the unit.
func (k Kind) give() string {
	return "give " + k.Name() + ", such as " + k.spec().example
}

// hasOtherUnit says whether s is the unit of another kind.
func hasOtherUnit(k Kind, s string) bool {
	for other := range Kind(len(kinds)) {
		if m, ok := other.match(s); ok && m.unit && other != k {
			return true
		}
	}
	return false
}

// strangePrefix gives the prefix in s, alone or before the kind's own unit.
func strangePrefix(spec *kindSpec, s string) string {
	for _, unit := range slices.Concat(spec.spelled, []string{""}) {
		sign, found := strings.CutSuffix(s, unit)
		if found && utf8.RuneCountInString(sign) == 1 && strings.Contains("TGMKkhdcmu"+micron+greekMu+"npf", sign) {
			return sign
		}
	}
	return ""
}

// printed lists the unit with each of its prefixes: "kV, V, mV".
func (spec *kindSpec) printed() string {
	var all []string
	for _, st := range spec.steps {
		all = append(all, st.signs[0]+spec.unit)
	}
	return strings.Join(all, ", ")
}
