package circuit

import (
	"fmt"
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// Joule is an energy.
type Joule float64

// Decay is the time a capacitor takes from v0 to v1 through r: R C ln(v0/v1).
// Without a path it is infinite; from v1 or below it is none.
func Decay(v0, v1 unit.Volt, r unit.Ohm, c unit.Farad) unit.Second {
	switch {
	case v0 <= v1:
		return 0
	case !(r > 0) || !(v1 > 0):
		return unit.Second(math.Inf(1))
	}
	return unit.Second(float64(r) * float64(c) * math.Log(float64(v0/v1)))
}

// Energy is what a capacitor holds at v: C V²/2.
func Energy(c unit.Farad, v unit.Volt) Joule { return Joule(float64(c) * float64(v) * float64(v) / 2) }

// ToolTime is how long the discharge tool stays on a capacitor that may stand at
// v0: until hands may go in, and never under the shortest use of the tool.
func ToolTime(v0 unit.Volt, tool unit.Ohm, c unit.Farad) unit.Second {
	end := unit.Volt(limits.Lookup("dead-volts").Value.Value)
	return max(unit.Second(limits.Lookup("tool-minimum").Value.Value), Decay(v0, end, tool, c))
}

// HotDecay is the time HT1 takes to fall to volts through the set's own hot
// valves after the plug is pulled at from. It hides an open bleeder.
func (s *Supply) HotDecay(from Point, to unit.Volt) (unit.Second, error) {
	const longest = 600.0
	if err := s.check(to, nil); err != nil {
		return 0, err
	}
	ohms, second := max(float64(s.Smoothing), 1), max(float64(s.Second), leastSecond)
	slope := func(v1, v2 float64) (float64, float64) {
		t := s.takes(v2, true)
		i := (v1 - v2) / ohms
		return -(i + t.anode + siemens(s.Leak)*v1) / float64(s.Reservoir), (i - t.rest) / second
	}
	step := min(5e-4, ohms/(1/float64(s.Reservoir)+1/second)) // no longer than the two take to level out
	v1, v2 := float64(from.HT1), float64(from.HT2)
	for k := range int(longest / step) {
		if !(v1 > float64(to)) {
			return unit.Second(float64(k) * step), nil
		}
		a1, a2 := slope(v1, v2)
		b1, b2 := slope(v1+a1*step/2, v2+a2*step/2) // midpoint
		v1, v2 = v1+b1*step, v2+b2*step
	}
	return 0, fmt.Errorf("%w: still above %s after %v s", ErrNoAnswer, to, longest)
}
