package circuit

import (
	"errors"
	"fmt"
	"math"

	"example.com/powerup/internal/unit"
)

// ErrNoAnswer is in the chain when the estimate did not settle or the supply
// lacks what it needs; no window may be built then.
var ErrNoAnswer = errors.New("the HT estimate gave no answer")

const (
	passes    = 80   // of the outer loop; eight are usual without a lamp
	settled   = 1e-8 // relative change of the outer unknowns
	stepLimit = 400  // of the solver for the HT
)

// source is what stands before the set: the crest of the mains and the
// resistance of the lamp. heater is the heater branch as seen at the primary.
type source struct{ crest, lamp, heater float64 }

// cycle is one settled mains cycle at fixed resistances.
type cycle struct {
	drawn
	x                    float64 // HT2, or HT1 with a constant current
	crest                float64 // of one secondary half behind all resistances
	halfA, halfB         float64 // source resistance of the halves
	set, primary, behind float64 // rms volts at the set, amperes, volts behind the primary's resistance
	input                float64 // watts of the set
}

// AtMains is the set on whole mains, through the lamp when there is one.
func (s *Supply) AtMains(mains unit.Volt, lamp *Lamp) (Point, error) {
	return s.point(mains, lamp, false)
}

// AtSet is the set with the given volts measured at its primary leads; behind
// a lamp the volts across that follow.
func (s *Supply) AtSet(set unit.Volt, lamp *Lamp) (Point, error) {
	return s.point(set, lamp, true)
}

// ValvesCold is HT1 with the rectifier hot and every other valve still cold,
// the heaters drawing: the upper bound while cathodes warm.
func (s *Supply) ValvesCold(set unit.Volt) (unit.Volt, error) {
	p, err := s.steady(set, nil, true, draw{kind: cold})
	return unit.Volt(p.mean1), err
}

// Line is HT1 with set volts at the primary when the HT current is known: the
// supply line.
func (s *Supply) Line(set unit.Volt, current unit.Ampere) (unit.Volt, error) {
	p, err := s.steady(set, nil, true, draw{kind: constant, amps: float64(current)})
	return unit.Volt(p.mean1), err
}

// NoLoadHT is what the reservoir reaches when nothing draws, heaters included:
// √2 × open-circuit volts of a half, at the given mains.
func (s *Supply) NoLoadHT(mains unit.Volt) unit.Volt {
	return math.Sqrt2 * s.Secondary * mains / s.Nominal
}

// Ceiling is the volts the healthy set reaches behind the lamp.
func (s *Supply) Ceiling(lamp Lamp, mains unit.Volt) (unit.Volt, error) {
	p, err := s.AtMains(mains, &lamp)
	return p.Set, err
}

func (s *Supply) point(volts unit.Volt, lamp *Lamp, atSet bool) (Point, error) {
	p, err := s.steady(volts, lamp, atSet, draw{kind: working})
	if err != nil {
		return Point{}, err
	}
	return s.pointOf(p.cycle, p.src, p.high.v1-p.low.v1), nil
}

// estimated is the point by the no-ripple estimate: near enough to tell how a
// reading moves with a part.
func (s *Supply) estimated(volts unit.Volt, lamp *Lamp, atSet bool) (Point, error) {
	c, src, err := s.settle(volts, lamp, atSet, draw{kind: working})
	if err != nil {
		return Point{}, err
	}
	return s.pointOf(c, src, s.ripple(&c)), nil
}

func (s *Supply) pointOf(c cycle, src source, ripple float64) Point {
	ik, _ := s.Output.current(c.x)
	ia := (1 - s.Output.share()) * ik
	return Point{
		Set: unit.Volt(c.set), Lamp: unit.Volt(c.primary * src.lamp), Primary: unit.Ampere(c.primary),
		HT1: unit.Volt(c.ht1), HT2: unit.Volt(c.x), HTCurrent: unit.Ampere(c.amps),
		OPT: unit.Volt(s.Output.primary(c.ht1, ia)), Cathode: unit.Volt(ik * float64(s.Output.CathodeR)),
		CathodeCurrent: unit.Ampere(ik), AnodeCurrent: unit.Ampere(ia), Screen: unit.Volt(s.Output.screen(c.x, ik)),
		Ripple: unit.Volt(ripple), Heater: s.heaterVolts(c.behind, src.heater), Input: unit.Watt(c.input),
	}
}

// check refuses a supply the estimate cannot be made for.
func (s *Supply) check(volts unit.Volt, lamp *Lamp) error {
	for _, f := range [...]struct {
		what  string
		value float64
	}{
		{"volts", float64(volts)},
		{"tap volts", float64(s.Nominal)},
		{"HT winding volts", float64(s.Secondary)},
		{"frequency", float64(s.Frequency)},
		{"reservoir", float64(s.Reservoir)},
		{"rectifier perveance", s.perveance()},
		{"half winding ohms", float64(min(s.HalfA, s.HalfB))},
		{"screen factor of the output valve", s.Output.factor()},
	} {
		if !(f.value > 0) {
			return fmt.Errorf("%w: %s %v is not above zero", ErrNoAnswer, f.what, f.value)
		}
	}
	if lamp != nil && !(lamp.Watts > 0 && lamp.Volts > 0) {
		return fmt.Errorf("%w: a lamp of %v W for %v V is none", ErrNoAnswer, float64(lamp.Watts), float64(lamp.Volts))
	}
	return nil
}

