package checks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// energisedChecks are the checks made with mains on the set, in the order of
// the work.
func energisedChecks() []Check {
	return slices.Concat(supplyChecks(), transformerChecks(), heaterChecks(), rampChecks(), fullChecks(), extraLiveChecks(), soakChecks())
}

// Caution texts that stand with every reading of a stage.
var (
	mainsCautions = []string{"mains-on", "lamp-limiter"}
	htCautions    = []string{"mains-on", "high-voltage", "stored-charge", "lamp-limiter", "venting", "hot-parts"}
	fullCautions  = []string{"mains-on", "high-voltage", "stored-charge", "venting", "hot-parts"}
)

// Alterations that void what was read with mains on: the transformer or its
// tap; then the HT electrolytics and a valve too; then the parts of the output
// stage.
const (
	voidIron   = "xt"
	voidHeater = "xtv"
	voidHT     = "xthv"
	voidStage  = "xthvro"
)

// supplyChecks are read in every energised period.
func supplyChecks() []Check {
	return []Check{
		{
			ID: "set-volts", Title: "Mains volts at the set", Short: "set V", Crit: engine.E, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "lamp box outlet, live", Black: "lamp box outlet, neutral",
			Method:  "At the lamp box, on the set's side of the lamp. Every other window is computed at this reading.",
			Meaning: "wrong tap, mains outside its band, or the volts were turned too far",
			Danger:  limits.High,
			Causes: []string{
				"mains low or high today: read the wall outlet",
				"set not turned to the step yet: turn and read again",
			},
			Cautions: mainsCautions, Life: engine.Period, Path: "mains", Rule: setVoltsRule,
		},
		{
			ID: "lamp", Title: "Volts across the lamp, everything on", Short: "lamp V", Crit: engine.G, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "lamp, mains side", Black: "lamp, set side",
			Method:  "At the lamp box, across the lamp. Brightness is no reading: a dark lamp can carry the whole set.",
			Meaning: "something takes more than the set should: leak or short on HT, shorted turns, heater line, output valve without bias",
			Danger:  limits.High,
			Causes: []string{
				"cathodes still warming: read again after three minutes",
				"another lamp than the one named: read the label with the plug out",
			},
			Cautions: mainsCautions, Life: engine.Period, Path: "mains", Rule: lampVoltsRule,
		},
	}
}

// setVoltsRule is a look at sanity: the reading is what other windows are
// computed at, and no fault of the set shows in it. At a step it must be the
// step.
func setVoltsRule(c Case) (Window, error) {
	tap, err := c.tap()
	if err != nil {
		return Window{}, err
	}
	id := "set-volts"
	if c.Lamp != nil {
		id += ".lamp"
	}
	d := drafted(id, unit.KindVolt, float64(tap), fmt.Sprintf("tap %v", tap))
	if c.Rung > 0 && c.Rung < 100 { // the last step is today's mains, whatever that is
		at, off := float64(rungVolts(c, tap)), limits.BandOf("set-volts.rung")
		d.pass = Interval{at + off.PassLo/100*float64(tap), at + off.PassHi/100*float64(tap)}
		d.sum = fmt.Sprintf("%v step of %v = %s; reached within %g %% of the tap, stop over %g x the tap",
			c.Rung, tap, volts(at), off.PassHi, limits.BandOf(id).QueryHi)
	}
	return d.window()
}

// lampVoltsRule judges the lamp at the mains that stands before it. Pass is 1.06 of
// what a healthy set puts on the lamp there, or with the sheet alone the
// corner.
func lampVoltsRule(c Case) (Window, error) {
	if c.Lamp == nil {
		return Window{}, fmt.Errorf("%w: there is no lamp in series", ErrWindow)
	}
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	d := drafted("lamp", unit.KindVolt, 1, "")
	for _, line := range []*float64{&d.pass.Lo, &d.pass.Hi, &d.query.Hi} {
		if *line, err = c.lampAt(s.set, *line); err != nil {
			return Window{}, err
		}
	}
	if !s.known {
		d.pass.Hi = max(d.pass.Hi, s.Lamp.Hi)
	}
	wide := s.Err / number("lamp-exponent") // an error of the current counts so much in lamp volts
	d = d.widened(wide)
	d.sum = fmt.Sprintf("%s; at the mains before the lamp %s; lines %s wider for the formula",
		s.at(s.Lamp.X), bandWords(limits.BandOf("lamp")), percent(wide))
	if c.Set.DialLamps == nil { // a tenth of what the set draws, and nobody knows of them
		s.typical = also(s.typical, "dial lamps")
	}
	short := Interval{unbounded.Lo, limits.BandOf("lamp.short").QueryHi * float64(s.set)}
	return s.window(d, short)
}

// also adds to a list of what was taken from typical values.
func also(typical, part string) string { return strings.TrimPrefix(typical+", "+part, ", ") }

// solve is k times the volts a healthy set puts on the lamp at the mains that
// stands before lamp and set now. What the lamp takes more the set gets less,
// so that mains is the one at which a healthy set stands at s = set + (k-1) L(s),
// L its lamp volts. It is no higher than today's, or where that was not read
// than the highest there can be.
func (l lampLine) solve() (float64, error) {
	set, k := l.set, l.times
	top, err := l.model.AtMains(l.mains, &l.lamp)
	if err != nil {
		return 0, err
	}
	lo, hi := set/1000, set
	if k > 1 {
		if lo, hi = set, top.Set; !(float64(hi-set) > (k-1)*float64(top.Lamp)) {
			return k * float64(top.Lamp), nil
		}
	}
	s := set + unit.Volt(k-1)*top.Lamp
	for range 60 {
		if !(s > lo && s < hi) {
			s = (lo + hi) / 2
		}
		p, err := l.model.AtSet(s, &l.lamp)
		if err != nil {
			return 0, err
		}
		over := s - set - unit.Volt(k-1)*p.Lamp
		if math.Abs(float64(over)) <= 1e-4*float64(set) {
			return k * float64(p.Lamp), nil
		}
		if over > 0 {
			hi = s
		} else {
			lo = s
		}
		// The lamp's volts go about as the square of the set's.
		s -= over / (1 - 2*unit.Volt(k-1)*p.Lamp/s)
	}
	return 0, fmt.Errorf("%w: lamp volts at %g x", circuit.ErrNoAnswer, k)
}
