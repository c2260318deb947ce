package checks

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// ErrNoData is in the chain when the sheet and the readings so far do not give
// what a window or a derived value needs.
var ErrNoData = errors.New("not known")

// solved is the set's circuit at the volts of one reading.
type solved struct {
	circuit.Bounds
	set     unit.Volt
	known   bool   // parts measured: the narrower corners
	typical string // what came from typical values
}

// solve computes the set at the volts measured at its primary, or before there
// are any at those of the step.
func solve(c Case) (solved, error) { return solveSpread(c, spreadOf(c)) }

func solveSpread(c Case, spread circuit.Spread) (solved, error) {
	if c.Model == nil {
		return solved{}, fmt.Errorf("%w: the sheet gives no HT circuit\nhint: HT winding, rectifier and output stage are needed", ErrNoData)
	}
	s := solved{known: spread == circuit.Known, typical: typicalParts(c)}
	var err error
	if s.set, err = setVolts(c); err != nil {
		return solved{}, err
	}
	s.Bounds, err = c.boundsAt(s.set, spread)
	return s, err
}

// corners says which tolerances the pass lines leave room for.
func (s solved) corners() string {
	if s.known {
		return "the corners of the measured parts"
	}
	return "the corners with the sheet alone"
}

// twoSided is the draft whose pass lines are the corners of b and whose other
// lines are the multiples of the band, all widened by the formula's error.
func (s solved) twoSided(id string, b circuit.Band, err float64) draft {
	d := drafted(id, unit.KindVolt, b.X, "")
	d.pass = Interval{b.Lo, b.Hi}
	d.sum = fmt.Sprintf("%s; pass: %s; %s; lines %s wider for the formula",
		s.at(b.X), s.corners(), stopWords(limits.BandOf(id), times), percent(err))
	return d.widened(err)
}

// upper is the same before full emission, with no low side. What is left there
// only tells reversed leads, which would hide too much as too little.
func (s solved) upper(id string, b circuit.Band, err float64) draft {
	d := s.twoSided(id, b, err)
	d.pass.Lo, d.query.Lo, d.danger = limits.BandOf("polarity").PassLo, unbounded.Lo, limits.High
	d.sum = fmt.Sprintf("%s; pass: up to %s; stop over %s; no low side before full emission; lines %s wider for the formula",
		s.at(b.X), s.corners(), times(limits.BandOf(id).QueryHi), percent(err))
	return d
}

// at says what was computed and for which volts.
func (s solved) at(x float64) string {
	return fmt.Sprintf("%s computed at %s on the set", volts(x), volts(float64(s.set)))
}

// window builds d with absolute lines. Where the circuit rests on typical
// values only those stop.
func (s solved) window(d draft, absolute Interval) (Window, error) {
	if s.typical != "" {
		d.query = unbounded
		d = d.guess(s.typical)
	}
	d = d.within(absolute, absolute)
	d.danger = danger(d.query)
	w, err := d.window()
	if err != nil {
		return Window{}, err
	}
	return w.Absolute(absolute)
}

// danger is the side on which a query interval ends.
func danger(query Interval) limits.Side {
	low, high := !math.IsInf(query.Lo, -1), !math.IsInf(query.Hi, 1)
	switch {
	case low && high:
		return limits.Both
	case low:
		return limits.Low
	case high:
		return limits.High
	}
	return limits.Neither
}

// widened moves every line outward by the part err of itself.
func (d draft) widened(err float64) draft {
	d.pass, d.query = d.pass.widened(err), d.query.widened(err)
	d.pass = d.pass.meet(d.query)
	return d
}

func (i Interval) widened(err float64) Interval {
	return Interval{i.Lo * (1 - math.Copysign(err, i.Lo)), i.Hi * (1 + math.Copysign(err, i.Hi))}
}

