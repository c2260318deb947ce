package checks

import (
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// rampChecks are read at the steps, and again on full mains with the same
// leads. What a step can tell depends on whether the cathodes emit.
func rampChecks() []Check {
	return []Check{
		{
			ID: "ht-reservoir", Title: "HT1 at the reservoir", Short: "HT1", Crit: engine.G, Supply: engine.Raised,
			Kind: unit.KindVolt, Function: sheet.DCVolts,
			Red: "HT1: reservoir +", Black: "chassis clip",
			Method:  "Clipped on dead and left there. A cool rectifier gives nothing on low steps, then HT comes at one go: 0 V is no proof of dead.",
			Meaning: "low: leak, short or output valve without bias; high: valves not conducting, wrong tap or silicon for the rectifier",
			Danger:  limits.Both,
			Causes: []string{
				"cathodes still warming: read again after three minutes",
				"mains moved between set volts and HT: read both again together",
			},
			Follows:  []string{"stamped-volts"},
			Cautions: htCautions, Void: voidHT, Life: engine.Lasting, Path: "ht", Rule: htReservoirRule,
		},
		{
			ID: "ht-smoothed", Title: "HT2 after smoothing", Short: "HT2", Crit: engine.G, Supply: engine.Raised,
			Kind: unit.KindVolt, Function: sheet.DCVolts,
			Red: "HT2: second capacitor +", Black: "chassis clip",
			Method:  "Clipped on dead. HT1 right and HT2 wrong: smoothing or what hangs on HT2.",
			Meaning: "low: leak after the smoothing or its resistor gone high; high: small valves not drawing",
			Danger:  limits.Both,
			Causes: []string{
				"a small valve dead or still cold: heater glow, then its cathode volts",
				"mains moved between set volts and HT: read both again together",
			},
			Cautions: htCautions, Void: voidHT, Life: engine.Lasting, Path: "ht", Rule: htSmoothedRule,
		},
		{
			ID: "output-grid", Title: "Grid of the output valve {item}", Short: "grid", Crit: engine.G, Supply: engine.Raised,
			Kind: unit.KindVolt, Function: sheet.DCVolts, Range: "lowest d.c. range; 10 MΩ input",
			Red: "{item} control grid pin", Black: "chassis clip",
			Method:  "Clipped on dead. A meter of 10 MΩ, or it loads the grid leak. Watch it: a leak shows over minutes.",
			Meaning: "positive: coupling capacitor leaking, or the valve gassy; well negative: oscillation or the wrong pin",
			Danger:  limits.High,
			Causes: []string{
				"meter loads the grid: read with 10 MΩ or more",
				"signal on the grid: volume down and read again",
			},
			Follows:  []string{"grid-leak"},
			Cautions: htCautions, Void: voidStage + "p", Life: engine.Lasting, Path: "output-stage", Items: outputOnce, Rule: outputGridRule,
		},
		{
			ID: "output-cathode", Title: "Cathode of the output valve {item}", Short: "cathode", Crit: engine.G, Supply: engine.Raised,
			Kind: unit.KindVolt, Function: sheet.DCVolts,
			Red: "{item} cathode pin", Black: "chassis clip",
			Method:  "Clipped on dead. Near 0 V is not \"no current\": a shorted bypass hides twice the current.",
			Meaning: "low: resistor or bypass shorted or leaky; high: grid positive or resistor open",
			Danger:  limits.Both,
			Causes: []string{
				"valve tired: volts across the output transformer low as well",
				"cathode resistor off its value: its ohms, dead",
			},
			Cautions: htCautions, Void: voidStage + "p", Life: engine.Lasting, Path: "output-stage", Items: outputOnce, Rule: outputCathodeRule,
		},
		{
			ID: "opt-volts", Title: "Volts across the output transformer", Short: "OPT", Crit: engine.G, Supply: engine.Raised,
			Kind: unit.KindVolt, Function: sheet.DCVolts,
			Red: "HT1 end of the output transformer", Black: "{item} anode",
			Method:  "Both clips fixed dead, meter floating at HT: do not touch it. The second route to the anode current.",
			Meaning: "high: over-current, or reading the whole HT an open primary; low: cut-off, or primary shorted",
			Danger:  limits.Both,
			Causes: []string{
				"valve tired: cathode volts low as well",
				"winding ohms off the sheet: its ohms, dead",
			},
			Cautions: htCautions, Void: voidStage, Life: engine.Lasting, Path: "output-stage", Items: outputOnce, Rule: optVoltsRule,
		},
		{
			ID: "screen-drop", Title: "Volts over the screen resistor of {item}", Short: "screen", Crit: engine.E, Supply: engine.Full,
			Kind: unit.KindVolt, Function: sheet.DCVolts,
			Red: "HT2 end of the screen resistor", Black: "{item} screen pin",
			Method:  "Both clips fixed dead, meter floating at HT: do not touch it.",
			Meaning: "high: the screen carries the current, anode feed open; low: resistor or screen short",
			Danger:  limits.High,
			Causes: []string{
				"resistor gone high: its ohms, dead",
				"valve tired: cathode volts low as well",
			},
			Cautions: htCautions, Void: voidStage, Life: engine.Lasting, Path: "output-stage", Items: outputOnce, Rule: screenDropRule,
		},
	}
}

// absoluteHT are the lines that hold whatever the circuit says: HT is positive,
// and never above what the capacitors stand. A rating may be passed for less
// than half a minute (common practice, no source); what was read and typed has
// stood longer.
func absoluteHT(c Case) (pass, stop Interval, sum string) {
	zero, b := limits.BandOf("ht-reservoir.zero"), limits.BandOf("ht-reservoir.rating")
	pass, stop = Interval{zero.PassLo, zero.PassHi}, Interval{zero.QueryLo, zero.QueryHi}
	if c.Meter != nil && c.Meter.Kind == sheet.MovingCoil {
		pass.Lo = stop.Lo // its needle rests no nearer to zero
	}
	rating := c.lowestRating()
	if !(rating > 0) {
		return pass, stop, "no capacitor rating on the sheet"
	}
	pass.Hi, stop.Hi = float64(rating)*b.PassHi, float64(rating)*b.QueryHi
	return pass, stop, fmt.Sprintf("capacitors %v: stop over %s", rating, volts(stop.Hi))
}

// lowestRating is the least rating of the two electrolytics, 0 when none is
// known.
func (c Case) lowestRating() unit.Volt {
	var least unit.Volt
	take := func(r unit.Volt) {
		if r > 0 && (least == 0 || r < least) {
			least = r
		}
	}
	for _, r := range []*unit.Volt{c.Set.Reservoir.Rating, c.Set.Second.Rating} {
		if r != nil {
			take(*r)
		}
	}
	for _, item := range []string{"reservoir", "second"} {
		if x, ok := c.taken("stamped-volts", item); ok {
			take(unit.Volt(x))
		}
	}
	return least
}

func htReservoirRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	d, err := s.ht1(c)
	if err != nil {
		return Window{}, err
	}
	return s.htWindow(c, d, printedHT1)
}

