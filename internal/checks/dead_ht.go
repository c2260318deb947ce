package checks

import (
	"errors"
	"fmt"
	"math"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// lineChecks are ohms of the whole HT line.
func lineChecks() []Check {
	line := Check{
		ID: "ht-line", Title: "HT line to chassis", Short: "120 s",
		Crit: engine.G, Supply: engine.Dead, Life: engine.Day,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "2 MΩ range", Danger: limits.Low,
		Red: "HT1, reservoir +", Black: "chassis, clipped",
		Method:  "Two minutes on, nothing touched. The meter charges the line: it kicks and climbs. On many moving-coil meters the black lead is + on ohms. Discharge after.",
		Meaning: "low or falling: something loads HT, and it will smoke at volts. High or OL: the bleed path is open, and HT stays up for minutes",
		Causes: []string{
			"new electrolytics still forming: a reading a minute later, higher, shows it",
			"a path drawn wrong or added: its own ohms, one leg free, show it",
			"the bleed path gone high: the tool is used always, and the fall of HT after switching off shows it",
		},
		Cautions: []string{"stored-charge"},
		Void:     voidSolder, Path: "ht", Charges: nil,
		Takes:   60,
		Follows: []string{"ht-line-60"},
		Rule:    lineRule,
	}
	kick := line
	kick.ID, kick.Title, kick.Short, kick.Rule = "ht-line-kick", "HT line to chassis, at once", "kick", kickRule
	kick.Takes = 0
	kick.Method = "Lead on HT1, the first figure that can be read. It starts low and climbs: that is the capacitors charging."
	kick.Meaning = "no kick: the reservoir is dried up or not connected"
	kick.Causes = []string{
		"read too late: discharge, and read again at once",
		"a meter slow to range: fix the range by hand and read again",
	}
	minute := line
	minute.ID, minute.Title, minute.Short, minute.Rule = "ht-line-60", "HT line to chassis, after a minute", "60 s", minuteRule
	minute.Method = "The same leads, untouched, one minute on."
	for _, c := range []*Check{&kick, &minute} {
		c.Crit, c.Life, c.Danger, c.Path, c.Follows = engine.E, engine.Lasting, limits.Neither, "", nil
	}
	return []Check{kick, minute, line, dischargePath()}
}

// lineRule judges the settled line against the drawn path. Two readings a
// minute apart agree; one that falls is a leak that grows.
func lineRule(c Case) (Window, error) {
	p := htPath(c.Set)
	d := drafted("ht-line", unit.KindOhm, p.ohms, p.sum)
	switch {
	case !p.known:
		d = drafted("ht-line.typical", unit.KindOhm, 1, p.sum).guess("no bleed path")
	case p.none:
		d = drafted("ht-line.open", unit.KindOhm, 1, p.sum)
	}
	first, ok := c.taken("ht-line-60", "")
	if !ok {
		return d.window()
	}
	// Both are one meter's: the relation is between what it showed.
	b, u := limits.BandOf("ht-line.settled"), c.errorAt(sheet.OhmsF, first)
	settled := Interval{b.PassLo*first - u, b.PassHi*first + u}
	if p.none { // a line without a path climbs for as long as the meter charges it
		settled.Hi = math.Inf(1)
	}
	d = d.within(settled, Interval{b.QueryLo*first - u, b.QueryHi})
	d.sum += fmt.Sprintf("; %s at one minute: settled within %.4g %%, falling is a stop", ohms(first), (1-b.PassLo)*100)
	return d.window()
}

// kickRule looks for the line to start low.
func kickRule(c Case) (Window, error) {
	p := htPath(c.Set)
	if p.none {
		return drafted("ht-line-kick.open", unit.KindOhm, 1, p.sum).window()
	}
	return drafted("ht-line-kick", unit.KindOhm, p.ohms, p.sum).window()
}

// minuteRule takes how far the line has come by then: R (1 - exp(-t/RC)).
func minuteRule(c Case) (Window, error) {
	p := htPath(c.Set)
	if p.none {
		return drafted("ht-line-60.open", unit.KindOhm, 1, p.sum).window()
	}
	nominal := p.ohms
	if farads, _, ok := c.lineCapacitance(); ok {
		rc := p.ohms * farads
		nominal *= 1 - math.Exp(-number("settled-apart")/rc)
		p.sum = fmt.Sprintf("%s, %s by one minute, settled after %s", p.sum, ohms(nominal), unit.Round(unit.Quantity{Kind: unit.KindSecond, Value: number("settled-constants") * rc}, 2))
	}
	return drafted("ht-line-60", unit.KindOhm, nominal, p.sum).window()
}

func dischargePath() Check {
	return Check{
		ID: "discharge-path", Title: "HT falls to 60 V by itself in", Short: "falls in",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting, Answer: Derived,
		Kind: unit.KindSecond, Danger: limits.Neither,
		Method:  "Follows from the line's ohms and its capacitors. The tool is used always, whatever this says.",
		Meaning: "the bleed path is open or was never there: cold valves leave HT up for minutes",
		Causes: []string{
			"no bleed path by design: the proof of dead with the tool shows each capacitor",
			"a line still climbing when it was read: its ohms a minute later show it",
		},
		Cautions: []string{"stored-charge"},
		Void:     voidSolder,
		Inputs:   []string{"ht-line"}, Derive: dischargeTime,
		Rule: func(c Case) (Window, error) {
			d := drafted("discharge-path", unit.KindSecond, 1, "R C ln(no-load HT / 60 V)")
			if _, guessed, _ := c.lineCapacitance(); guessed {
				d = d.guess("capacitances of the HT line")
			}
			return d.window()
		},
	}
}

// dischargeTime is R C ln(V/60 V) from the no-load HT at top mains.
func dischargeTime(c Case) (unit.Quantity, error) {
	r, ok := c.taken("ht-line", "")
	farads, _, known := c.lineCapacitance()
	likely, _, _, err := c.noLoad()
	switch {
	case err != nil:
		return unit.Quantity{}, err
	case !ok || !known:
		return unit.Quantity{}, fmt.Errorf("%w: ohms of the HT line, or its capacitances", ErrNoData)
	}
	t := r * farads * math.Log(max(likely/number("no-danger-dc"), 1))
	return unit.Quantity{Kind: unit.KindSecond, Value: t}, nil
}

// leakChecks put volts on the HT line.
func leakChecks() []Check {
	leak := Check{
		ID: "ht-leak", Title: "HT line at 250 V, after two minutes", Short: "250V 120",
		Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindAmpere, Function: sheet.Leakage, Range: "250 V", Danger: limits.High,
		Red: "HT1, reservoir +", Black: "chassis, clipped",
		Method:  "Rectifier out, all legs closed, no capacitor rated below the test. Hands off. Ohms at half a volt prove no capacitor. Then the tool on HT1 and HT2, and prove them dead.",
		Meaning: "a capacitor, the output transformer or a tag leaks at volts: it heats, and ends shorted",
		Causes: []string{
			"a bleed path high or open: its own ohms show it",
			"capacitors long unused: a second test after re-forming, lower, shows it",
			"a damp tag board: dried gently, the same test again shows it",
		},
		Cautions: []string{"insulation-test", "stored-charge"},
		Void:     "hop", Path: "ht", Charges: []sheet.Node{sheet.HT1, sheet.HT2},
		Takes:   60,
		Follows: []string{"ht-leak-60"},
		Rule:    leakRule,
	}
	first := leak
	first.ID, first.Title, first.Short = "ht-leak-60", "HT line at 250 V, after one minute", "250V 60"
	first.Crit, first.Danger, first.Path = engine.E, limits.Neither, ""
	first.Method = "The same leads, untouched, one minute on. Forming makes it fall from here."
	first.Follows = nil
	first.Rule = func(c Case) (Window, error) {
		d, err := c.leakDraft("ht-leak-60")
		if err != nil {
			return Window{}, err
		}
		return d.window()
	}
	return []Check{first, leak}
}

// leakRule judges the settled current, which must not rise.
func leakRule(c Case) (Window, error) {
	d, err := c.leakDraft("ht-leak")
	if err != nil {
		return Window{}, err
	}
	if first, ok := c.taken("ht-leak-60", ""); ok {
		b, u := limits.BandOf("ht-leak.rise"), c.errorAt(sheet.Leakage, first)
		d = d.within(Interval{b.PassLo, b.PassHi*first + u}, Interval{b.QueryLo, b.QueryHi*first + u})
		d.sum += fmt.Sprintf("; %s at one minute: rising is a stop", amount(unit.KindAmpere, first))
	}
	return d.window()
}

// leakDraft is the current of the drawn path at the test's volts, and for old
// capacitors or without a path what such capacitors may leak on top.
func (c Case) leakDraft(id string) (draft, error) {
	v, series, err := c.leakSource()
	if err != nil {
		return draft{}, err
	}
	if r := c.lowestRating(); r > 0 && v > r {
		return draft{}, fmt.Errorf("INV-34: a capacitor of the HT line stands %v, and the test puts %v on it\nhint: fit one of the right rating, or test at less", r, v)
	}
	p := htPath(c.Set)
	path, sum := 0.0, p.sum
	if !p.none {
		path = float64(v) / (p.ohms + series)
		sum = fmt.Sprintf("%v through %s = %s", v, ohms(p.ohms+series), amount(unit.KindAmpere, path))
	}
	if err := c.leakFits(path); err != nil {
		return draft{}, err
	}
	if !p.none && c.renewed() {
		return drafted(id, unit.KindAmpere, path, sum), nil
	}
	farads, guessed, ok := c.lineCapacitance()
	if !ok {
		return draft{}, fmt.Errorf("%w: the capacitances of the HT line\nhint: reservoir and second on the set sheet", ErrNoData)
	}
	old := float64(limits.OldLeak(unit.Farad(farads), v))
	d := drafted(id+".old", unit.KindAmpere, old, "")
	d.pass.Hi, d.query.Hi = d.pass.Hi+path, d.query.Hi+path
	if path > 0 {
		d.pass.Lo = limits.BandOf("ht-leak").PassLo * path
	}
	if !p.known || guessed {
		d.query, d.danger = unbounded, limits.Neither
		d = d.guess("capacitances of the HT line, or no bleed path")
	}
	d.sum = fmt.Sprintf("%s; old %s may leak %s on top; %s", sum, amount(unit.KindFarad, farads), amount(unit.KindAmpere, old), d.inUnits())
	return d, nil
}

// leakSource is what the line is tested from: the tester's volts, or a supply
// through its resistor where the bench has one.
func (c Case) leakSource() (v unit.Volt, series float64, err error) {
	if b := c.Bench; b != nil && b.Loop != nil {
		if !(float64(b.Loop.Volts) >= number("loop-supply-volts")) {
			return 0, 0, fmt.Errorf("%w: a supply of %v\nhint: at least %s, through %s", ErrUnfitLeak, b.Loop.Volts,
				volts(number("loop-supply-volts")), ohms(number("loop-supply-series")))
		}
		return b.Loop.Volts, float64(b.Loop.Series), nil
	}
	return unit.Volt(number("leak-volts")), 0, nil
}

// ErrUnfitLeak is in the chain when the bench's instrument cannot prove the HT
// line at volts. The record then says so, and the first step that shows HT is
// held.
var ErrUnfitLeak = errors.New("the instrument does not prove the HT line at volts")

// leakFits refuses a tester that is too coarse or too weak for the path.
func (c Case) leakFits(path float64) error {
	if c.Meter == nil || c.Bench != nil && c.Bench.Loop != nil {
		return nil
	}
	s, ok := c.Meter.SpanAt(sheet.Leakage, unit.Volt(number("leak-volts")))
	switch {
	case !ok:
		return fmt.Errorf("%w: %s reads no current at %s", ErrUnfitLeak, c.Meter.Name, volts(number("leak-volts")))
	case !(float64(s.Percent) <= number("leak-tester-error")):
		return fmt.Errorf("%w: %s errs by %v", ErrUnfitLeak, c.Meter.Name, s.Percent)
	case s.MinCurrent == nil || !(float64(*s.MinCurrent) >= number("leak-tester-current")):
		return fmt.Errorf("%w: %s does not say that it gives %s", ErrUnfitLeak, c.Meter.Name, amount(unit.KindAmpere, number("leak-tester-current")))
	case !(path <= number("leak-path-share")*float64(*s.MinCurrent)):
		return fmt.Errorf("%w: the path alone takes %s of its %v", ErrUnfitLeak, amount(unit.KindAmpere, path), *s.MinCurrent)
	}
	return nil
}
