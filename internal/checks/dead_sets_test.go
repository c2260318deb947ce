package checks

import (
	"errors"
	"slices"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// TestItemsFollowTheSet: a set is asked for the parts it has.
func TestItemsFollowTheSet(t *testing.T) {
	eu := fullRadio()
	eu.Mains.Profile = "eu"
	direct := fullRadio()
	direct.Rectifier = "5Y3"
	strange := fullRadio()
	strange.Valves = []string{"ECH81", "EF89"}
	named := fullRadio()
	named.Valves, named.Output.Valve = []string{"EL84", "EL84"}, "EL84"
	other := fullRadio()
	other.Output.Valve = "EL41"
	untapped := fullRadio()
	untapped.Mains.Tap = nil
	fed := fullRadio()
	fed.Output.ScreenR = new(unit.Ohm(0))
	for _, c := range []struct {
		id   string
		set  *sheet.Set
		want []string
	}{
		{"plug-fuse-mark", fullRadio(), []string{""}},
		{"plug-fuse-mark", eu, nil},
		{"plug-fuse", eu, nil},
		{"set-fuse", eu, []string{""}},
		{"primary-winding", fullRadio(), []string{"200 V", "215 V", "230 V"}},
		{"primary-winding", untapped, []string{"200 V", "215 V", "230 V"}},
		{"primary-here", fullRadio(), []string{""}},
		{"earth-bond", fullRadio(), nil},
		{"earth-bond", earthedRadio(), []string{""}},
		{"cathode-resistor", fullRadio(), []string{"V4"}},
		{"cathode-resistor", strange, nil},
		{"cathode-resistor", named, []string{"V1"}},
		{"grid-leak", other, nil},
		{"screen-resistor", fullRadio(), []string{"V4"}},
		{"screen-resistor", fed, nil},
		{"electrodes", fullRadio(), []string{"V4 g1-k", "V4 g1-g2", "V4 a-k", "V4 h-k", "rectifier a-k", "rectifier h-k"}},
		{"electrodes", direct, []string{"V4 g1-k", "V4 g1-g2", "V4 a-k", "V4 h-k", "rectifier a-k"}},
		{"joint", fullRadio(), []string{"coupling-leg", "speaker-strap"}},
		{"half-winding", fullRadio(), []string{"a", "b"}},
		{"hot-primary", fullRadio(), []string{"first", "second", "third"}},
		{"stamped-volts", fullRadio(), []string{"reservoir", "second", "coupling"}},
	} {
		check, _ := Find(c.id)
		if got := check.Items(c.set); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.id, got, c.want)
		}
	}
}