// spreadOf is Known once the winding volts were read with the transformer
// alone and the resistors of the output stage and of the smoothing dead.
func spreadOf(c Case) circuit.Spread {
	for _, id := range []string{"half-volts@a", "half-volts@b", "cathode-resistor", "smoothing-resistor", "output-transformer"} {
		if _, ok := c.reading(id); !ok {
			return circuit.All
		}
	}
	return circuit.Known
}

// Parts of the HT circuit that a typical value can stand in for.
const (
	windingPart   = "HT winding volts"
	primaryPart   = "ohms of the primary"
	halvesPart    = "ohms of the HT winding"
	smoothingPart = "smoothing"
	outputPart    = "ohms of the output transformer"
	cathodePart   = "cathode resistor"
)

// typicalParts names which of the parts, all where none is named, neither the
// sheet nor a reading gives.
func typicalParts(c Case, of ...string) string {
	s, t := c.Set, c.Set.Transformer
	tap, _ := c.tap() // without one no reading of the primary is found
	var names []string
	for _, part := range []struct {
		name  string
		given bool
		read  string
	}{
		{windingPart, s.HTWinding != nil, "half-volts@a"},
		{primaryPart, t.Primary != nil, "primary-winding@" + tap.String()},
		{halvesPart, t.HalfA != nil && t.HalfB != nil, "half-winding@a"},
		{smoothingPart, s.Smoothing.Resistance != nil, "smoothing-resistor"},
		{outputPart, s.OutputTransformer.Primary != nil, "output-transformer"},
		{cathodePart, s.Output.CathodeR != nil, "cathode-resistor"},
	} {
		if len(of) > 0 && !slices.Contains(of, part.name) {
			continue
		}
		if _, ok := c.reading(part.read); !ok && !part.given {
			names = append(names, part.name)
		}
	}
	return strings.Join(names, ", ")
}

// reading is an accepted reading by the id of its check, or check@item. A
// check of the output valve is found without naming the valve.
func (c Case) reading(id string) (float64, bool) {
	if x, ok := c.taken(id, ""); ok {
		return x, true
	}
	item, _, ok := outputItem(c.Set)
	if !ok {
		return 0, false
	}
	return c.taken(id, item)
}

// need is reading, or an error that names what is missing.
func (c Case) need(id string) (float64, error) {
	x, ok := c.reading(id)
	if !ok {
		return 0, fmt.Errorf("%w: %s was not read", ErrNoData, id)
	}
	return x, nil
}

// today is the mains as read, nominal before that.
func (c Case) today() (unit.Volt, error) {
	if c.Mains > 0 {
		return c.Mains, nil
	}
	return c.tap()
}

// rungVolts is what a step asks for at the set: its part of the tap. The last
// step is today's mains.
func rungVolts(c Case, tap unit.Volt) unit.Volt {
	if c.Rung >= 100 && c.Mains > 0 {
		return c.Mains
	}
	return unit.Volt(c.Rung) / 100 * tap
}

// setVolts is what was read at the primary of the set, or the step's own
// volts, or the mains less what the lamp takes.
func setVolts(c Case) (unit.Volt, error) {
	if c.AtSet > 0 {
		return c.AtSet, nil
	}
	tap, err := c.tap()
	if err != nil {
		return 0, err
	}
	if c.Rung > 0 {
		return rungVolts(c, tap), nil
	}
	mains, err := c.today()
	if err != nil || c.Lamp == nil || c.Model == nil {
		return mains, err
	}
	return c.Model.Ceiling(*c.Lamp, mains)
}

// emitting tells whether the step is one where every cathode emits: from 85 %
// of the tap, by the step and not by the digit read.
func (c Case) emitting(set unit.Volt) (bool, error) {
	tap, err := c.tap()
	if err != nil {
		return false, err
	}
	step := float64(c.Rung)
	if !(step > 0) {
		step = float64(set/tap) * 100
	}
	return c.TwoSided && step >= number("emitting"), nil
}

// How sums print numbers.
func percent(x float64) string { return amount(unit.KindPercent, 100*x) }

func times(x float64) string { return fmt.Sprintf("%.4g x", x) }
