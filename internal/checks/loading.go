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

// sources are the resistances that a meter to chassis sees at the points of the
// HT side, as small changes go.
type sources struct{ ht1, ht2, anode, screen, cathode unit.Ohm }

// probe is put across a point of the computed set, and of no other: it draws
// little, and enough for the fall to be seen above the error of the solution.
const probe unit.Ohm = 200e3

// sourcesOf finds those of the HT line from how far a probe pulls it down. The
// anode of a pentode and its screen are stiff beside their resistors; a cathode
// has its resistor across the reciprocal of the slope, by Ik = K x^1.5.
func sourcesOf(m *circuit.Supply, p circuit.Point) (sources, error) {
	at1, at2 := *m, *m
	at1.Leak, at2.Bleed = across(m.Leak, probe), across(m.Bleed, probe)
	q1, err := at1.AtSet(p.Set, nil)
	if err != nil {
		return sources{}, err
	}
	q2, err := at2.AtSet(p.Set, nil)
	if err != nil {
		return sources{}, err
	}
	bare, err := m.AtSet(p.Set, nil)
	if err != nil {
		return sources{}, err
	}
	s := sources{ht1: fall(bare.HT1, q1.HT1), ht2: fall(bare.HT2, q2.HT2)}
	s.anode, s.screen = s.ht2+m.Output.AnodeR, s.ht2+m.Output.ScreenR
	if m.Output.FromHT1 {
		s.anode = s.ht1 + m.Output.AnodeR
	}
	s.cathode = cathodeSource(m.Output, bare.CathodeCurrent)
	return s, nil
}

// fall is the source resistance of a point that a probe pulls from bare to v.
func fall(bare, v unit.Volt) unit.Ohm { return unit.Ohm(bare/v-1) * probe }

// across is two resistances side by side; 0 is none.
func across(r, with unit.Ohm) unit.Ohm {
	if r == 0 {
		return with
	}
	return r * with / (r + with)
}

func cathodeSource(v circuit.Valve, i unit.Ampere) unit.Ohm {
	if !(i > 0) {
		return v.CathodeR
	}
	x := math.Pow(float64(i)/v.K, 2.0/3)
	return across(v.CathodeR, unit.Ohm(x/(1.5*float64(i))))
}

// input is the input resistance of the meter that takes the reading, on the
// range that takes v. Where its sheet does not say it counts as 10 MΩ, which is
// asked for wherever it matters.
func (c Case) input(v unit.Volt) unit.Ohm {
	if c.Meter != nil {
		if in, err := meter.Input(c.Meter, sheet.DCVolts, v); err == nil {
			return in
		}
	}
	return unit.Ohm(limits.Lookup("voltmeter-input").Value.Value)
}

// loaded brings every line of the draft to what the meter shows at a point of
// that source resistance, on the range that takes v; the lines of HT stay as
// they are, whose source is under 2 kΩ.
func (d draft) loaded(c Case, v float64, source unit.Ohm) draft {
	return d.shownAs(c.input(unit.Volt(v)), source, meter.Loaded(1, source, c.input(unit.Volt(v))))
}

// loadedBeyond is the same where the lines are those of a meter of 10 MΩ: one
// that loads more shows a part of them, and one that loads less moves nothing.
func (d draft) loadedBeyond(c Case, v float64, source unit.Ohm) draft {
	good := unit.Ohm(limits.Lookup("voltmeter-input").Value.Value)
	in := min(c.input(unit.Volt(v)), good)
	return d.shownAs(in, source, meter.Loaded(1, source, in)/meter.Loaded(1, source, good))
}

func (d draft) shownAs(in, source unit.Ohm, part unit.Volt) draft {
	d.pass, d.query = d.pass.times(float64(part)), d.query.times(float64(part))
	if float64(part) < 1-number("loading-said")/100 {
		d.sum += fmt.Sprintf("; a meter of %v over %v: lines %.3g x", unit.Round(in.Quantity(), 3), unit.Round(source.Quantity(), 3), float64(part))
	}
	return d
}

func (i Interval) times(k float64) Interval { return Interval{i.Lo * k, i.Hi * k} }

// gridSource is the most that a meter can see at the output grid: its leak as
// read or as the sheet has it, else the most that the valve allows.
func (c Case) gridSource() unit.Ohm {
	if x, ok := c.reading("grid-leak"); ok {
		return unit.Ohm(x)
	}
	if r, _ := c.gridLeakR(); r != nil {
		return *r
	}
	return unit.Ohm(c.gridLeakMost())
}
