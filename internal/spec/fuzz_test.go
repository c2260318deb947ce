package spec_test

import (
	"strings"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// The files around a set, each under the one key it begins with.
type (
	benchFile   struct{ Bench *sheet.Bench }
	answersFile struct{ Answers *spec.Answers }
)

// seeded adds the shipped files, the full one, and every refusal of a kind.
func seeded(f *testing.F, base, full string, files []procedures.Named) {
	f.Helper()
	if len(files) == 0 {
		f.Fatal("no seeds")
	}
	for _, s := range files {
		f.Add(s.Text)
	}
	f.Add([]byte(full))
	for _, c := range refusals {
		if c.base == base {
			f.Add([]byte(strings.Replace(least[c.base], c.old, c.new, 1)))
		}
	}
}

func FuzzLoadBench(f *testing.F) {
	seeded(f, "bench", fullBench, procedures.Benches())
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := spec.LoadBench("f", text)
		if refused(t, text, err) {
			return
		}
		if len(b.Meters) == 0 || !(b.Source.Volts > 0) || !(b.Tool > 0) {
			t.Fatalf("a bench that can prove nothing dead: %+v", b)
		}
		agrees(t, text, &benchFile{b}, &benchFile{})
	})
}

func FuzzLoadMeter(f *testing.F) {
	seeded(f, "meter", fullMeter, procedures.Meters())
	f.Add([]byte(least["coil"]))
	f.Fuzz(func(t *testing.T, text []byte) {
		m, err := spec.LoadMeter("f", text)
		if refused(t, text, err) {
			return
		}
		for _, s := range m.Functions {
			if !(s.Percent >= 0) || len(s.Ranges) == 0 {
				t.Fatalf("a meter whose error nobody can say: %+v", s)
			}
			for _, r := range s.Ranges {
				if r.Top.Kind != s.Function.Kind() || !(r.Top.Value > 0) || r.Digit.Value != 0 && r.Digit.Kind != r.Top.Kind {
					t.Fatalf("%s has a range that is none: %+v", s.Function, r)
				}
			}
		}
	})
}

func FuzzLoadAnswers(f *testing.F) {
	seeded(f, "answers", fullAnswers, procedures.Answers())
	f.Fuzz(func(t *testing.T, text []byte) {
		a, err := spec.LoadAnswers("f", text)
		if refused(t, text, err) {
			return
		}
		for _, l := range a.Lines {
			if d, err := l.Duration(); err != nil || d < 0 || l.At == "" && l.Wait == "" {
				t.Fatalf("a line that answers nothing: %+v", l)
			}
		}
		for i := range a.Lines {
			a.Lines[i].Line = 0
		}
		agrees(t, text, &answersFile{a}, &answersFile{})
	})
}
