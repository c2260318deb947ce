package checks

import (
	"fmt"
	"math"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// printedPoint is one voltage of the service sheet, with what the circuit has
// there.
type printedPoint struct {
	field    string // of the sheet's printed volts
	name     string
	of       func(*sheet.Printed) *unit.Volt
	exponent string // the figure by which it goes with mains; empty: in proportion
	computed func(circuit.Bounds, circuit.Valve) circuit.Band
	source   func(sources) unit.Ohm
}

// The printed voltages, from the reservoir onward.
const (
	printedHT1 = iota
	printedHT2
	printedAnode
	printedScreen
	printedCathode
)

func printedPoints() []printedPoint {
	return []printedPoint{
		printedHT1: {
			field: "ht1", name: "HT1", of: func(p *sheet.Printed) *unit.Volt { return p.HT1 },
			computed: func(b circuit.Bounds, _ circuit.Valve) circuit.Band { return b.HT1 },
			source:   func(s sources) unit.Ohm { return s.ht1 },
		},
		printedHT2: {
			field: "ht2", name: "HT2", of: func(p *sheet.Printed) *unit.Volt { return p.HT2 },
			computed: func(b circuit.Bounds, _ circuit.Valve) circuit.Band { return b.HT2 },
			source:   func(s sources) unit.Ohm { return s.ht2 },
		},
		printedAnode: {
			field: "anode", name: "anode", of: func(p *sheet.Printed) *unit.Volt { return p.Anode },
			computed: anodeBand,
			source:   func(s sources) unit.Ohm { return s.anode },
		},
		printedScreen: {
			field: "screen", name: "screen", of: func(p *sheet.Printed) *unit.Volt { return p.Screen },
			computed: func(b circuit.Bounds, _ circuit.Valve) circuit.Band { return b.Screen },
			source:   func(s sources) unit.Ohm { return s.screen },
		},
		printedCathode: {
			field: "cathode", name: "cathode", of: func(p *sheet.Printed) *unit.Volt { return p.Cathode }, exponent: "cathode-exponent",
			computed: func(b circuit.Bounds, _ circuit.Valve) circuit.Band { return b.Cathode },
			source:   func(s sources) unit.Ohm { return s.cathode },
		},
	}
}

// anodeBand is the feed less the volts across the output transformer, its ends
// those of both together: wider than any one set, never narrower.
func anodeBand(b circuit.Bounds, v circuit.Valve) circuit.Band {
	feed := b.HT2
	if v.FromHT1 {
		feed = b.HT1
	}
	return circuit.Band{X: feed.X - b.OPT.X, Lo: feed.Lo - b.OPT.Hi, Hi: feed.Hi - b.OPT.Lo}
}

func (p printedPoint) power() float64 {
	if p.exponent == "" {
		return 1
	}
	return number(p.exponent)
}

// brought is what a printed figure stands for now.
type brought struct {
	Interval         // what all meters it can have been taken with agree on; may hold nothing
	at       float64 // its middle
	words    string
}

// bring corrects a printed figure for the meter then, the mains then and the
// meter now, and widens it by what such figures hold to. Of several meters that
// it can have been taken with only the common part counts.
func (c Case) bring(p printedPoint, source unit.Ohm, set unit.Volt) (brought, error) {
	mains, err := c.tap()
	if err != nil {
		return brought{}, err
	}
	sheet := c.Set.Printed
	if sheet.Mains != nil {
		mains = *sheet.Mains
	}
	v := *p.of(sheet)
	now := c.input(v)
	m := unit.Volt(math.Pow(float64(set/mains), p.power()))
	inputs, taken := printedInputs(sheet, v)
	good := number("printed-volts") / 100
	b := brought{Interval: unbounded}
	for _, then := range inputs {
		x := float64(meter.Loaded(meter.Unloaded(v, source, then), source, now) * m)
		b.Lo, b.Hi = max(b.Lo, x*(1-good)), min(b.Hi, x*(1+good))
	}
	b.at = (b.Lo + b.Hi) / 2
	b.words = fmt.Sprintf("printed %v (%v, %s) brought to %s, %v: ", v, mains, taken, volts(float64(set)), unit.Round(now.Quantity(), 3))
	if b.some() {
		b.words += volts(b.Lo) + " to " + volts(b.Hi)
	} else {
		b.words += "the two meters agree on nothing"
	}
	return b, nil
}

// printedInputs are the ends of what the input resistance of the meter of the
// printed volts can have been. Where only its ohms per volt are known its range
// was one that holds the figure, of 1000 V at most; where it is not named it
// was anything from 1000 Ω/V to 10 MΩ.
func printedInputs(p *sheet.Printed, v unit.Volt) (in []unit.Ohm, words string) {
	perVolt := limits.Lookup("sheet-meter").Value
	switch {
	case p.Meter != nil:
		return []unit.Ohm{*p.Meter}, p.Meter.String()
	case p.PerVolt != nil && p.Range != nil && *p.Range >= v:
		return []unit.Ohm{unit.Ohm(float64(*p.PerVolt) * float64(*p.Range))}, fmt.Sprintf("%v on %v", *p.PerVolt, *p.Range)
	case p.PerVolt != nil:
		low := float64(*p.PerVolt)
		return []unit.Ohm{unit.Ohm(low * float64(v)), unit.Ohm(low * 1000)}, p.PerVolt.String() + ", range not named"
	}
	high := limits.Lookup("voltmeter-input").Value
	return []unit.Ohm{unit.Ohm(perVolt.Value * float64(v)), unit.Ohm(high.Value)}, fmt.Sprintf("%v or %v", perVolt, high)
}

// agrees tells whether the middle of the computed window is one that the printed
// figure allows; meters that agree on nothing allow none.
func (b brought) agrees(computed Interval) bool {
	middle := (computed.Lo + computed.Hi) / 2
	return b.some() && b.Lo <= middle && middle <= b.Hi
}

// second holds the pass lines of d against what the service sheet prints, where
// the cathodes emit as they did for the sheet. What passes is what both share.
// Where they do not agree one of the two is wrong and nobody knows which: no
// reading then passes but the computed end on the printed figure's side, which no
// meter with an error of its own can be shown to be on. A reading is a
// query at best, and the lines that stop stay the circuit's: a wrong sheet
// neither lets through what the circuit would not, nor stops a set.
func (s solved) second(c Case, d draft, point int) (draft, error) {
	p := printedPoints()[point]
	if c.Set.Printed == nil || p.of(c.Set.Printed) == nil {
		return d, nil
	}
	if full, err := c.emitting(s.set); err != nil || !full {
		return d, err
	}
	if c.workedBack(point) {
		d.sum += fmt.Sprintf("; printed %v: computed from it, no second source", *p.of(c.Set.Printed))
		return d, nil
	}
	from, err := sourcesOf(c.Model, s.Point)
	if err != nil {
		return draft{}, err
	}
	b, err := c.bring(p, p.source(from), s.set)
	if err != nil {
		return draft{}, err
	}
	computed := d.pass
	d.sum += fmt.Sprintf("; computed %s to %s; %s; ", volts(computed.Lo), volts(computed.Hi), b.words)
	if !b.agrees(computed) {
		d.pass = computed.end(b.at)
		d.sum += "they do not agree: the sheet is in question, a reading is a query at best"
		return d, nil
	}
	d.pass = b.meet(computed)
	d.sum += fmt.Sprintf("shared %s to %s", volts(d.pass.Lo), volts(d.pass.Hi))
	return d, nil
}

// end is the end of i on the side of x, as an interval of its own.
func (i Interval) end(x float64) Interval {
	far := math.Inf(1)
	if x < (i.Lo+i.Hi)/2 {
		far = math.Inf(-1)
	}
	return Interval{far, far}.meet(i)
}

// workedBack tells whether the circuit's figure was made from the printed one:
// nobody knows the winding, and the HT was fitted to the sheet's.
func (c Case) workedBack(point int) bool {
	return (point == printedHT1 || point == printedHT2) && typicalParts(c, windingPart) != ""
}
