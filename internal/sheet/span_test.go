package sheet_test

import (
	"math"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
	"example.com/powerup/procedures"
)

func meter(t *testing.T, name string) *sheet.Meter {
	t.Helper()
	text, ok := procedures.Find(procedures.Meters(), name)
	if !ok {
		t.Fatalf("no example meter %s", name)
	}
	m, err := spec.LoadMeter(name+".yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestRangeFor(t *testing.T) {
	span, ok := meter(t, "general-digital").Span(sheet.DCVolts)
	if !ok {
		t.Fatal("no volts")
	}
	for _, c := range []struct {
		why   string
		v     float64
		want  unit.Volt // 0: no range
		digit unit.Volt
	}{
		{"a cathode", 6.03, 60, 0.01},
		{"at the top of a range", 6, 6, 0.001},
		{"a grid below zero", -12.5, 60, 0.01},
		{"nothing", 0, 0.6, 0.0001},
		{"working HT", 264, 600, 0.1},
		{"beyond the meter", 600.1, 0, 0},
		{"not a number", math.NaN(), 0, 0},
		{"without end", math.Inf(1), 0, 0},
	} {
		r, ok := span.RangeFor(c.v)
		if ok != (c.want > 0) || !near(r.Top.Value, float64(c.want), 1e-9) || !near(r.Digit.Value, float64(c.digit), 1e-9) {
			t.Errorf("%s: got top %v, digit %v, %v; want %v, %v", c.why, r.Top, r.Digit, ok, c.want, c.digit)
		}
	}
	// The order of the file must not matter.
	span.Ranges[0], span.Ranges[3] = span.Ranges[3], span.Ranges[0]
	if r, _ := span.RangeFor(0.5); !near(r.Top.Value, 0.6, 1e-9) {
		t.Errorf("in another order: got %v, want 600 mV", r.Top)
	}
	if top := span.Top(); top != unit.Volt(600).Quantity() {
		t.Errorf("top: got %v, want 600 V", top)
	}
}

func TestSpans(t *testing.T) {
	tester := meter(t, "insulation-tester")
	for _, c := range []struct {
		why  string
		test unit.Volt
		want bool
	}{
		{"on the HT line", 250, true},
		{"mains to chassis", 500, true},
		{"volts it has not", 1000, false},
	} {
		s, ok := tester.SpanAt(sheet.Insulation, c.test)
		if ok != c.want || ok && *s.Test != c.test {
			t.Errorf("%s: got %v", c.why, ok)
		}
	}
	if _, ok := tester.SpanAt(sheet.Bond, 250); ok {
		t.Error("the bond range is not tested at volts")
	}
	if s, ok := tester.Span(sheet.DCVolts); ok || s.Top().Value != 0 {
		t.Errorf("a tester without volts: got %v", s)
	}
	if _, ok := (sheet.Span{}).RangeFor(0); ok {
		t.Error("a span without ranges shows nothing")
	}
}

func TestFunctionsHaveKinds(t *testing.T) {
	for f, want := range map[sheet.Function]unit.Kind{
		sheet.DCVolts: unit.KindVolt, sheet.ACVolts: unit.KindVolt,
		sheet.OhmsF: unit.KindOhm, sheet.Insulation: unit.KindOhm, sheet.Bond: unit.KindOhm,
		sheet.ACAmps: unit.KindAmpere, sheet.Leakage: unit.KindAmpere, sheet.Touch: unit.KindAmpere,
		sheet.Capacitance: unit.KindFarad,
		sheet.Thermo:      unit.KindCelsius, sheet.Wattage: unit.KindWatt,
		"": unit.None, "volts": unit.None,
	} {
		if got := f.Kind(); got != want {
			t.Errorf("%q measures %v, want %v", f, got, want)
		}
	}
}

func TestOvervoltage(t *testing.T) {
	for _, c := range []struct {
		category string
		class    int
		volts    unit.Volt
	}{
		{"CAT I 600 V", 1, 600},
		{"CAT II 600 V", 2, 600},
		{"CAT III 1000 V", 3, 1000},
		{"CAT IV 300 V", 4, 300},
		{"none", 0, 0},
		{"", 0, 0},
		{"CAT V 600 V", 0, 0},
		{"CAT III 600", 0, 0},
		{"CAT III 600 V or so", 0, 0},
		{"cat iii 600 V", 0, 0},
	} {
		class, volts := (&sheet.Meter{Category: c.category}).Overvoltage()
		if class != c.class || volts != c.volts {
			t.Errorf("%q: got %d, %v; want %d, %v", c.category, class, volts, c.class, c.volts)
		}
	}
}

func TestFlex(t *testing.T) {
	if (sheet.Flex{Cores: 2}).Earthed() || !(sheet.Flex{Cores: 3}).Earthed() || (sheet.Flex{}).Earthed() {
		t.Error("only a flex of three cores carries an earth")
	}
}
