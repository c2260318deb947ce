package checks

import (
	"fmt"
	"math"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// lookAt is what looking at one side of a set takes beside the line: common practice,
// no source.
const lookAt unit.Second = 90

// lookingChecks are made with the plug out and the hands outside the set.
func lookingChecks() []Check {
	found := "The numbers of what you found, or none. Plug out, hands outside, a good light."
	return []Check{
		{
			ID: "found-mains", Title: "Found on the mains side", Short: "mains",
			Crit: engine.G, Life: engine.Lasting, Answer: Found, Choices: foundMains(),
			Method: found, Void: "m", Takes: lookAt,
			Meaning: "each of these can put mains on the chassis, or on whoever holds the flex. Cure it before anything else.",
			Causes: []string{
				"a part added on purpose and drawn now: the 500 V test shows it if it leaks",
				"traces that are dry and cleaned off: the warm insulation test shows what is left",
			},
			Cautions: []string{"plug-out", "flex-colours", "asbestos"},
		},
		{
			ID: "found-top", Title: "Found on top and outside", Short: "top",
			Crit: engine.E, Life: engine.Lasting, Answer: Found, Choices: foundTop(),
			Method: found, Takes: lookAt,
			Meaning: "a valve, a lamp or a plug that is not where the diagram has it changes every reading that follows.",
			Causes: []string{
				"rust that has not reached the winding: idle watts with the transformer alone show it",
				"a screen lost long ago: the function test shows hum or howl",
			},
			Cautions: []string{"glass", "asbestos", "radium"},
		},
		{
			ID: "found-under", Title: "Found under the chassis", Short: "under",
			Crit: engine.G, Life: engine.Lasting, Answer: Found, Choices: foundUnder(),
			Method: found, Void: "h", Takes: lookAt,
			Meaning: "parts and joints as they are now, not as they were meant to be, decide what happens with mains on.",
			Causes: []string{
				"a resistor discoloured by an old fault: its ohms, read dead, show it",
				"a paper capacitor that is still good: the 250 V test of the HT line shows it if it leaks",
				"the maker's own change: the readings agree with the changed part",
			},
			Cautions: []string{"plug-out", "stored-charge", "asbestos", "pcb"},
		},
		plugFuseMark(),
		setFuseMark(),
		stampedVolts(), markedOhms(),
		reservoirSize(),
	}
}

// listed numbers what can be found. A leading "?" makes a query, all else
// stops.
func listed(items ...string) []Choice {
	out := make([]Choice, len(items))
	for i, words := range items {
		c := Choice{Key: fmt.Sprint(i + 1), Words: words, Verdict: engine.Stop}
		if words[0] == '?' {
			c.Words, c.Verdict = words[1:], engine.Query
		}
		out[i] = c
	}
	return out
}

func foundMains() []Choice {
	return listed(
		"flex perished, frayed, cut or bare",
		"flex not clamped, or no grommet where it enters",
		"a strand, whisker or blob of solder near a mains tag",
		"wire or foil in place of a fuse, or an empty holder",
		"mains switch or its tags cracked, scorched or loose",
		"an old capacitor left across the mains, or from mains to chassis, aerial or earth",
		"tap plug loose, missing or not on the tap of the sheet",
		"insulation of mains wiring cracked or chewed",
		"line-cord resistor, coiled, cut or damaged",
		"?wet, mould or traces of rodents on mains parts",
		"?a part or a wire that the diagram does not show",
	)
}

func foundTop() []Choice {
	return listed(
		"a valve of another type than on the sheet, or in the wrong socket",
		"a valve turned in a side-contact holder",
		"glass cracked, or the getter gone white",
		"top cap off or loose",
		"dial lamp holder touching metal, or its tags each other",
		"loudspeaker, field coil or their plug out",
		"?a screening can missing or loose",
		"?rust on the core, or tar run out of a transformer",
		"?a bare spindle or grub screw within reach",
		"?back missing, drilled or broken",
		"?white or grey heat board",
	)
}

func foundUnder() []Choice {
	return listed(
		"an electrolytic the wrong way round",
		"a can on chassis that the diagram keeps off it, or the other way about",
		"an electrolytic bulged or wet",
		"a joint not soldered, a whisker, a splash or a clipping",
		"a clip, lead or jumper left on",
		"rubber wire cracked, or insulation coming off",
		"a wire pinched under a screw or a can",
		"?an old capacitor left in parallel with a new one",
		"?a resistor burnt or discoloured",
		"?a part of another value than the diagram's",
		"?a paper or wax capacitor not renewed",
		"?a part that the diagram does not show",
	)
}

func plugFuseMark() Check {
	return Check{
		ID: "plug-fuse-mark", Title: "Plug fuse, its marking", Short: "plugmark",
		Crit: engine.S, Life: engine.Lasting, Retest: true, Kind: unit.KindAmpere, Danger: limits.Both,
		Method:  "Take it out and read it. A marking nobody can read is a fuse to be thrown away.",
		Meaning: "a fuse too big does not blow: the flex and the transformer do.",
		Void:    "m", Path: "mains", Cautions: []string{"plug-out"},
		Items: func(s *sheet.Set) []string {
			if p, ok := limits.ProfileOf(s.Mains.Profile); ok && !p.PlugFuse {
				return nil
			}
			return []string{""}
		},
		Rule: plugFuseRule,
	}
}

func plugFuseRule(c Case) (Window, error) {
	if c.Set.Watts == nil {
		return Window{}, fmt.Errorf("%w: the set's watts, by which the fuse goes\nhint: watts on the set sheet", ErrNoData)
	}
	size, ok := c.Profile.PlugFuseFor(*c.Set.Watts)
	if !ok {
		return Window{}, fmt.Errorf("profile %s has no plug fuse for %v", c.Profile.ID, *c.Set.Watts)
	}
	d := drafted("plug-fuse-mark", unit.KindAmpere, float64(size), "")
	d.sum = fmt.Sprintf("set of %v: %v or less; one size above is a query, none is a stop", *c.Set.Watts, size)
	return d.window()
}

func setFuseMark() Check {
	return Check{
		ID: "set-fuse-mark", Title: "Fuse in the set, its marking", Short: "setmark",
		Crit: engine.S, Life: engine.Lasting, Retest: true, Kind: unit.KindAmpere, Danger: limits.High,
		Method:  "Take it out and read it. No fuse in the set and none meant to be: type 0.",
		Meaning: "a fuse too big does not blow, and where the plug has none nothing else will.",
		Void:    "m", Path: "mains", Cautions: []string{"plug-out"},
		Items: once,
		Rule:  setFuseRule,
	}
}

// setFuseRule takes the next fuse at or above the rated current with its
// margin; one size above is a query, which class S does not accept. None at all
// is right only where the plug has one.
func setFuseRule(c Case) (Window, error) {
	if c.Set.Watts == nil {
		return Window{}, fmt.Errorf("%w: the set's watts, by which the fuse goes\nhint: watts on the set sheet", ErrNoData)
	}
	tap, err := c.tap()
	if err != nil {
		return Window{}, err
	}
	rated := float64(*c.Set.Watts) / float64(tap)
	fits := limits.NextFuse(unit.Ampere(rated * number("fuse-of-rated")))
	above := limits.NextFuse(unit.Ampere(math.Nextafter(float64(fits), math.Inf(1))))
	if fits == 0 {
		return Window{}, fmt.Errorf("no set fuse for %s", amount(unit.KindAmpere, rated))
	}
	d := draft{
		kind: unit.KindAmpere, danger: limits.High,
		pass: Interval{0, float64(fits)}, query: Interval{0, max(float64(fits), float64(above))},
		sum: fmt.Sprintf("%v / %v = %s, at least %.4g x: %v; one size above is a query",
			*c.Set.Watts, tap, amount(unit.KindAmpere, rated), number("fuse-of-rated"), fits),
		source: limits.Lookup("fuse-of-rated").Cite(),
	}
	if !c.Profile.PlugFuse { // none at all is a stop
		smallest := float64(limits.NextFuse(math.SmallestNonzeroFloat64))
		d.danger, d.pass.Lo, d.query.Lo = limits.Both, smallest, smallest
	}
	return d.window()
}

func stampedVolts() Check {
	return Check{
		ID: "stamped-volts", Title: "Volts stamped on the capacitor", Short: "stamp",
		Crit: engine.G, Life: engine.Lasting, Kind: unit.KindVolt, Danger: limits.Low,
		Method:  "Read it off the part itself. Of two in series type the stack's volts, of several in one can the lowest.",
		Meaning: "it stands the working volts, perhaps, and not those of the minute before the valves draw.",
		Causes: []string{
			"no-load HT worked back from volts on load: the half windings with the transformer alone show it",
			"rail volts computed from typical parts: HT2 read at full mains shows it",
		},
		Void: "h", Cautions: []string{"venting"},
		Items: func(*sheet.Set) []string { return []string{"reservoir", "second", "coupling"} },
		Rule:  stampedRule,
	}
}

// stampedRule holds a rating against the most that can stand there: no-load HT
// at top mains, or for the coupling capacitor the driver's rail. A rating is
// read, not measured: it passes or stops.
func stampedRule(c Case) (Window, error) {
	if c.Item == "coupling" {
		return c.stampedCoupling()
	}
	likely, sure, sum, err := c.noLoad()
	if err != nil {
		return Window{}, err
	}
	d := drafted("stamped-volts", unit.KindVolt, likely, "")
	if sure < likely {
		d.query.Lo = sure
		d = d.guess("open-circuit volts of the HT winding")
	}
	d.sum = sum + "; " + d.inUnits()
	return d.window()
}

func (c Case) stampedCoupling() (Window, error) {
	tap, err := c.tap()
	if err != nil {
		return Window{}, err
	}
	v, sum, guessed, err := c.rail()
	if err != nil {
		return Window{}, err
	}
	top := v * float64(c.Profile.MainsTop) / float64(tap)
	sum = fmt.Sprintf("%s x %v / %v = %s", sum, c.Profile.MainsTop, tap, volts(top))
	d := drafted("stamped-volts", unit.KindVolt, top, "")
	if guessed {
		d.query.Lo, d.danger = math.Inf(-1), limits.Neither
		d = d.guess("the rail that feeds the driver")
	}
	d.sum = sum + "; " + d.inUnits()
	return d.window()
}
