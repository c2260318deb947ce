package checks

import (
	"fmt"
	"math"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// voidSolder are the alterations after which a splash may be anywhere: mains
// insulation and the HT line are measured again.
const voidSolder = "mxyhrop"

// mainsSideChecks are made at the plug pins, plug out.
func mainsSideChecks() []Check {
	winding := Check{
		ID: "primary-winding", Title: "Primary, pin to pin", Short: "primary",
		Crit: engine.E, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "200 Ω range", Danger: limits.Both,
		Red: "live pin of the plug", Black: "neutral pin of the plug",
		Method:  "Set's switch ON, tap plug on {item}. The winding kicks when the leads come off: hold them by the sleeves. OL: is the switch on, and a tap in?",
		Meaning: "low: wrong tap, or part of the winding shorted. High or OL: a bad joint, a broken wire, the switch off",
		Causes: []string{
			"a set warm from the room above: ohms again at 20 °C show it",
			"another transformer than the diagram's: the half windings' volts with the transformer alone show it",
		},
		Cautions: []string{"plug-out"},
		Void:     "xt", Path: "mains",
		Items: tapItems, Follows: []string{"primary-winding"}, Rule: primaryRule,
	}
	here := winding
	here.ID, here.Title, here.Short = "primary-here", "Primary through the switch, as it stands", "pri here"
	here.Method = "Switch ON and left on, same pins, nothing moved since: an insulation test through an open switch tests the flex."
	here.Life, here.Path, here.Void, here.Items, here.Follows = engine.Period, "", "mxt", once, nil
	return []Check{winding, plugFuse(), setFuse(), livePathOn(), livePathOff(), neutralPath(), earthBond(), here, mainsInsulation(), socketInsulation()}
}

// tapItems are the taps of the sheet, and the one in use last, where the plug
// stays.
func tapItems(s *sheet.Set) []string {
	var items []string
	for _, t := range s.Mains.Taps {
		if s.Mains.Tap == nil || t != *s.Mains.Tap {
			items = append(items, t.String())
		}
	}
	if s.Mains.Tap != nil {
		items = append(items, s.Mains.Tap.String())
	}
	return items
}

// primaryRule is the window of the primary on one tap: of the sheet on the tap
// in use, in the ratio of the volts on another, by the transformer's size where
// the sheet gives no ohms. Ohms rise with volts from tap to tap, whatever the
// grade.
func primaryRule(c Case) (Window, error) {
	d, err := primaryDraft(c)
	if err != nil {
		return Window{}, err
	}
	if c.Item != "" {
		if order := c.tapOrder(); order != unbounded {
			d = d.within(order, order)
			d.sum += "; ohms rise with the taps' volts, or it is a stop"
		}
	}
	return d.window()
}

func primaryDraft(c Case) (draft, error) {
	use := c.Set.Mains.Tap
	at, err := c.itemTap()
	if err != nil {
		return draft{}, err
	}
	sheetOhms := c.Set.Transformer.Primary
	if sheetOhms == nil || use == nil {
		return c.primaryBySize(at)
	}
	if at == *use {
		return drafted("primary-winding", unit.KindOhm, float64(*sheetOhms), fmt.Sprintf("sheet %v", *sheetOhms)), nil
	}
	nominal := float64(*sheetOhms) * float64(at) / float64(*use)
	d := drafted("primary-winding", unit.KindOhm, nominal, "")
	lines, err := c.primaryBySize(at)
	if err != nil {
		return draft{}, err
	}
	d.query = lines.query
	d.pass = d.pass.meet(d.query)
	d.sum = fmt.Sprintf("%v x %v / %v = %s; %s", *sheetOhms, at, *use, ohms(nominal), d.inUnits())
	return d.guess("ohms in the ratio of the taps' volts"), nil
}

// primaryBySize goes by the transformer's size: R = 0.03 to 0.08 V²/VA. Only a
// dead short and an open winding stop.
func (c Case) primaryBySize(at unit.Volt) (draft, error) {
	va, sum, err := c.voltAmperes()
	if err != nil {
		return draft{}, err
	}
	square := float64(at) * float64(at)
	d := drafted("primary-winding.typical", unit.KindOhm, square/va, "")
	d.query.Lo = number("primary-least") * square / (number("primary-least-volts") * number("primary-least-volts"))
	d.pass = d.pass.meet(d.query)
	d.sum = fmt.Sprintf("%s, (%v)² by that: %s; %s", sum, at, ohms(square/va), d.inUnits())
	return d.guess("primary ohms by the size of the transformer"), nil
}

// itemTap is the tap a reading is made on: the item, or the one in use.
func (c Case) itemTap() (unit.Volt, error) {
	if c.Item == "" {
		return c.tap()
	}
	v, err := unit.ParseVolt(c.Item)
	if err != nil {
		return 0, fmt.Errorf("tap %q: %w", c.Item, err)
	}
	return v, nil
}

// tapOrder is where this tap must lie between those already read.
func (c Case) tapOrder() Interval {
	order := unbounded
	for _, t := range c.Set.Mains.Taps {
		x, ok := c.taken("primary-winding", t.String())
		here, err := unit.ParseVolt(c.Item)
		switch {
		case !ok || err != nil || t == here:
		case t < here:
			order.Lo = max(order.Lo, math.Nextafter(x, math.Inf(1)))
		default:
			order.Hi = min(order.Hi, math.Nextafter(x, math.Inf(-1)))
		}
	}
	return order
}

func livePathOn() Check {
	return Check{
		ID: "live-path-on", Title: "Live pin to the primary, switch on", Short: "live on",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Lasting, Retest: true,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.High,
		Red: "live pin of the plug", Black: "live end of the primary, after switch and fuse",
		Method:   "By meter only, never by colour. Fuses in, switch ON. From the neutral and the earth pin the same end must read OL.",
		Meaning:  "live and neutral crossed, a switch pole that burns, or a fuse holder that hangs loose",
		Cautions: []string{"flex-colours", "plug-out"},
		Void:     "m", Path: "mains",
		Rule: func(c Case) (Window, error) {
			d := drafted("live-path-on", unit.KindOhm, 1, "")
			if fuses := c.fuseOhms(); fuses > 0 {
				d.pass.Hi += fuses
				d.query.Hi += fuses
				d.sum = fmt.Sprintf("fuses %s on top of: %s", ohms(fuses), d.sum)
			}
			return d.window()
		},
	}
}

// fuseOhms is what the fuses in the live wire read by themselves.
func (c Case) fuseOhms() float64 {
	plug, _ := c.taken("plug-fuse", "")
	set, _ := c.taken("set-fuse", "")
	return max(plug, 0) + max(set, 0)
}

func livePathOff() Check {
	return Check{
		ID: "live-path-off", Title: "Live pin to the primary, switch off", Short: "live off",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Lasting, Retest: true,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "20 MΩ range or more", Danger: limits.Low,
		Red: "live pin of the plug", Black: "live end of the primary, after switch and fuse",
		Method:   "The set's own switch OFF. Fingers off the tips: they read as a leak.",
		Meaning:  "the switch is in the neutral, or tracks, or is welded: off is not off, and the chassis stays live",
		Cautions: []string{"flex-colours", "plug-out"},
		Void:     "m", Path: "mains",
		Rule: func(Case) (Window, error) {
			f := limits.Lookup("switch-open")
			return insulated(f.Value.Value, f.Cite())
		},
	}
}

func neutralPath() Check {
	return Check{
		ID: "neutral-path", Title: "Neutral pin to the primary", Short: "neutral",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Lasting, Retest: true,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.High,
		Red: "neutral pin of the plug", Black: "neutral end of the primary",
		Method:   "By meter only. Switch ON. Neither pin may reach the chassis.",
		Meaning:  "neutral broken or crossed: the set is dead with its whole primary live",
		Cautions: []string{"flex-colours", "plug-out"},
		Void:     "m", Path: "mains",
		Rule: func(Case) (Window, error) {
			return drafted("neutral-path", unit.KindOhm, 1, "").window()
		},
	}
}

func plugFuse() Check {
	return Check{
		ID: "plug-fuse", Title: "Plug fuse, taken out", Short: "plugfuse",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Lasting, Retest: true,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.High,
		Red: "one cap of the fuse", Black: "the other cap",
		Method:   "Out of its holder, meter leads nulled. Back in afterwards.",
		Meaning:  "it has blown: find out why before another goes in",
		Cautions: []string{"plug-out"},
		Void:     "m", Path: "mains",
		Follows: []string{"plug-fuse-mark"},
		Items:   plugFuseMark().Items, Rule: func(c Case) (Window, error) { return c.fuseWindow("plug-fuse-mark") },
	}
}

func setFuse() Check {
	return Check{
		ID: "set-fuse", Title: "Fuse of the set, taken out", Short: "set fuse",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Lasting, Retest: true,
		Kind: unit.KindOhm, Function: sheet.OhmsF, Range: "lowest range", Danger: limits.High,
		Red: "one cap of the fuse", Black: "the other cap",
		Method:   "Out of its holder, meter leads nulled. A fuse of less than 1 A has ohms of its own. Back in afterwards.",
		Meaning:  "it has blown: find out why before another goes in",
		Cautions: []string{"plug-out"},
		Void:     "m", Path: "mains",
		Items: once, Rule: func(c Case) (Window, error) { return c.fuseWindow("set-fuse-mark") },
	}
}

// fuseWindow goes by the marking that was read: a thin fuse has ohms of its own.
func (c Case) fuseWindow(mark string) (Window, error) {
	rating, known := c.taken(mark, "")
	switch {
	case known && rating == 0:
		return Window{}, fmt.Errorf("%w: no fuse in the set", ErrAbsent)
	case known && rating < number("fuse-thin"):
		return drafted("set-fuse", unit.KindOhm, 1, "marked "+amount(unit.KindAmpere, rating)).window()
	case known:
		return drafted("plug-fuse", unit.KindOhm, 1, "marked "+amount(unit.KindAmpere, rating)).window()
	}
	return drafted("plug-fuse", unit.KindOhm, 1, "marking not read").window()
}

func earthBond() Check {
	return Check{
		ID: "earth-bond", Title: "Earth pin to chassis", Short: "bond",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Day, Retest: true,
		Kind: unit.KindOhm, Function: sheet.Bond, Range: "200 mA, nulled", Danger: limits.High,
		Red: "earth pin of the plug", Black: "bare metal of the chassis, then each earthed part",
		Method:   "Null the leads. Scrape a bright spot. Flex the cord along its whole length: a jump is a broken core. Type the highest.",
		Meaning:  "the earth wire is broken, loose, or on another pin: a fault leaves the chassis live",
		Cautions: []string{"plug-out"},
		Void:     "mx", Path: "mains",
		Items: earthedOnly, Rule: bondRule,
	}
}

// earthedOnly are the items of a check that only a three-core flex has.
func earthedOnly(s *sheet.Set) []string {
	if s.Flex.Earthed() {
		return []string{""}
	}
	return nil
}

// bondRule is the profile's one limit for this flex.
func bondRule(c Case) (Window, error) {
	f := c.Set.Flex
	if f.Length == nil || f.Area == nil {
		return Window{}, fmt.Errorf("%w: length and cross-section of the flex\nhint: flex.length and flex.area on the set sheet", ErrNoData)
	}
	limit := float64(c.Profile.BondLimit(*f.Length, *f.Area))
	sum := fmt.Sprintf("%v of %v, profile %s: at most %s", *f.Length, *f.Area, c.Profile.ID, ohms(limit))
	return most(unit.KindOhm, limit, sum, c.Profile.Bond().Cite()).guarded(c, sheet.Bond).window()
}

func mainsInsulation() Check {
	return Check{
		ID: "mains-insulation", Title: "Mains to chassis at 500 V", Short: "chassis",
		Crit: engine.S, Supply: engine.Dead, Life: engine.Day,
		Kind: unit.KindOhm, Function: sheet.Insulation, Range: "500 V", Danger: limits.Low,
		Red: "live and neutral pins, joined", Black: "bare metal of the chassis",
		Method:  "Switch ON, primary read through it a moment ago. 250 V first on a damp set. Press for a minute; hands off. The pins are proved dead after.",
		Meaning: "a leak from mains to the metal you touch: damp, a perished wire, a capacitor",
		Causes: []string{
			"damp: dry it gently, measure again; the warm test after the soak shows what stays",
			"dust on the tag board: brush it off dry and measure again",
		},
		Cautions: []string{"insulation-test", "plug-out"},
		Void:     voidSolder, Path: "mains", Charges: []sheet.Node{pinsNode},
		Rule: mainsInsulationRule,
	}
}

func socketInsulation() Check {
	c := mainsInsulation()
	c.ID, c.Title, c.Short = "socket-insulation", "Mains to aerial, earth and pick-up sockets at 500 V", "sockets"
	c.Black = "aerial, earth, pick-up and speaker sockets, joined"
	c.Method = "As for the chassis, to every socket a hand or a lead can reach. Type the lowest."
	c.Meaning = "mains on the aerial lead: whoever plugs it in gets it"
	return c
}