// TestSetsOffTheBeatenTrack: windows of sets whose sheet says other things, or
// less.
func TestSetsOffTheBeatenTrack(t *testing.T) {
	change := func(f func(*sheet.Set)) *sheet.Set {
		s := fullRadio()
		f(s)
		return s
	}
	for _, c := range []struct {
		why, id, item, typed string
		set                  *sheet.Set
		want                 engine.Verdict
	}{
		{"eu, no fuse in the set: nothing blows", "set-fuse-mark", "", "0 A", change(func(s *sheet.Set) { s.Mains.Profile = "eu" }), engine.Stop},
		{"eu, the fuse it should have", "set-fuse-mark", "", "0.4 A", change(func(s *sheet.Set) { s.Mains.Profile = "eu" }), engine.Pass},
		{"eu, one size above", "set-fuse-mark", "", "0.5 A", change(func(s *sheet.Set) { s.Mains.Profile = "eu" }), engine.Query},
		{"a choke half as much again", "smoothing-resistor", "", "1.8k", change(func(s *sheet.Set) { s.Smoothing.Kind = sheet.Choke }), engine.Query},
		{"a field at 60 %", "smoothing-resistor", "", "720", change(func(s *sheet.Set) { s.Smoothing.Kind = sheet.Field }), engine.Stop},
		{"a choke open", "smoothing-resistor", "", "OL", change(func(s *sheet.Set) { s.Smoothing.Kind = sheet.Choke }), engine.Stop},
		{"cathode resistor by valve data", "cathode-resistor", "V4", "250", change(func(s *sheet.Set) { s.Output.CathodeR = nil }), engine.Query},
		{"the same, shorted", "cathode-resistor", "V4", "1", change(func(s *sheet.Set) { s.Output.CathodeR = nil }), engine.Stop},
		{"grid leak unknown, a usual one", "grid-leak", "V4", "470k", change(func(s *sheet.Set) { s.Output.GridLeak = nil }), engine.Pass},
		{"grid leak unknown, over what the valve allows", "grid-leak", "V4", "1.2M", change(func(s *sheet.Set) { s.Output.GridLeak = nil }), engine.Stop},
		{"coupling with the grid leak unknown", "coupling-capacitor", "V4", "20 MΩ", change(func(s *sheet.Set) { s.Output.GridLeak = nil }), engine.Query},
		{"the same, a dead short", "coupling-capacitor", "V4", "0.2 MΩ", change(func(s *sheet.Set) { s.Output.GridLeak = nil }), engine.Stop},
		{"coupling from HT1, 264 V: 247 MΩ", "coupling-capacitor", "V4", "230 MΩ", change(func(s *sheet.Set) { s.Output.Coupling.Rail = sheet.HT1 }), engine.Stop},
		{"rail computed: a query at most", "coupling-capacitor", "V4", "20 MΩ", change(func(s *sheet.Set) { s.Printed = nil }), engine.Query},
		{"rail HT1 computed: a query at most", "coupling-capacitor", "V4", "20 MΩ", change(func(s *sheet.Set) { s.Printed, s.Output.Coupling.Rail = nil, sheet.HT1 }), engine.Query},
		{"coupling rated below a computed rail", "stamped-volts", "coupling", "100 V", change(func(s *sheet.Set) { s.Printed = nil }), engine.Query},
		{"on-load volts: 350 V is below their own peak", "stamped-volts", "second", "350 V", change(func(s *sheet.Set) { s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad} }), engine.Stop},
		{"on-load volts: 400 V may or may not do", "stamped-volts", "second", "400 V", change(func(s *sheet.Set) { s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad} }), engine.Query},
		{"on-load volts: 500 V does", "stamped-volts", "second", "500 V", change(func(s *sheet.Set) { s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad} }), engine.Pass},
		{"primary by the size of the transformer", "primary-winding", "230 V", "46", change(func(s *sheet.Set) { s.Transformer.Primary = nil }), engine.Pass},
		{"primary by the watts of the set", "primary-winding", "230 V", "46", change(func(s *sheet.Set) { s.Transformer.Primary, s.Transformer.Rating = nil, nil }), engine.Pass},
		{"primary nearly nothing", "primary-winding", "230 V", "3", change(func(s *sheet.Set) { s.Transformer.Primary = nil }), engine.Stop},
		{"bleed path at HT1: no resistor in front", "ht-line", "", "111k", change(func(s *sheet.Set) { s.Bleed.At = sheet.HT1 }), engine.Query},
		{"a path of 2 MΩ counts as none", "ht-line", "", "1.5M", change(func(s *sheet.Set) { s.Bleed.Resistance = new(unit.Ohm(2e6)) }), engine.Pass},
		{"no path, 300 kΩ", "ht-line", "", "300k", noBleed(), engine.Query},
		{"no path, 80 kΩ", "ht-line", "", "80k", noBleed(), engine.Stop},
		{"no path, kick", "ht-line-kick", "", "40k", noBleed(), engine.Pass},
		{"no path, no kick", "ht-line-kick", "", "OL", noBleed(), engine.Query},
		{"no path, a minute", "ht-line-60", "", "900k", noBleed(), engine.Pass},
	} {
		check, _ := Find(c.id)
		with := digital()
		switch check.Function {
		case sheet.Insulation:
			with = tester()
		case "":
			with = nil
		}
		if got := verdictOf(t, c.id, caseFor(t, c.set, c.item), with, c.typed); got != c.want {
			t.Errorf("%s: %s typed %s: %v, want %v", c.why, c.id, c.typed, got, c.want)
		}
	}
}

