package checks

import (
	"fmt"
	"math"
	"slices"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// warmChecks are made within minutes of switching off for the last time.
func warmChecks() []Check {
	warm := mainsInsulation()
	warm.ID, warm.Title, warm.Short = "warm-insulation", "Mains to chassis at 500 V, warm", "warm"
	warm.Method = "Within ten minutes of switching off. Switch ON, primary read through it a moment ago. It falls with heat; it must still meet the limit."
	warm.Rule, warm.Retest, warm.Causes, warm.Void = touchableRule, true, nil, "mxythv"
	return []Check{
		{
			ID: "hot-primary", Title: "Primary hot, pin to pin", Short: "hot pri",
			Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
			Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "200 Ω range", Danger: limits.High,
			Red: "live pin of the plug", Black: "neutral pin of the plug",
			Method:  "Pins proved dead, switch ON. Three readings, about 3, 5 and 7 minutes after switching off.",
			Meaning: "the winding has run hotter than its insulation likes: shorted turns, or a tap too low",
			Causes: []string{
				"the cold reading was taken on a warm set: the core's end value shows it",
				"another switch contact than cold: the same pins after an hour show it",
			},
			Cautions: []string{"plug-out", "hot-parts"},
			Void:     "xthv",
			Takes:    100, // the last 7 minutes after switching off; the proof took two
			Items:    func(*sheet.Set) []string { return slices.Clone(hotItems[:]) },
			Follows:  []string{"primary-winding"},
			Rule:     hotRule,
		},
		{
			ID: "winding-rise", Title: "Primary winding over the room, at switch-off", Short: "rise",
			Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting, Answer: Derived,
			Kind: unit.KindCelsius, Danger: limits.High,
			Method:  "Follows from the three hot readings, drawn back to the moment of switching off.",
			Meaning: "the winding has run hotter than its insulation likes: shorted turns, or a tap too low",
			Causes: []string{
				"a warm room or no air round the core: the core's end value shows it",
				"mains high for this tap: heater volts at full mains show it",
			},
			Cautions: []string{"hot-parts"},
			Void:     "xthv", Path: "mains",
			Inputs: []string{"primary-here", "hot-primary"}, Derive: windingRise,
			Rule: func(Case) (Window, error) {
				return drafted("winding-rise", unit.KindCelsius, 1, "(234.5 + 20) (hot - cold) / cold").window()
			},
		},
		warm,
	}
}

// hotItems are the three readings of a winding that cools, and hotAt the
// seconds after switching off at which they are asked for.
var (
	hotItems = [...]string{"first", "second", "third"}
	hotAt    = [...]float64{180, 300, 420}
)

// coldPrimary is the primary before the set was ever warm.
func (c Case) coldPrimary() (float64, error) {
	if tap := c.Set.Mains.Tap; tap != nil {
		if x, ok := c.taken("primary-winding", tap.String()); ok && x > 0 {
			return x, nil
		}
	}
	return 0, fmt.Errorf("%w: cold ohms of the primary on the tap in use", ErrNoData)
}

// hotRule brings the band of the rise to ohms, by copper from a cold reading
// taken at 20 °C.
func hotRule(c Case) (Window, error) {
	cold, err := c.coldPrimary()
	if err != nil {
		return Window{}, err
	}
	b := limits.BandOf("winding-rise")
	at := func(rise float64) float64 {
		return cold * limits.CopperFactor(roomCold+unit.Celsius(rise), roomCold)
	}
	d := drafted("winding-rise", unit.KindOhm, 1, "")
	d.kind = unit.KindOhm
	d.pass, d.query.Hi = Interval{cold, at(b.PassHi)}, at(b.QueryHi)
	d.sum = fmt.Sprintf("cold %s; rise of %.4g K: %s, of %.4g K: %s, and over that a stop",
		ohms(cold), b.PassHi, ohms(d.pass.Hi), b.QueryHi, ohms(d.query.Hi))
	return d.window()
}

// roomCold is where windings on paper are counted.
const roomCold unit.Celsius = 20

// windingRise draws the hot readings back to switch-off: what a reading has
// over the cold one falls as an exponential, fitted in its logarithm. The
// result is never below the highest reading.
func windingRise(c Case) (unit.Quantity, error) {
	cold, err := c.coldPrimary()
	if err != nil {
		return unit.Quantity{}, err
	}
	var n, sx, sy, sxx, sxy, highest float64
	for i, item := range hotItems {
		x, ok := c.taken("hot-primary", item)
		if !ok {
			return unit.Quantity{}, fmt.Errorf("%w: the %s hot reading of the primary", ErrNoData, item)
		}
		highest = max(highest, x)
		if !(x > cold) {
			continue
		}
		t, y := c.hotTime(i), math.Log(x-cold)
		n, sx, sy, sxx, sxy = n+1, sx+t, sy+y, sxx+t*t, sxy+t*y
	}
	hot := highest
	if d := n*sxx - sx*sx; d > 0 {
		hot = max(highest, cold+math.Exp((sxx*sy-sx*sxy)/d))
	}
	rise := limits.CopperRise(unit.Ohm(cold), unit.Ohm(hot), roomCold, 0, 0)
	return rise.Quantity(), nil
}

// hotTime is how long after switching off a hot reading was taken: the
// session's own time where it says, else when it was asked for.
func (c Case) hotTime(i int) float64 {
	if t, ok := c.taken("hot-primary", hotItems[i]+"#after"); ok && t > 0 {
		return t
	}
	return hotAt[i]
}

// boxedChecks are made at the plug pins of the closed set before it sees the
// mains again: a long screw or a pinched lead is new.
func boxedChecks() []Check {
	primary := Check{
		ID: "boxed-primary", Title: "Primary, set boxed", Short: "primary",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Session,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "200 Ω range", Danger: limits.Both,
		Red: "live pin of the plug", Black: "neutral pin of the plug",
		Method:  "Pins proved dead, switch ON. OL: is the switch on?",
		Meaning: "a lead pinched or torn off while it was boxed, or the tap plug moved",
		Causes: []string{
			"still warm from the soak: the same ohms tomorrow show it",
			"another tap than before: ohms on that tap show it",
		},
		Cautions: []string{"plug-out"},
		Void:     "xtb",
		Items:    once, Rule: primaryRule,
	}
	insulation := mainsInsulation()
	insulation.ID, insulation.Title, insulation.Short = "boxed-insulation", "Mains to all touchable parts at 500 V", "boxed ins"
	insulation.Black = "every socket, screw, spindle and trim, joined"
	insulation.Method = "Closed, all screws in, switch ON, both positions of a selector. Hands off. The pins are proved dead after."
	insulation.Meaning = "a long screw, a pinched lead, a grub screw without its plug"
	insulation.Life, insulation.Void = engine.Session, "mxyb"
	bond := earthBond()
	bond.ID, bond.Title, bond.Short = "boxed-bond", "Earth pin to earthed parts, set boxed", "boxed PE"
	bond.Black, bond.Life, bond.Void = "each earthed part that can be touched", engine.Session, "mxb"
	return []Check{primary, insulation, bond, touchCurrent()}
}

func touchCurrent() Check {
	return Check{
		ID: "touch-current", Title: "Touch current, set boxed", Short: "touch",
		Crit: engine.S, Supply: engine.Full, Life: engine.Lasting, Retest: true,
		Kind: unit.KindAmpere, Function: sheet.Touch, Danger: limits.High,
		Red: "each touchable part in turn, clipped", Black: "earth",
		Method:   "Clipped with the plug out; hands off while it is on. Through the profile's own network, never behind an isolating transformer. Switch on and off, both ways round the plug. Type the highest.",
		Meaning:  "the owner gets this through the hand on the cabinet and the foot on the floor",
		Cautions: []string{"mains-on", "rcd"},
		Void:     "myb", Path: "mains",
		Rule: touchRule,
	}
}

// touchRule is the profile's one limit.
func touchRule(c Case) (Window, error) {
	f := c.Profile.Touch()
	sum := fmt.Sprintf("profile %s: at most %s through %s", c.Profile.ID, amount(unit.KindAmpere, f.Value.Value), c.Profile.TouchNetwork())
	return most(unit.KindAmpere, f.Value.Value, sum, f.Cite()).guarded(c, sheet.Touch).window()
}
