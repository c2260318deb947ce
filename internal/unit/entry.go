package unit

import (
	"math"
	"strings"
)

// Form says what sort of answer an entry is. The zero value is no reading.
type Form uint8

// The forms an entry can have.
const (
	NotRead Form = iota // "-"
	Exact               // a number
	Over                // OL: beyond the top of the range
	Above               // ">20M"
	Below               // "<0.1"
)

// An Entry is what a person typed for one reading.
type Entry struct {
	Raw   string
	Form  Form
	Value float64 // SI unit; NaN for NotRead and Over
	Unit  bool    // the unit (not only a prefix) was typed; the R of 0R22 is one
}

// ParseEntry reads one reading as typed at the bench. To what [Parse] takes it
// adds the letter codes of IEC 60062 (4k7, 0R22, 1n5), a decimal comma, a prefix
// or nothing in place of the unit, OL, > and <, and - for not read; spaces around
// it do not count. A bare number takes the kind's unit (mm² for a cross-section);
// a bare capacitance is refused, its size could be anything. The over-range mark
// of instruments, 9.9E37, is Over; their "not a number", 9.91E37, is refused.
//
// A refusal is an error and a NotRead entry whose value is NaN. Exact, Above and
// Below are never NaN or infinite.
func ParseEntry(k Kind, text string) (Entry, error) {
	e, err := entry(k, strings.Trim(text, " "))
	if err != nil {
		e = Entry{Value: math.NaN()}
	}
	e.Raw = text
	return e, err
}

func entry(k Kind, text string) (Entry, error) {
	mark, err := instrumentMark(text)
	switch {
	case err != nil:
		return Entry{}, err
	case k == None || int(k) >= len(kinds):
		return number(k, text)
	case text == "-":
		return Entry{Form: NotRead, Value: math.NaN()}, nil
	case mark || strings.EqualFold(text, "OL"):
		return Entry{Form: Over, Value: math.NaN()}, nil
	case looksOver(text):
		return Entry{}, refuse("if the meter shows that it is over its range, type OL", "%q is not a number", text)
	case strings.HasPrefix(text, ">"):
		return censored(k, text, Above)
	case strings.HasPrefix(text, "<"):
		return censored(k, text, Below)
	}
	return number(k, text)
}

func number(k Kind, text string) (Entry, error) {
	w, err := read(k, text)
	if err != nil {
		return Entry{}, err
	}
	return Entry{Form: Exact, Value: w.value(), Unit: w.unit}, nil
}

// censored reads what follows > or <. A bound that is not above zero would say
// nothing: no meter shows one.
func censored(k Kind, text string, form Form) (Entry, error) {
	e, err := number(k, strings.TrimPrefix(text[1:], " "))
	if err == nil && !(e.Value > 0) {
		err = refuse("after > or < a number above zero, such as >20M", "%q is no end of a range", text)
	}
	e.Form = form
	return e, err
}

// instrumentMark recognises the two numbers that instruments send for no
// reading: infinity (true) and "not a number" (an error). Source: SCPI-1999
// volume 1, 7.2.1.4 and 7.2.1.5, from memory.
func instrumentMark(text string) (bool, error) {
	mantissa, exp, found := strings.Cut(strings.ToUpper(text), "E")
	if !found || strings.TrimPrefix(exp, "+") != "37" {
		return false, nil
	}
	switch strings.TrimPrefix(strings.TrimRight(mantissa, "0"), "+") {
	case "9.9":
		return true, nil
	case "-9.9":
		return false, refuse("the instrument is over range below zero: look at the leads and read again", "%q is not a number", text)
	case "9.91", "-9.91":
		return false, refuse("the instrument has no reading: read again", "%q is not a number", text)
	}
	return false, nil
}

// looksOver knows what people type for a display that shows over range.
func looksOver(text string) bool {
	switch strings.ToLower(text) {
	case "1.", "0l", "o.l", "0.l", ".ol", "-ol", "+ol", "-1.", "inf", "-inf", "+inf", "infinity", "∞", ">ol", "over", "ovld":
		return true
	}
	return false
}
