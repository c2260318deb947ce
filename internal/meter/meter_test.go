package meter

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

func ptr[T any](v T) *T { return &v }

func ranges(k unit.Kind, topDigit ...float64) []sheet.Range {
	var out []sheet.Range
	for i := 0; i < len(topDigit); i += 2 {
		out = append(out, sheet.Range{Top: unit.Quantity{Kind: k, Value: topDigit[i]}, Digit: unit.Quantity{Kind: k, Value: topDigit[i+1]}})
	}
	return out
}

func span(f sheet.Function, percent unit.Percent, digits int, topDigit ...float64) sheet.Span {
	return sheet.Span{Function: f, Percent: percent, Digits: digits, Ranges: ranges(f.Kind(), topDigit...)}
}

// digital is a general digital multimeter: d.c. 0.5 % + 2 digits, a.c. 1.2 % + 3,
// ohms 0.5 % + 2 (common practice, no source).
func digital() *sheet.Meter {
	ohms := span(sheet.OhmsF, 0.5, 2, 600, 0.01, 6e3, 1, 60e3, 10, 600e3, 100, 6e6, 1e3, 60e6, 10e3)
	ohms.Null = true
	return &sheet.Meter{AutoRange: true, Name: "digital", Kind: sheet.Digital, Input: ptr(unit.Ohm(10e6)), Functions: []sheet.Span{
		span(sheet.DCVolts, 0.5, 2, 600e-3, 0.1e-3, 6, 1e-3, 60, 0.01, 600, 0.1),
		span(sheet.ACVolts, 1.2, 3, 6, 1e-3, 60, 0.01, 600, 0.1), ohms,
		span(sheet.Wattage, 2, 2, 100, 0.1),
	}}
}

func movingCoil() *sheet.Meter {
	return &sheet.Meter{Name: "moving coil", Kind: sheet.MovingCoil, PerVolt: ptr(unit.OhmPerVolt(20e3)), Functions: []sheet.Span{
		span(sheet.DCVolts, 2, 0, 10, 0, 50, 0, 250, 0, 1000, 0),
		span(sheet.OhmsF, 5, 0, 2e3, 0, 200e3, 0, 20e6, 0),
	}}
}

func tester() *sheet.Meter {
	at := func(volts unit.Volt, top float64) sheet.Span {
		s := span(sheet.Insulation, 5, 0, top, top/1000)
		s.Test = &volts
		return s
	}
	bond := span(sheet.Bond, 1, 3, 2, 0.01)
	return &sheet.Meter{AutoRange: true, Name: "tester", Kind: sheet.Tester, Functions: []sheet.Span{at(250, 2e9), at(500, 5e9), bond}}
}

func about(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v ± %v", what, got, want, tol)
	}
}

// one is a meter with a single range.
func one(f sheet.Function, percent unit.Percent, digits int, top, digit float64) *sheet.Meter {
	return &sheet.Meter{AutoRange: true, Name: "one", Kind: sheet.Digital, Functions: []sheet.Span{span(f, percent, digits, top, digit)}}
}

func TestUncertaintyOfADigitalMeter(t *testing.T) {
	const root3 = 1.7320508075688772
	for _, c := range []struct {
		what    string
		m       *sheet.Meter
		f       sheet.Function
		x       float64
		a, tolA float64 // limit of error; U = 2a/√3
	}{
		{"250.0 V, 0.8 % + 2 digits of 0.1 V: 2.2 V (computed)", one(sheet.DCVolts, 0.8, 2, 600, 0.1), sheet.DCVolts, 250, 2.2, 1e-9},
		{"32.00 V, 2.5 % + 3 of 0.01: a university's note on multimeters gives 0.83 V", one(sheet.DCVolts, 2.5, 3, 60, 0.01), sheet.DCVolts, 32, 0.83, 1e-9},
		{"100.0 V, 0.8 % + 2: a published explainer gives 1.0 V", one(sheet.DCVolts, 0.8, 2, 600, 0.1), sheet.DCVolts, 100, 1.0, 1e-9},
		{"1.4869 A, 0.5 % + 1 of 0.0001: 0.0075 A (computed; specification from a college's table)", one(sheet.Leakage, 0.5, 1, 2, 0.0001), sheet.Leakage, 1.4869, 0.0075, 5e-5},
		{"0.25 Ω, 1 % + 3 of 0.01 (computed)", one(sheet.Bond, 1, 3, 2, 0.01), sheet.Bond, 0.25, 0.0325, 1e-9},
		{"the sign makes no difference", one(sheet.DCVolts, 0.8, 2, 600, 0.1), sheet.DCVolts, -250, 2.2, 1e-9},
	} {
		u, _, err := Uncertainty(c.m, c.f, c.x)
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		about(t, c.what, u*root3/2, c.a, c.tolA)
	}
	// U for the two often quoted (computed): 2.54 V and 0.038 Ω.
	u, _, _ := Uncertainty(one(sheet.DCVolts, 0.8, 2, 600, 0.1), sheet.DCVolts, 250)
	about(t, "U", u, 2.54, 0.005)
	u, _, _ = Uncertainty(one(sheet.Bond, 1, 3, 2, 0.01), sheet.Bond, 0.25)
	about(t, "U", u, 0.038, 0.0005)
}

