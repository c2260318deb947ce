// Package unit has the quantities of the bench as types, one strict parser for
// what people type, and their printing in the trade's form.
//
// A quantity never goes through a bare float in a public interface where its
// type can say what it is; products and quotients have named methods, because
// Go's type system would call V × V a volt.
package unit

// Kind names what a number measures. The zero value measures nothing.
type Kind uint8

// The kinds of quantity, with the unit each is counted in.
const (
	None            Kind = iota
	KindVolt             // V
	KindOhm              // Ω
	KindAmpere           // A
	KindFarad            // F
	KindWatt             // W
	KindCelsius          // °C
	KindSecond           // s
	KindPercent          // %
	KindMetre            // m, length of a flex
	KindSquareMetre      // m², cross-section of a flex; typed and printed in mm²
	KindHertz            // Hz
	KindOhmPerVolt       // Ω/V, sensitivity of a moving-coil meter
	KindVoltAmpere       // VA, size of a transformer
	KindNumber           // a plain count or letter code's number, no unit
)

// Quantities, each in its SI unit (Celsius in °C, Percent as 100 for all).
type (
	Volt        float64
	Ohm         float64
	Ampere      float64
	Farad       float64
	Watt        float64
	Celsius     float64
	Second      float64
	Percent     float64
	Metre       float64
	SquareMetre float64
	Hertz       float64
	OhmPerVolt  float64
	VoltAmpere  float64
)

// Quantity is a number with its kind, for places that hold any of them.
type Quantity struct {
	Kind  Kind
	Value float64
}
