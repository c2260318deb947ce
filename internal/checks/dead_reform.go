package checks

import (
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// reformChecks are read while an old electrolytic is formed from an external
// supply, the set without mains. Both readings are noted as they come and typed
// when the capacitor has been discharged again.
//
// What is read are volts across the forming resistor, not its milliamperes: a
// meter on a current range is a short to whatever a slipped probe touches.
func reformChecks() []Check {
	leak := Check{
		ID: "reform-leak", Title: "Volts over the forming resistor, capacitor formed", Short: "formed",
		Crit: engine.G, Supply: engine.Dead, Life: engine.Lasting,
		Kind: unit.KindVolt, Function: sheet.DCVolts, Danger: limits.High,
		Red: "supply end of the forming resistor", Black: "{item} +, its leg free",
		Method:  "Four hours at working volts, read just before the supply goes off. Shield on; a case 10 °C over the room means off, and a new one. Then the tool across it, prove it dead, and close the leg again.",
		Meaning: "it does not form: at HT it heats, and vents or shorts. Fit a new one",
		Causes: []string{
			"forming still goes on: another four hours, and a lower reading, show it",
			"a path beside the capacitor not lifted: ohms across it with the supply off show it",
		},
		Cautions: []string{"stored-charge", "venting"},
		Void:     "h", Path: "ht", Charges: []sheet.Node{sheet.HT1, sheet.HT2},
		Items: oldElectrolytics, Rule: reformLeakRule,
	}
	early := leak
	early.ID, early.Title, early.Short = "reform-early", "Volts over the forming resistor, after an hour", "forming"
	early.Crit, early.Danger, early.Path = engine.E, limits.Neither, ""
	early.Method = "One leg free, supply through the forming resistor, turned up slowly to the working volts across the capacitor. An hour on, note the volts over the resistor. Above the pass line turn down and wait."
	early.Meaning = "the supply was turned up faster than the capacitor forms, and heats it"
	early.Causes = []string{
		"turned up too fast: turned down and an hour later, the same reading shows it",
		leak.Causes[1],
	}
	early.Rule = reformEarlyRule
	return []Check{early, leak}
}

// oldElectrolytics: new ones are not formed.
func oldElectrolytics(s *sheet.Set) []string {
	if (Case{Set: s}).renewed() {
		return nil
	}
	return electrolytics(s)
}

// formingOhms is the resistor in front of the capacitor: the one of the bench's
// supply, where it has one.
func (c Case) formingOhms() float64 {
	if c.Bench != nil && c.Bench.Loop != nil {
		return float64(c.Bench.Loop.Series)
	}
	return number("reform-series")
}

func reformEarlyRule(c Case) (Window, error) {
	r, current := c.formingOhms(), number("reform-current")
	return drafted("reform-early", unit.KindVolt, current*r, fmt.Sprintf("%s through %s = %s", amount(unit.KindAmpere, current), ohms(r), volts(current*r))).window()
}

// reformLeakRule is what an old capacitor of that size may leak at its working
// volts, as volts over the forming resistor. It must not have risen since the
// first hour.
func reformLeakRule(c Case) (Window, error) {
	farads, guessed, err := c.formed()
	if err != nil {
		return Window{}, err
	}
	node := sheet.HT1
	if c.Item == secondItem {
		node = sheet.HT2
	}
	v, sum, _, err := c.nodeVolts(node)
	if err != nil {
		return Window{}, err
	}
	r, leak := c.formingOhms(), float64(limits.OldLeak(farads, unit.Volt(v)))
	d := drafted("reform-leak", unit.KindVolt, leak*r, fmt.Sprintf("%s: old %s may leak %s, through %s = %s",
		sum, amount(unit.KindFarad, float64(farads)), amount(unit.KindAmpere, leak), ohms(r), volts(leak*r)))
	if guessed {
		d = d.guess("capacitance of the " + c.Item)
	}
	if first, ok := c.taken("reform-early", c.Item); ok {
		b, u := limits.BandOf("reform-leak.rise"), c.errorAt(sheet.DCVolts, first)
		d = d.within(Interval{b.PassLo, b.PassHi*first + u}, Interval{b.QueryLo, b.QueryHi*first + u})
		d.sum += fmt.Sprintf("; %s after the first hour: rising is a stop", volts(first))
	}
	return d.window()
}

// formed is the capacitance of the item, by the sheet or else as the circuit
// takes it.
func (c Case) formed() (f unit.Farad, guessed bool, err error) {
	if f := c.electrolytic().Capacitance; f != nil {
		return *f, false, nil
	}
	if c.Model == nil {
		return 0, false, fmt.Errorf("%w: capacitance of the %s\nhint: %s.capacitance on the set sheet", ErrNoData, c.Item, c.Item)
	}
	if c.Item == secondItem {
		return c.Model.Second, true, nil
	}
	return c.Model.Reservoir, true, nil
}
