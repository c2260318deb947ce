package sheet

import "example.com/powerup/internal/unit"

// Function is what a meter is switched to.
type Function string

// The functions a check can ask for.
const (
	DCVolts     Function = "dc-volts"
	ACVolts     Function = "ac-volts"
	ACAmps      Function = "ac-amps" // in series with the mains lead
	OhmsF       Function = "ohms"
	Capacitance Function = "capacitance"
	Insulation  Function = "insulation"
	Bond        Function = "bond"
	Leakage     Function = "leakage" // current at test volts
	Thermo      Function = "temperature"
	Wattage     Function = "watts"
	Touch       Function = "touch-current"
)

// Meter is one instrument's sheet.
type Meter struct {
	Name      string           `yaml:"name" validate:"required,max=60"`
	Kind      MeterKind        `yaml:"kind" validate:"oneof=digital moving-coil insulation-tester"`
	Input     *unit.Ohm        `yaml:"input" validate:"omitempty,gt=0"`         // input resistance on volts, digital
	PerVolt   *unit.OhmPerVolt `yaml:"ohms-per-volt" validate:"omitempty,gt=0"` // moving coil
	Category  string           `yaml:"category" validate:"required"`            // "CAT II 600 V": at mains points
	MaxVolts  unit.Volt        `yaml:"max-volts" validate:"gt=0,lte=10000"`     // what meter and leads stand
	TrueRMS   bool             `yaml:"true-rms"`
	AutoRange bool             `yaml:"auto-range"` // finds its range itself: OL is then above the highest one
	Functions []Span           `yaml:"functions" validate:"min=1,dive"`
}

// MeterKind says how an instrument's error is stated.
type MeterKind string

// The kinds of meter.
const (
	Digital    MeterKind = "digital"
	MovingCoil MeterKind = "moving-coil"
	Tester     MeterKind = "insulation-tester"
)

// Span is one function with its ranges and its limit of error
// ±(Percent of reading + Digits of the last place), or ±Percent of full scale
// for a moving coil on volts, or of the arc on ohms.
type Span struct {
	Function   Function     `yaml:"function" validate:"oneof=dc-volts ac-volts ac-amps ohms capacitance insulation bond leakage temperature watts touch-current"`
	Percent    unit.Percent `yaml:"percent" validate:"gte=0,lte=50"`
	Digits     int          `yaml:"digits" validate:"min=0,max=100"`
	Null       bool         `yaml:"null"`                                          // leads can be nulled
	Test       *unit.Volt   `yaml:"test-volts" validate:"omitempty,gt=0,lte=1000"` // insulation testers: open-circuit volts
	MinCurrent *unit.Ampere `yaml:"min-current" validate:"omitempty,gt=0"`
	Ranges     []Range      `yaml:"ranges" validate:"min=1,dive"`
}

// Range is one range: its top and its last digit, both as text with a unit of
// the function ("600 V", "0.1 V"), parsed by package spec. A pointer has no
// digit: 0.
type Range struct {
	Top       unit.Quantity `yaml:"-"`
	Digit     unit.Quantity `yaml:"-"`
	TopText   string        `yaml:"top" validate:"required"`
	DigitText string        `yaml:"digit"`
}

// Bench is what the bench has and remembers from one evening to the next. It
// never remembers the press of the RCD's button, the proof of a meter, or who
// is within call.
type Bench struct {
	Name        string       `yaml:"name" validate:"required,max=60"`
	Operator    string       `yaml:"operator" validate:"required,max=60"`
	Place       string       `yaml:"place"`
	Key         string       `yaml:"key"` // path of the operator's private key; empty: the default
	Meters      []BenchMeter `yaml:"meters" validate:"min=1,max=3,dive"`
	Tester      string       `yaml:"tester"` // meter sheet of the insulation tester; empty: none
	Source      Source       `yaml:"source"`
	Tool        unit.Ohm     `yaml:"discharge-tool" validate:"gt=0,lte=1000000"`
	Lamps       []unit.Watt  `yaml:"lamps" validate:"min=1,dive,gt=0,lte=1000"` // labels, rated at LampVolts
	LampVolts   unit.Volt    `yaml:"lamp-volts" validate:"gte=90,lte=300"`
	Bypass      bool         `yaml:"lamp-by-pass"` // the lamp box has a by-pass switch
	Variable    bool         `yaml:"variable-transformer"`
	Isolating   string       `yaml:"isolating-transformer"` // name; empty: none
	RCD         bool         `yaml:"rcd"`
	Thermometer bool         `yaml:"thermometer"`
	Touch       string       `yaml:"touch-network"`  // profile of the network; empty: none
	Loop        *Supply100k  `yaml:"leakage-supply"` // instead of a tester's 250 V: a supply through 100 kΩ
	Training    bool         `yaml:"training"`
}

// BenchMeter is a meter and where it stays: "lamp-box", "set" or "ht-watch".
type BenchMeter struct {
	Letter string `yaml:"letter" validate:"oneof=A B C"`
	Sheet  string `yaml:"sheet" validate:"required"`
	Stays  string `yaml:"stays" validate:"oneof=lamp-box set ht-watch"`
}

// Source is the known source meters are proved on.
type Source struct {
	Volts unit.Volt `yaml:"volts" validate:"gt=0,lte=1000"`
}

// Supply100k is a current-limited supply for the leakage test.
type Supply100k struct {
	Volts  unit.Volt `yaml:"volts" validate:"gt=0,lte=1000"`
	Series unit.Ohm  `yaml:"series" validate:"gt=0"`
}
