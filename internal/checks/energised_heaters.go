package checks

import (
	"fmt"
	"strconv"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// heaterChecks are made with the valves in and the rectifier out, lamp in.
func heaterChecks() []Check {
	return []Check{
		{
			ID: "lamp-heaters", Title: "Lamp, heaters only", Short: "lamp V", Crit: engine.G, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "lamp, mains side", Black: "lamp, set side",
			Method:  "After three minutes: cold heaters draw several times as much and light the lamp for some seconds.",
			Meaning: "heater line shorted through a few tenths of an ohm, which no ohmmeter sees; or a wrong valve",
			Danger:  limits.High,
			Causes: []string{
				"heaters still warming: read again after three minutes",
				"a valve or dial lamp missing: count the glow",
			},
			Cautions: mainsCautions, Void: voidHeater, Life: engine.Lasting, Path: "heaters", Rule: lampHeatersRule,
		},
		{
			ID: "heater-volts", Title: "Heater volts at the valve pins", Short: "heater V", Crit: engine.G, Supply: engine.Limited,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "output valve, one heater pin", Black: "output valve, other heater pin",
			Method:  "Clipped on dead at the pins. Low behind a lamp: the window goes by the volts read on the set.",
			Meaning: "low: the winding is overloaded or a wrong valve is in; high: wrong tap",
			Danger:  limits.Both,
			Causes: []string{
				"clip on a dull pin: clean it dead and read again",
				"set volts read at another moment: read both again together",
			},
			Cautions: mainsCautions, Void: voidHeater, Life: engine.Lasting, Path: "heaters", Rule: heaterVoltsRule,
		},
		{
			ID: "glow", Title: "Heaters glow", Short: "glow", Crit: engine.G, Supply: engine.Limited, Answer: Letter,
			Choices: []Choice{
				{"a", "all glow within a minute, none much before the others", engine.Pass},
				{"s", "some glow, one stays dark", engine.Query},
				{"b", "one was bright early", engine.Stop},
				{"n", "none glows", engine.Query},
			},
			Method:  "Look from where you sit, hands out of the set. Metal and silvered valves: a look from the side.",
			Meaning: "dark: open heater or dirty socket; bright early: wrong type in that socket",
			Danger:  limits.Both,
			Causes: []string{
				"heater hidden by its can or silver: warmth of the bulb after off, plug out",
				"lamp too small to light them: heater volts at the pins",
			},
			Cautions: mainsCautions, Void: voidHeater, Life: engine.Lasting, Path: "heaters",
		},
		{
			ID: "heater-tap", Title: "Heater volts brought to today's mains", Short: "tap", Crit: engine.G, Supply: engine.Limited, Answer: Derived,
			Kind: unit.KindVolt, Inputs: []string{"lamp-heaters", "heater-volts"}, // the lamp: what the set had, where one meter reads both
			Method:  "Heater volts times mains over set volts: what the heaters get once the lamp is out.",
			Meaning: "the tap is too low for today's mains",
			Danger:  limits.High,
			Causes: []string{
				"mains low today: read the wall outlet again",
				"heater volts read at other set volts: read both again together",
			},
			Cautions: mainsCautions, Void: voidHeater, Life: engine.Lasting, Path: "mains",
			Rule: heaterTapRule, Derive: deriveHeaterTap,
		},
	}
}

// lampHeatersRule judges by the circuit with the heaters as its only load.
func lampHeatersRule(c Case) (Window, error) {
	if c.Lamp == nil {
		return Window{}, fmt.Errorf("%w: there is no lamp in series", ErrWindow)
	}
	if c.Model == nil {
		return Window{}, fmt.Errorf("%w: the sheet gives no circuit", ErrNoData)
	}
	mains, err := c.today()
	if err != nil {
		return Window{}, err
	}
	law, _, _, err := c.Model.HeatersOnly(mains, *c.Lamp)
	if err != nil {
		return Window{}, err
	}
	sum := fmt.Sprintf("%v of heaters behind the %v lamp at %v: %s",
		unit.Round(c.Model.HeaterPower.Quantity(), 3), c.Lamp.Watts, mains, volts(float64(law)))
	return drafted("lamp-heaters", unit.KindVolt, float64(law), sum).window()
}

// heaterVoltsRule: nominal heater volts times set volts over tap.
func heaterVoltsRule(c Case) (Window, error) {
	nominal, err := heaterNominal(c.Set)
	if err != nil {
		return Window{}, err
	}
	tap, err := c.tap()
	if err != nil {
		return Window{}, err
	}
	set, err := heaterSet(c)
	if err != nil {
		return Window{}, err
	}
	x := float64(nominal * set / tap)
	return drafted("heater-volts", unit.KindVolt, x, fmt.Sprintf("%v x %s / %v = %s", nominal, volts(float64(set)), tap, volts(x))).window()
}

// heaterSet is the volts on the set with the heaters as its only load: as read,
// or before that what the circuit gives.
func heaterSet(c Case) (unit.Volt, error) {
	if c.AtSet > 0 || c.Lamp == nil || c.Model == nil {
		return setVolts(c)
	}
	mains, err := c.today()
	if err != nil {
		return 0, err
	}
	law, _, _, err := c.Model.HeatersOnly(mains, *c.Lamp)
	return mains - law, err
}

// heaterNominal is the heater volts of the output valve, which share one
// winding with the others in a double-wound set.
func heaterNominal(s *sheet.Set) (unit.Volt, error) {
	item, _, _ := outputItem(s)
	for i, name := range s.Valves {
		if v, ok := limits.ValveOf(name); ok && item == "V"+strconv.Itoa(i+1) && v.HeaterVolts > 0 {
			return v.HeaterVolts, nil
		}
	}
	return 0, fmt.Errorf("%w: heater volts of the output valve", ErrNoData)
}

// heaterTapRule: nominal heater volts themselves, whatever the tap.
func heaterTapRule(c Case) (Window, error) {
	nominal, err := heaterNominal(c.Set)
	if err != nil {
		return Window{}, err
	}
	return drafted("heater-tap", unit.KindVolt, float64(nominal), fmt.Sprintf("heaters of %v", nominal)).window()
}

// deriveHeaterTap is the heater reading times mains over set volts.
func deriveHeaterTap(c Case) (unit.Quantity, error) {
	x, err := c.need("heater-volts")
	if err != nil {
		return unit.Quantity{}, err
	}
	mains, err := c.today()
	if err != nil {
		return unit.Quantity{}, err
	}
	set := c.AtSet
	if !(set > 0) {
		return unit.Quantity{}, fmt.Errorf("%w: volts on the set when the heaters were read", ErrNoData)
	}
	return unit.Quantity{Kind: unit.KindVolt, Value: x * float64(mains/set)}, nil
}
