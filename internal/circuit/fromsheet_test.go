package circuit

import (
	"testing"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

func ptr[T any](v T) *T { return &v }

// tableSheet is the reference table radio as its service sheet gives it.
func tableSheet() *sheet.Set {
	return &sheet.Set{
		Name: "table radio", Mark: "1", Construction: sheet.DoubleWound, Flex: sheet.Flex{Cores: 2},
		Mains:     sheet.Mains{Taps: []unit.Volt{200, 215, 230}, Tap: ptr(unit.Volt(230)), Profile: "uk"},
		Watts:     ptr(unit.Watt(52)),
		Rectifier: "EZ80", HTWinding: &sheet.HTWinding{Volts: 275, Taken: sheet.Open},
		Transformer: sheet.Transformer{Primary: ptr(unit.Ohm(46)), HalfA: ptr(unit.Ohm(260)), HalfB: ptr(unit.Ohm(285)), Rating: ptr(unit.VoltAmpere(55))},
		Reservoir:   sheet.Capacitor{Capacitance: ptr(unit.Farad(32e-6)), Rating: ptr(unit.Volt(450))},
		Smoothing:   sheet.Smoothing{Kind: sheet.Resistor, Resistance: ptr(unit.Ohm(1200))},
		Second:      sheet.Capacitor{Capacitance: ptr(unit.Farad(32e-6)), Rating: ptr(unit.Volt(450))},
		Bleed:       &sheet.Bleed{Resistance: ptr(unit.Ohm(220e3)), At: sheet.HT2}, HTMinus: sheet.HTMinusChassis,
		OutputTransformer: sheet.OutputTransformer{Primary: ptr(unit.Ohm(380)), Speaker: ptr(unit.Ohm(3))},
		Valves:            []string{"ECH81", "EF89", "EABC80", "EL84"},
		Output:            sheet.OutputStage{CathodeR: ptr(unit.Ohm(135)), GridLeak: ptr(unit.Ohm(470e3)), ScreenR: ptr(unit.Ohm(1000))},
		DialLamps:         &sheet.DialLamps{Count: 2, Current: 0.3},
		Printed:           &sheet.Printed{HT1: ptr(unit.Volt(264)), HT2: ptr(unit.Volt(224)), Anode: ptr(unit.Volt(248)), Screen: ptr(unit.Volt(220)), Cathode: ptr(unit.Volt(6)), Mains: ptr(unit.Volt(230)), Meter: ptr(unit.Ohm(10e6))},
	}
}

func profile(t testing.TB) limits.Profile {
	p, ok := limits.ProfileOf("uk")
	if !ok {
		t.Fatal("no profile uk")
	}
	return p
}

func TestShowSheet(t *testing.T) {
	ch := func(what string, f func(*sheet.Set)) {
		set := tableSheet()
		f(set)
		s, typ, err := FromSheet(set, profile(t), nil)
		if err != nil {
			t.Error(what, err)
			return
		}
		p, err := s.AtSet(230, nil)
		t.Logf("%s: %v\n   %+v\n  HT1 %.1f HT2 %.1f vk %.2f opt %.2f pri %.4f rip %.2f heater %.3f %v", what, typ, *s, float64(p.HT1), float64(p.HT2), float64(p.Cathode), float64(p.OPT), float64(p.Primary), float64(p.Ripple), p.Heater, err)
	}
	ch("full", func(s *sheet.Set) {})
	ch("on load", func(s *sheet.Set) { s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad} })
	ch("on load no ohms", func(s *sheet.Set) {
		s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad}
		s.Transformer = sheet.Transformer{}
	})
	ch("open no ohms", func(s *sheet.Set) { s.Transformer = sheet.Transformer{} })
	ch("back", func(s *sheet.Set) { s.HTWinding = nil })
	ch("sparse", func(s *sheet.Set) {
		s.HTWinding = nil
		s.Transformer = sheet.Transformer{}
		s.Reservoir = sheet.Capacitor{}
		s.Second = sheet.Capacitor{}
		s.Smoothing = sheet.Smoothing{}
		s.OutputTransformer = sheet.OutputTransformer{}
		s.Output = sheet.OutputStage{CathodeR: ptr(unit.Ohm(135))}
		s.DialLamps = nil
		s.Printed = &sheet.Printed{HT1: ptr(unit.Volt(264))}
	})
	ch("no rsm", func(s *sheet.Set) { s.Smoothing = sheet.Smoothing{} })
	ch("no rg2", func(s *sheet.Set) { s.Output.ScreenR = nil })
	ch("no printed", func(s *sheet.Set) { s.Printed = nil })
}

func BenchmarkFromSheet(b *testing.B) {
	set, p := tableSheet(), profile(b)
	for b.Loop() {
		if _, _, err := FromSheet(set, p, nil); err != nil {
			b.Fatal(err)
		}
	}
}
