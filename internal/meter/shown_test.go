package meter

import (
	"errors"
	"maps"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

func entry(t *testing.T, k unit.Kind, text string) unit.Entry {
	t.Helper()
	e, err := unit.ParseEntry(k, text)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func TestWhatAMeterShows(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		what     string
		f        sheet.Function
		typed    string
		lo, hi   float64
		censored bool
	}{
		{"OL lies above the highest range", sheet.OhmsF, "OL", 60e6, inf, true},
		{"a number after > stands", sheet.OhmsF, ">20M", 20e6, inf, true},
		{"< lies between zero and a digit more", sheet.OhmsF, "<0.1", 0, 0.11, true},
		{"a number has the meter's error on both sides", sheet.DCVolts, "270", 270 - 1.55*expand, 270 + 1.55*expand, false},
		{"below zero on direct volts keeps its sign", sheet.DCVolts, "-12.5 V", -12.5 - 0.0825*expand, -12.5 + 0.0825*expand, false},
		{"0.0 lies within a digit and the error", sheet.DCVolts, "0.0", -1e-4 - 2e-4*expand, 1e-4 + 2e-4*expand, false},
		{"0.0 Ω is not below zero", sheet.OhmsF, "0.0", 0, 0.01 + 0.02*expand, false},
		{"a small resistance is not below zero", sheet.OhmsF, "0.02", 0, 0.02 + 0.0201*expand, false},
		{"alternating volts are not below zero", sheet.ACVolts, "0.001", 0, 0.001 + 0.003012*expand, false},
		{"watts are not below zero", sheet.Wattage, "0.1 W", 0, 0.1 + 0.202*expand, false},
	} {
		t.Run(c.what, func(t *testing.T) {
			s, err := Classify(digital(), c.f, entry(t, c.f.Kind(), c.typed))
			if err != nil {
				t.Fatal(err)
			}
			if !(math.Abs(s.Lo-c.lo) <= 1e-9) || !(s.Hi == c.hi || math.Abs(s.Hi-c.hi) <= 1e-9) || s.Censored != c.censored || !s.Taken() {
				t.Errorf("%s is %+v, want %v to %v", c.typed, s, c.lo, c.hi)
			}
			if c.censored && s.Note == "" {
				t.Error("no word for it")
			}
		})
	}
}

func TestWhatIsNoReading(t *testing.T) {
	for _, c := range []struct {
		what  string
		f     sheet.Function
		typed string
		want  error
	}{
		{"ohms below zero: volts are on the leads", sheet.OhmsF, "-3.2k", ErrLive},
		{"a few milliohms below zero on nulled leads", sheet.OhmsF, "-0.02", ErrNull},
		{"more than the null can be off", sheet.OhmsF, "-0.2", ErrLive},
		{"a dash", sheet.OhmsF, "-", ErrNotRead},
		{"more than the meter can show", sheet.DCVolts, "700", ErrUnfit},
		{"a bound above the meter's top is no evidence", sheet.OhmsF, ">20G", ErrUnfit},
		{"a function it lacks", sheet.Insulation, "20M", ErrUnfit},
		{"OL on a function it lacks", sheet.Insulation, "OL", ErrUnfit},
		{"< of a function it lacks", sheet.Insulation, "<1M", ErrUnfit},
	} {
		s, err := Classify(digital(), c.f, entry(t, c.f.Kind(), c.typed))
		if !errors.Is(err, c.want) || s.Taken() {
			t.Errorf("%s: %+v, %v, want %v", c.what, s, err, c.want)
		}
	}
	plain := one(sheet.OhmsF, 0.5, 2, 600, 0.01)
	if _, err := Classify(plain, sheet.OhmsF, entry(t, unit.KindOhm, "-0.02")); !errors.Is(err, ErrLive) {
		t.Errorf("below zero on leads that cannot be nulled: %v", err)
	}
	if _, err := Classify(digital(), sheet.ACVolts, entry(t, unit.KindVolt, "-5")); err == nil {
		t.Error("alternating volts below zero were taken")
	}
	for _, form := range []unit.Form{unit.NotRead, unit.Form(99)} {
		if _, err := Classify(digital(), sheet.DCVolts, unit.Entry{Form: form}); !errors.Is(err, ErrNotRead) {
			t.Errorf("form %d: %v", form, err)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		if s, err := Classify(digital(), sheet.DCVolts, unit.Entry{Form: unit.Exact, Value: x}); err == nil {
			t.Errorf("%v became %+v", x, s)
		}
	}
}

// The zero value, and what nobody has measured, is no reading.
func TestTaken(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	if (Shown{}).Taken() || (Shown{Lo: 1, Hi: 3, X: 2, U: 1}).Taken() {
		t.Error("made by hand, yet a reading")
	}
	if s := Read(450, 0); !s.Taken() || s.Lo != 450 || s.Hi != 450 {
		t.Errorf("a rating read off a part: %+v", s)
	}
	for _, s := range []Shown{
		Read(nan, 0), Read(1, nan), Read(inf, 0), Read(1, inf), Read(1, -1),
		{Lo: 3, Hi: 1, X: 2, taken: true},
		{Lo: 1, Hi: 3, X: 4, taken: true},
		{Lo: 1, Hi: inf, X: 2, taken: true},
		{Lo: -inf, Hi: inf, X: 2, Censored: true, taken: true},
		{Lo: nan, Hi: inf, X: 2, Censored: true, taken: true},
	} {
		if s.Taken() {
			t.Errorf("%+v counts as a reading", s)
		}
	}
}

// What the log holds is the same reading, to the last bit.
func TestFieldsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-600, 600).Draw(t, "x")
		text := rapid.SampledFrom([]string{"exact", "OL", ">", "<"}).Draw(t, "form")
		e := unit.Entry{Form: unit.Exact, Value: x}
		f := sheet.DCVolts
		switch text {
		case "OL":
			e.Form = unit.Over
		case ">":
			e = unit.Entry{Form: unit.Above, Value: math.Abs(x) + 1e-3}
			f = sheet.OhmsF
		case "<":
			e = unit.Entry{Form: unit.Below, Value: math.Abs(x)/2 + 1e-3}
		}
		s, err := Classify(digital(), f, e)
		if err != nil {
			t.Fatal(err)
		}
		back, err := ParseShown(s.Fields())
		if err != nil {
			t.Fatal(err)
		}
		s.Note = ""
		if back != s {
			t.Fatalf("%+v came back as %+v", s, back)
		}
	})
}

