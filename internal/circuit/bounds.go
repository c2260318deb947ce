package circuit

import (
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// Band is a computed value with the least and the most that the toleranced
// parts allow.
type Band struct{ X, Lo, Hi float64 }

// Spread says how well the parts are known. The zero value is the wider.
type Spread uint8

// All: from the sheet alone. Known: the winding volts have been read with the
// transformer alone, and the resistors round the output stage dead.
const (
	All Spread = iota
	Known
)

// Bounds is a point with its bands. Volts in volts, currents in amperes.
type Bounds struct {
	Point      Point
	Set        Band
	HT1, HT2   Band
	Drop       Band // over the smoothing
	OPT        Band
	Cathode    Band
	Screen     Band // at the screen
	ScreenDrop Band // over the screen resistor
	Ripple     Band
	Lamp       Band
	Primary    Band
	Line       Band      // HT1 over the supply line at the currents the two resistors show; 1 when nothing else draws; zero behind a lamp
	Cold       unit.Volt // HT1 with the rectifier hot and the valves cold, nominal parts
	Err        float64   // relative error of the estimate itself
	RippleErr  float64   // that of the ripple
}

// BoundsAtSet is the set with volts measured at its primary leads.
func (s *Supply) BoundsAtSet(set unit.Volt, lamp *Lamp, sp Spread) (Bounds, error) {
	return s.bounds(set, lamp, sp, true)
}

// BoundsAtMains is the set on whole mains, through the lamp when there is one.
func (s *Supply) BoundsAtMains(mains unit.Volt, lamp *Lamp, sp Spread) (Bounds, error) {
	return s.bounds(mains, lamp, sp, false)
}

// readings are the values that have bands, in the order of bands.
const readings = 12

func (b *Bounds) bands() [readings]*Band {
	return [readings]*Band{
		&b.Set, &b.HT1, &b.HT2, &b.Drop, &b.OPT, &b.Cathode, &b.Screen, &b.ScreenDrop,
		&b.Ripple, &b.Lamp, &b.Primary, &b.Line,
	}
}

// bounds finds for every reading the two corners of the toleranced parts that
// carry it furthest. Each reading moves one way with each part, so the sign of
// its sensitivity says which end of the part to take; tests try every corner.
// The supply line alone is a relation of readings, and there a part's sign hangs
// on the other parts: it is looked at again from the corners found.
func (s *Supply) bounds(volts unit.Volt, lamp *Lamp, sp Spread, atSet bool) (Bounds, error) {
	p, err := s.point(volts, lamp, atSet)
	if err != nil {
		return Bounds{}, err
	}
	b := Bounds{Point: p, Err: ModelError, RippleErr: RippleError}
	if b.Cold, err = s.ValvesCold(p.Set); err != nil {
		return Bounds{}, err
	}
	c := corners{nominal: s, volts: volts, lamp: lamp, atSet: atSet, tol: tolerances(sp), seen: map[corner][readings]float64{}}
	base, err := c.at(corner{})
	if err != nil {
		return Bounds{}, err
	}
	exact := valuesOf(p, base[readings-1])
	var up [readings]corner
	for part := range parts {
		var one corner
		one[part] = 1
		v, err := c.at(one)
		if err != nil {
			return Bounds{}, err
		}
		for i := range v {
			up[i][part] = sign(v[i] - base[i])
		}
	}
	for i, band := range b.bands() {
		hi, err := c.furthest(i, up[i], 1)
		if err != nil {
			return Bounds{}, err
		}
		lo, err := c.furthest(i, up[i].opposite(), -1)
		if err != nil {
			return Bounds{}, err
		}
		*band = scaled(exact[i], base[i], lo, hi)
	}
	return b, nil
}

// scaled is the band of a reading x whose estimate is base, lo to hi: what the
// estimate is off by it is off by at the corners too.
func scaled(x, base, lo, hi float64) Band {
	if !(base > 0) {
		return Band{X: x, Lo: min(x, lo), Hi: max(x, hi)}
	}
	k := x / base
	return Band{X: x, Lo: min(lo*k, x), Hi: max(hi*k, x)}
}

// furthest is reading i at corner k, the supply line at the best corner that
// taking one part after the other to its other end leads to.
func (c *corners) furthest(i int, k corner, direction float64) (float64, error) {
	v, err := c.at(k)
	if err != nil || i != readings-1 || c.lamp != nil {
		return v[i], err
	}
	best := v[i]
	for part := range k {
		other := k
		other[part] = -other[part]
		v, err := c.at(other)
		if err != nil {
			return 0, err
		}
		if v[i]*direction > best*direction {
			best, k = v[i], other
		}
	}
	return best, nil
}

func sign(x float64) int8 {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// The parts that have a tolerance.
const (
	windingVolts = iota
	windingOhms
	electrolytics
	outputK
	signalK
	rectifierK
	smoothingR
	cathodeR
	screenR
	outputPrimary
	otherR // bleeder, dividers, resistors of the signal valves
	parts
)

// corner takes each part at its upper end (1), its lower (-1) or as the sheet
// has it (0).
type corner [parts]int8

func (c corner) opposite() corner {
	for i := range c {
		c[i] = -c[i]
	}
	return c
}

// tolerance is what each part is multiplied by at its ends.
type tolerance [parts]struct{ lo, hi float64 }

func tolerances(sp Spread) tolerance {
	var t tolerance
	set := func(id string, list ...int) {
		p := limits.Lookup(id).Value.Value / 100
		for _, part := range list {
			t[part].lo, t[part].hi = 1-p, 1+p
		}
	}
	set("spread-winding", windingVolts, windingOhms)
	set("spread-valve", outputK, signalK, rectifierK)
	set("spread-resistor", smoothingR, cathodeR, screenR, outputPrimary, otherR)
	if sp == Known {
		set("spread-winding-read", windingVolts)
		set("spread-resistor-read", smoothingR, cathodeR, outputPrimary)
	}
	t[electrolytics].lo = 1 - limits.Lookup("spread-capacitor-low").Value.Value/100
	t[electrolytics].hi = 1 + limits.Lookup("spread-capacitor-high").Value.Value/100
	return t
}

// apply is the supply at a corner. others is room for its signal valves.
func (t *tolerance) apply(s *Supply, c corner, others []Valve) Supply {
	f := [parts]float64{}
	for i, at := range c {
		switch f[i] = 1; at {
		case 1:
			f[i] = t[i].hi
		case -1:
			f[i] = t[i].lo
		}
	}
	k := *s
	k.Secondary *= unit.Volt(f[windingVolts])
	for _, r := range []*unit.Ohm{&k.Primary, &k.HalfA, &k.HalfB} {
		*r *= unit.Ohm(f[windingOhms])
	}
	k.Reservoir *= unit.Farad(f[electrolytics])
	k.Second *= unit.Farad(f[electrolytics])
	k.Output.K *= f[outputK]
	k.Perveance *= f[rectifierK]
	k.Smoothing *= unit.Ohm(f[smoothingR])
	k.Output.CathodeR *= unit.Ohm(f[cathodeR])
	k.Output.ScreenR *= unit.Ohm(f[screenR])
	k.Output.AnodeR *= unit.Ohm(f[outputPrimary])
	k.Bleed *= unit.Ohm(f[otherR])
	k.Rest *= unit.Ohm(f[otherR])
	k.Others = append(others[:0], s.Others...)
	for i := range k.Others {
		v := &k.Others[i]
		v.K *= f[signalK]
		v.CathodeR *= unit.Ohm(f[otherR])
		v.ScreenR *= unit.Ohm(f[otherR])
	}
	return k
}

// corners computes the readings at corners, each once.
type corners struct {
	nominal *Supply
	volts   unit.Volt
	lamp    *Lamp
	atSet   bool
	tol     tolerance
	others  []Valve
	exact   bool // by the time domain, else by the estimate
	seen    map[corner][readings]float64
}

// atCurrent is HT1 of the nominal supply at i amperes.
func (c *corners) atCurrent(set unit.Volt, i float64) (float64, error) {
	d := draw{kind: constant, amps: i}
	if c.exact {
		p, err := c.nominal.steady(set, nil, true, d)
		return p.mean1, err
	}
	cycle, _, err := c.nominal.settle(set, nil, true, d)
	return cycle.ht1, err
}

func (c *corners) at(k corner) ([readings]float64, error) {
	if v, ok := c.seen[k]; ok {
		return v, nil
	}
	s := c.tol.apply(c.nominal, k, c.others)
	c.others = s.Others
	p, err := c.solve(&s)
	if err != nil {
		return [readings]float64{}, err
	}
	line, err := c.line(p)
	if err != nil {
		return [readings]float64{}, err
	}
	v := valuesOf(p, line)
	c.seen[k] = v
	return v, nil
}

func (c *corners) solve(s *Supply) (Point, error) {
	if c.exact {
		return s.point(c.volts, c.lamp, c.atSet)
	}
	return s.estimated(c.volts, c.lamp, c.atSet)
}

func valuesOf(p Point, line float64) [readings]float64 {
	return [readings]float64{
		float64(p.Set), float64(p.HT1), float64(p.HT2), float64(p.HT1 - p.HT2), float64(p.OPT), float64(p.Cathode), float64(p.Screen),
		float64(p.HT2 - p.Screen), float64(p.Ripple), float64(p.Lamp), float64(p.Primary), line,
	}
}

// line compares HT1 at a corner with the nominal supply's line, at the current
// that the volts over the two resistors show with their nominal ohms.
func (c *corners) line(p Point) (float64, error) {
	s := c.nominal
	i := float64(p.OPT)/float64(s.Output.AnodeR) + float64(p.HT1-p.HT2)/float64(s.Smoothing)
	if c.lamp != nil || math.IsNaN(i) || math.IsInf(i, 0) {
		return 0, nil
	}
	ht1, err := c.atCurrent(p.Set, i)
	return float64(p.HT1) / ht1, err
}
