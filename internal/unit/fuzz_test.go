package unit

import (
	"math"
	"testing"
	"unicode/utf8"
)

// seeds are the tables above, so that the fuzzers begin where the rules are.
func seeds(f *testing.F) {
	n := 0
	add := func(k Kind, text string) {
		f.Add(uint8(k), text)
		n++
	}
	for _, c := range refused {
		add(c.kind, c.text)
	}
	for k := range Kind(len(kinds)) {
		add(k, k.spec().example)
	}
	for _, text := range []string{"-", "OL", ">20M", "<0.1", "4k7", "R47", "4,7", "1.", "9.9E37", "9.91E37", "-9.9E37", "0", "-0.0"} {
		add(KindOhm, text)
		add(KindVolt, text)
	}
	if n == 0 {
		f.Fatal("no seeds")
	}
}

func FuzzParse(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, kind uint8, text string) {
		k := Kind(kind)
		x, err := Parse(k, text)
		if err != nil {
			isRefusal(t, err)
			if !math.IsNaN(x) {
				t.Errorf("Parse(%s, %q) refuses and gives %v", k.Name(), text, x)
			}
			return
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("Parse(%s, %q) = %v", k.Name(), text, x)
		}
		checkRoundTrip(t, k, x)
		if e, err := ParseEntry(k, text); err != nil || e.Form != Exact || !same(e.Value, x) {
			t.Errorf("a file may say %q but a person typing it gets %+v, %v", text, e, err)
		}
	})
}

func FuzzParseEntry(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, kind uint8, text string) {
		k := Kind(kind)
		e, err := ParseEntry(k, text)
		if e.Raw != text {
			t.Errorf("raw text %q became %q", text, e.Raw)
		}
		finite := !math.IsNaN(e.Value) && !math.IsInf(e.Value, 0)
		switch e.Form {
		case NotRead, Over:
			if !math.IsNaN(e.Value) || e.Unit {
				t.Errorf("ParseEntry(%s, %q) = %+v: no reading has a value", k.Name(), text, e)
			}
		case Exact, Above, Below:
			if err != nil || !finite || e.Form != Exact && !(e.Value > 0) {
				t.Fatalf("ParseEntry(%s, %q) = %+v, %v", k.Name(), text, e, err)
			}
			checkRoundTrip(t, k, e.Value)
		default:
			t.Errorf("unknown form %d", e.Form)
		}
		if err != nil {
			if msg := isRefusal(t, err); !utf8.ValidString(msg) {
				t.Errorf("the refusal of %q is not fit to print: %q", text, msg)
			}
			if e.Form != NotRead {
				t.Errorf("ParseEntry(%s, %q) refuses and gives %+v", k.Name(), text, e)
			}
		}
	})
}

func BenchmarkParseEntry(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, text := range []string{"4k7", "217k", "133 ohm", "-12.5", "OL", ">20M"} {
			if _, err := ParseEntry(KindOhm, text); err != nil {
				b.Fatal(err)
			}
		}
	}
}
