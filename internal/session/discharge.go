package session

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// dischargeRows tell the wait and the tool.
func (s *Session) dischargeRows() []Row {
	t, path := s.discharge()
	held := circuit.Energy(s.plan.Model.Reservoir+s.plan.Model.Second, s.htBound())
	return []Row{
		{"Read", "HT1 now; hands out " + inSeconds(t) + " (" + path + "); HT1 again"},
		{"Holds", fmt.Sprintf("up to %.1f J; %.2g J of a discharge harms nobody", float64(held), volts("harmless-energy"))},
		{"Tool", fmt.Sprintf("%s clipped to HT negative, one hand: HT1 %s, HT2 %[2]s. Always", s.plan.Bench.Tool, inSeconds(s.toolTime()))},
	}
}

// bleedPath is the resistance and the capacitance by which the HT line falls by
// itself; ok only when the sheet gives all of it. The section that lies beyond
// the smoothing falls through that too, so that its ohms count for both.
func (s *Session) bleedPath() (r unit.Ohm, c unit.Farad, ok bool) {
	set := s.plan.Set
	if set.Bleed == nil || set.Bleed.Resistance == nil || set.Reservoir.Capacitance == nil || set.Second.Capacitance == nil {
		return 0, 0, false
	}
	return *set.Bleed.Resistance + s.plan.Model.Smoothing, *set.Reservoir.Capacitance + *set.Second.Capacitance, true
}

// discharge is how long the bleeder takes from the highest HT there can be to
// the published no-danger volts, and by what path. Without a known path the wait
// is no shorter than the one for the rebound.
func (s *Session) discharge() (t time.Duration, path string) {
	r, c, ok := s.bleedPath()
	if !ok {
		return seconds("rebound-wait"), "no known discharge path: the tool does it"
	}
	decay := circuit.Decay(s.htBound(), unit.Volt(volts("still-charged")), r, c)
	return duration(decay), fmt.Sprintf("%s to 60 V through %s", s.htText(), s.plan.Set.Bleed.Resistance)
}

// stillUp is the HT above which a line that stood at from has fallen too little
// in the wait t: the bleed path is doubted. Capacitors at the top of their
// tolerance fall more slowly than the sheet says, and are no fault.
func (s *Session) stillUp(from float64, t time.Duration) float64 {
	harmless := volts("still-charged")
	r, c, ok := s.bleedPath()
	if !ok {
		return harmless
	}
	return max(harmless, from*math.Exp(-t.Seconds()/(volts("decay-slow")*float64(r)*float64(c))))
}

// fallText tells how long the HT takes to fall until hands may go in: through
// the set's own hot valves, which hide an open bleeder, and through that alone.
func (s *Session) fallText() string {
	end := unit.Volt(volts("dead-volts"))
	var says []string
	if at, err := s.plan.Model.AtSet(s.plan.Model.Nominal, nil); err == nil {
		if t, err := s.plan.Model.HotDecay(at, end); err == nil && t > 0.05 { // no set falls faster
			says = append(says, fmt.Sprintf("with hot valves about %.1f s", float64(t)))
		}
	}
	if r, c, ok := s.bleedPath(); ok {
		says = append(says, "with cold ones "+inSeconds(duration(circuit.Decay(s.htBound(), end, r, c))))
	} else {
		says = append(says, "with cold ones it stays: no known discharge path")
	}
	return strings.Join(says, ", ")
}

// toolTime is how long the tool stays on from the highest HT there can be.
func (s *Session) toolTime() time.Duration {
	return duration(circuit.ToolTime(s.htBound(), s.plan.Bench.Tool, s.plan.Model.Reservoir+s.plan.Model.Second))
}

func duration(t unit.Second) time.Duration {
	return time.Duration(float64(t) * float64(time.Second))
}

func inSeconds(t time.Duration) string { return fmt.Sprintf("%.0f s", math.Ceil(t.Seconds())) }

func volts(id string) float64 { return limits.Lookup(id).Value.Value }
