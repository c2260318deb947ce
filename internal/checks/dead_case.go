package checks

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// ErrAbsent is in the chain when a set has no such part after all, as the
// looking told: there is nothing to measure.
var ErrAbsent = errors.New("this set has no such part")

// once is the items of a check that is made once on every set.
func once(*sheet.Set) []string { return []string{""} }

// taken is an accepted reading of another check; ok only for one that showed a
// number.
func (c Case) taken(id, item string) (x float64, ok bool) {
	if item != "" {
		id += "@" + item
	}
	q, ok := c.Taken[id]
	return q.Value, ok && q.Kind != unit.None && q.Value-q.Value == 0
}

// amount prints a value in the trade's form, to the digits that matter.
func amount(k unit.Kind, x float64) string {
	return unit.Round(unit.Quantity{Kind: k, Value: x}, 4).String()
}

// ohms prints a resistance.
func ohms(x float64) string { return amount(unit.KindOhm, x) }

// volts prints a voltage.
func volts(x float64) string { return amount(unit.KindVolt, x) }

// number is the value of a figure.
func number(id string) float64 { return limits.Lookup(id).Value.Value }

// displayed raises a lower limit for what an insulation tester may err, so that
// the shown value is judged as it stands.
func displayed(limit float64) float64 { return limit / number("tester-guard") }

// outputItem is the output valve's place among the valves of a sheet, "V4", and
// its data.
func outputItem(s *sheet.Set) (item string, data limits.Output, ok bool) {
	for i, name := range s.Valves {
		v, known := limits.ValveOf(name)
		if !known || v.Output == nil || s.Output.Valve != "" && s.Output.Valve != name {
			continue
		}
		return "V" + strconv.Itoa(i+1), *v.Output, true
	}
	return "", limits.Output{}, false
}

// outputOnce is the items of a check that is made at the output valve.
func outputOnce(s *sheet.Set) []string {
	if item, _, ok := outputItem(s); ok {
		return []string{item}
	}
	return nil
}

// gridLeakMost is the largest grid leak the output valve allows.
func (c Case) gridLeakMost() float64 {
	if _, data, ok := outputItem(c.Set); ok && data.GridLeakMax > 0 {
		return float64(data.GridLeakMax)
	}
	return number("grid-leak-most")
}

// tap is the tap in use.
func (c Case) tap() (unit.Volt, error) {
	if t := c.Set.Mains.Tap; t != nil && *t > 0 {
		return *t, nil
	}
	return 0, fmt.Errorf("%w: the tap in use\nhint: mains.tap on the set sheet", ErrNoData)
}

// voltAmperes is the size of the mains transformer.
func (c Case) voltAmperes() (va float64, sum string, err error) {
	switch s := c.Set; {
	case s.Transformer.Rating != nil:
		return float64(*s.Transformer.Rating), s.Transformer.Rating.String(), nil
	case s.Watts != nil:
		va = float64(*s.Watts) / number("va-of-watts")
		return va, fmt.Sprintf("%v / %.4g = %s", *s.Watts, number("va-of-watts"), amount(unit.KindVoltAmpere, va)), nil
	}
	return 0, "", fmt.Errorf("%w: the size of the mains transformer\nhint: watts on the set sheet", ErrNoData)
}

// noLoad is the HT without a load at the profile's top mains. sure is the least
// it can be; where the winding's open-circuit volts are on the sheet that is
// the same.
func (c Case) noLoad() (likely, sure float64, sum string, err error) {
	tap, err := c.tap()
	if err != nil {
		return 0, 0, "", err
	}
	m := float64(c.Profile.MainsTop) / float64(tap)
	if w := c.Set.HTWinding; w != nil {
		sure = math.Sqrt2 * float64(w.Volts) * m
		if w.Taken == sheet.Open {
			return sure, sure, fmt.Sprintf("no-load HT: 1.414 x %v x %v / %v = %s", w.Volts, c.Profile.MainsTop, tap, volts(sure)), nil
		}
	} else if p := c.Set.Printed; p != nil && p.HT1 != nil {
		sure = float64(*p.HT1)
	}
	if c.Model == nil {
		return 0, 0, "", fmt.Errorf("%w: the no-load HT\nhint: ht-winding on the set sheet", ErrNoData)
	}
	likely = float64(c.Model.NoLoadHT(c.Profile.MainsTop))
	return likely, min(sure, likely), fmt.Sprintf("no-load HT worked back: about %s at %v", volts(likely), c.Profile.MainsTop), nil
}

