package unit

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"testing"
)

// Every type must print, read and widen through its own kind: a Metre that read
// volts would compile.
func TestEveryType(t *testing.T) {
	var (
		volt        Volt
		ohm         Ohm
		ampere      Ampere
		farad       Farad
		watt        Watt
		celsius     Celsius
		second      Second
		percent     Percent
		metre       Metre
		squareMetre SquareMetre
		hertz       Hertz
		ohmPerVolt  OhmPerVolt
		voltAmpere  VoltAmpere
	)
	rows := []struct {
		to   encoding.TextUnmarshaler
		text string
		kind Kind
		x    float64
		door func(string) (fmt.Stringer, error)
	}{
		{&volt, "230 V", KindVolt, 230, door(ParseVolt)},
		{&ohm, "4.7 kΩ", KindOhm, 4700, door(ParseOhm)},
		{&ampere, "12.3 mA", KindAmpere, 0.0123, door(ParseAmpere)},
		{&farad, "32 µF", KindFarad, 32e-6, door(ParseFarad)},
		{&watt, "60 W", KindWatt, 60, door(ParseWatt)},
		{&celsius, "20 °C", KindCelsius, 20, door(ParseCelsius)},
		{&second, "60 s", KindSecond, 60, door(ParseSecond)},
		{&percent, "90 %", KindPercent, 90, door(ParsePercent)},
		{&metre, "2.5 m", KindMetre, 2.5, door(ParseMetre)},
		{&squareMetre, "0.75 mm²", KindSquareMetre, 0.75e-6, door(ParseSquareMetre)},
		{&hertz, "50 Hz", KindHertz, 50, door(ParseHertz)},
		{&ohmPerVolt, "20 kΩ/V", KindOhmPerVolt, 20e3, door(ParseOhmPerVolt)},
		{&voltAmpere, "60 VA", KindVoltAmpere, 60, door(ParseVoltAmpere)},
	}
	if len(rows) != int(KindNumber-KindVolt) {
		t.Fatalf("%d types tried of %d kinds", len(rows), KindNumber-KindVolt)
	}
	for _, r := range rows {
		if err := r.to.UnmarshalText([]byte(r.text)); err != nil {
			t.Errorf("UnmarshalText(%q): %v", r.text, err)
		}
		value := reflect.ValueOf(r.to).Elem()
		q := value.Interface().(quantityOf).Quantity()
		if q.Kind != r.kind || !same(q.Value, r.x) || !same(value.Float(), r.x) {
			t.Errorf("%q reads as %+v, want kind %d and %v", r.text, q, r.kind, r.x)
		}
		if b, err := value.Interface().(encoding.TextMarshaler).MarshalText(); err != nil || string(b) != r.text {
			t.Errorf("%q is written as %q, %v", r.text, b, err)
		}
		if got, err := r.door(r.text); err != nil || got.String() != r.text {
			t.Errorf("%q reads as %v, %v", r.text, got, err)
		}
		if got, err := r.door("5 kg"); err == nil || got.String() != "not a number" {
			t.Errorf("5 kg reads as %v, %v in the type for %q", got, err, r.text)
		}
		if err := r.to.UnmarshalText([]byte("nan")); err == nil || !math.IsNaN(value.Float()) {
			t.Errorf("refused text left %v behind, want NaN", value.Float())
		}
	}
}

type quantityOf interface{ Quantity() Quantity }

func door[T fmt.Stringer](parse func(string) (T, error)) func(string) (fmt.Stringer, error) {
	return func(text string) (fmt.Stringer, error) { return parse(text) }
}

// A document's own numbers have no unit, and so no way in.
func TestNoBareNumbersThroughJSON(t *testing.T) {
	var doc struct{ HT Volt }
	if err := json.Unmarshal([]byte(`{"HT": 264}`), &doc); err == nil {
		t.Errorf("a number without a unit was read as %v", doc.HT)
	}
	if err := json.Unmarshal([]byte(`{"HT": "264 V"}`), &doc); err != nil || !same(float64(doc.HT), 264) {
		t.Errorf("264 V was read as %v, %v", doc.HT, err)
	}
	if b, err := json.Marshal(doc); err != nil || string(b) != `{"HT":"264 V"}` {
		t.Errorf("written as %s, %v", b, err)
	}
}
