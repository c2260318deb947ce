package casefile_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/circuit"
)

// FuzzRead: whatever stands in a file, the reader comes to its end, everything it
// says names the file and can be printed, and what it takes is a supply with its
// volts, ohms and farads.
func FuzzRead(f *testing.F) {
	for _, c := range refusals {
		f.Add(with(f, c.changes))
	}
	rows := referenceRows(f)
	for _, row := range rows[1:] {
		fields := map[string]string{}
		for i, name := range rows[0] {
			fields[name] = row[i]
		}
		text, err := json.Marshal(fields)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	for _, text := range []string{"", "[", "[]", "[[{}]]{}", "{\"a\":[{}]}", "null", "{}{}", "\ufeff{}", "{\"id\":1e400}"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		cases, said, err := read(text)
		if err != nil {
			t.Fatalf("a text was not read to its end: %v", err)
		}
		if len(cases)+len(said) == 0 {
			t.Error("nothing was read and nothing said")
		}
		for _, s := range said {
			if !strings.HasPrefix(s, "f: ") || strings.ContainsFunc(strings.ReplaceAll(s, "\n", ""), func(r rune) bool { return r < ' ' }) {
				t.Errorf("it says %q", s)
			}
		}
		for _, c := range cases {
			s := &c.Supply
			for what, x := range map[string]float64{
				"mains": float64(c.Mains), "tap": float64(s.Nominal), "winding": float64(s.Secondary), "frequency": float64(s.Frequency),
				"half": float64(s.HalfA), "reservoir": float64(s.Reservoir), "rectifier": rectifier(s),
			} {
				if !(x >= 0) || math.IsInf(x, 0) {
					t.Errorf("%s of %v", what, x)
				}
			}
		}
	})
}

func rectifier(s *circuit.Supply) float64 {
	if s.Junction != nil {
		return float64(s.Junction.Is)
	}
	return s.Perveance
}
