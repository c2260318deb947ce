package circuit

import (
	"fmt"
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// transformer sets what loads and feeds the primary: its ohms, the iron, the
// magnetising current, the heaters and their winding.
func (b *builder) transformer() {
	s, n := &b.s, float64(b.s.Nominal)
	va := float64(b.size)
	s.Primary = or(b, b.primaryID(), b.set.Transformer.Primary, unit.Ohm(primaryFactor*n*n/va), "ohms of the primary")
	s.Idle = unit.Watt(va * limits.Lookup("iron-typical").Value.Value / 100)
	mag, at := limits.Lookup("magnetising").Value.Value, limits.Lookup("magnetising-volts").Value.Value
	s.Magnetising = unit.Ampere(mag * at / n) // the same volt-amperes on another tap
	if d := b.set.DialLamps; d != nil {
		s.HeaterPower += unit.Watt(float64(d.Count) * float64(d.Current) * 6.3)
	}
	b.heaterWinding()
	s.HeaterExp = 0.4 // current as volts to the 0.6 (computed from tungsten data)
	s.HeaterOpen = 1
}

func (b *builder) heaterWinding() {
	if n := float64(b.s.Nominal); b.s.HeaterPower > 0 {
		b.s.HeaterR = unit.Ohm(heaterWindingFactor * n * n / float64(b.s.HeaterPower))
	}
}

// unknownLamps takes what the set's stated watts leave over for dial lamps that
// the sheet does not name, up to lampsMost of them, and tells whether there is
// any.
func (b *builder) unknownLamps() (bool, error) {
	if b.set.DialLamps != nil || b.set.Watts == nil {
		return false, nil
	}
	p, err := b.s.AtSet(b.s.Nominal, nil)
	if err != nil {
		return false, err
	}
	left := min(max(*b.set.Watts-p.Input, 0), lampsMost**b.set.Watts)
	if left > 0 {
		b.s.HeaterPower += left
		b.heaterWinding()
		b.typical = append(b.typical, "dial lamps: what the set's watts leave over")
	}
	return left > 0, nil
}

// lampsMost: two dial lamps of 0.3 A take 7 % of a set of 52 W.
const lampsMost = 0.12

// primaryID is the slot of the primary's ohms on the tap in use.
func (b *builder) primaryID() string { return fmt.Sprintf("primary-winding@%s", b.s.Nominal) }

// winding sets volts and ohms of the HT winding, or what they are found from.
func (b *builder) winding() error {
	s, t := &b.s, b.set.Transformer
	regulation := 1 + limits.Lookup("regulation-typical").Value.Value/100
	halfA, hasA := known(b, "half-winding@a", t.HalfA)
	halfB, hasB := known(b, "half-winding@b", t.HalfB)
	_, hasPrimary := known(b, b.primaryID(), t.Primary)
	ohms := hasA && hasB
	printed := b.printed()
	switch a, read := b.taken["half-volts@a"]; {
	case read:
		v := a.Value
		if other, ok := b.taken["half-volts@b"]; ok {
			v = (v + other.Value) / 2
		}
		s.Secondary = unit.Volt(v * s.idleDrop())
	case b.set.HTWinding != nil && b.set.HTWinding.Taken == sheet.Open:
		s.Secondary = b.set.HTWinding.Volts
	case b.set.HTWinding != nil:
		s.Secondary = b.set.HTWinding.Volts * unit.Volt(regulation)
		if b.onLoad = b.set.HTWinding.Volts; !ohms || !hasPrimary {
			b.onLoad = 0
			b.typical = append(b.typical, "HT winding volts: printed on load, regulation not known")
		}
	case printed.HT1 != nil:
		b.findHT1 = *printed.HT1
		s.Secondary = *printed.HT1
		b.typical = append(b.typical, "HT winding volts: worked back from the printed HT1")
	default:
		return refused("it gives neither the volts of the HT winding nor HT1")
	}
	s.HalfA, s.HalfB = halfA, halfB
	if !ohms {
		b.typical = append(b.typical, "ohms of the HT winding")
		b.ohmsTypical = true
		ratio := s.Secondary / s.Nominal
		s.HalfA = halfFactor * s.Primary * unit.Ohm(ratio*ratio)
		s.HalfB = s.HalfA
	}
	b.atPrinted = s.Nominal
	if printed.Mains != nil {
		b.atPrinted = *printed.Mains
	}
	return nil
}

// idleDrop is the tap volts over those behind the primary's ohms with the
// transformer alone.
func (s *Supply) idleDrop() float64 {
	n := float64(s.Nominal)
	r := float64(s.Primary)
	return math.Hypot(1+r*float64(s.Idle)/(n*n), r*float64(s.Magnetising)/n)
}

// calibrate moves every value that is to be found until the set, computed at
// the mains of the printed volts, gives what was printed. All move together,
// each inside its bounds; the heaters' winding is set so that they have their
// nominal volts at tap volts, as its maker meant.
func (b *builder) calibrate() error {
	s := &b.s
	for range 60 {
		p, err := s.steady(b.atPrinted, nil, true, draw{kind: working})
		if err != nil {
			return err
		}
		c, src := p.cycle, p.src
		m := mover{}
		m.move(&s.HeaterOpen, float64(b.atPrinted/s.Nominal)/s.heaterVolts(c.behind, src.heater), 0.5, 2)
		b.moveWinding(&m, &c)
		b.moveDrops(&m, &c)
		if m.most < 1e-6 {
			return nil
		}
	}
	return refused("no circuit fits its printed volts")
}

// mover multiplies values and keeps the largest change.
type mover struct{ most float64 }

func (m *mover) move(x *float64, ratio, lo, hi float64) {
	next := min(max(*x*min(max(ratio, 0.5), 2), lo), hi)
	m.most = max(m.most, math.Abs(next / *x - 1))
	*x = next
}

// moveWinding moves the winding's volts towards the printed HT1 or its own
// printed volts on load. Its ohms, where nobody knows them, go towards the
// printed HT1, or with the turns squared where that has gone into the volts.
func (b *builder) moveWinding(m *mover, c *cycle) {
	s := &b.s
	volts, ohms := (*float64)(&s.Secondary), (*float64)(&s.HalfA)
	nominal, onLoad := float64(s.Nominal), s.onLoad(c)
	switch {
	case b.findHT1 > 0:
		m.move(volts, float64(b.findHT1)/c.ht1, nominal/10, nominal*10)
	case b.onLoad > 0:
		m.move(volts, float64(b.onLoad)/onLoad, nominal/10, nominal*10)
	}
	if !b.ohmsTypical {
		return
	}
	ratio := *volts / nominal
	least := float64(s.Primary) * ratio * ratio
	if printed := b.printed().HT1; printed != nil && b.findHT1 == 0 {
		// HT1 falls by about a tenth of what the ohms rise.
		m.move(ohms, math.Pow(c.ht1/float64(*printed), 8), least, 3*halfFactor*least)
	} else {
		*ohms = halfFactor * least
	}
	s.HalfB = s.HalfA
}

// moveDrops moves the rest of the load, or the smoothing's ohms, towards the
// printed drop over the smoothing, and the screen resistor towards its own.
func (b *builder) moveDrops(m *mover, c *cycle) {
	s := &b.s
	drop := c.ht1 - c.x
	switch {
	case b.findDrop == 0:
	case b.findRest:
		lacking := (float64(b.findDrop) - drop) / float64(s.Smoothing) / c.x
		m.move((*float64)(&s.Rest), 1/max(1+lacking*float64(s.Rest), 0.1), float64(restLo), float64(restHi))
	default:
		m.move((*float64)(&s.Smoothing), float64(b.findDrop)/drop, 10, 10e3)
	}
	if b.findG2 > 0 {
		ik, _ := s.Output.current(c.x)
		m.move((*float64)(&s.Output.ScreenR), float64(b.findG2)/(c.x-s.Output.screen(c.x, ik)), 10, 100e3)
	}
}

// onLoad is the r.m.s. volts of a half winding at its ends in the cycle c, the
// mean of its own half-cycle and of the other's.
func (s *Supply) onLoad(c *cycle) float64 {
	m := pulse(c.crest, c.ht1, c.halfA, s.perveance())
	own := rms(c.crest, 0, -c.halfA, m)
	other := rms(c.crest, 0, -(c.halfA - float64(s.HalfA)), m)
	return math.Sqrt((own*own + other*other) / 2)
}
