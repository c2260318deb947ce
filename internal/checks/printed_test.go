package checks

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// printedRadio is the full radio with all five figures of its service sheet, as
// a simulation gives them (ngspice-39) on a meter of 10 MΩ at 230 V.
func printedRadio() *sheet.Set {
	s := fullRadio()
	s.Printed = &sheet.Printed{
		HT1: new(unit.Volt(264)), HT2: new(unit.Volt(224)), Anode: new(unit.Volt(248)), Screen: new(unit.Volt(220)), Cathode: new(unit.Volt(6)),
		Mains: new(unit.Volt(230)), Meter: new(unit.Ohm(10e6)),
	}
	return s
}

// figures are the printed voltages by field.
func figures(p *sheet.Printed) map[string]**unit.Volt {
	return map[string]**unit.Volt{"ht1": &p.HT1, "ht2": &p.HT2, "anode": &p.Anode, "screen": &p.Screen, "cathode": &p.Cathode}
}

// Each row is worked by hand: v x (1 + Rs/Rthen) x m^n / (1 + Rs/10 MΩ), and a
// tenth to either side (common practice, no source). 1.2 is the exponent of the
// cathode; where two meters are possible the higher low end and the lower high
// end count.
func TestPrintedFigureIsBroughtToNow(t *testing.T) {
	named := func(in unit.Ohm) func(*sheet.Printed) {
		return func(p *sheet.Printed) { p.Meter = &in }
	}
	needle := func(perVolt unit.OhmPerVolt, top unit.Volt) func(*sheet.Printed) {
		return func(p *sheet.Printed) {
			p.Meter, p.PerVolt = nil, &perVolt
			if top > 0 {
				p.Range = &top
			}
		}
	}
	for _, c := range []struct {
		what   string
		point  int
		v      unit.Volt
		with   func(*sheet.Printed)
		mains  unit.Volt
		source unit.Ohm
		set    unit.Volt
		lo, hi float64
	}{
		{"85 V at 1000 Ω/V on 250 V over 80 kΩ: 111.3 V on 10 MΩ", printedHT1, 85, needle(1000, 250), 230, 80e3, 230, 94.61444, 128.00545},
		{"HT1 264 V, same mains", printedHT1, 264, named(10e6), 230, 737, 230, 224.4, 303.6},
		{"HT1 at 207 V: x 0.9", printedHT1, 264, named(10e6), 230, 737, 207, 201.96, 273.24},
		{"HT1 at 253 V: x 1.1", printedHT1, 264, named(10e6), 230, 737, 253, 246.84, 333.96},
		{"HT1 printed at 220 V: x 230/220 = 276 V", printedHT1, 264, named(10e6), 220, 737, 230, 234.6, 317.4},
		{"HT2 224 V at 207 V: 201.6 V", printedHT2, 224, named(10e6), 230, 1388, 207, 171.36, 231.84},
		{"anode 248 V at 253 V: 272.8 V", printedAnode, 248, named(10e6), 230, 1117, 253, 231.88, 313.72},
		{"screen 220 V, 1000 Ω/V on 300 V over 2.4 kΩ: 221.76 - 0.05 V", printedScreen, 220, needle(1000, 300), 230, 2400, 230, 188.45444, 254.96545},
		{"cathode 6 V at 207 V: x 0.88124 = 5.2874 V", printedCathode, 6, named(10e6), 230, 51, 207, 4.49433, 6.08057},
		{"cathode at 253 V: x 1.1212 = 6.727 V", printedCathode, 6, named(10e6), 230, 51, 253, 5.71767, 7.73636},
		{"cathode at 1000 Ω/V on 10 V over 51 Ω: x 1.0051", printedCathode, 6, needle(1000, 10), 230, 51, 230, 5.12597, 6.93523},
		{"no meter named, 6 kΩ or 10 MΩ: 5.446 from the one, 6.6 from the other", printedCathode, 6, func(p *sheet.Printed) { p.Meter = nil }, 230, 51, 230, 5.14335, 6.9},
		{"no range named, 6 kΩ to 1 MΩ", printedCathode, 6, needle(1000, 0), 230, 51, 230, 5.14335, 6.90031},
		{"a range that cannot show the figure is none", printedCathode, 6, needle(1000, 3), 230, 51, 230, 5.14335, 6.90031},
	} {
		k := fullMains(c.set)
		k.Set = printedRadio()
		p := printedPoints()[c.point]
		c.with(k.Set.Printed)
		k.Set.Printed.Mains = &c.mains
		*figures(k.Set.Printed)[p.field] = &c.v
		got, err := k.bring(p, c.source, c.set)
		if err != nil || !(math.Abs(got.Lo-c.lo) <= 1e-4*c.lo && math.Abs(got.Hi-c.hi) <= 1e-4*c.hi) {
			t.Errorf("%s: %v, %v, want %v to %v", c.what, got.Interval, err, c.lo, c.hi)
		}
	}
}

