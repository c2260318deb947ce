package meter

import (
	"maps"
	"math"
	"testing"
)

// FuzzParseShown reads a reading as a record has it: what is taken is written
// again with the same parts, and can be judged.
func FuzzParseShown(f *testing.F) {
	seeds := [][5]string{
		{"6", "0.01", "5.99", "6.01", ""},
		{"6", "0.01", "5.99", "6.01", "false"},
		{"60000000", "0", "60000000", "", "true"},
		{"", "", "", "", ""},
		{"NaN", "0", "0", "0", "true"},
		{"1", "-1", "2", "0", "false"},
		{"1e3", "0", "01", "1.0", "yes"},
	}
	for _, s := range seeds {
		f.Add(s[0], s[1], s[2], s[3], s[4])
	}
	if len(seeds) == 0 {
		f.Fatal("no seeds")
	}
	f.Fuzz(func(t *testing.T, x, u, lo, hi, censored string) {
		given := map[string]string{}
		for key, text := range map[string]string{"x": x, "u": u, "lo": lo, "hi": hi, "censored": censored} {
			if text != "" {
				given[key] = text
			}
		}
		s, err := ParseShown(given)
		if (err == nil) != s.Taken() {
			t.Fatalf("%v: %v, and taken is %v", given, err, s.Taken())
		}
		if err != nil {
			return
		}
		if !(s.Lo <= s.Hi) || math.IsNaN(s.X) || !(s.U >= 0) {
			t.Fatalf("%v became %+v", given, s)
		}
		again := s.Fields()
		if given["censored"] == "false" || again["censored"] == "false" {
			delete(again, "censored")
			delete(given, "censored")
		}
		if !maps.Equal(again, given) {
			t.Fatalf("two spellings of one reading: %v and %v", given, again)
		}
	})
}