// htWindow ends an HT window with the absolute lines and what the service
// sheet prints.
func (s solved) htWindow(c Case, d draft, printed int) (Window, error) {
	pass, stop, words := absoluteHT(c)
	d = d.within(pass, stop)
	d.sum += "; " + words
	d, err := s.second(c, d, printed)
	if err != nil {
		return Window{}, err
	}
	return s.window(d, stop)
}

// ht1 is the window of HT1. Below 85 % of the tap it may lie anywhere between
// the hot and the cold figure; only a two-sided step gives it a low side, and
// HT far below with the lamp too bright is an overload at any step.
func (s solved) ht1(c Case) (draft, error) {
	full, err := c.emitting(s.set)
	if err != nil {
		return draft{}, err
	}
	if full {
		return s.twoSided("ht-reservoir", s.HT1, s.Err), nil
	}
	step, cold := limits.BandOf("ht-reservoir.step"), limits.BandOf("ht-reservoir.cold")
	d := draft{
		kind: unit.KindVolt, danger: limits.High, source: step.Cite(),
		pass:  Interval{unbounded.Lo, float64(s.Cold) * cold.PassHi},
		query: Interval{unbounded.Lo, float64(s.Cold) * cold.QueryHi},
	}
	if c.TwoSided || c.Settled {
		d.pass.Hi = min(d.pass.Hi, s.HT1.X*step.PassHi)
	}
	if c.TwoSided {
		d.pass.Lo = s.HT1.X * step.PassLo
	}
	d.sum = fmt.Sprintf("%s, %s with cold valves; stop over %s the cold figure",
		s.at(s.HT1.X), volts(float64(s.Cold)), times(cold.QueryHi))
	if !c.TwoSided {
		d.sum += "; one-sided step: no low side"
	}
	if over, err := s.lampBeyond(c); err != nil {
		return draft{}, err
	} else if over && c.Settled {
		d.query.Lo = s.HT1.X * step.QueryLo
		d.sum += fmt.Sprintf("; the lamp is beyond its pass line: stop under %s", times(step.QueryLo))
	}
	d = d.widened(s.Err)
	d.sum += fmt.Sprintf("; lines %s wider for the formula", percent(s.Err))
	return d, nil
}

