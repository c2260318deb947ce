package checks_test

import (
	"errors"
	"maps"
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

func TestNewWindowRefuses(t *testing.T) {
	nan, down := math.NaN(), math.Inf(-1)
	for what, c := range map[string]struct {
		p, q   checks.Interval
		danger limits.Side
	}{
		"pass of NaN below":          {checks.Interval{Lo: nan, Hi: 2}, checks.Interval{Lo: 0, Hi: 3}, limits.Both},
		"pass of NaN above":          {checks.Interval{Lo: 1, Hi: nan}, checks.Interval{Lo: 0, Hi: 3}, limits.Both},
		"query of NaN below":         {checks.Interval{Lo: 1, Hi: 2}, checks.Interval{Lo: nan, Hi: 3}, limits.Both},
		"query of NaN above":         {checks.Interval{Lo: 1, Hi: 2}, checks.Interval{Lo: 0, Hi: nan}, limits.Both},
		"empty pass":                 {checks.Interval{Lo: 2, Hi: 1}, checks.Interval{Lo: 0, Hi: 3}, limits.Both},
		"empty query":                {checks.Interval{Lo: 1, Hi: 2}, checks.Interval{Lo: 3, Hi: 0}, limits.Both},
		"pass beyond query below":    {checks.Interval{Lo: -1, Hi: 2}, checks.Interval{Lo: 0, Hi: 3}, limits.Both},
		"pass beyond query above":    {checks.Interval{Lo: 1, Hi: 4}, checks.Interval{Lo: 0, Hi: 3}, limits.Neither},
		"pass of infinity only":      {checks.Interval{Lo: inf, Hi: inf}, checks.Interval{Lo: 0, Hi: inf}, limits.Both},
		"pass below everything":      {checks.Interval{Lo: down, Hi: down}, checks.Interval{Lo: down, Hi: 3}, limits.Both},
		"a danger side that is none": {checks.Interval{Lo: 1, Hi: 2}, checks.Interval{Lo: 0, Hi: 3}, limits.Side(9)},
		"nothing left of it":         {checks.Interval{Lo: 1.00000001, Hi: 1.00000002}, checks.Interval{Lo: 0, Hi: 3}, limits.Both},
	} {
		w, err := checks.NewWindow(unit.KindVolt, c.p, c.q, c.danger)
		if !errors.Is(err, checks.ErrWindow) || w != (checks.Window{}) {
			t.Errorf("%s: %+v, %v", what, w, err)
		}
	}
}

// Lines are rounded inward to six digits, exact decimals stay.
func TestLinesAreRoundedInward(t *testing.T) {
	w := onSheet(t, unit.KindOhm, checks.Interval{Lo: 154840.4, Hi: 287560.6}, checks.Interval{Lo: 110600.0000001, Hi: 1e9 + 1}, limits.Both)
	if w.Pass != (checks.Interval{Lo: 154841, Hi: 287560}) || w.Query != (checks.Interval{Lo: 110601, Hi: 1e9}) {
		t.Errorf("pass %v, query %v", w.Pass, w.Query)
	}
	w = onSheet(t, unit.KindVolt, checks.Interval{Lo: -0.5, Hi: 0.25}, checks.Interval{Lo: math.Inf(-1), Hi: 0.5}, limits.High)
	if w.Pass != (checks.Interval{Lo: -0.5, Hi: 0.25}) || w.Query.Hi != 0.5 || !math.IsInf(w.Query.Lo, -1) {
		t.Errorf("exact lines moved: pass %v, query %v", w.Pass, w.Query)
	}
	rapid.Check(t, func(t *rapid.T) {
		mantissa := rapid.Float64Range(-10, 10).Draw(t, "mantissa")
		x := mantissa * math.Pow(10, float64(rapid.IntRange(-15, 12).Draw(t, "power")))
		w, err := checks.NewWindow(unit.KindVolt, checks.Interval{Lo: x, Hi: inf}, checks.Interval{Lo: x, Hi: inf}, limits.Low)
		if err != nil {
			t.Fatal(err)
		}
		lo := w.Pass.Lo
		if !(lo >= x && lo-x <= 1.1e-5*math.Abs(x)) {
			t.Fatalf("%v became %v", x, lo)
		}
		if text := strconv.FormatFloat(lo, 'e', 5, 64); lo != mustParse(t, text) {
			t.Fatalf("%v keeps more than six digits", lo)
		}
		again, err := checks.NewWindow(unit.KindVolt, w.Pass, w.Query, limits.Low)
		if err != nil || again.Pass != w.Pass {
			t.Fatalf("rounding twice moved %v to %v", w.Pass, again.Pass)
		}
	})
}

func mustParse(t *rapid.T, text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestFits(t *testing.T) {
	w := onSheet(t, unit.KindVolt, checks.Interval{Lo: 5, Hi: 10}, checks.Interval{Lo: 2, Hi: 20}, limits.Both)
	for u, want := range map[float64]bool{0: true, 2.4: true, 2.5: false, 10: false, math.NaN(): false, inf: false} {
		if got := w.Fits(u); got != want {
			t.Errorf("U %v: %v, want %v", u, got, want)
		}
	}
	if (checks.Window{Pass: w.Pass}).Fits(0) {
		t.Error("a meter fits no window")
	}
	if open := onSheet(t, unit.KindOhm, checks.Interval{Lo: 5, Hi: inf}, checks.Interval{Lo: 2, Hi: inf}, limits.Low); !open.Fits(1e9) {
		t.Error("an open window has room for any meter")
	}
}

func TestFieldsOfAWindow(t *testing.T) {
	w := onSheet(t, unit.KindOhm, checks.Interval{Lo: 154840, Hi: 287560}, checks.Interval{Lo: 110600, Hi: inf}, limits.Low)
	want := map[string]string{
		"kind": "ohms", "pass-lo": "154840", "pass-hi": "287560", "query-lo": "110600", "danger": "low", "grade": "sheet", "shown": "false",
	}
	if got := w.Fields(); !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if f := (checks.Window{}).Fields(); f != nil {
		t.Errorf("a window that judges nothing has fields: %v", f)
	}
}

func TestParseWindowRefuses(t *testing.T) {
	w := onSheet(t, unit.KindOhm, checks.Interval{Lo: 154840, Hi: 287560}, checks.Interval{Lo: 110600, Hi: inf}, limits.Low)
	for what, change := range map[string]func(map[string]string){
		"nothing":                  func(f map[string]string) { clear(f) },
		"no kind":                  func(f map[string]string) { delete(f, "kind") },
		"no danger":                func(f map[string]string) { delete(f, "danger") },
		"no grade":                 func(f map[string]string) { delete(f, "grade") },
		"no word of raised limits": func(f map[string]string) { delete(f, "shown") },
		"an unknown kind":          func(f map[string]string) { f["kind"] = "ohm" },
		"an unknown side":          func(f map[string]string) { f["danger"] = "none" },
		"an unknown grade":         func(f map[string]string) { f["grade"] = "reported" },
		"an odd truth":             func(f map[string]string) { f["shown"] = "yes" },
		"a part too many":          func(f map[string]string) { f["pass-mid"] = "1" },
		"NaN":                      func(f map[string]string) { f["pass-hi"] = "NaN" },
		"a zero too many":          func(f map[string]string) { f["pass-hi"] = "287560.0" },
		"a line of seven digits":   func(f map[string]string) { f["pass-hi"] = "287560.5" },
		"pass beyond query":        func(f map[string]string) { f["pass-lo"] = "110000" },
		"no lower pass line":       func(f map[string]string) { delete(f, "pass-lo") },
		"empty":                    func(f map[string]string) { f["pass-hi"] = "154000" },
	} {
		f := w.Fields()
		change(f)
		if got, err := checks.ParseWindow(f); !errors.Is(err, checks.ErrWindow) || got != (checks.Window{}) {
			t.Errorf("%s: %+v, %v", what, got, err)
		}
	}
	if _, err := checks.ParseWindow(nil); !errors.Is(err, checks.ErrWindow) {
		t.Errorf("no fields: %v", err)
	}
}
