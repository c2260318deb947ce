package circuit

import (
	"fmt"
	"math"

	"example.com/powerup/internal/unit"
)

// period is the HT circuit in its periodic steady state.
type period struct {
	swept
	cycle
	src   source
	shots int     // periods that were integrated
	off   float64 // how far the state was from the one that returns to itself, as a part of the crest
}

const (
	rounds   = 20   // of lamp and heater ohms
	shots    = 12   // of the shooting at fixed ohms
	onMark   = 1e-6 // of the crest: the shooting has hit
	furthest = 3    // of the crest: the shooting has missed
	attempts = 8    // of shooting
	walked   = 60   // periods between them
	agreed   = 1e-5 // relative change of lamp and heater ohms
	first    = 1e-4 // of the crest: near enough while these still move
)

// shooting is the search for the state that returns to itself after a period.
type shooting struct {
	s      *Supply
	asked  asked
	g      grid
	at     charge
	iron   float64 // magnetising current
	near   float64 // how near is a hit, as a part of the crest
	period period
}

// steady finds the periodic steady state, with lamp and heaters at the ohms that
// their own volts and current give them. It starts from the no-ripple estimate.
// Each round shoots for the state at fixed ohms, and then lets the estimate,
// corrected by what that gave, find the ohms anew.
func (s *Supply) steady(volts unit.Volt, lamp *Lamp, atSet bool, d draw) (period, error) {
	a := asked{volts, lamp, atSet, d}
	c, src, err := s.settle(volts, lamp, atSet, d)
	if err != nil {
		return period{}, err
	}
	h := shooting{s: s, asked: a, at: start(s, c, d), near: first}
	h.g.lay(s.halves(), s.pulseWidth(&c))
	front := s.front(src)
	h.iron = -front.behind * front.b // a quarter cycle behind
	by := asEstimated
	for range rounds {
		f := s.front(src)
		if err := h.shoot(f); err != nil {
			return h.period, err
		}
		p := &h.period
		estimate := c
		p.primarySide(&c)
		by = correction{by.primary * c.primary / estimate.primary, by.behind * c.behind / estimate.behind, by.set * c.set / estimate.set}
		next, nextSrc, err := s.settleFrom(src, estimate, by, a)
		if err != nil {
			return *p, err
		}
		moved := nextSrc.away(src)
		p.cycle, p.src = c, src
		p.ht1, p.x, p.amps, p.crest = p.mean1, p.mean2, p.current, f.crest()
		if moved <= agreed && max(p.off, h.near) <= onMark {
			return *p, nil
		}
		h.near = max(onMark, moved/100)
		h.at = h.at.times(s.frontCrest(nextSrc) / f.crest())
		c, src = next, nextSrc
	}
	return h.period, fmt.Errorf("%w: lamp and heaters did not settle in %d rounds", ErrNoAnswer, rounds)
}

func (s *Supply) frontCrest(src source) float64 {
	f := s.front(src)
	return f.crest()
}

// start is the state that the estimate knows.
func start(s *Supply, c cycle, d draw) charge {
	if d.kind == constant {
		return charge{v1: c.ht1, v2: c.ht1}
	}
	return charge{v1: c.ht1, v2: c.x, choke: (c.ht1 - c.x) / max(float64(s.Smoothing), leastOhms)}
}

// shoot finds the state at the ohms of f, by Newton's steps from how the end of a
// period moves with its beginning.
func (h *shooting) shoot(f front) error {
	p := &h.period
	net := h.s.network(f, h.asked.draw)
	for range attempts {
		if h.newton(&net) {
			return nil
		}
		h.walk(&net)
	}
	return fmt.Errorf("%w: no steady state in %d periods", ErrNoAnswer, p.shots)
}

// newton shoots, and tells whether it has hit.
func (h *shooting) newton(net *network) bool {
	p := &h.period
	for range shots {
		p.swept = net.sweep(&h.g, h.at, h.iron)
		p.shots++
		step := newton(&p.tangent, p.end.minus(h.at), net.order())
		if p.off = max(math.Abs(step.v1), math.Abs(step.v2)) / net.crest(); !(p.off <= furthest) {
			return false
		}
		h.at = h.at.plus(step)
		magnetised := h.magnetise(net)
		if p.off <= h.near && magnetised <= h.near {
			return true
		}
	}
	return false
}

// magnetise moves the magnetising current to what returns to itself, and tells
// how far that was, as volts over the crest. It hardly moves the HT, so that it
// has a step of its own.
func (h *shooting) magnetise(net *network) float64 {
	if net.b == 0 {
		return 0
	}
	step := (h.period.iron - h.iron) / (1 - h.period.drift)
	h.iron += step
	return math.Abs(step) * net.series * net.ratio / net.crest()
}

// walk goes period by period, as the set itself would, to where shooting may hit.
func (h *shooting) walk(net *network) {
	for range walked {
		if p := net.sweep(&h.g, h.at, h.iron); p.end.finite() {
			h.at, h.iron = p.end, p.iron
		}
		h.period.shots++
	}
}

// pulseWidth is half the width of the estimated cycle's pulse, with some room: it
// begins where the sine passes the lowest volts on the reservoir.
func (s *Supply) pulseWidth(c *cycle) float64 {
	low := c.ht1 - 0.6*s.ripple(c)
	return 1.03*math.Acos(min(max(low/c.crest, 0), 1)) + 0.03
}

// primarySide gives c what the period has on the primary's side.
func (p *period) primarySide(c *cycle) {
	c.primary, c.set, c.behind = math.Sqrt(p.mains.amps), math.Sqrt(p.mains.set), math.Sqrt(p.mains.behind)
	c.input = p.mains.watts
}
