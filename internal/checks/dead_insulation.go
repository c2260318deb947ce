package checks

import (
	"fmt"
	"math"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Nodes that a test puts more than 60 V on, besides the HT line's own.
const (
	pinsNode     sheet.Node = "pins"
	couplingNode sheet.Node = "coupling"
)

// openingChecks need a leg lifted or a lead off, and the reading that closes it
// again.
func openingChecks() []Check {
	return []Check{
		{
			ID: "coupling-capacitor", Title: "Coupling capacitor at volts", Short: "coupling",
			Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
			Kind: unit.KindOhm, Function: sheet.Insulation, Range: "250 V, or 500 V if its rating allows", Danger: limits.Low,
			Red: "leg towards the driver's anode", Black: "free leg, grid end of {item}",
			Method:  "Lift the grid end. Hold the volts for a minute; hands off. Ohms of a multimeter are no test of it: they pass at half a volt what leaks at two hundred.",
			Meaning: "its leak makes the grid positive: the output valve runs away, and its transformer with it",
			Causes: []string{
				"the tester's top lies under the pass line: 10 MΩ in series from the rail shows it",
				"damp or flux on the body: clean, dry, measure again",
				"the driver's anode never stands at the full rail: grid volts at the ceiling of the lamp show it",
			},
			Cautions: []string{"insulation-test", "stored-charge"},
			Void:     "p", Path: "bias", Follows: []string{"marked-ohms"}, Charges: []sheet.Node{couplingNode},
			Items: outputOnce, Rule: couplingRule,
		},
		{
			ID: "speaker-insulation", Title: "Speaker winding to HT and chassis", Short: "spkr ins",
			Crit: engine.S, Supply: engine.Dead, Life: engine.Lasting, Retest: true,
			Kind: unit.KindOhm, Function: sheet.Insulation, Range: "500 V", Danger: limits.Low,
			Red: "speaker winding, off its chassis strap", Black: "two-clip lead: HT1 and chassis together",
			Method:   "HT1 and chassis joined, so that no capacitor is stressed. A minute; hands off. The two-clip lead leaves with the tester.",
			Meaning:  "HT on the speaker's terminals: the output transformer is done for",
			Cautions: []string{"insulation-test", "stored-charge"},
			Void:     "o", Path: "speaker", Charges: []sheet.Node{sheet.HT1},
			Rule: func(c Case) (Window, error) {
				return insulated(number("output-transformer-insulation"), limits.Lookup("output-transformer-insulation").Cite())
			},
		},
		windingInsulation(),
		{
			ID: "joint", Title: "Joint closed again", Short: "joint",
			Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
			Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.High,
			Red: "wire side of the joint, {item}", Black: "tag side of the same joint",
			Method:  "Soldered, cool, given a tug. Probes on the wire and on the tag, not both on the solder.",
			Meaning: "a joint that hangs by its flux opens warm: no bias, or a speaker off with HT on",
			Causes: []string{
				"the meter's own leads: read them joined, take that off",
				"lacquer under the probe: scratch through and read again",
			},
			Cautions: []string{"plug-out"},
			Void:     "po", Path: "bias",
			Items: func(*sheet.Set) []string { return []string{"coupling-leg", "speaker-strap"} },
			Rule: func(c Case) (Window, error) {
				return drafted("joint", unit.KindOhm, 1, "").window()
			},
		},
	}
}

// insulated is the window of a published insulation limit: raised for the
// tester, and below it a stop.
func insulated(limit float64, cite string) (Window, error) {
	sum := fmt.Sprintf("limit %s / %.4g for ± 30 %% = %s as shown", ohms(limit), number("tester-guard"), ohms(displayed(limit)))
	d := least(unit.KindOhm, displayed(limit), sum, cite)
	d.shown = true
	return d.window()
}

// mainsLimit is the profile's insulation limit for the set's flex.
func mainsLimit(c Case) (float64, string) {
	f := c.Profile.Insulation(c.Set.Flex.Earthed())
	return f.Value.Value, f.Cite()
}

// touchableRule is the profile's limit alone: what has been run still meets it.
func touchableRule(c Case) (Window, error) {
	limit, cite := mainsLimit(c)
	return insulated(limit, cite)
}

// mainsInsulationRule passes insulation in good condition. From the limit to
// there it is damp or tired, which a named person may accept.
func mainsInsulationRule(c Case) (Window, error) {
	limit, cite := mainsLimit(c)
	good := number("insulation-condition")
	flex := "unearthed"
	if c.Set.Flex.Earthed() {
		flex = "earthed"
	}
	d := least(unit.KindOhm, displayed(limit), "", cite)
	d.pass.Lo, d.shown = good, true
	d.sum = fmt.Sprintf("limit of an %s set %s / %.4g for ± 30 %% = %s as shown; good from %s",
		flex, ohms(limit), number("tester-guard"), ohms(displayed(limit)), ohms(good))
	return d.window()
}

// couplingRule asks what the capacitor's leak would put on the grid with the
// rail's full volts on the driver's anode, its valve cold: R = (V - v) Rg/v.
func couplingRule(c Case) (Window, error) {
	if err := c.testerWithin(c.couplingRating()); err != nil {
		return Window{}, err
	}
	v, sum, guessed, err := c.rail()
	if err != nil {
		return Window{}, err
	}
	rg, guess := c.gridLeakMost(), "grid leak, the most the valve allows"
	if r, _ := c.gridLeakR(); r != nil {
		rg, guess = float64(*r), ""
	}
	if guessed {
		guess = "the rail that feeds the driver"
	}
	at := func(id string) float64 { return max(v-number(id), 0) * rg / number(id) }
	pass, stop := at("coupling-pass"), at("coupling-stop")
	d := draft{kind: unit.KindOhm, danger: limits.Low, shown: c.raised(), source: "computed: (V - v) Rg / v"}
	d.sum = fmt.Sprintf("%s, grid leak %s: +%s on the grid at %s, +%s at %s", sum, ohms(rg),
		volts(number("coupling-pass")), ohms(pass), volts(number("coupling-stop")), ohms(stop))
	if d.shown {
		pass, stop = displayed(pass), displayed(stop)
		d.sum += fmt.Sprintf("; / %.4g for ± 30 %%", number("tester-guard"))
	}
	d.pass, d.query = Interval{pass, math.Inf(1)}, Interval{stop, math.Inf(1)}
	if guess != "" {
		d.query.Lo = limits.BandOf("coupling-capacitor.typical").QueryLo
		d.pass = d.pass.meet(d.query)
		d = d.guess(guess)
	}
	d.sum += "; " + d.inUnits()
	return d.window()
}

// raised tells whether a limit must be raised for the tester: unless its sheet
// gives it a smaller error than testers are allowed.
func (c Case) raised() bool {
	if c.Meter == nil {
		return true
	}
	s, ok := c.Meter.Span(sheet.Insulation)
	return !ok || !(float64(s.Percent) < number("tester-error"))
}