func TestParseShownRefuses(t *testing.T) {
	s, err := Classify(digital(), sheet.OhmsF, unit.Entry{Form: unit.Over})
	if err != nil {
		t.Fatal(err)
	}
	good := s.Fields()
	if _, err := ParseShown(good); err != nil {
		t.Fatal(err)
	}
	for what, change := range map[string]func(map[string]string){
		"no number":         func(f map[string]string) { delete(f, "x") },
		"no error":          func(f map[string]string) { delete(f, "u") },
		"open at both ends": func(f map[string]string) { delete(f, "lo") },
		"censored at will":  func(f map[string]string) { f["censored"] = "false" },
		"an odd truth":      func(f map[string]string) { f["censored"] = "yes" },
		"NaN":               func(f map[string]string) { f["u"] = "NaN" },
		"infinity":          func(f map[string]string) { f["hi"] = "+Inf" },
		"an exponent":       func(f map[string]string) { f["lo"] = "6e7" },
		"a trailing zero":   func(f map[string]string) { f["lo"] = "60000000.0" },
		"a leading zero":    func(f map[string]string) { f["lo"] = "060000000" },
		"a plus":            func(f map[string]string) { f["lo"] = "+60000000" },
		"too many digits":   func(f map[string]string) { f["lo"] = "60000000.00000000000001" },
		"a part too many":   func(f map[string]string) { f["mid"] = "1" },
		"out of order":      func(f map[string]string) { f["lo"] = "70000000" },
		"nothing":           func(f map[string]string) { clear(f) },
	} {
		f := maps.Clone(good)
		change(f)
		if s, err := ParseShown(f); err == nil || s.Taken() {
			t.Errorf("%s: %v became %+v", what, f, s)
		}
	}
}

func FuzzParseDecimal(f *testing.F) {
	for _, seed := range []string{"0", "-0", "1", "0.1", "60000000", "-12.5", "1e3", "NaN", "0x1f", "1_0", "", ".5", "5.", "00", "1.10", "９"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		x, err := ParseDecimal(text)
		if err == nil && decimal(x) != text {
			t.Errorf("two spellings of one number: %q and %q", text, decimal(x))
		}
		if err != nil && !math.IsNaN(x) {
			t.Errorf("%q was refused and became %v", text, x)
		}
	})
}

func TestOLWithoutItsRangeIsNoReading(t *testing.T) { // INV-31
	m := *digital()
	m.AutoRange = false
	if _, err := Classify(&m, sheet.OhmsF, unit.Entry{Raw: "OL", Form: unit.Over}); !errors.Is(err, ErrRange) {
		t.Errorf("OL from a meter set by hand: %v, want ErrRange", err)
	}
	shown, err := Classify(&m, sheet.OhmsF, unit.Entry{Raw: ">20M", Form: unit.Above, Value: 20e6})
	if err != nil || shown.Lo != 20e6 {
		t.Errorf(">20M from the same meter: %+v, %v", shown, err)
	}
}
