package checks

import (
	"math"
	"slices"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// fullRadio is an invented table radio with everything on its sheet: 52 W,
// EZ80, EL84, 275-0-275 V, 220 kΩ bleed path.
func fullRadio() *sheet.Set {
	return &sheet.Set{
		Name: "table radio", Mark: "1", Construction: sheet.DoubleWound,
		Flex:  sheet.Flex{Cores: 2},
		Mains: sheet.Mains{Taps: []unit.Volt{200, 215, 230}, Tap: new(unit.Volt(230)), Profile: "uk"},
		Watts: new(unit.Watt(52)), Rectifier: "EZ80",
		HTWinding: &sheet.HTWinding{Volts: 275, Taken: sheet.Open},
		Transformer: sheet.Transformer{
			Primary: new(unit.Ohm(46)), HalfA: new(unit.Ohm(260)), HalfB: new(unit.Ohm(285)), Rating: new(unit.VoltAmpere(55)),
		},
		Reservoir: sheet.Capacitor{Capacitance: new(unit.Farad(32e-6)), Rating: new(unit.Volt(450))},
		Smoothing: sheet.Smoothing{Kind: sheet.Resistor, Resistance: new(unit.Ohm(1200))},
		Second:    sheet.Capacitor{Capacitance: new(unit.Farad(32e-6)), Rating: new(unit.Volt(450))},
		Bleed:     &sheet.Bleed{Resistance: new(unit.Ohm(220e3)), At: sheet.HT2},
		HTMinus:   sheet.HTMinusChassis,
		OutputTransformer: sheet.OutputTransformer{
			Primary: new(unit.Ohm(380)), Speaker: new(unit.Ohm(3)), Load: "own speaker",
		},
		DialLamps: &sheet.DialLamps{Count: 2, Current: 0.3},
		Valves:    []string{"ECH81", "EF89", "EABC80", "EL84"},
		Output: sheet.OutputStage{
			CathodeR: new(unit.Ohm(135)), GridLeak: new(unit.Ohm(470e3)), ScreenR: new(unit.Ohm(1000)),
			Coupling: &sheet.Coupling{
				Capacitance: new(unit.Farad(10e-9)), Rating: new(unit.Volt(400)), AnodeWarm: new(unit.Volt(100)), Rail: sheet.HT2,
			},
		},
		Printed: &sheet.Printed{HT1: new(unit.Volt(264)), HT2: new(unit.Volt(224)), Mains: new(unit.Volt(230))},
		Renewed: []string{"all electrolytics", "all paper capacitors"},
	}
}

// sparseRadio is the same set with its diagram lost.
func sparseRadio() *sheet.Set {
	s := fullRadio()
	return &sheet.Set{
		Name: s.Name, Mark: s.Mark, Construction: s.Construction, Flex: s.Flex, Mains: s.Mains, Watts: s.Watts,
		Rectifier: s.Rectifier, Valves: s.Valves,
		Output:  sheet.OutputStage{CathodeR: s.Output.CathodeR, GridLeak: s.Output.GridLeak},
		Printed: &sheet.Printed{HT1: s.Printed.HT1},
	}
}

// unmarkedRadio is the sparse one with the ohms of its output stage unknown too.
func unmarkedRadio() *sheet.Set {
	s := sparseRadio()
	s.Output = sheet.OutputStage{}
	return s
}

// earthedRadio is the full one on a three-core flex.
func earthedRadio() *sheet.Set {
	s := fullRadio()
	s.Flex = sheet.Flex{Cores: 3, Length: new(unit.Metre(2)), Area: new(unit.SquareMetre(0.75e-6))}
	return s
}

// twoMeterBench has 40 and 100 W lamps and a source of 9.3 V.
func twoMeterBench() *sheet.Bench {
	return &sheet.Bench{
		Name: "bench", Operator: "anna", Tester: "tester", Source: sheet.Source{Volts: 9.3}, Tool: 10e3,
		Lamps: []unit.Watt{40, 100}, LampVolts: 230, RCD: true,
	}
}

func spanOf(f sheet.Function, percent unit.Percent, digits int, tops ...float64) sheet.Span {
	s := sheet.Span{Function: f, Percent: percent, Digits: digits}
	for _, top := range tops {
		k := f.Kind()
		s.Ranges = append(s.Ranges, sheet.Range{
			Top: unit.Quantity{Kind: k, Value: top}, Digit: unit.Quantity{Kind: k, Value: top / 6000},
		})
	}
	return s
}

// digital is a meter of 0.5 % and 2 digits with a top of 60 MΩ.
func digital() *sheet.Meter {
	return &sheet.Meter{AutoRange: true, Name: "digital", Kind: sheet.Digital, Functions: []sheet.Span{
		spanOf(sheet.OhmsF, 0.5, 2, 60, 600, 6e3, 60e3, 600e3, 6e6, 60e6),
		spanOf(sheet.DCVolts, 0.5, 2, 6, 60, 600),
	}}
}

// tester errs by 5 %, ends at 5 GΩ and gives 3 mA at 250 V.
func tester() *sheet.Meter {
	at := func(s sheet.Span, v unit.Volt, i unit.Ampere) sheet.Span {
		s.Test, s.MinCurrent = &v, &i
		return s
	}
	return &sheet.Meter{AutoRange: true, Name: "tester", Kind: sheet.Tester, Functions: []sheet.Span{
		at(spanOf(sheet.Insulation, 5, 0, 5e6, 50e6, 500e6, 5e9), 250, 3e-3),
		at(spanOf(sheet.Insulation, 5, 0, 5e6, 50e6, 500e6, 5e9), 500, 1e-3),
		at(spanOf(sheet.Leakage, 5, 0, 300e-6, 3e-3), 250, 3e-3),
		spanOf(sheet.Bond, 1, 3, 6, 60),
	}}
}

// caseFor is a case of a set with its model, at the given item.
func caseFor(t testing.TB, s *sheet.Set, item string) Case {
	t.Helper()
	p, ok := limits.ProfileOf(s.Mains.Profile)
	if !ok {
		t.Fatalf("no profile %q", s.Mains.Profile)
	}
	model, _, err := circuit.FromSheet(s, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return Case{Set: s, Bench: twoMeterBench(), Profile: p, Model: model, Item: item, Taken: map[string]unit.Quantity{}}
}

// had adds an accepted reading.
func (c Case) had(slot string, k unit.Kind, x float64) Case {
	c.Taken[slot] = unit.Quantity{Kind: k, Value: x}
	return c
}

// windowOf computes the window of a check.
func windowOf(t testing.TB, id string, c Case) Window {
	t.Helper()
	check, ok := Find(id)
	if !ok {
		t.Fatalf("no check %s", id)
	}
	w, err := check.Rule(c)
	if err != nil {
		t.Fatalf("%s %s: %v", id, c.Item, err)
	}
	return w
}

// verdictOf judges what is typed for a check with the meter that takes it.
func verdictOf(t testing.TB, id string, c Case, m *sheet.Meter, typed string) engine.Verdict {
	t.Helper()
	check, _ := Find(id)
	e, err := unit.ParseEntry(check.Kind, typed)
	if err != nil {
		t.Fatal(err)
	}
	shown := meter.Read(e.Value, 0)
	if m != nil {
		if shown, err = meter.Classify(m, check.Function, e); err != nil {
			t.Fatalf("%s %q: %v", id, typed, err)
		}
	}
	c.Meter = m
	return windowOf(t, id, c).Judge(shown, check.Crit).Verdict
}

// near tells whether two ends of a window agree; open ends agree with each other.
func near(got, want, tol float64) bool {
	return got == want || math.Abs(got-want) <= tol
}

var (
	openUp   = math.Inf(1)
	openDown = math.Inf(-1)
)

// mine are the checks made without mains on the set.
func mine() []Check {
	return slices.Concat(benchChecks(), lookingChecks(), deadChecks(), warmChecks(), boxedChecks())
}
