package circuit

import "math"

// Steps of half a mains cycle: inside the rectifier's pulse, and on each side
// of it.
const (
	pulseSteps = 96
	quietSteps = 24
	halfSteps  = pulseSteps + 2*quietSteps
)

// grid is the instants of a sweep as angles from the crest of the first
// half-cycle, with their cosines and sines. It is close where the rectifier
// conducts and wide where the reservoir gives alone.
type grid struct {
	n            int                      // steps; instants are one more
	half, of     int                      // steps of a half-cycle, half-cycles
	angle        [2*halfSteps + 1]float64 // from the crest of the half-cycle
	cosine, sine [2*halfSteps + 1]float64 // of the same angle
	step         [2 * halfSteps]float64   // to the next instant
}

// lay makes the grid for so many half-cycles, with pulses of the given half
// width.
func (g *grid) lay(halves int, pulse float64) {
	pulses, quiet := pulseSteps, quietSteps
	if pulse = max(pulse, 0.05); pulse > math.Pi/2-0.02 {
		pulse, pulses, quiet = math.Pi/2, halfSteps, 0
	}
	g.n, g.of, g.half = 0, halves, halfSteps
	for range halves {
		g.run(-math.Pi/2, -pulse, quiet)
		g.run(-pulse, pulse, pulses)
		g.run(pulse, math.Pi/2, quiet)
	}
	g.put(g.n, -math.Pi/2)
}

func (g *grid) run(from, to float64, steps int) {
	h := (to - from) / float64(steps)
	for k := range steps {
		g.put(g.n, from+h*float64(k))
		g.step[g.n] = h
		g.n++
	}
}

func (g *grid) put(k int, angle float64) {
	g.angle[k] = angle
	g.sine[k], g.cosine[k] = math.Sincos(angle)
}

// weight is that of instant k in a mean, by the trapezoid.
func (g *grid) weight(k int) float64 {
	w := 0.0
	if k > 0 {
		w += g.step[k-1] / 2
	}
	if k < g.n {
		w += g.step[k] / 2
	}
	return w
}