// 0.2 V at 1000 Ω/V over 51 Ω was 0.25 V, and on 10 MΩ it was 0.2 V: further
// apart than what printed figures hold to. Nothing passes then, and
// the sheet is queried.
func TestMetersThatAgreeOnNothing(t *testing.T) {
	k := fullMains(230)
	k.Set = printedRadio()
	k.Set.Printed.Meter, k.Set.Printed.Cathode = nil, new(unit.Volt(0.2))
	w := windowOf(t, "output-cathode", k)
	if !(w.Pass.Lo == w.Pass.Hi) || !strings.Contains(w.Sum, "they do not agree") {
		t.Errorf("pass %v, %q", w.Pass, w.Sum)
	}
	if got := queried(k.Set); got["printed.cathode"] == "" {
		t.Errorf("%v", got)
	}
	if (brought{Interval: Interval{6.2, 6}}).agrees(Interval{5, 7}) {
		t.Error("meters that agree on nothing share it with the circuit")
	}
}

// What passes is inside both; what stops is the circuit's. The figures are those
// of a healthy set (ngspice-39).
func TestPrintedFigureNarrowsPass(t *testing.T) {
	for _, c := range []struct {
		id   string
		set  unit.Volt
		x    float64
		want Interval // of the printed figure; the circuit may end sooner
	}{
		{"ht-reservoir", 207, 237.2, Interval{201.96, 273.24}},
		{"ht-reservoir", 230, 263.8, Interval{224.4, 303.6}},
		{"ht-reservoir", 253, 290.4, Interval{246.84, 333.96}},
		{"ht-smoothed", 207, 202.1, Interval{171.36, 231.84}},
		{"ht-smoothed", 230, 224.4, Interval{190.4, 257.6}},
		{"ht-smoothed", 253, 246.8, Interval{209.44, 283.36}},
		{"output-cathode", 207, 5.33, Interval{4.49433, 6.08057}},
		{"output-cathode", 230, 6.03, Interval{5.1, 6.9}},
		{"output-cathode", 253, 6.75, Interval{5.71767, 7.73636}},
	} {
		k := fullMains(c.set)
		k.Set = printedRadio()
		both := windowOf(t, c.id, k)
		k.Set.Printed = nil
		bare := windowOf(t, c.id, k)
		want := Interval{max(bare.Pass.Lo, c.want.Lo), min(bare.Pass.Hi, c.want.Hi)}
		if !(math.Abs(both.Pass.Lo-want.Lo) <= 1e-4*want.Lo && math.Abs(both.Pass.Hi-want.Hi) <= 1e-4*want.Hi) {
			t.Errorf("%s at %v: pass %v, want %v", c.id, c.set, both.Pass, want)
		}
		if both.Query != bare.Query || both.Stop != bare.Stop || both.Danger != bare.Danger {
			t.Errorf("%s at %v: the lines that stop have moved", c.id, c.set)
		}
		if !strings.Contains(both.Sum, "; computed ") || !strings.Contains(both.Sum, "; printed ") || !strings.Contains(both.Sum, "; shared ") || strings.Contains(bare.Sum, "printed") {
			t.Errorf("%s: sum %q", c.id, both.Sum)
		}
		k.Set = printedRadio()
		if got := verdict(t, c.id, k, c.x); got != engine.Pass {
			t.Errorf("%s at %v: a healthy %v is %v", c.id, c.set, c.x, got)
		}
	}
}

// A sheet that is wrong by any factor lets nothing through that the circuit
// would not, and stops nothing.
func TestPrintedFiguresNeverWidenAndNeverStop(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	rapid.Check(t, func(t *rapid.T) {
		k := fullMains(unit.Volt(rapid.Float64Range(200, 253).Draw(t, "set")))
		k.Set = printedRadio()
		for field, at := range figures(k.Set.Printed) {
			*at = new(**at * unit.Volt(rapid.Float64Range(0.2, 5).Draw(t, field)))
		}
		bare := k
		bare.Set = fullRadio()
		bare.Set.Printed = nil
		for _, id := range []string{"ht-reservoir", "ht-smoothed", "output-cathode"} {
			check, _ := Find(id)
			with, err := check.Rule(k)
			alone, err2 := check.Rule(bare)
			if err != nil || err2 != nil {
				t.Fatal(id, err, err2)
			}
			if with.Pass.Lo < alone.Pass.Lo || with.Pass.Hi > alone.Pass.Hi || with.Query != alone.Query || with.Stop != alone.Stop || with.Danger != alone.Danger {
				t.Fatalf("%s: %v %v, without the sheet %v %v", id, with.Pass, with.Query, alone.Pass, alone.Query)
			}
		}
	})
}

