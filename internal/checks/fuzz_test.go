package checks_test

import (
	"maps"
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/unit"
)

// parts reads "key=value" lines.
func parts(text string) map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(text) {
		key, value, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "=")
		out[key] = value
	}
	return out
}

func lines(f map[string]string) string {
	var b strings.Builder
	for k, v := range f {
		b.WriteString(k + "=" + v + "\n")
	}
	return b.String()
}

// FuzzParseWindow reads a window as a record has it: what is taken is written
// again with the same parts, and judges nothing that is not a number to pass.
func FuzzParseWindow(f *testing.F) {
	both := onSheet(f, unit.KindVolt, checks.Interval{Lo: 5, Hi: 10}, checks.Interval{Lo: 2, Hi: 20}, limits.Both)
	half := onSheet(f, unit.KindOhm, checks.Interval{Lo: 154.84e3, Hi: inf}, checks.Interval{Lo: 110.6e3, Hi: inf}, limits.Low)
	half.Shown = true
	absolute, err := both.Absolute(checks.Interval{Lo: -1, Hi: 30})
	if err != nil {
		f.Fatal(err)
	}
	seeds := 0
	for _, w := range []checks.Window{both, half, absolute} {
		text := lines(w.Fields())
		f.Add(text)
		f.Add(strings.Replace(text, "=", "=-", 1))
		f.Add(strings.ReplaceAll(text, "0", "NaN"))
		seeds++
	}
	if seeds == 0 {
		f.Fatal("no seeds")
	}
	f.Fuzz(func(t *testing.T, text string) {
		given := parts(text)
		w, err := checks.ParseWindow(given)
		if err != nil {
			if got := w.Judge(meter.Read(7, 0), engine.E); got.Verdict != engine.Stop {
				t.Fatalf("refused, and yet %v for %q", got, text)
			}
			return
		}
		if again := w.Fields(); !maps.Equal(again, given) {
			t.Fatalf("two spellings of one window: %v and %v", given, again)
		}
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			if got := w.Judge(meter.Read(x, 0), engine.E); got.Verdict != engine.Stop {
				t.Fatalf("%v is %v in %v", x, got, given)
			}
		}
	})
}
