package checks

import (
	"fmt"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// transformerChecks are made with valves, rectifier and dial lamps out and the
// lamp in: the transformer alone.
func transformerChecks() []Check {
	return []Check{
		{
			ID: "lamp-early", Title: "Lamp, transformer only, after 5 s", Short: "lamp 5 s", Crit: engine.G, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "lamp, mains side", Black: "lamp, set side",
			Method:  "Five seconds after the plug went in. A transformer that only idles leaves the lamp dark.",
			Meaning: "shorted turns, a shorted winding, or something still connected to the transformer",
			Danger:  limits.High,
			Causes: []string{
				"old iron that takes much magnetising current: a wattmeter shows few watts",
				"a dial lamp or valve left in: look, plug out",
			},
			Cautions: mainsCautions, Void: voidIron, Life: engine.Lasting, Path: "mains", Rule: lampEarlyRule,
		},
		{
			ID: "lamp-late", Title: "Lamp, transformer only, after 60 s", Short: "lamp 60 s", Crit: engine.G, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "lamp, mains side", Black: "lamp, set side",
			Method:  "One minute on, leads untouched. Shorted turns heat up and draw more within it.",
			Meaning: "shorted turns: the lamp climbs while they heat",
			Danger:  limits.High,
			Causes: []string{
				"old iron that takes much magnetising current: a wattmeter shows few watts",
				"mains moved meanwhile: read the wall outlet",
			},
			Cautions: mainsCautions, Void: voidIron, Life: engine.Lasting, Path: "mains", Rule: lampLateRule,
		},
		{
			ID: "half-volts", Title: "HT winding, half {item} to centre tap", Short: "half {item}", Crit: engine.G, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "rectifier socket, anode {item}", Black: "chassis clip",
			Method:  "Clipped on dead, to the centre tap only. Never from anode to anode: twice the volts stand there.",
			Meaning: "high: wrong tap; low: shorted layer or something loading the winding; halves apart: shorted turns in one",
			Danger:  limits.Both,
			Causes: []string{
				"volts on the diagram are on load: read the halves' ohms and compute the regulation",
				"set volts read at another moment: read both again together",
			},
			Cautions: []string{"mains-on", "high-voltage", "open-socket"},
			Void:     voidIron, Life: engine.Lasting, Path: "rectifier", Items: halves, Follows: []string{"half-volts"}, Rule: halfVoltsRule,
		},
		{
			ID: "core-warm", Title: "Core of the mains transformer after 5 min", Short: "core", Crit: engine.E, Supply: engine.Limited,
			Kind: unit.KindCelsius, Function: sheet.Thermo,
			Red:     "core, top lamination",
			Method:  "Thermometer on the bare core. Idle iron barely warms in five minutes.",
			Meaning: "shorted turns heat the core from inside",
			Danger:  limits.High,
			Causes: []string{
				"the set came from a warm place: read again in ten minutes",
				"mains above the tap: read the set volts",
			},
			Cautions: []string{"mains-on", "hot-parts"}, Void: voidIron, Life: engine.Lasting, Path: "mains", Rule: coreWarmRule,
		},
		{
			ID: "lamp-off", Title: "Lamp with the set's own switch off", Short: "lamp off", Crit: engine.G, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "lamp, mains side", Black: "lamp, set side",
			Method:  "Plug still in, the set's own switch opened: the lamp volts must fall to nothing.",
			Meaning: "the switch does not open: welded, tracking, or by-passed",
			Danger:  limits.High,
			Causes: []string{
				"a capacitor before the switch: insulation with that capacitor lifted",
				"a long flex with capacitance: read with the flex unplugged from the set",
			},
			Cautions: mainsCautions, Void: "m" + voidIron, Life: engine.Lasting, Path: "switch", Rule: plainRule("lamp-off"),
		},
		{
			ID: "idle-watts", Title: "Watts of the transformer alone", Short: "idle W", Crit: engine.E, Supply: engine.Limited,
			Kind: unit.KindWatt, Function: sheet.Wattage,
			Red: "wattmeter in the mains lead", Black: "its return",
			Method:  "A wattmeter before the lamp box, by-passing the lamp where that can be done. Watts tell shorted turns from magnetising current, amperes do not.",
			Meaning: "shorted turns",
			Danger:  limits.High,
			Causes: []string{
				"the meter counts the lamp too: take lamp volts times lamp current off",
				"mains above the tap: read the set volts",
			},
			Cautions: mainsCautions, Void: voidIron, Life: engine.Lasting, Path: "mains", Rule: idleWattsRule,
		},
	}
}

// halves are the two halves of the HT winding.
func halves(*sheet.Set) []string { return []string{"a", "b"} }

// plainRule is the rule of a check whose lines are plain values.
func plainRule(id string) func(Case) (Window, error) {
	return func(Case) (Window, error) {
		b := limits.BandOf(id)
		return drafted(id, b.Kind, 1, "").window()
	}
}

// lampEarlyRule: the transformer taken as the watts of good or bad iron of its
// size with a usual magnetising current beside them, behind the lamp's law or
// its tungsten, whichever allows more to pass and less before a stop.
func lampEarlyRule(c Case) (Window, error) {
	d, err := idleDraft(c)
	if err != nil {
		return Window{}, err
	}
	return d.window()
}

func idleDraft(c Case) (draft, error) {
	if c.Lamp == nil {
		return draft{}, fmt.Errorf("%w: there is no lamp in series", ErrWindow)
	}
	mains, err := c.today()
	if err != nil {
		return draft{}, err
	}
	tap, err := c.tap()
	if err != nil {
		return draft{}, err
	}
	va, size, err := c.voltAmperes()
	if err != nil {
		return draft{}, err
	}
	// The same iron wound for other volts takes its current by the inverse.
	current := number("magnetising") * number("magnetising-volts") / float64(tap)
	pass, stop := circuit.IdleLines(mains, *c.Lamp, unit.VoltAmpere(va), unit.Ampere(current))
	if !(stop > pass) {
		return draft{}, fmt.Errorf("%w: behind %v a bad transformer looks like a good one: stop at %s, pass to %s\nhint: use a smaller lamp",
			ErrWindow, c.Lamp.Watts, volts(float64(stop)), volts(float64(pass)))
	}
	d := most(unit.KindVolt, float64(stop), "", limits.BandOf("idle-watts").Cite())
	d.pass.Hi = float64(pass)
	d.sum = fmt.Sprintf("transformer %s; %g %% of that with %s of magnetising current puts %s on the lamp, %g %% puts %s: pass up to the first, stop over the second",
		size, number("idle-pass"), amount(unit.KindAmpere, current), volts(float64(pass)), number("idle-query"), volts(float64(stop)))
	return d, nil
}

// lampLateRule adds to that what the lamp showed a minute ago.
func lampLateRule(c Case) (Window, error) {
	d, err := idleDraft(c)
	if err != nil {
		return Window{}, err
	}
	early, err := c.need("lamp-early")
	if err != nil {
		return Window{}, err
	}
	rise, digits := limits.BandOf("lamp-late"), limits.BandOf("lamp-late.digits")
	line := Interval{unbounded.Lo, early*rise.PassHi + digits.PassHi}
	d = d.within(line, line)
	d.sum = fmt.Sprintf("%s after 5 s; stop over %.4g x of that and %s for the meter's digits = %s; %s",
		volts(early), rise.PassHi, volts(digits.PassHi), volts(line.Hi), d.sum)
	return d.window()
}

// halfVoltsRule: open-circuit volts of one half at the volts read on the set,
// and against the other half once that was read.
func halfVoltsRule(c Case) (Window, error) {
	d, err := halfDraft(c)
	if err != nil {
		return Window{}, err
	}
	other := map[string]string{"a": "b", "b": "a"}[c.Item]
	if x, ok := c.taken("half-volts", other); ok { // as kept: brought to tap volts
		tap, err := c.tap()
		if err != nil {
			return Window{}, err
		}
		set, err := setVolts(c)
		if err != nil {
			return Window{}, err
		}
		x *= float64(set / tap)
		b := limits.BandOf("half-balance")
		pass, query := apart(x, b.PassHi/100), apart(x, b.QueryHi/100)
		d = d.within(pass, query)
		d.sum += fmt.Sprintf("; half %s read %s, at these set volts: pass within %g %% of each other, stop over %g %%", other, volts(x), b.PassHi, b.QueryHi)
	}
	return d.window()
}

// apart is where a second reading may lie when the two must not differ by more
// than part of their mean.
func apart(x, part float64) Interval {
	far := (1 + part/2) / (1 - part/2)
	return Interval{x / far, x * far}
}

// halfDraft computes one half. Volts the sheet gives on load are raised by the
// regulation of the windings, or where their ohms are not known by a typical
// figure; volts worked back from a printed HT are typical too.
func halfDraft(c Case) (draft, error) {
	set, err := setVolts(c)
	if err != nil {
		return draft{}, err
	}
	tap, err := c.tap()
	if err != nil {
		return draft{}, err
	}
	if c.Model == nil {
		return draft{}, fmt.Errorf("%w: volts of the HT winding\nhint: ht-winding or printed HT1 on the set sheet", ErrNoData)
	}
	x := float64(c.Model.Secondary * set / tap)
	sum := fmt.Sprintf("open circuit %s at %v, %s at %s", volts(float64(c.Model.Secondary)), tap, volts(x), volts(float64(set)))
	w, t := c.Set.HTWinding, c.Set.Transformer
	ohms := t.Primary != nil && t.HalfA != nil && t.HalfB != nil
	switch {
	case w == nil:
		return drafted("half-volts.typical", unit.KindVolt, x, sum).guess("HT winding worked back from the printed HT"), nil
	case w.Taken != sheet.Open && !ohms:
		return drafted("half-volts.typical", unit.KindVolt, x, sum).guess("regulation of the HT winding"), nil
	}
	return drafted("half-volts", unit.KindVolt, x, sum), nil
}

// coreWarmRule: rise over the room, or where no room temperature was read over
// a warm room; then only a core too hot to be idle stops.
func coreWarmRule(c Case) (Window, error) {
	room, ok := c.reading("room")
	if !ok {
		room = number("soak-room")
	}
	d := drafted("core-warm", unit.KindCelsius, 1, "")
	d.pass.Hi += room
	d.query.Hi += room
	b := limits.BandOf("core-warm")
	d.sum = fmt.Sprintf("room %s; pass up to %g K over it, stop over %g K", amount(unit.KindCelsius, room), b.PassHi, b.QueryHi)
	if ok {
		return d.window()
	}
	d.query.Hi = number("part-hot")
	return d.guess("room temperature").window()
}

// idleWattsRule: watts of the transformer alone over its size.
func idleWattsRule(c Case) (Window, error) {
	va, size, err := c.voltAmperes()
	if err != nil {
		return Window{}, err
	}
	return drafted("idle-watts", unit.KindWatt, va, "transformer "+size).window()
}