// settle finds the cycle at which heater and lamp have the resistance that
// their own volts and current give them. With atSet the mains before the lamp
// is found too, such that volts stand at the set.
func (s *Supply) settle(volts unit.Volt, lamp *Lamp, atSet bool, d draw) (cycle, source, error) {
	if err := s.check(volts, lamp); err != nil {
		return cycle{}, source{}, err
	}
	src := source{crest: math.Sqrt2 * float64(volts), heater: s.heaterBranch(1)}
	if lamp != nil {
		src.lamp = lamp.resistance(float64(lamp.Rated()) / 2)
	}
	return s.settleFrom(src, cycle{}, asEstimated, asked{volts, lamp, atSet, d})
}

// asked is what a supply is solved for.
type asked struct {
	volts unit.Volt
	lamp  *Lamp
	atSet bool
	draw  draw
}

// settleFrom is settle from given ohms, with the primary's side of each estimated
// cycle multiplied as the time domain has it.
func (s *Supply) settleFrom(src source, c cycle, by correction, a asked) (cycle, source, error) {
	for range passes {
		var err error
		if c, err = s.cycle(src, a.draw, c.x); err != nil {
			return cycle{}, source{}, err
		}
		by.apply(&c)
		next := s.nextSource(c, src, a)
		if next.away(src) <= settled {
			return c, src, nil
		}
		src = next
	}
	return cycle{}, source{}, fmt.Errorf("%w: it did not settle in %d passes", ErrNoAnswer, passes)
}

// correction is the time domain's cycle over the estimated one at the same ohms.
type correction struct{ primary, behind, set float64 }

var asEstimated = correction{1, 1, 1}

// times is k and what a cycle is beside its estimate, which k had been applied to.
func (k correction) times(exact, estimate *cycle) correction {
	return correction{
		k.primary * exact.primary / estimate.primary, k.behind * exact.behind / estimate.behind, k.set * exact.set / estimate.set,
	}
}

func (k correction) apply(c *cycle) {
	c.primary *= k.primary
	c.behind *= k.behind
	c.set *= k.set
}

// nextSource gives lamp and heaters the ohms of the volts and the current that
// the cycle c has found.
func (s *Supply) nextSource(c cycle, src source, a asked) source {
	next := source{src.crest, 0, s.heaterBranch(s.heaterVolts(c.behind, src.heater))}
	if a.lamp != nil {
		next.lamp = src.lamp * math.Pow(a.lamp.resistance(c.primary)/src.lamp, relax(src, c, a.atSet))
	}
	if a.atSet { // the lamp's change is made up for in the same step
		v := float64(a.volts)
		next.crest *= v / c.set * (v + c.primary*next.lamp) / (v + c.primary*src.lamp)
	}
	return next
}

// relax is the exponent of the step towards the lamp's own resistance. On fixed
// mains more ohms mean less current, and so fewer ohms: the step is shortened
// by the slope of that, which the lamp's part of the mains gives.
func relax(src source, c cycle, atSet bool) float64 {
	if atSet {
		return 1
	}
	part := c.primary * src.lamp * math.Sqrt2 / src.crest
	return 1 / (1 + (1/lampExponent-1)*part)
}

// away is the largest change from b, as a part of it.
func (a source) away(b source) float64 {
	return max(change(a.crest, b.crest), change(a.lamp, b.lamp), change(a.heater, b.heater))
}

func change(a, b float64) float64 {
	if a == b {
		return 0
	}
	return math.Abs(a/b - 1)
}

func near(a, b float64) bool { return change(a, b) <= settled }

// heaterBranch is the heaters and their winding as seen at the primary, when
// the heaters stand at the given fraction of their nominal volts.
func (s *Supply) heaterBranch(fraction float64) float64 {
	if !(s.HeaterPower > 0) {
		return math.Inf(1)
	}
	full := float64(s.Nominal) / s.heaterOpen()
	return float64(s.HeaterR) + full*full/float64(s.HeaterPower)*math.Pow(max(fraction, 0.02), s.HeaterExp)
}

// heaterVolts is the heater volts over nominal when volts stand behind the
// primary's resistance and the branch is as given.
func (s *Supply) heaterVolts(volts, branch float64) float64 {
	f := volts / float64(s.Nominal) * s.heaterOpen()
	if math.IsInf(branch, 1) {
		return f
	}
	return f * (branch - float64(s.HeaterR)) / branch
}

func (s *Supply) heaterOpen() float64 {
	if s.HeaterOpen > 0 {
		return s.HeaterOpen
	}
	return 1
}
