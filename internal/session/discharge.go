package session

import (
	"fmt"
	"math"
	"time"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// dischargeRows tell the wait and the tool.
func (s *Session) dischargeRows() []Row {
	t, path := s.discharge()
	return []Row{
		{"Read", "HT1 now; hands out " + inSeconds(t) + " (" + path + "); HT1 again"},
		{"Tool", fmt.Sprintf("%s clipped to HT negative, one hand: HT1 %s, HT2 %[2]s. Always", s.plan.Bench.Tool, inSeconds(s.toolTime()))},
	}
}

// discharge is how long the bleeder takes from the highest HT there can be to
// the published no-danger volts, and by what path. Without a known path the wait
// is no shorter than the one for the rebound.
func (s *Session) discharge() (t time.Duration, path string) {
	set := s.plan.Set
	if set.Bleed == nil || set.Bleed.Resistance == nil || set.Reservoir.Capacitance == nil || set.Second.Capacitance == nil {
		return seconds("rebound-wait"), "no known discharge path: the tool does it"
	}
	decay := circuit.Decay(s.htBound(), unit.Volt(volts("still-charged")), *set.Bleed.Resistance, *set.Reservoir.Capacitance+*set.Second.Capacitance)
	return duration(decay), fmt.Sprintf("%s to 60 V through %s", s.htText(), set.Bleed.Resistance)
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
