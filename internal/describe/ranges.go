package describe

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/unit"
)

// rangeOf reads one range as a booklet prints it: 600.0m is 600 mV in steps of
// 0.1 mV. After a stroke the step stands by itself: 600m/0.1m.
func rangeOf(kind unit.Kind, word string) (string, error) {
	top, step, stroke := strings.Cut(word, "/")
	value, err := exact(kind, top)
	if err != nil {
		return "", err
	}
	switch {
	case !stroke && !strings.Contains(top, "."):
		return "{top: " + value.String() + "}", nil
	case !stroke:
		step = lastPlace(top)
	}
	digit, err := exact(kind, step)
	if err != nil {
		return "", err
	}
	return "{top: " + value.String() + ", digit: " + digit.String() + "}", nil
}

// lastPlace is what the last digit of a printed number counts: of 60.00k 0.01k.
func lastPlace(printed string) string {
	end := strings.LastIndexAny(printed, "0123456789")
	zeros := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return '0'
		}
		return r
	}, printed[:end])
	whole, frac, _ := strings.Cut(zeros+"1", ".")
	if whole != "" {
		whole = "0"
	}
	return whole + "." + frac + printed[end+1:]
}

func exact(kind unit.Kind, text string) (unit.Quantity, error) {
	e, err := unit.ParseEntry(kind, text)
	if err != nil {
		return unit.Quantity{}, err
	}
	if e.Form != unit.Exact {
		return unit.Quantity{}, fmt.Errorf("%q is no end of a range", text)
	}
	return unit.Quantity{Kind: kind, Value: e.Value}, nil
}
