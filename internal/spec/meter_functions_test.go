package spec_test

import (
	"strings"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
)

// A range is read in the unit of its function, whatever that is.
func TestRangesAreReadInTheUnitOfTheirFunction(t *testing.T) {
	const head = "meter:\n  name: t\n  kind: digital\n  category: CAT III 600 V\n  max-volts: 600 V\n  functions:\n    - "
	for _, c := range []struct {
		span string
		f    sheet.Function
		top  unit.Quantity
	}{
		{"{function: capacitance, percent: 2 %, digits: 5, ranges: [{top: 600 µF, digit: 0.1 µF}]}", sheet.Capacitance, unit.Farad(600e-6).Quantity()},
		{"{function: ac-amps, percent: 1.5 %, digits: 3, ranges: [{top: 10 A, digit: 10 mA}]}", sheet.ACAmps, unit.Ampere(10).Quantity()},
	} {
		m, err := spec.LoadMeter("f", []byte(head+c.span+"\n"))
		if err != nil {
			t.Errorf("%s: %v", c.f, err)
			continue
		}
		if s, ok := m.Span(c.f); !ok || s.Top() != c.top {
			t.Errorf("%s: top %v, want %v", c.f, s.Top(), c.top)
		}
		wrong := strings.Replace(c.span, c.top.String(), "600 Ω", 1)
		if _, err := spec.LoadMeter("f", []byte(head+wrong+"\n")); err == nil || !strings.Contains(err.Error(), "is not a") {
			t.Errorf("%s with a range in ohms: %v", c.f, err)
		}
	}
}
