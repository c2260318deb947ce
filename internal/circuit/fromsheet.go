package circuit

import (
	"errors"
	"fmt"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// ErrSheet is in the chain when the sheet lacks what no typical value may stand
// in for.
var ErrSheet = errors.New("the sheet cannot give an HT circuit")

// Typical values where neither sheet nor reading says (common practice, no
// source).
const (
	primaryFactor                = 0.06 // primary ohms over V²/VA
	heaterWindingFactor          = 0.04 // heater winding's drop at full load over its volts
	halfFactor                   = 4    // half-winding ohms over the primary's, by the turns squared
	typicalSmoothing             = 1200 // Ω, a resistor or a field
	typicalChoke                 = 350  // Ω
	typicalCapacitor             = 32e-6
	typicalOPT                   = 380  // Ω
	typicalScreen                = 1000 // Ω, where printed volts show that there is one
	restLo, restHi      unit.Ohm = 15e3, 1e6
)

// builder collects a supply from what is known best: an accepted reading, the
// sheet, a typical value.
type builder struct {
	set     *sheet.Set
	taken   map[string]unit.Quantity
	s       Supply
	typical []string
	size    unit.VoltAmpere

	onLoad      unit.Volt // half-winding volts printed on load that the winding must give
	ohmsTypical bool      // nobody knows the half windings' ohms
	findHT1     unit.Volt // printed HT1 that the winding volts are worked back from
	findDrop    unit.Volt // printed drop over the smoothing
	findRest    bool      // by the rest of the load, else by the smoothing's ohms
	findG2      unit.Volt // printed volts over the screen resistor, whose ohms are not known
	atPrinted   unit.Volt // mains of the printed volts
}

// FromSheet makes the set's HT supply, and names what of it is typical. taken
// has the accepted readings of this set by slot id, "cathode-resistor@V4"; they
// stand before the sheet. Half-winding volts are taken as read on the
// transformer alone and brought to tap volts at the set.
//
// Where the sheet prints HT1, HT2 and gives the smoothing resistor, the small
// loads it does not list (triodes, dividers) are set so that the drop comes out
// as printed. Where the winding's volts are missing they are worked back from
// the printed HT1. A sheet with neither, or without a full-wave rectifier and
// one output valve known to the data, is refused with ErrSheet.
func FromSheet(set *sheet.Set, p limits.Profile, taken map[string]unit.Quantity) (*Supply, []string, error) {
	b := builder{set: set, taken: taken}
	if err := b.mains(p); err != nil {
		return nil, nil, err
	}
	if err := b.rectifier(); err != nil {
		return nil, nil, err
	}
	if err := b.outputStage(); err != nil {
		return nil, nil, err
	}
	b.signalStages()
	b.line()
	b.transformer()
	if err := b.winding(); err != nil {
		return nil, nil, err
	}
	b.printedLoads()
	if err := b.calibrate(); err != nil {
		return nil, nil, err
	}
	if more, err := b.unknownLamps(); err != nil || !more {
		return &b.s, b.typical, err
	}
	if err := b.calibrate(); err != nil { // they pull the primary down
		return nil, nil, err
	}
	return &b.s, b.typical, nil
}

func refused(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrSheet, fmt.Sprintf(format, args...))
}

// known is the reading of a slot, else what the sheet says.
func known[T ~float64](b *builder, id string, onSheet *T) (T, bool) {
	if q, ok := b.taken[id]; ok {
		return T(q.Value), true
	}
	if onSheet != nil {
		return *onSheet, true
	}
	return 0, false
}

// or is known, else the typical value, which is then named.
func or[T ~float64](b *builder, id string, onSheet *T, typical T, what string) T {
	if v, ok := known(b, id, onSheet); ok {
		return v
	}
	b.typical = append(b.typical, what)
	return typical
}

func (b *builder) mains(p limits.Profile) error {
	m := b.set.Mains
	switch {
	case m.Tap != nil:
		b.s.Nominal = *m.Tap
	case len(m.Taps) > 0:
		b.s.Nominal = m.Taps[len(m.Taps)-1]
		b.typical = append(b.typical, "tap in use: the highest")
	default:
		return refused("it has no mains taps")
	}
	b.s.Frequency = p.Frequency
	if b.set.Frequency != nil {
		b.s.Frequency = *b.set.Frequency
	}
	switch {
	case b.set.Transformer.Rating != nil:
		b.size = *b.set.Transformer.Rating
	case b.set.Watts != nil:
		b.size = unit.VoltAmpere(float64(*b.set.Watts) / limits.Lookup("va-of-watts").Value.Value)
	default:
		return refused("it gives neither the set's watts nor the transformer's size")
	}
	return nil
}

func (b *builder) rectifier() error {
	v, ok := limits.ValveOf(b.set.Rectifier)
	switch {
	case !ok || v.Rectifier == nil:
		return refused("rectifier %q is not in the valve data", b.set.Rectifier)
	case !v.Rectifier.FullWave:
		return refused("rectifier %s is not a full-wave one", b.set.Rectifier)
	}
	b.s.Perveance = v.Rectifier.Perveance
	b.heaters(v)
	return nil
}