// lampBeyond tells whether the lamp was read above its pass line at this step.
func (s solved) lampBeyond(c Case) (bool, error) {
	read, ok := c.reading("lamp")
	if !ok || c.Lamp == nil {
		return false, nil
	}
	w, err := lampVoltsRule(c)
	return err == nil && !(read <= w.Pass.Hi), err
}

// htSmoothedRule: HT2 has lines of its own once the cathodes emit; below that
// it may not pass where HT1 could not.
func htSmoothedRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	full, err := c.emitting(s.set)
	if err != nil {
		return Window{}, err
	}
	d := s.twoSided("ht-smoothed", s.HT2, s.Err)
	if !full {
		if d, err = s.ht1(c); err != nil {
			return Window{}, err
		}
		d.pass.Lo, d.query, d.danger = unbounded.Lo, unbounded, limits.Neither
		d.sum = fmt.Sprintf("%s; pass: up to the pass line of HT1, %s; more is a query", s.at(s.HT2.X), volts(d.pass.Hi))
	}
	return s.htWindow(c, d, printedHT2)
}

// outputGridRule: plain values; cathode bias has the grid at chassis. The
// lines are those of a meter of 10 MΩ; one that loads the grid leak more hides
// volts there, and its lines are what it shows of them.
func outputGridRule(c Case) (Window, error) {
	set, err := setVolts(c)
	if err != nil {
		return Window{}, err
	}
	full, err := c.emitting(set)
	if err != nil {
		return Window{}, err
	}
	id := "output-grid"
	if full {
		id = "output-grid.full"
	}
	d := drafted(id, unit.KindVolt, 1, "the grid leak holds the grid at chassis")
	return d.loadedBeyond(c, d.query.Hi, c.gridSource()).window()
}

// outputCathodeRule: two-sided once the cathodes emit. Nearly no volts with
// volts across the output transformer is a short at any step.
func outputCathodeRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	full, err := c.emitting(s.set)
	if err != nil {
		return Window{}, err
	}
	d := s.twoSided("output-cathode", s.Cathode, s.Err)
	if low := d.query.Lo; !full {
		d = s.upper("output-cathode", s.Cathode, s.Err)
		if c.TwoSided {
			d.pass.Lo = low
			d.sum += fmt.Sprintf("; under %s a query", volts(low))
		}
	}
	d = d.loaded(c, s.Cathode.X, cathodeSource(c.Model.Output, s.Point.CathodeCurrent))
	stop := unbounded
	if opt, ok := c.reading("opt-volts"); ok && opt > number("opt-present") {
		b := limits.BandOf("output-cathode.short")
		stop.Lo = b.QueryLo
		d = d.within(stop, stop)
		d.sum += fmt.Sprintf("; %s across the output transformer: stop under %s", volts(opt), volts(stop.Lo))
	}
	if d, err = s.second(c, d, printedCathode); err != nil {
		return Window{}, err
	}
	return s.window(d, stop)
}

// optVoltsRule: the anode current's own route. An open primary reads the whole
// HT; nearly no cathode volts make any reading here a short.
func optVoltsRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	full, err := c.emitting(s.set)
	if err != nil {
		return Window{}, err
	}
	var d draft
	switch {
	case full && s.known:
		d = s.twoSided("opt-volts", s.OPT, s.Err)
	case full:
		d = s.twoSided("opt-volts.all", s.OPT, s.Err)
	case s.known:
		d = s.upper("opt-volts", s.OPT, s.Err)
	default:
		d = s.upper("opt-volts.step", s.OPT, s.Err)
	}
	d = d.loaded(c, s.OPT.X, c.Model.Output.AnodeR)
	stop := Interval{unbounded.Lo, s.HT1.X * limits.BandOf("opt-volts.open").QueryHi}
	if vk, ok := c.reading("output-cathode"); ok && vk < number("cathode-absent") {
		stop.Hi = number("opt-present")
		d = d.within(stop, stop)
		d.sum += fmt.Sprintf("; cathode read %s: stop over %s", volts(vk), volts(stop.Hi))
	}
	return s.window(d, stop)
}

func screenDropRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	d := s.twoSided("screen-drop", s.ScreenDrop, s.Err).loaded(c, s.ScreenDrop.X, c.Model.Output.ScreenR)
	return s.window(d, unbounded)
}