// TestRefusedRules: what is missing is named.
func TestRefusedRules(t *testing.T) {
	change := func(f func(*sheet.Set)) *sheet.Set {
		s := fullRadio()
		f(s)
		return s
	}
	for _, c := range []struct {
		why, id, item string
		set           *sheet.Set
		model         bool
		is            error
	}{
		{"no fuse in the set", "set-fuse", "", fullRadio(), true, ErrAbsent},
		{"a lamp that is no lamp", "lamp-cold", "forty", fullRadio(), true, nil},
		{"a tap that is no tap", "primary-winding", "high", fullRadio(), true, nil},
		{"a set too big for its plug", "plug-fuse-mark", "", change(func(s *sheet.Set) { s.Watts = new(unit.Watt(4000)) }), true, nil},
		{"a set too big for any fuse", "set-fuse-mark", "", change(func(s *sheet.Set) { s.Watts = new(unit.Watt(4000)) }), true, nil},
		{"set fuse without a tap", "set-fuse-mark", "", change(func(s *sheet.Set) { s.Mains.Tap = nil }), false, ErrNoData},
		{"coupling rating without a tap", "stamped-volts", "coupling", change(func(s *sheet.Set) { s.Mains.Tap = nil }), false, ErrNoData},
		{"rail without print or circuit", "stamped-volts", "coupling", change(func(s *sheet.Set) { s.Printed = nil }), false, ErrNoData},
		{"on-load volts without a circuit", "stamped-volts", "reservoir", change(func(s *sheet.Set) { s.HTWinding.Taken = sheet.OnLoad }), false, ErrNoData},
		{"primary in use without a tap", "primary-here", "", change(func(s *sheet.Set) { s.Mains.Tap = nil }), false, ErrNoData},
		{"another tap without the transformer's size", "primary-winding", "200 V", change(func(s *sheet.Set) { s.Watts, s.Transformer.Rating = nil, nil }), false, ErrNoData},
		{"old capacitors of unknown size, no circuit", "ht-leak", "", change(func(s *sheet.Set) { s.Renewed, s.Reservoir.Capacitance = nil, nil }), false, ErrNoData},
	} {
		k := caseFor(t, fullRadio(), c.item)
		k.Set = c.set
		if !c.model {
			k.Model = nil
		}
		if c.is == ErrAbsent {
			k = k.had("set-fuse-mark", unit.KindAmpere, 0)
		}
		check, _ := Find(c.id)
		w, err := check.Rule(k)
		if err == nil || w.built || c.is != nil && !errors.Is(err, c.is) {
			t.Errorf("%s: window %v, error %v, want %v", c.why, w.built, err, c.is)
		}
	}
	k := caseFor(t, fullRadio(), "V4")
	k.Set = change(func(s *sheet.Set) { s.Printed = nil })
	k.Model.Reservoir = 0
	check, _ := Find("coupling-capacitor")
	if _, err := check.Rule(k); err == nil {
		t.Error("a rail from a circuit that cannot be solved")
	}
}

// TestEveryOutputValveHasAGridLeakLimit: where the data of a type says nothing
// the usual figure ends the high side, and no data says more than that.
func TestEveryOutputValveHasAGridLeakLimit(t *testing.T) {
	n := 0
	for _, v := range limits.Valves() {
		if v.Output == nil {
			continue
		}
		n++
		k := Case{Set: &sheet.Set{Valves: []string{v.Type}}}
		if got := k.gridLeakMost(); !(got > 0 && got <= 3.3e6) {
			t.Errorf("%s: grid leak up to %g", v.Type, got)
		}
	}
	if n == 0 {
		t.Fatal("no output valve in the data")
	}
	none := Case{Set: &sheet.Set{}}
	if got := none.gridLeakMost(); got != 1e6 { // output valve data sheets, from memory
		t.Errorf("no valve known: %g", got)
	}
}

func BenchmarkFind(b *testing.B) {
	for b.Loop() {
		if _, ok := Find("touch-current"); !ok {
			b.Fatal("not found")
		}
	}
}

// Of a rail that nobody names the higher is taken: with the lower a leak would
// pass that puts more on the grid.
func TestARailThatIsNotNamedIsTheHigher(t *testing.T) {
	named, unnamed := fullRadio(), fullRadio()
	named.Output.Coupling.Rail, unnamed.Output.Coupling.Rail = sheet.HT1, ""
	want, got := windowOf(t, "coupling-capacitor", caseFor(t, named, "V4")), windowOf(t, "coupling-capacitor", caseFor(t, unnamed, "V4"))
	if got.Pass != want.Pass || got.Query != want.Query {
		t.Errorf("pass %v, query %v; with HT1 %v, %v", got.Pass, got.Query, want.Pass, want.Query)
	}
}