// Where sheet and circuit share nothing no reading passes, and what the circuit
// stops still stops.
func TestNothingSharedIsAQueryAtBest(t *testing.T) {
	for _, factor := range []unit.Volt{0.7, 1.3} {
		k := fullMains(230)
		k.Set = printedRadio()
		k.Set.Printed.HT1 = new(264 * factor)
		check, _ := Find("ht-reservoir")
		w := windowOf(t, "ht-reservoir", k)
		if !strings.Contains(w.Sum, "they do not agree") {
			t.Errorf("sum %q", w.Sum)
		}
		for x, want := range map[float64]engine.Verdict{200: engine.Stop, 250: engine.Query, 264: engine.Query, 277: engine.Query, 310: engine.Stop} {
			if got := w.Judge(meter.Read(x, 0.5), check.Crit).Verdict; got != want {
				t.Errorf("printed x %v: %v V is %v, want %v", factor, x, got, want)
			}
		}
		for x := w.Query.Lo; x <= w.Query.Hi; x++ {
			if got := w.Judge(meter.Read(x, 0.5), check.Crit).Verdict; got == engine.Pass {
				t.Errorf("printed x %v: %v V passes", factor, x)
			}
		}
	}
}

func TestPrintedFiguresSpeakOnlyWhereCathodesEmit(t *testing.T) {
	k := fullMains(161)
	k.Set, k.Rung = printedRadio(), 70
	for _, id := range []string{"ht-reservoir", "ht-smoothed", "output-cathode"} {
		if w := windowOf(t, id, k); strings.Contains(w.Sum, "printed") {
			t.Errorf("%s: %q", id, w.Sum)
		}
	}
}

// HT that the winding was worked back from agrees with itself.
func TestWorkedBackIsNoSecondSource(t *testing.T) {
	k := caseFor(t, sparseRadio(), "")
	k.Rung, k.AtSet, k.TwoSided = 100, 230, true
	if w := windowOf(t, "ht-reservoir", k); !strings.Contains(w.Sum, "printed 264 V: computed from it, no second source") {
		t.Errorf("sum %q", w.Sum)
	}
	fitted := sparseRadio() // so is HT2, by the loads that no sheet gives
	fitted.Printed.HT2 = new(unit.Volt(180))
	for _, s := range []*sheet.Set{sparseRadio(), fitted} {
		if got := queried(s); len(got) > 0 {
			t.Errorf("%v", got)
		}
	}
}

// queried are the fields that a review of the printed volts names, each with its
// cause.
func queried(s *sheet.Set) map[string]string {
	out := map[string]string{}
	for _, r := range ReviewPrinted(s, ukProfile()) {
		out[r.Field] = r.Hint
	}
	return out
}

func TestSheetThatAgreesIsNotQueried(t *testing.T) {
	for what, change := range map[string]func(*sheet.Printed){
		"as printed":     func(*sheet.Printed) {},
		"no meter named": func(p *sheet.Printed) { p.Meter = nil },
		"1000 Ω/V on 500 V": func(p *sheet.Printed) {
			p.Meter, p.PerVolt, p.Range = nil, new(unit.OhmPerVolt(1000)), new(unit.Volt(500))
		},
		"1000 Ω/V, range unknown": func(p *sheet.Printed) { p.Meter, p.PerVolt = nil, new(unit.OhmPerVolt(1000)) },
		"at 207 V":                func(p *sheet.Printed) { printedAt(p, 0.9) },
		"at 253 V":                func(p *sheet.Printed) { printedAt(p, 1.1) },
		"no mains":                func(p *sheet.Printed) { p.Mains = nil },
	} {
		s := printedRadio()
		change(s.Printed)
		if got := queried(s); len(got) > 0 {
			t.Errorf("%s: %v", what, got)
		}
	}
	s := printedRadio()
	s.Printed = nil
	if got := queried(s); len(got) > 0 {
		t.Errorf("nothing printed: %v", got)
	}
}