// heaters adds the power of a valve's heater; it is drawn whatever else fails.
func (b *builder) heaters(v limits.Valve) {
	if !v.SeriesHeater {
		b.s.HeaterPower += unit.Watt(float64(v.HeaterVolts) * float64(v.HeaterCurrent))
	}
}

// outputStage finds the output valve among the valves, counted from V1.
func (b *builder) outputStage() error {
	found := 0
	for i, name := range b.set.Valves {
		v, ok := limits.ValveOf(name)
		if !ok {
			continue
		}
		b.heaters(v)
		if v.Output == nil || b.set.Output.Valve != "" && b.set.Output.Valve != name {
			continue
		}
		found++
		item := fmt.Sprintf("@V%d", i+1)
		o, stage := v.Output, b.set.Output
		b.s.Output = Valve{Name: name, K: o.K, Mu: o.Mu, Share: o.Share, FromHT1: b.fromHT1()}
		b.s.Output.CathodeR = or(b, "cathode-resistor"+item, stage.CathodeR, o.TypicalRk, "cathode resistor of "+name)
		r, ok := known(b, "screen-resistor"+item, stage.ScreenR)
		if drop := printedDrop(b.printed().HT2, b.printed().Screen); !ok && drop > 0 {
			r, b.findG2 = typicalScreen, drop
		}
		b.s.Output.ScreenR = r
	}
	if found != 1 {
		return refused("%d output valves of the data are on it, and the HT circuit has one", found)
	}
	b.s.Output.AnodeR = or(b, "output-transformer", b.set.OutputTransformer.Primary, typicalOPT, "ohms of the output transformer")
	return nil
}

// fromHT1 tells whether the output anode is fed from the reservoir: where a
// resistor smooths it could not carry the current (common practice). A printed
// anode above HT2 shows it.
func (b *builder) fromHT1() bool {
	p := b.printed()
	if p.Anode != nil && p.HT2 != nil {
		return *p.Anode > *p.HT2
	}
	return b.set.Smoothing.Kind == sheet.Resistor || b.set.Smoothing.Kind == ""
}

// signalStages adds the small valves that draw by their screens; triodes and
// diodes are part of the rest.
func (b *builder) signalStages() {
	for _, name := range b.set.Valves {
		v, _ := limits.ValveOf(name)
		if v.Signal == nil || name == b.s.Output.Name {
			continue
		}
		signal := Valve{Name: name, K: v.Signal.K, Mu: v.Signal.Mu, Share: v.Signal.Share, CathodeR: v.Signal.TypicalRk, ScreenR: v.Signal.TypicalRg2}
		for _, stage := range b.set.Signal {
			if stage.Valve != name {
				continue
			}
			if stage.CathodeR != nil {
				signal.CathodeR = *stage.CathodeR
			}
			if stage.ScreenR != nil {
				signal.ScreenR = *stage.ScreenR
			}
		}
		b.s.Others = append(b.s.Others, signal)
	}
}

// line sets capacitors, smoothing and bleeder.
func (b *builder) line() {
	set := b.set
	b.s.Reservoir = or(b, "reservoir", set.Reservoir.Capacitance, typicalCapacitor, "reservoir capacitance")
	b.s.Second = or(b, "second", set.Second.Capacitance, typicalCapacitor, "second capacitance")
	ohms := unit.Ohm(typicalSmoothing)
	if set.Smoothing.Kind == sheet.Choke {
		ohms = typicalChoke
	}
	b.s.Smoothing = or(b, "smoothing-resistor", set.Smoothing.Resistance, ohms, "smoothing ohms")
	switch bleed := set.Bleed; {
	case bleed == nil || bleed.None || bleed.Resistance == nil:
	case bleed.At == sheet.HT1:
		b.s.Leak = *bleed.Resistance
	default:
		b.s.Bleed = *bleed.Resistance
	}
	b.s.Rest = unit.Ohm(limits.Lookup("rest-typical").Value.Value)
}

func (b *builder) printed() sheet.Printed {
	if b.set.Printed == nil {
		return sheet.Printed{}
	}
	return *b.set.Printed
}

// printedDrop is the difference of two printed voltages; 0 when there is none.
func printedDrop(high, low *unit.Volt) unit.Volt {
	if high == nil || low == nil || !(*high > *low) {
		return 0
	}
	return *high - *low
}

// printedLoads decides what the printed drop over the smoothing fixes.
func (b *builder) printedLoads() {
	b.findDrop = printedDrop(b.printed().HT1, b.printed().HT2)
	_, b.findRest = known(b, "smoothing-resistor", b.set.Smoothing.Resistance)
	if b.findDrop == 0 && len(b.s.Others) > 0 && len(b.set.Signal) == 0 {
		b.typical = append(b.typical, "resistors of the signal valves")
	}
}
