package console

import (
	"strconv"

	"example.com/powerup/internal/session"
)

// rampDocument is the table of the ramp for programs.
type rampDocument struct {
	TwoSidedFrom float64        `json:"two-sided-from-percent"`
	Rating       float64        `json:"capacitor-rating-volts,omitempty"`
	Unknown      []string       `json:"not-computed"`
	Steps        []stepDocument `json:"steps"`
}

// stepDocument is one step. The window of HT1 has the lines that judge; least is
// left out where it has no low side.
type stepDocument struct {
	Step     float64  `json:"step-percent"`
	Set      float64  `json:"set-volts"`
	LampIn   bool     `json:"lamp-in"`
	TwoSided bool     `json:"two-sided"`
	Primary  float64  `json:"mains-amperes"`
	Lamp     float64  `json:"lamp-volts"`
	HT1      float64  `json:"ht1-volts"`
	Least    *float64 `json:"ht1-least-volts,omitempty"`
	Most     float64  `json:"ht1-most-volts"`
	Cold     float64  `json:"ht1-valves-cold-volts"`
	HT2      float64  `json:"ht2-volts"`
	Ripple   float64  `json:"ripple-as-shown-volts"`
	PeakPeak float64  `json:"ripple-peak-to-peak-volts"`
}

func rampOf(r session.Ramp) rampDocument {
	d := rampDocument{TwoSidedFrom: float64(r.TwoSidedFrom), Rating: float64(r.Rating), Unknown: some(r.Unknown), Steps: []stepDocument{}}
	for _, s := range r.Steps {
		d.Steps = append(d.Steps, stepOf(s))
	}
	return d
}

func stepOf(s session.RampStep) stepDocument {
	f := s.Figures
	d := stepDocument{
		Step: float64(s.Rung), Set: six(f.Set.X), LampIn: s.Lamp != nil, TwoSided: s.TwoSided,
		Primary: six(f.Primary.X), Lamp: six(f.Lamp.X),
		HT1: six(f.HT1.X), Most: s.HT1.Pass.Hi, Cold: six(float64(f.Cold)), HT2: six(f.HT2.X),
		Ripple: six(float64(f.Shown)), PeakPeak: six(f.Ripple.X),
	}
	if s.TwoSided {
		d.Least = &s.HT1.Pass.Lo
	}
	return d
}

// six rounds to six significant digits: the last ones of a float64 differ between
// machines, and mean nothing.
func six(x float64) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 6, 64), 64) // written by FormatFloat
	return y
}