// printedAt is the same sheet printed at other mains.
func printedAt(p *sheet.Printed, m float64) {
	p.Mains = new(unit.Volt(230 * m))
	for field, at := range figures(p) {
		n := 1.0
		if field == "cathode" {
			n = 1.2
		}
		*at = new(**at * unit.Volt(math.Pow(m, n)))
	}
}

// Each figure wrong by 30 % is told before the set is touched: by the sheet's
// own review, which refuses it, or as a query with the cause.
func TestEachWrongFigureIsTold(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	for _, c := range []struct {
		field  string
		factor unit.Volt
		cause  string // empty: refused, it cannot stand beside the others
	}{
		{"ht1", 0.7, ""},
		{"ht1", 1.3, "this figure misread, or the HT winding's volts"},
		{"ht2", 0.7, ""},
		{"ht2", 1.3, ""},
		{"anode", 0.7, "where the anode is fed from"},
		{"anode", 1.3, ""},
		{"screen", 0.7, "the screen resistor's ohms"},
		{"screen", 1.3, ""},
		{"cathode", 0.7, "the cathode resistor's ohms"},
		{"cathode", 1.3, "the cathode resistor's ohms"},
	} {
		for _, meterThen := range []*unit.Ohm{new(unit.Ohm(10e6)), nil} {
			s := printedRadio()
			s.Printed.Meter = meterThen
			at := figures(s.Printed)[c.field]
			*at = new(**at * c.factor)
			refused := slices.ContainsFunc(s.Review(ukProfile()), func(r sheet.Remark) bool { return r.Severity == sheet.Refuse })
			if refused != (c.cause == "") {
				t.Errorf("%s x %v: refused %v", c.field, c.factor, refused)
			}
			got := queried(s)
			if hint := got["printed."+c.field]; len(got) == 0 || !strings.Contains(hint, c.cause) || c.cause != "" && hint == "" {
				t.Errorf("%s x %v: %v, want %q", c.field, c.factor, got, c.cause)
			}
		}
	}
}

// An anode printed below HT2 has the windows computed as if fed from there,
// where 6.8 V at the cathode are too many (6.1 V at most, computed), though the
// diagram's circuit would have them.
func TestTheWindowsOwnCircuitIsComparedToo(t *testing.T) {
	s := printedRadio()
	s.Printed.Cathode = new(unit.Volt(6.8))
	if got := queried(s); len(got) > 0 {
		t.Errorf("%v", got)
	}
	s.Printed.Anode = new(unit.Volt(223))
	if got := queried(s); got["printed.cathode"] == "" {
		t.Errorf("%v", got)
	}
}

func TestOneRatioIsMainsOrWinding(t *testing.T) {
	all := func(s *sheet.Set, k float64) { printedAt(s.Printed, k); s.Printed.Mains = new(unit.Volt(230)) }
	for _, c := range []struct {
		what   string
		factor float64
		taken  sheet.Taken
		volts  unit.Volt
		want   string
	}{
		{"printed on 184 V", 0.8, sheet.Open, 275, "printed at 180 V mains, or on another tap; or the volts of another winding"},
		{"250 V on load called open, HT as at 305 V open", 1, sheet.Open, 220, "winding volts on load taken as open"},
	} {
		s := printedRadio()
		all(s, c.factor)
		s.HTWinding = &sheet.HTWinding{Volts: c.volts, Taken: c.taken}
		got := queried(s)
		for _, field := range []string{"printed.ht1", "printed.ht2", "printed.anode"} {
			if !strings.Contains(got[field], c.want) {
				t.Errorf("%s: %s: %q, want %q", c.what, field, got[field], c.want)
			}
		}
	}
}

// A screen fed through 47 kΩ and printed with 1000 Ω/V reads low by itself: a
// meter of no less than that explains it, and the sheet names one of 10 MΩ.
func TestOnePointLowByItsMeter(t *testing.T) {
	s := printedRadio()
	s.Output.ScreenR = new(unit.Ohm(47e3))
	s.Printed.Cathode = nil
	computed, err := solvedFor(withoutPrinted(s), ukProfile(), 230)
	if err != nil {
		t.Fatal(err)
	}
	s.Printed = &sheet.Printed{
		HT1: new(unit.Volt(computed.HT1.X)), HT2: new(unit.Volt(computed.HT2.X)), Meter: new(unit.Ohm(10e6)),
		Screen: new(meter.Loaded(unit.Volt(computed.Screen.X), computed.sources.screen, 100e3)),
	}
	got := queried(s)
	if hint := got["printed.screen"]; len(got) != 1 || !strings.Contains(hint, "printed with a meter of about 100 kΩ") {
		t.Errorf("%v", got)
	}
}

