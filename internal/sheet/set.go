// Package sheet has the values of the four kinds of file, set sheet, meter
// sheet, bench file and procedure, and the checks of a sheet against itself.
// It parses nothing: package spec does.
package sheet

import "example.com/powerup/internal/unit"

// Set is what is known of one set. A nil pointer means that the sheet does not
// say; zero is a real value.
type Set struct {
	Name         string       `yaml:"name" validate:"required,max=60"`
	Mark         string       `yaml:"mark" validate:"required,max=40"`
	Construction Construction `yaml:"construction" validate:"oneof=double-wound auto-transformer series-heater series-heater-floating-negative battery unknown"`
	Flex         Flex         `yaml:"flex"`
	Mains        Mains        `yaml:"mains"`
	Watts        *unit.Watt   `yaml:"watts" validate:"omitempty,gt=0,lte=1000"`
	Frequency    *unit.Hertz  `yaml:"frequency" validate:"omitempty,gte=40,lte=70"` // nil: the profile's

	Rectifier   string      `yaml:"rectifier" validate:"required"` // a valve type
	HTWinding   *HTWinding  `yaml:"ht-winding"`
	Transformer Transformer `yaml:"transformer"`
	Reservoir   Capacitor   `yaml:"reservoir"`
	Smoothing   Smoothing   `yaml:"smoothing"`
	Second      Capacitor   `yaml:"second"`
	Bleed       *Bleed      `yaml:"bleed"`
	HTMinus     HTMinus     `yaml:"ht-minus" validate:"omitempty,oneof=chassis"` // empty: not said

	OutputTransformer OutputTransformer `yaml:"output-transformer"`
	Valves            []string          `yaml:"valves" validate:"min=1,max=30,dive,required"` // rectifier left out, in order
	Output            OutputStage       `yaml:"output-stage"`
	DialLamps         *DialLamps        `yaml:"dial-lamps"`
	Printed           *Printed          `yaml:"printed"`
	Renewed           []string          `yaml:"renewed" validate:"dive,required"` // parts changed since the set last worked
	Reported          []Reported        `yaml:"measured" validate:"dive"`
	Signal            []SignalStage     `yaml:"signal-stages" validate:"dive"` // resistors of the small valves, where known
}

// Construction is how the set is joined to the mains.
type Construction string

// The constructions that a sheet can name. Only DoubleWound can be energised
// for now; the others are refused with the reason.
const (
	DoubleWound    Construction = "double-wound"
	AutoWound      Construction = "auto-transformer"
	SeriesHeater   Construction = "series-heater"
	UnknownBuild   Construction = "unknown"
	FloatingMinus  Construction = "series-heater-floating-negative"
	BatteryPowered Construction = "battery"
)

// Flex is the mains lead. Length and Area are needed when it has an earth core.
type Flex struct {
	Cores  int               `yaml:"cores" validate:"oneof=2 3"`
	Length *unit.Metre       `yaml:"length" validate:"omitempty,gt=0,lte=50"`
	Area   *unit.SquareMetre `yaml:"area" validate:"omitempty,gte=0.0000001,lte=0.00001"` // 0.1 to 10 mm²
}

// Earthed tells whether the flex carries an earth core to the chassis.
func (f Flex) Earthed() bool { return f.Cores == 3 }

// Mains is the voltage selector and the profile of limits.
type Mains struct {
	Taps    []unit.Volt `yaml:"taps" validate:"min=1,max=12,dive,gte=90,lte=300"` // rising
	Tap     *unit.Volt  `yaml:"tap" validate:"omitempty,gte=90,lte=300"`          // in use; nil: asked at the bench
	Profile string      `yaml:"profile" validate:"required"`                      // uk, eu
}

// HTWinding is the high-voltage winding, volts of one half, as the diagram or a
// measurement gives them.
type HTWinding struct {
	Volts unit.Volt `yaml:"volts" validate:"gt=0,lte=1000"`
	Taken Taken     `yaml:"taken" validate:"oneof=open on-load"`
}

// Taken says in which state a winding's volts were given.
type Taken string

// Open circuit, or on load.
const (
	Open   Taken = "open"
	OnLoad Taken = "on-load"
)

// Transformer has the d.c. ohms of the mains transformer at 20 °C.
type Transformer struct {
	Primary *unit.Ohm        `yaml:"primary" validate:"omitempty,gt=0"` // between the pins on the tap in use
	HalfA   *unit.Ohm        `yaml:"half-a" validate:"omitempty,gt=0"`
	HalfB   *unit.Ohm        `yaml:"half-b" validate:"omitempty,gt=0"`
	Rating  *unit.VoltAmpere `yaml:"rating" validate:"omitempty,gt=0,lte=1000"`
	Heaters *unit.Ampere     `yaml:"heater-rating" validate:"omitempty,gt=0,lte=50"` // what the heater winding may give
}

// Capacitor is an electrolytic of the HT line.
type Capacitor struct {
	Capacitance *unit.Farad `yaml:"capacitance" validate:"omitempty,gte=0.0000001,lte=0.001"` // 0.1 to 1000 µF
	Rating      *unit.Volt  `yaml:"rating" validate:"omitempty,gt=0,lte=1000"`
}

