package circuit

import (
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// TransformerOnly is the lamp volts with the transformer alone behind the lamp,
// by the law and for real tungsten. The transformer is a resistance that takes
// watts, and a reactance that takes the magnetising current, both at mains
// volts, in parallel. The primary's own ohms are left out: they would lower the
// lamp volts by up to 2.5 %.
func TransformerOnly(mains unit.Volt, lamp Lamp, watts unit.Watt, magnetising unit.Ampere) (law, tungsten unit.Volt) {
	z := impedance(float64(watts)/float64(mains*mains), float64(magnetising)/float64(mains))
	return lamp.before(mains, z, lamp.Current), lamp.before(mains, z, lamp.Real)
}

// IdleLines are the pass and the stop line of the lamp volts with the
// transformer alone: pass at the watts a good transformer of the size takes, by
// the law or for tungsten whichever is more; stop at the watts of a bad one,
// whichever is less. A lamp with its stop line below its pass line cannot tell.
func IdleLines(mains unit.Volt, lamp Lamp, size unit.VoltAmpere, magnetising unit.Ampere) (pass, stop unit.Volt) {
	watts := func(id string) unit.Watt { return unit.Watt(float64(size) * limits.Lookup(id).Value.Value / 100) }
	law, tungsten := TransformerOnly(mains, lamp, watts("idle-pass"), magnetising)
	pass = max(law, tungsten)
	law, tungsten = TransformerOnly(mains, lamp, watts("idle-query"), magnetising)
	return pass, min(law, tungsten)
}

// HeatersOnly is the lamp volts with every heater in and no HT drawn, by the
// law and for real tungsten, and the heater volts over nominal by the law.
func (s *Supply) HeatersOnly(mains unit.Volt, lamp Lamp) (law, tungsten unit.Volt, heater float64, err error) {
	if err := s.check(mains, &lamp); err != nil {
		return 0, 0, 0, err
	}
	tungsten, _, err = s.heatersOnly(mains, lamp, lamp.Real)
	if err != nil {
		return 0, 0, 0, err
	}
	law, heater, err = s.heatersOnly(mains, lamp, lamp.Current)
	return law, tungsten, heater, err
}

func (s *Supply) heatersOnly(mains unit.Volt, lamp Lamp, curve func(unit.Volt) unit.Ampere) (unit.Volt, float64, error) {
	nominal := float64(s.Nominal)
	branch := s.heaterBranch(1)
	for range passes {
		z := impedance(1/branch+float64(s.Idle)/(nominal*nominal), float64(s.Magnetising)/nominal)
		behind := z
		z.r += float64(s.Primary)
		v := lamp.before(mains, z, curve)
		fraction := s.heaterVolts(float64(curve(v))*math.Hypot(behind.r, behind.x), branch)
		next := s.heaterBranch(fraction)
		if near(next, branch) {
			return v, fraction, nil
		}
		branch = next
	}
	return 0, 0, ErrNoAnswer
}

// reactive is a resistance and a reactance in series.
type reactive struct{ r, x float64 }

// impedance is a conductance and a susceptance in parallel, as series parts.
func impedance(g, b float64) reactive {
	y := g*g + b*b
	if !(y > 0) {
		return reactive{math.Inf(1), 0}
	}
	return reactive{g / y, b / y}
}

// before is the volts across the lamp, of the given curve, with z behind it on
// the mains: the volts of both add up to the mains, and both rise together.
func (l Lamp) before(mains unit.Volt, z reactive, curve func(unit.Volt) unit.Ampere) unit.Volt {
	lo, hi := unit.Volt(0), mains
	for range 60 {
		v := (lo + hi) / 2
		i := float64(curve(v))
		if math.Hypot(float64(v)+i*z.r, i*z.x) < float64(mains) {
			lo = v
		} else {
			hi = v
		}
	}
	return (lo + hi) / 2
}