// HT1 of 737 Ω and the cathode's 135 Ω across 82.6 Ω (1/gm: 5.54 V over 1.5 x
// 44.7 mA), worked by hand; the line's is what a load of 1 mA pulls it down by.
func TestSourceResistances(t *testing.T) {
	m := tableRadioModel()
	p, err := m.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := sourcesOf(m, p)
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(float64(s.cathode)-51.3) <= 0.5) {
		t.Errorf("cathode %v, want 51.3 Ω", s.cathode)
	}
	if !(s.ht2 > s.ht1 && s.ht1 > 0 && s.ht2 < 2000 && s.anode == s.ht1+380 && s.screen == s.ht2+1000) {
		t.Errorf("%+v", s)
	}
	if got := cathodeSource(m.Output, 0); got != 135 {
		t.Errorf("a valve cut off: %v", got)
	}
}

func needleOf(perVolt unit.OhmPerVolt, tops ...float64) *sheet.Meter {
	return &sheet.Meter{Name: "needle", Kind: sheet.MovingCoil, PerVolt: &perVolt, Functions: []sheet.Span{spanOf(sheet.DCVolts, 2, 0, tops...)}}
}

// The grid's lines are those of 10 MΩ. Over 220 kΩ that meter shows 0.978 and
// 20 kΩ/V on its 10 V range 0.476 (computed): 0.487 of it.
func TestGridLinesAreWhatTheMeterShows(t *testing.T) {
	for _, c := range []struct {
		what string
		m    *sheet.Meter
		leak unit.Ohm
		part float64
	}{
		{"10 MΩ", &sheet.Meter{Input: new(unit.Ohm(10e6))}, 220e3, 1},
		{"more than 10 MΩ moves nothing", &sheet.Meter{Input: new(unit.Ohm(1e9))}, 220e3, 1},
		{"1 MΩ over 470 kΩ: 0.680 of 0.955", &sheet.Meter{Input: new(unit.Ohm(1e6))}, 470e3, 0.7123},
		{"20 kΩ/V on 10 V over 220 kΩ", needleOf(20e3, 10, 50), 220e3, 0.4867},
		{"and over 1 MΩ: 0.167 of 0.909", needleOf(20e3, 10), 1e6, 0.1833},
		{"1000 Ω/V on 10 V over 220 kΩ: 0.0435 of 0.978", needleOf(1000, 10), 220e3, 0.04443},
	} {
		k := fullMains(230)
		k.Meter = c.m
		k.Taken["grid-leak@V4"] = unit.Quantity{Kind: unit.KindOhm, Value: float64(c.leak)}
		w, b := windowOf(t, "output-grid", k), limits.BandOf("output-grid.full")
		for _, l := range [][2]float64{{w.Pass.Lo, b.PassLo}, {w.Pass.Hi, b.PassHi}, {w.Query.Hi, b.QueryHi}} {
			if !(math.Abs(l[0]-c.part*l[1]) <= 1e-3*math.Abs(l[1])) {
				t.Errorf("%s: line %v, want %v of %v", c.what, l[0], c.part, l[1])
			}
		}
	}
}

// Nobody knows the leak: the lines are as if it were the most the valve allows,
// 1 MΩ of an EL84 (data sheet, from memory).
func TestGridLeakNotKnownIsTheMost(t *testing.T) {
	k := fullMains(230)
	k.Set.Output.GridLeak, k.Meter = nil, needleOf(20e3, 10)
	if got, want := windowOf(t, "output-grid", k).Query.Hi, 0.5*0.1833; !(math.Abs(got-want) <= 1e-3) {
		t.Errorf("stop over %v, want %v", got, want)
	}
}

// 1000 Ω/V on the range of each: cathode 51.3 Ω and 10 kΩ, screen 1 kΩ and
// 10 kΩ, output transformer 380 Ω and 50 kΩ (computed).
func TestLinesOfTheStageAreWhatTheMeterShows(t *testing.T) {
	for id, part := range map[string]float64{"output-cathode": 0.9949, "screen-drop": 0.9091, "opt-volts": 0.9925} {
		k := fullMains(230)
		bare := windowOf(t, id, k)
		k.Meter = needleOf(1000, 10, 50, 500)
		got := windowOf(t, id, k)
		if !(math.Abs(got.Query.Hi/bare.Query.Hi-part) <= 2e-4 && math.Abs(got.Pass.Lo/bare.Pass.Lo-part) <= 2e-4) {
			t.Errorf("%s: %v %v, without a meter %v %v, want %v of it", id, got.Pass, got.Query, bare.Pass, bare.Query, part)
		}
	}
}
