package checks

import (
	"fmt"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// fullChecks are made with whole mains on the set and no lamp.
func fullChecks() []Check {
	return []Check{
		{
			ID: "cold-start-peak", Title: "Highest HT1 of a cold start", Short: "peak HT1", Crit: engine.G, Supply: engine.Full,
			Kind: unit.KindVolt, Function: sheet.DCVolts,
			Red: "HT1: reservoir +", Black: "chassis clip",
			Method:  "Three minutes off, then on at full mains: watch HT1 climb and type the highest it showed. Off at once above the stop line.",
			Meaning: "more than the winding can give: wrong tap or wrong winding; or capacitors rated too low",
			Danger:  limits.High,
			Causes: []string{
				"mains rose meanwhile: read the set volts again",
				"meter overshoots while it changes range: fix its range and start again",
			},
			Follows:  []string{"stamped-volts"},
			Cautions: fullCautions, Void: voidHT, Life: engine.Lasting, Path: "ht", Rule: coldStartRule,
		},
		{
			ID: "ripple", Title: "Ripple at the reservoir, a.c. volts", Short: "ripple", Crit: engine.E, Supply: engine.Full,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "HT1: reservoir +", Black: "chassis clip",
			Method:  "Same clips, meter turned to a.c. volts on a range that stands the HT. It shows the ripple over 3.15. Then back to d.c. volts: on a.c. it proves nothing dead.",
			Meaning: "high: reservoir lost its capacitance, or one half of the winding is dead; low: little load, or too much capacitance",
			Danger:  limits.High,
			Causes: []string{
				"meter counts the d.c. too: read again with a capacitor in its lead",
				"reservoir at its low tolerance: its capacitance, dead, one leg free",
			},
			Cautions: fullCautions, Void: voidHT, Life: engine.Lasting, Path: "ht", Rule: rippleRule,
		},
		lettered("sound", "Sound", []Choice{
			{"g", "good", engine.Pass},
			{"w", "weak", engine.Query},
			{"n", "none", engine.Query},
		}, "Volume up slowly on a station or on the pick-up sockets, hands on the knobs only.",
			"a stage without signal: coil open, valve dead, wrong wave band",
			"no station there: another wave band", "no aerial: two metres of wire in its socket, put in with the plug out"),
		lettered("hum", "Hum", []Choice{
			{"l", "low: heard close to the loudspeaker only", engine.Pass},
			{"h", "high", engine.Query},
		}, "Volume down. Hum that stays comes from the HT, hum that follows the volume from a stage before.",
			"weak capacitor, heater-cathode leakage, or one half of the winding dead",
			"second capacitor weak: ripple at HT2", "loudspeaker without its hum coil: ripple at HT1 inside its window"),
		lettered("controls", "Controls", []Choice{
			{"g", "good", engine.Pass},
			{"c", "a control crackles", engine.Query},
			{"l", "a control, screw or spindle gives a tingle", engine.Stop},
		}, "Knobs on, one hand, one control after the other through its travel.",
			"a live part can be touched: insulation or isolation has failed",
			"dirty track: crackle goes with contact cleaner, plug out", "d.c. on the volume control: its coupling capacitor's insulation"),
	}
}

// lettered is a check by ear and hand on full mains.
func lettered(id, title string, choices []Choice, method, meaning string, causes ...string) Check {
	return Check{
		ID: id, Title: title, Short: id, Crit: engine.E, Supply: engine.Full, Answer: Letter, Choices: choices,
		Method: method, Meaning: meaning, Danger: limits.Both, Causes: causes,
		Cautions: fullCautions, Void: voidHT, Life: engine.Lasting, Path: id,
	}
}

// coldStartRule: never above what the winding gives without any load at these
// mains, nor above the lowest rating.
func coldStartRule(c Case) (Window, error) {
	if c.Model == nil {
		return Window{}, fmt.Errorf("%w: volts of the HT winding", ErrNoData)
	}
	set, err := setVolts(c)
	if err != nil {
		return Window{}, err
	}
	x := float64(c.Model.NoLoadHT(set))
	d := drafted("cold-start-peak", unit.KindVolt, x,
		fmt.Sprintf("no-load HT 1.414 x %s x %s / %v = %s", volts(float64(c.Model.Secondary)), volts(float64(set)), c.Model.Nominal, volts(x)))
	s := solved{set: set, typical: typicalParts(c, windingPart)}
	c.Lamp = nil // from cold at full mains the rating itself is the line
	pass, stop, words := absoluteHT(c)
	d = d.within(pass, stop)
	d.sum += "; " + words + warmUp(c.Set)
	return s.window(d, stop)
}

// warmUp says when a cold start shows HT, as the data of the rectifier has it.
func warmUp(s *sheet.Set) string {
	v, ok := limits.ValveOf(s.Rectifier)
	if !ok || v.Rectifier == nil {
		return "; no data of the rectifier: HT may come at once"
	}
	kind := "indirectly heated"
	if v.Rectifier.DirectlyHeated {
		kind = "directly heated, before the other valves draw"
	}
	return fmt.Sprintf("; HT comes after about %v (%s, %s); HT at once is no valve's", v.Rectifier.WarmUp, v.Type, kind)
}

// rippleRule: a.c. volts a meter shows of the computed ripple. Capacitors are
// seldom measured, so the corners are those of the sheet alone.
func rippleRule(c Case) (Window, error) {
	s, err := solveSpread(c, circuit.All)
	if err != nil {
		return Window{}, err
	}
	form := number("ripple-rms")
	b := circuit.Band{X: s.Ripple.X / form, Lo: s.Ripple.Lo / form, Hi: s.Ripple.Hi / form}
	full, err := c.emitting(s.set)
	if err != nil {
		return Window{}, err
	}
	d := s.twoSided("ripple", b, s.RippleErr)
	if !full {
		d = s.upper("ripple", b, s.RippleErr)
		d.pass.Lo = 0 // a.c. volts have no sign
	}
	d.sum = fmt.Sprintf("ripple %s peak to peak / %.4g; %s", volts(s.Ripple.X), form, d.sum)
	return s.window(d, unbounded)
}
