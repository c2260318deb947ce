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
	walked   = 60   // periods after the first, twice as many each time
	nearly   = 1e-4 // of the crest: a state that will do when all else has failed
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
	guess, src, err := s.settle(volts, lamp, atSet, d)
	if err != nil {
		return period{}, err
	}
	h := shooting{s: s, asked: a}
	h.begin(&guess, src)
	by := asEstimated
	for range rounds {
		f := s.front(src)
		if err := h.shoot(f); err != nil {
			return h.period, err
		}
		p := &h.period
		p.take(guess, src)
		by = by.times(&p.cycle, &guess)
		next, nextSrc, err := s.settleFrom(src, guess, by, a)
		if err != nil {
			return *p, err
		}
		moved := nextSrc.away(src)
		if only := p.off > h.near; moved <= agreed && (h.near <= onMark || only) { // only nearly: it gets no nearer
			return *p, nil
		}
		h.near = max(onMark, moved/100)
		h.at = h.at.times(s.frontCrest(nextSrc) / f.crest())
		guess, src = next, nextSrc
	}
	return h.period, fmt.Errorf("%w: lamp and heaters did not settle in %d rounds", ErrNoAnswer, rounds)
}

// begin takes the estimate for a start.
func (h *shooting) begin(guess *cycle, src source) {
	h.at, h.near = start(h.s, *guess, h.asked.draw), first
	h.g.lay(h.s.halves(), h.s.pulseWidth(guess))
	f := h.s.front(src)
	h.iron = -f.behind * f.b // a quarter cycle behind
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
// period moves with its beginning. Where they miss time and again it goes on
// period by period, longer each time; a state that then nearly returns to itself
// will do, and [Solution.Residual] tells how nearly.
func (h *shooting) shoot(f front) error {
	p := &h.period
	net := h.s.network(f, h.asked.draw)
	most := attempts
	if net.l == 0 { // nothing rings: what a few do not find is not there
		most = attempts / 2
	}
	for attempt := range most {
		if h.newton(&net) {
			return nil
		}
		if p.off = h.walk(&net, walked<<attempt); attempt > attempts/2 && p.off <= nearly {
			p.swept = net.sweep(&h.g, h.at, h.iron)
			return nil
		}
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
		if net.l == 0 { // only the rectifier charges it: with no load nothing else would hold it down
			h.at.v1 = min(h.at.v1, net.crest())
		}
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

// walk goes so many periods, as the set itself would, to where shooting may hit. It
// tells how far the last one was from returning to itself, as a part of the crest.
func (h *shooting) walk(net *network, periods int) float64 {
	away := math.Inf(1)
	for range periods {
		if p := net.sweep(&h.g, h.at, h.iron); p.end.finite() {
			by := p.end.minus(h.at)
			away = max(math.Abs(by.v1), math.Abs(by.v2)) / net.crest()
			h.at, h.iron = p.end, p.iron
		}
		h.period.shots++
	}
	return away
}

// pulseWidth is half the width of the estimated cycle's pulse, with some room: it
// begins where the sine passes the lowest volts on the reservoir.
func (s *Supply) pulseWidth(c *cycle) float64 {
	low := c.ht1 - 0.6*s.ripple(c)
	return 1.03*math.Acos(min(max(low/c.crest, 0), 1)) + 0.03
}

// take makes the estimated cycle that of the period, at the ohms of src.
func (p *period) take(guess cycle, src source) {
	p.cycle, p.src = guess, src
	p.ht1, p.x, p.amps = p.mean1, p.mean2, p.current
	p.primary, p.set, p.behind = math.Sqrt(p.mains.amps), math.Sqrt(p.mains.set), math.Sqrt(p.mains.behind)
	p.input = p.mains.watts
}