func TestSmallestRangeThatHoldsIt(t *testing.T) {
	for x, top := range map[float64]float64{0: 0.6, 0.6: 0.6, 0.61: 6, -0.61: 6, 59.9: 60, 60: 60, 60.1: 600, 600: 600} {
		_, r, err := Uncertainty(digital(), sheet.DCVolts, x)
		if err != nil || r.Top.Value != top {
			t.Errorf("%v V on the %v range, %v, want %v", x, r.Top.Value, err, top)
		}
	}
	for _, x := range []float64{600.1, -601, math.NaN(), math.Inf(1), math.Inf(-1)} {
		u, _, err := Uncertainty(digital(), sheet.DCVolts, x)
		if !errors.Is(err, ErrUnfit) || !math.IsNaN(u) {
			t.Errorf("%v V: U %v, %v, want unfit", x, u, err)
		}
	}
	if u, _, err := Uncertainty(digital(), sheet.Insulation, 1e6); !errors.Is(err, ErrUnfit) || !math.IsNaN(u) {
		t.Errorf("a multimeter took an insulation reading: %v, %v", u, err)
	}
	if _, err := Top(digital(), sheet.Insulation); !errors.Is(err, ErrUnfit) {
		t.Errorf("top of a function it lacks: %v", err)
	}
	nan := one(sheet.DCVolts, unit.Percent(math.NaN()), 2, 600, 0.1)
	if u, _, err := Uncertainty(nan, sheet.DCVolts, 1); !errors.Is(err, ErrUnfit) || !math.IsNaN(u) {
		t.Errorf("an error of NaN: U %v, %v", u, err)
	}
}

// A needle: per cent of full scale on volts; on ohms per cent of the arc, which
// is least in proportion at mid-scale: 4 p of the value (computed).
func TestUncertaintyOfANeedle(t *testing.T) {
	m := movingCoil()
	for _, c := range []struct{ x, a float64 }{{10, 0.2}, {1, 0.2}, {11, 1}, {230, 5}} {
		u, _, err := Uncertainty(m, sheet.DCVolts, c.x)
		if err != nil {
			t.Fatal(err)
		}
		about(t, "volts", u/expand, c.a, 1e-9)
	}
	u, r, err := Uncertainty(m, sheet.OhmsF, 2e3)
	if err != nil || r.Top.Value != 200e3 {
		t.Fatalf("2 kΩ on the range to %v, %v: its mid-scale is that of 200 kΩ", r.Top.Value, err)
	}
	about(t, "mid-scale", u/expand, 0.05*4*2e3, 1e-6)
	off := func(x float64) float64 {
		u, _, err := Uncertainty(one2(m), sheet.OhmsF, x)
		if err != nil {
			t.Fatal(err)
		}
		return u / x
	}
	if !(off(200) > off(2e3) && off(20e3) > off(2e3) && off(200e3) > off(20e3)) {
		t.Errorf("relative error 200 Ω %.2f, 2 kΩ %.2f, 20 kΩ %.2f, 200 kΩ %.2f: it must grow off mid-scale", off(200), off(2e3), off(20e3), off(200e3))
	}
}

// one2 is the meter with its middle ohms range only.
func one2(m *sheet.Meter) *sheet.Meter {
	k := *m
	k.Functions = []sheet.Span{span(sheet.OhmsF, 5, 0, 200e3, 0)}
	return &k
}

