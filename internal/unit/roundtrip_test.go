package unit

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// checkRoundTrip is the promise of print and parse: what the parser gave comes
// back to the bit.
func checkRoundTrip(t interface{ Errorf(string, ...any) }, k Kind, x float64) {
	text := Quantity{k, x}.String()
	back, err := Parse(k, text)
	if err != nil || math.Float64bits(back) != math.Float64bits(x) {
		t.Errorf("%v prints as %q, which reads as %v, %v", x, text, back, err)
	}
}

// kindsOfUnit draws every kind but None.
func kindsOfUnit() *rapid.Generator[Kind] {
	return rapid.Map(rapid.IntRange(int(KindVolt), int(KindNumber)), func(k int) Kind { return Kind(k) })
}

func TestAcceptedValuesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := kindsOfUnit().Draw(t, "kind")
		st := rapid.SampledFrom(k.spec().steps).Draw(t, "prefix")
		sign := rapid.SampledFrom([]string{"", "-", "+"}).Draw(t, "sign")
		number := rapid.StringMatching(`(0|[1-9][0-9]{0,6})(\.[0-9]{1,6})?`).Draw(t, "number")
		text := sign + number
		if k != KindNumber {
			text += " " + st.signs[0] + k.Unit()
		}
		x, err := Parse(k, text)
		if err != nil {
			t.Fatalf("%q is refused: %v", text, err)
		}
		checkRoundTrip(t, k, x)

		// The meaning comes from strconv alone, by another road.
		var want float64
		if _, err := fmt.Sscanf(fmt.Sprintf("%s%se%d", sign, number, st.exp), "%g", &want); err != nil {
			t.Fatal(err)
		}
		if !same(x, want) {
			t.Errorf("%q reads as %v, want %v", text, x, want)
		}
	})
}

// Any float at all prints without a panic, and reads back exactly or not at all.
func TestPrintedValuesAreExactOrRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Quantity{kindsOfUnit().Draw(t, "kind"), rapid.Float64().Draw(t, "value")}
		back, err := Parse(q.Kind, q.String())
		if err == nil && !same(back, q.Value) {
			t.Errorf("%v prints as %q, which reads as %v", q.Value, q, back)
		}
		if Words(q) == "" {
			t.Errorf("%v has no words", q)
		}
	})
}

// A reading typed as a meter shows it, four and a half digits, is never refused.
func TestDisplaysAreTaken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`-?[0-9]{1,5}\.[0-9]{1,4}`).Draw(t, "display")
		k := kindsOfUnit().Filter(func(k Kind) bool { return k != KindFarad }).Draw(t, "kind")
		e, err := ParseEntry(k, text)
		if err != nil || e.Form != Exact || e.Unit {
			t.Fatalf("ParseEntry(%s, %q) = %+v, %v", k.Name(), text, e, err)
		}
		checkRoundTrip(t, k, e.Value)
	})
}
