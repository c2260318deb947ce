package spec

import (
	"fmt"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// meterRules wants a sheet from which each reading's error can be worked out.
func meterRules(r *reader, m *sheet.Meter) {
	r.resistance(m)
	if class, _ := m.Overvoltage(); class == 0 && m.Category != "none" {
		r.failAt("category", quote(m.Category)+" is no overvoltage category", "write what is marked beside the sockets, as CAT II 600 V, or none")
	}
	seen := map[string]bool{}
	for i := range m.Functions {
		s := &m.Functions[i]
		path := fmt.Sprintf("functions[%d]", i)
		id := string(s.Function)
		if s.Test != nil {
			id += " at " + s.Test.String()
		}
		if seen[id] {
			r.failAt(path, "the function "+id+" has two entries", "put all its ranges in one")
		}
		seen[id] = true
		r.span(path, s, m.Kind)
	}
}

// resistance wants to know how much the meter loads the point it measures.
func (r *reader) resistance(m *sheet.Meter) {
	_, dc := m.Span(sheet.DCVolts)
	_, ac := m.Span(sheet.ACVolts)
	volts := dc || ac
	switch {
	case m.Kind == sheet.MovingCoil && m.Input != nil:
		r.failAt("input", "a moving coil has no fixed input resistance", "write ohms-per-volt in its place")
	case m.Kind != sheet.MovingCoil && m.PerVolt != nil:
		r.failAt("ohms-per-volt", "only a moving coil has ohms per volt", "write input in its place, such as 10 MΩ")
	case volts && m.Kind == sheet.MovingCoil && m.PerVolt == nil:
		r.failAt("ohms-per-volt", missing, "it stands on the dial, such as 20 kΩ/V")
	case volts && m.Kind != sheet.MovingCoil && m.Input == nil:
		r.failAt("input", missing, "nearly every digital meter has 10 MΩ on volts")
	}
}

func (r *reader) span(path string, s *sheet.Span, kind sheet.MeterKind) {
	tests := s.Function == sheet.Insulation || s.Function == sheet.Leakage
	switch {
	case s.Percent == 0 && s.Digits == 0:
		r.failAt(path+".percent", "this function states no limit of error", "write percent, and digits if it has them, from the meter's handbook")
	case kind == sheet.MovingCoil && s.Digits != 0:
		r.failAt(path+".digits", "a moving coil has no digits", "write its error as a percentage of full scale")
	}
	switch {
	case tests && s.Test == nil:
		r.failAt(path+".test-volts", missing, "write the open-circuit volts of the test, such as 250 V")
	case !tests && s.Test != nil:
		r.failAt(path+".test-volts", "only insulation and leakage are tested at volts", "leave it out")
	}
	last := 0.0
	for i := range s.Ranges {
		at := fmt.Sprintf("%s.ranges[%d]", path, i)
		r.rangeOf(at, s, &s.Ranges[i], kind)
		if top := s.Ranges[i].Top; top.Value > 0 {
			if !(top.Value > last) {
				r.failAt(at+".top", top.String()+" is not above the range before", "ranges rise, the lowest first")
			}
			last = top.Value
		}
	}
}

// rangeOf reads the texts of one range as the function's quantity.
func (r *reader) rangeOf(path string, s *sheet.Span, g *sheet.Range, kind sheet.MeterKind) {
	g.Top = r.positive(path+".top", g.TopText, s.Function)
	g.Digit = r.positive(path+".digit", g.DigitText, s.Function)
	switch {
	case kind != sheet.MovingCoil && g.DigitText == "":
		r.failAt(path+".digit", missing, "write what the last digit counts on this range, such as 0.1 V on 600 V")
	case kind == sheet.MovingCoil && g.DigitText != "":
		r.failAt(path+".digit", "a moving coil has no digits", "leave it out")
	case g.Digit.Value > 0 && g.Top.Value > 0 && !(g.Digit.Value < g.Top.Value):
		r.failAt(path+".digit", g.Digit.String()+" is not below the top of the range, "+g.Top.String(), "the digit is the smallest step the meter shows")
	}
}

// positive reads a text as a quantity of a function, above zero. An empty text
// is nothing.
func (r *reader) positive(path, text string, f sheet.Function) unit.Quantity {
	q := unit.Quantity{Kind: f.Kind()}
	if text == "" {
		return q
	}
	value, err := unit.Parse(q.Kind, text)
	switch {
	case err != nil:
		r.failErr(r.at[path], path, err)
	case !(value > 0):
		r.failAt(path, text+" is not above zero", "")
	default:
		q.Value = value
	}
	return q
}