// Smoothing is what stands between HT1 and HT2.
type Smoothing struct {
	Kind       SmoothingKind `yaml:"kind" validate:"omitempty,oneof=resistor choke field"`
	Resistance *unit.Ohm     `yaml:"resistance" validate:"omitempty,gt=0"`
}

// SmoothingKind is a resistor, a choke or an energised field.
type SmoothingKind string

// The kinds of smoothing.
const (
	Resistor SmoothingKind = "resistor"
	Choke    SmoothingKind = "choke"
	Field    SmoothingKind = "field"
)

// Bleed is the resistive path that discharges the HT line; None says that the
// diagram shows there is none, which is knowledge, where a nil Bleed is not.
type Bleed struct {
	None       bool      `yaml:"none"`
	Resistance *unit.Ohm `yaml:"resistance" validate:"omitempty,gt=0"`
	At         Node      `yaml:"at" validate:"omitempty,oneof=HT1 HT2"`
}

// Node names a place on the HT line.
type Node string

// Reservoir and after smoothing.
const (
	HT1 Node = "HT1"
	HT2 Node = "HT2"
)

// HTMinus says where the negative of the HT supply is.
type HTMinus string

// HTMinusChassis: HT negative is the chassis.
const HTMinusChassis HTMinus = "chassis"

// OutputTransformer is the output transformer with its load.
type OutputTransformer struct {
	Primary *unit.Ohm `yaml:"primary" validate:"omitempty,gt=0"`
	Speaker *unit.Ohm `yaml:"speaker" validate:"omitempty,gt=0"` // nominal impedance
	Load    string    `yaml:"load"`                              // "own speaker" or what stands in for it
}

// OutputStage has the parts round the output valve.
type OutputStage struct {
	Bias     string    `yaml:"bias" validate:"omitempty,oneof=cathode fixed"` // empty: not said, taken as cathode bias
	Valve    string    `yaml:"valve"`                                         // empty: the output type among the valves
	CathodeR *unit.Ohm `yaml:"cathode-resistor" validate:"omitempty,gt=0"`
	GridLeak *unit.Ohm `yaml:"grid-leak" validate:"omitempty,gt=0"`
	ScreenR  *unit.Ohm `yaml:"screen-resistor" validate:"omitempty,gte=0"` // 0: fed straight from HT2
	Coupling *Coupling `yaml:"coupling"`
}

// Coupling is the capacitor between the driver's anode and the output grid.
type Coupling struct {
	Capacitance *unit.Farad `yaml:"capacitance" validate:"omitempty,gt=0,lte=0.00001"` // to 10 µF
	Rating      *unit.Volt  `yaml:"rating" validate:"omitempty,gt=0,lte=2000"`
	AnodeWarm   *unit.Volt  `yaml:"anode-warm" validate:"omitempty,gt=0,lte=1000"` // driver's anode, working
	Rail        Node        `yaml:"rail" validate:"omitempty,oneof=HT1 HT2"`       // which feeds the driver: its volts stand there while the driver is cold
	RailVolts   *unit.Volt  `yaml:"rail-volts" validate:"omitempty,gt=0,lte=1000"` // nil: taken from printed or computed HT
}

// DialLamps are on the heater winding.
type DialLamps struct {
	Count   int         `yaml:"count" validate:"min=0,max=8"`
	Current unit.Ampere `yaml:"current" validate:"gte=0,lte=2"` // of one lamp
}

// Printed are the volts of the service sheet and how they were taken.
type Printed struct {
	HT1     *unit.Volt       `yaml:"ht1" validate:"omitempty,gt=0,lte=1000"`
	HT2     *unit.Volt       `yaml:"ht2" validate:"omitempty,gt=0,lte=1000"`
	Anode   *unit.Volt       `yaml:"anode" validate:"omitempty,gt=0,lte=1000"`
	Screen  *unit.Volt       `yaml:"screen" validate:"omitempty,gt=0,lte=1000"`
	Cathode *unit.Volt       `yaml:"cathode" validate:"omitempty,gt=0,lte=1000"`
	Heater  *unit.Volt       `yaml:"heater" validate:"omitempty,gt=0,lte=1000"`
	Mains   *unit.Volt       `yaml:"mains" validate:"omitempty,gte=90,lte=300"`
	Meter   *unit.Ohm        `yaml:"meter-input" validate:"omitempty,gt=0"` // input resistance, digital
	PerVolt *unit.OhmPerVolt `yaml:"meter-ohms-per-volt" validate:"omitempty,gt=0"`
	Range   *unit.Volt       `yaml:"meter-range" validate:"omitempty,gt=0"`
}

// Reported is an earlier reading that may stand for class E checks only.
type Reported struct {
	Check string `yaml:"check" validate:"required"`
	Value string `yaml:"value" validate:"required"`
	Meter string `yaml:"meter" validate:"required"`
	Date  string `yaml:"date" validate:"required"`
}

// SignalStage has the resistors of one small valve, where the sheet gives them.
type SignalStage struct {
	Valve    string    `yaml:"valve" validate:"required"`
	CathodeR *unit.Ohm `yaml:"cathode-resistor" validate:"omitempty,gt=0"`
	ScreenR  *unit.Ohm `yaml:"screen-resistor" validate:"omitempty,gte=0"`
}