// An insulation tester has a span for each of its test volts; which was used is
// not known, so the worse counts.
func TestTesterSpans(t *testing.T) {
	m := tester()
	m.Functions[1].Percent = 10
	u, _, err := Uncertainty(m, sheet.Insulation, 1e9)
	if err != nil {
		t.Fatal(err)
	}
	about(t, "U", u, 0.1*1e9*expand, 1)
	if _, r, err := Uncertainty(m, sheet.Insulation, 3e9); err != nil || r.Top.Value != 5e9 {
		t.Errorf("3 GΩ fits the 500 V span alone: %v, %v", r.Top.Value, err)
	}
	top, err := Top(m, sheet.Insulation)
	if err != nil || top.Value != 5e9 {
		t.Errorf("top %v, %v", top, err)
	}
	s, err := Classify(m, sheet.Insulation, unit.Entry{Form: unit.Over})
	if err != nil || s.Lo != 2e9 {
		t.Errorf("OL proves %v, %v: on its 250 V span the tester ends at 2 GΩ", s.Lo, err)
	}
	if s, err = Classify(m, sheet.Insulation, unit.Entry{Form: unit.Above, Value: 5e9}); err != nil || s.Lo != 5e9 {
		t.Errorf(">5G: %v, %v", s.Lo, err)
	}
}

func TestLoading(t *testing.T) {
	for _, c := range []struct {
		what   string
		m      *sheet.Meter
		v      unit.Volt
		source unit.Ohm
		want   float64
		tol    float64
	}{
		{"1 MΩ source on 10 MΩ: 90.9 % (computed)", digital(), 1, 1e6, 0.909, 5e-4},
		{"220 kΩ source on 10 MΩ: 0.978 (computed)", digital(), 1, 220e3, 0.978, 5e-4},
		{"20 kΩ/V on its 10 V range over 1 MΩ: 16.7 % (computed)", movingCoil(), 10, 1e6, 1.67, 5e-3},
		{"20 kΩ/V on its 10 V range over 220 kΩ: 0.476 (computed)", movingCoil(), 10, 220e3, 4.76, 5e-3},
	} {
		got, err := Loading(c.v, c.source, c.m, sheet.DCVolts)
		if err != nil {
			t.Fatal(err)
		}
		about(t, c.what, float64(got), c.want, c.tol)
	}
	in, err := Input(movingCoil(), sheet.DCVolts, 45)
	if err != nil || in != 1e6 {
		t.Errorf("20 kΩ/V on the 50 V range: %v, %v, want 1 MΩ", in, err)
	}
	// A service sheet's 85 V, taken at 1000 Ω/V on 250 V over 80 kΩ (computed).
	bare := Unloaded(85, 80e3, 250e3)
	about(t, "without a meter", float64(bare), 112.2, 0.05)
	about(t, "on 10 MΩ", float64(Loaded(bare, 80e3, 10e6)), 111.3, 0.05)
	for what, m := range map[string]*sheet.Meter{
		"no input resistance": {Name: "m", Kind: sheet.Digital},
		"none worth it":       {Name: "m", Kind: sheet.Digital, Input: ptr(unit.Ohm(0))},
		"needle without Ω/V":  {Name: "m", Kind: sheet.MovingCoil},
		"needle off its top":  movingCoil(),
	} {
		if _, err := Loading(1001, 1e3, m, sheet.DCVolts); !errors.Is(err, ErrUnfit) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestTwoRange(t *testing.T) {
	// 82 V on the higher of two ranges 10 to 1 apart, 22 V on the lower: 117.7 V
	// (US Navy training text).
	got, err := TwoRange(82, 22, 10)
	if err != nil {
		t.Fatal(err)
	}
	about(t, "V", float64(got), 117.7, 0.1)
	rapid.Check(t, func(t *rapid.T) {
		v := unit.Volt(rapid.Float64Range(1, 500).Draw(t, "v"))
		source := unit.Ohm(rapid.Float64Range(0, 1e6).Draw(t, "source"))
		n := rapid.Float64Range(2, 10).Draw(t, "n")
		got, err := TwoRange(Loaded(v, source, unit.Ohm(1e5*n)), Loaded(v, source, 1e5), n)
		if err != nil || !(math.Abs(float64(got-v)) <= 1e-6*float64(v)) {
			t.Fatalf("%v became %v, %v", v, got, err)
		}
	})
	for _, c := range []struct {
		high, low unit.Volt
		n         float64
	}{{82, 22, 1}, {82, 8, 10}, {82, 0, 10}, {10, 22, 10}, {unit.Volt(math.NaN()), 22, 10}, {82, unit.Volt(math.NaN()), 10}, {82, 22, math.NaN()}} {
		if v, err := TwoRange(c.high, c.low, c.n); err == nil {
			t.Errorf("%v, %v, %v to 1 gave %v", c.high, c.low, c.n, v)
		}
	}
}

func TestErrorsSayWhatIsWrong(t *testing.T) {
	_, _, err := Uncertainty(digital(), sheet.DCVolts, 700)
	if err == nil || !strings.Contains(err.Error(), "700 V") || !strings.Contains(err.Error(), "600 V") {
		t.Errorf("%v: want the reading and the top", err)
	}
}