// rail is the full volts of the rail that feeds the driver, which stand on the
// coupling capacitor while the driver is cold. Where nobody says which rail it is,
// it is the higher one.
func (c Case) rail() (v float64, sum string, guessed bool, err error) {
	node, unnamed := sheet.HT1, " (taken for the rail that is not named: none is higher)"
	if k := c.Set.Output.Coupling; k != nil {
		if k.RailVolts != nil {
			return float64(*k.RailVolts), "rail " + k.RailVolts.String(), false, nil
		}
		if k.Rail != "" {
			node, unnamed = k.Rail, ""
		}
	}
	v, sum, guessed, err = c.nodeVolts(node)
	if err != nil {
		return 0, "", false, fmt.Errorf("the driver's rail: %w\nhint: rail-volts of the coupling on the set sheet", err)
	}
	return v, "rail " + sum + unnamed, guessed, nil
}

// nodeVolts is what a node of the HT line works at: as printed, or else as the
// circuit gives it.
func (c Case) nodeVolts(node sheet.Node) (v float64, sum string, guessed bool, err error) {
	if p := c.Set.Printed; p != nil {
		printed := p.HT2
		if node == sheet.HT1 {
			printed = p.HT1
		}
		if printed != nil {
			return float64(*printed), fmt.Sprintf("%s, printed %v", node, *printed), false, nil
		}
	}
	if c.Model == nil {
		return 0, "", false, fmt.Errorf("%w: the volts of %s", ErrNoData, node)
	}
	p, err := c.Model.AtSet(c.Model.Nominal, nil)
	if err != nil {
		return 0, "", false, fmt.Errorf("the volts of %s cannot be computed: %w", node, err)
	}
	v = float64(p.HT2)
	if node == sheet.HT1 {
		v = float64(p.HT1)
	}
	return v, fmt.Sprintf("%s, computed %s", node, volts(v)), true, nil
}

// path is the resistance from HT1 to chassis as the diagram draws it.
type path struct {
	known bool    // the sheet says what there is, or that there is nothing
	none  bool    // nothing that counts
	ohms  float64 // where there is something
	sum   string
}

// htPath adds up the drawn path. A path nobody knows counts as none.
func htPath(s *sheet.Set) path {
	b := s.Bleed
	switch {
	case b == nil || !b.None && b.Resistance == nil:
		return path{none: true, sum: "bleed path not known"}
	case b.None:
		return path{known: true, none: true, sum: "no bleed path drawn"}
	}
	p := path{known: true, ohms: float64(*b.Resistance), sum: fmt.Sprintf("bleed path %v", *b.Resistance)}
	if r := s.Smoothing.Resistance; b.At != sheet.HT1 && r != nil {
		p.ohms += float64(*r)
		p.sum = fmt.Sprintf("%v + bleed path %v = %s", *r, *b.Resistance, ohms(p.ohms))
	}
	if p.ohms > number("path-most") {
		p.none = true
		p.sum += ", which counts as none"
	}
	return p
}

// renewed tells whether the sheet names the electrolytics among the parts
// changed. A part of them is enough: new ones are judged more strictly.
func (c Case) renewed() bool {
	for _, part := range c.Set.Renewed {
		for _, word := range []string{"electrolytic", "reservoir", "all capacitors"} {
			if strings.Contains(strings.ToLower(part), word) {
				return true
			}
		}
	}
	return false
}

// lineCapacitance is reservoir and second capacitor together, by the sheet or
// else as the circuit takes them.
func (c Case) lineCapacitance() (farads float64, guessed, ok bool) {
	if r := c.Set.Reservoir.Capacitance; r != nil {
		farads = float64(*r)
		if second := c.Set.Second.Capacitance; second != nil {
			farads += float64(*second)
		}
		return farads, false, true
	}
	if c.Model == nil {
		return 0, false, false
	}
	return float64(c.Model.Reservoir + c.Model.Second), true, true
}
