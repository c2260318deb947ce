package checks

import (
	"math"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// TestFullRadioWindows holds every dead window of the full example against its
// lines worked by hand from the sheet: multiples of the sheet's value, common
// practice without a source, except as said.
func TestFullRadioWindows(t *testing.T) {
	for _, c := range []struct {
		id, item         string
		passLo, passHi   float64
		queryLo, queryHi float64
		why              string
		slot             string // a reading taken before
		kind             unit.Kind
		value            float64
		typical          bool
	}{
		{id: "lamp-cold", item: "40 W", passLo: 59.5, passHi: 185.2, queryLo: 39.7, queryHi: 330.6, why: "230²/40 = 1322.5 Ω hot; cold is a tenth to a fifteenth, from memory"},
		{id: "lamp-cold", item: "100 W", passLo: 23.8, passHi: 74.1, queryLo: 15.87, queryHi: 132.25, why: "529 Ω hot"},
		{id: "meter-source", item: "B", passLo: 8.37, passHi: 10.23, queryLo: 7.44, queryHi: 11.16, why: "10 % of 9.3 V"},
		{id: "discharge-tool", passLo: 9e3, passHi: 11e3, queryLo: 9e3, queryHi: 11e3, why: "10 kΩ ± 10 %"},
		{id: "plug-fuse-mark", passLo: 0.9, passHi: 3, queryLo: 0.9, queryHi: 5.01, why: "BS 1362: 3 A below 700 W; 5 A is one size above"},
		{id: "set-fuse-mark", passLo: 0, passHi: 0.4, queryLo: 0, queryHi: 0.5, why: "52/230 = 0.226 A, 1.5 x = 0.339: 0.4 A, then 0.5 A (IEC 60127, from memory)"},
		{id: "stamped-volts", item: "reservoir", passLo: 427.8, passHi: openUp, queryLo: 427.8, queryHi: openUp, why: "1.414 x 275 x 253/230, computed"},
		{id: "stamped-volts", item: "coupling", passLo: 246.4, passHi: openUp, queryLo: 246.4, queryHi: openUp, why: "224 V rail x 253/230, computed"},
		{id: "coupling-capacitor", item: "V4", passLo: 1.503e9, passHi: openUp, queryLo: 300.2e6, queryHi: openUp, why: "(224 - 0.1) 470k/0.1 and (224 - 0.5) 470k/0.5, each / 0.7, computed"},
		{id: "speaker-insulation", passLo: 2.857e6, passHi: openUp, queryLo: 2.857e6, queryHi: openUp, why: "2 MΩ / 0.7"},
		{id: "primary-winding", item: "230 V", passLo: 39.1, passHi: 52.9, queryLo: 32.2, queryHi: 59.8, why: "46 Ω ± 15, ± 30 %"},
		{id: "primary-winding", item: "200 V", passLo: 34, passHi: 46, queryLo: 3.781, queryHi: 7272.7, typical: true, why: "46 x 200/230 = 40 Ω; 5 Ω x (200/230)²; ten times 200²/55"},
		{id: "primary-here", passLo: 39.1, passHi: 52.9, queryLo: 32.2, queryHi: 59.8, why: "as the tap in use"},
		{id: "live-path-on", passLo: openDown, passHi: 1, queryLo: openDown, queryHi: 5, why: "no fuse read yet"},
		{id: "live-path-off", passLo: 2.857e6, passHi: openUp, queryLo: 2.857e6, queryHi: openUp, why: "2 MΩ / 0.7"},
		{id: "neutral-path", passLo: openDown, passHi: 1, queryLo: openDown, queryHi: 5},
		{id: "plug-fuse", slot: "plug-fuse-mark", kind: unit.KindAmpere, value: 3, passLo: openDown, passHi: 1, queryLo: openDown, queryHi: 100},
		{id: "set-fuse", slot: "set-fuse-mark", kind: unit.KindAmpere, value: 0.4, passLo: openDown, passHi: 30, queryLo: openDown, queryHi: 100, why: "thin wire"},
		{id: "mains-insulation", passLo: 20e6, passHi: openUp, queryLo: 2.857e6, queryHi: openUp, why: "unearthed: IET practice 2 MΩ, IEC 61557-2 ± 30 %"},
		{id: "socket-insulation", passLo: 20e6, passHi: openUp, queryLo: 2.857e6, queryHi: openUp},
		{id: "ht-line", passLo: 154.84e3, passHi: 287.56e3, queryLo: 110.6e3, queryHi: openUp, why: "1.2 k + 220 k = 221.2 kΩ: 0.7, 1.3, 0.5 x"},
		{id: "ht-line-kick", passLo: openDown, passHi: 110.6e3, queryLo: openDown, queryHi: openUp},
		{id: "ht-line-60", passLo: 152.6e3, passHi: 283.4e3, queryLo: openDown, queryHi: openUp, why: "221.2 k (1 - exp(-60/14.16)) = 218.0 kΩ, computed"},
		{id: "heater-winding", passLo: openDown, passHi: 1, queryLo: openDown, queryHi: 10, typical: true},
		{id: "cathode-resistor", item: "V4", passLo: 121.5, passHi: 148.5, queryLo: 108, queryHi: 162},
		{id: "grid-leak", item: "V4", passLo: 423e3, passHi: 517e3, queryLo: 94e3, queryHi: 1e6, why: "the EL84's maximum, 1 MΩ with cathode bias (from memory)"},
		{id: "screen-resistor", item: "V4", passLo: 900, passHi: 1100, queryLo: 800, queryHi: 1200},
		{id: "smoothing-resistor", passLo: 1080, passHi: 1320, queryLo: 960, queryHi: 1440},
		{id: "output-transformer", passLo: 304, passHi: 456, queryLo: 114, queryHi: 760},
		{id: "half-winding", item: "a", passLo: 221, passHi: 299, queryLo: 195, queryHi: 325},
		{id: "half-winding", item: "b", slot: "half-winding@a", kind: unit.KindOhm, value: 260, passLo: 242.25, passHi: 302.16, queryLo: 213.75, queryHi: 334.3, why: "285 ± 15, ± 25 %, and within 15 and 25 % of the mean with 260"},
		{id: "speech-coil", passLo: 1.95, passHi: 3, queryLo: 1.2, queryHi: 4.5},
		{id: "electrodes", item: "V4 g1-k", passLo: 20e6, passHi: openUp, queryLo: 1e6, queryHi: openUp},
		{id: "ht-leak", passLo: 0.9042e-3, passHi: 1.5823e-3, queryLo: openDown, queryHi: 2.2604e-3, why: "250 V / 221.2 kΩ = 1.130 mA: 0.8, 1.4, 2 x"},
		{id: "ht-leak-60", passLo: 0.9042e-3, passHi: 1.5823e-3, queryLo: openDown, queryHi: openUp},
		{id: "discharge-path", passLo: 0, passHi: 60, queryLo: openDown, queryHi: openUp},
		{id: "warm-insulation", passLo: 2.857e6, passHi: openUp, queryLo: 2.857e6, queryHi: openUp, why: "still meets the limit, whatever its condition"},
		{id: "hot-primary", item: "first", slot: "primary-winding@230 V", kind: unit.KindOhm, value: 46, passLo: 46, passHi: 56.84, queryLo: openDown, queryHi: 58.65, why: "46 (234.5 + 80)/254.5 and (234.5 + 90)/254.5"},
		{id: "winding-rise", passLo: 0, passHi: 60, queryLo: openDown, queryHi: 70, why: "85 and 95 °C in a room of 25 °C"},
		{id: "boxed-insulation", passLo: 20e6, passHi: openUp, queryLo: 2.857e6, queryHi: openUp},
		{id: "touch-current", passLo: openDown, passHi: 0.5e-3, queryLo: openDown, queryHi: 0.5e-3, why: "VDE 0701-0702"},
	} {
		k := caseFor(t, fullRadio(), c.item)
		if c.slot != "" {
			k = k.had(c.slot, c.kind, c.value)
		}
		w := windowOf(t, c.id, k)
		for _, line := range []struct {
			name      string
			got, want float64
		}{
			{"pass from", w.Pass.Lo, c.passLo},
			{"pass to", w.Pass.Hi, c.passHi},
			{"query from", w.Query.Lo, c.queryLo},
			{"query to", w.Query.Hi, c.queryHi},
		} {
			if !near(line.got, line.want, math.Abs(line.want)*0.001) {
				t.Errorf("%s %s: %s %g, want %g (%s)", c.id, c.item, line.name, line.got, line.want, c.why)
			}
		}
		if got := w.Grade == Typical; got != c.typical {
			t.Errorf("%s %s: typical %v, want %v", c.id, c.item, got, c.typical)
		}
		if w.Sum == "" || w.Source == "" {
			t.Errorf("%s %s: sum %q, source %q: each window says where it comes from", c.id, c.item, w.Sum, w.Source)
		}
	}
}

// TestFaultsAreCaughtDead types what a set with one fault shows, as far as a
// dead test can find it: the readings follow from the fault by Ohm's law.
func TestFaultsAreCaughtDead(t *testing.T) {
	for _, c := range []struct {
		fault, id, item, typed string
		with                   *sheet.Meter
		want                   engine.Verdict
	}{
		{"healthy cathode resistor", "cathode-resistor", "V4", "134", digital(), engine.Pass},
		{"cathode bypass shorted", "cathode-resistor", "V4", "0", digital(), engine.Stop},
		{"bypass leaky: 67 of 135", "cathode-resistor", "V4", "67", digital(), engine.Stop},
		{"cathode resistor half as much again", "cathode-resistor", "V4", "202", digital(), engine.Stop},
		{"cathode resistor open", "cathode-resistor", "V4", "OL", digital(), engine.Stop},
		{"coupling capacitor 20 MΩ", "coupling-capacitor", "V4", "20 MΩ", tester(), engine.Stop},
		{"coupling capacitor 104 MΩ: +1 V", "coupling-capacitor", "V4", "104 MΩ", tester(), engine.Stop},
		{"coupling capacitor 210 MΩ: +0.5 V", "coupling-capacitor", "V4", "210 MΩ", tester(), engine.Stop},
		{"coupling capacitor sound", "coupling-capacitor", "V4", "OL", tester(), engine.Pass},
		{"coupling capacitor, OL of a multimeter's ohms", "coupling-capacitor", "V4", ">20M", tester(), engine.Query},
		{"12 kΩ leak on HT1", "ht-line", "", "11.4k", digital(), engine.Stop},
		{"12 kΩ leak on HT2", "ht-line", "", "12.6k", digital(), engine.Stop},
		{"50 kΩ leak on HT1", "ht-line", "", "41k", digital(), engine.Stop},
		{"HT line sound", "ht-line", "", "217k", digital(), engine.Pass},
		{"bleed path open", "ht-line", "", "OL", digital(), engine.Query},
		{"12 kΩ leak at volts, above the tester's top", "ht-leak", "", "OL", tester(), engine.Stop},
		{"HT line sound at volts", "ht-leak", "", "1.13 mA", tester(), engine.Pass},
		{"bleed path open at volts", "ht-leak", "", "5 µA", tester(), engine.Query},
		{"output transformer open", "output-transformer", "", "OL", digital(), engine.Stop},
		{"output transformer sound", "output-transformer", "", "381", digital(), engine.Pass},
		{"screen resistor 10 k for 1 k", "screen-resistor", "V4", "10k", digital(), engine.Stop},
		{"smoothing half as much again", "smoothing-resistor", "", "1.8k", digital(), engine.Stop},
		{"half winding open", "half-winding", "a", "OL", digital(), engine.Stop},
		{"200 V tap taken for 230 V: 40 of 46 Ω just passes", "primary-winding", "230 V", "40", digital(), engine.Pass},
		{"primary open, or the switch off", "primary-winding", "230 V", "OL", digital(), engine.Stop},
		{"grid leak open", "grid-leak", "V4", "OL", digital(), engine.Stop},
		{"grid leak shorted", "grid-leak", "V4", "12", digital(), engine.Stop},
		{"grid leak high, within the valve's maximum", "grid-leak", "V4", "620k", digital(), engine.Query},
		{"heater winding floats", "heater-winding", "", "OL", digital(), engine.Stop},
		{"electrodes clear on a meter to 60 MΩ", "electrodes", "V4 g1-k", "OL", digital(), engine.Pass},
		{"electrodes, OL on a range to 2 MΩ", "electrodes", "V4 g1-k", ">2M", digital(), engine.Query},
		{"g1 on the cathode", "electrodes", "V4 g1-k", "0.5", digital(), engine.Stop},
		{"speech coil open", "speech-coil", "", "OL", digital(), engine.Stop},
		{"speech coil sound", "speech-coil", "", "2.4", digital(), engine.Pass},
		{"single-pole switch in the neutral", "live-path-off", "", "0.3", digital(), engine.Stop},
		{"switch open", "live-path-off", "", "OL", digital(), engine.Pass},
		{"live and neutral crossed", "live-path-on", "", "46", digital(), engine.Stop},
		{"live path sound", "live-path-on", "", "0.3", digital(), engine.Pass},
		{"fuse blown", "plug-fuse", "", "OL", digital(), engine.Stop},
		{"insulation damp", "mains-insulation", "", "5 MΩ", tester(), engine.Query},
		{"insulation gone", "mains-insulation", "", "2.8 MΩ", tester(), engine.Stop},
		{"insulation sound", "mains-insulation", "", "OL", tester(), engine.Pass},
		{"speaker winding on HT", "speaker-insulation", "", "1 MΩ", tester(), engine.Stop},
		{"broken meter lead", "leads", "B", "OL", digital(), engine.Stop},
		{"meter leads sound", "leads", "B", "0.1", digital(), engine.Pass},
		{"meter blind", "meter-source", "B", "0", digital(), engine.Stop},
		{"meter shows the source", "meter-source", "B", "9.31", digital(), engine.Pass},
		{"discharge tool broken", "discharge-tool", "", "OL", digital(), engine.Stop},
		{"discharge tool at its limit, within the meter's error", "discharge-tool", "", "10.99k", digital(), engine.Query},
		{"discharge tool sound", "discharge-tool", "", "10.02k", digital(), engine.Pass},
		{"bulb blown or lamp in the neutral", "lamp-cold", "40 W", "OL", digital(), engine.Stop},
		{"lamp by-passed", "lamp-cold", "40 W", "0.2", digital(), engine.Stop},
		{"lamp sound", "lamp-cold", "40 W", "98", digital(), engine.Pass},
		{"tester's lead broken", "tester-joined", "", "OL", tester(), engine.Stop},
		{"tester's leads leak", "tester-apart", "", "3 MΩ", tester(), engine.Stop},
		{"tester sound, apart", "tester-apart", "", "OL", tester(), engine.Pass},
		{"tester sound, joined", "tester-joined", "", "0", tester(), engine.Pass},
		{"plug fuse 13 A", "plug-fuse-mark", "", "13 A", nil, engine.Stop},
		{"plug fuse 5 A", "plug-fuse-mark", "", "5 A", nil, engine.Query},
		{"plug fuse 3 A", "plug-fuse-mark", "", "3 A", nil, engine.Pass},
		{"no fuse in the plug", "plug-fuse-mark", "", "0 A", nil, engine.Stop},
		{"set fuse 1 A, two sizes above", "set-fuse-mark", "", "1 A", nil, engine.Stop},
		{"no fuse in the set, one in the plug", "set-fuse-mark", "", "0 A", nil, engine.Pass},
		{"400 V capacitor", "stamped-volts", "reservoir", "400 V", nil, engine.Stop},
		{"450 V capacitor", "stamped-volts", "reservoir", "450 V", nil, engine.Pass},
		{"joint dry", "joint", "coupling-leg", "OL", digital(), engine.Stop},
		{"joint sound", "joint", "coupling-leg", "0.1", digital(), engine.Pass},
	} {
		if got := verdictOf(t, c.id, caseFor(t, fullRadio(), c.item), c.with, c.typed); got != c.want {
			t.Errorf("%s: %s %s typed %s: %v, want %v", c.fault, c.id, c.item, c.typed, got, c.want)
		}
	}
}

// TestPublishedLimits holds the windows of person's safety against what is
// published.
func TestPublishedLimits(t *testing.T) {
	eu := func(s *sheet.Set) *sheet.Set { s.Mains.Profile = "eu"; return s }
	long := func(s *sheet.Set) *sheet.Set { *s.Flex.Length = 12.5; return s }
	for _, c := range []struct {
		id, source string
		set        *sheet.Set
		lo, hi     float64
	}{
		{"mains-insulation", "DIN VDE 0701-0702: 1 MΩ earthed; IEC 61557-2:2019 ± 30 %: 1.43 MΩ shown", earthedRadio(), 1.4286e6, openUp},
		{"mains-insulation", "the same, unearthed: 2 MΩ, 2.86 MΩ shown", eu(fullRadio()), 2.8571e6, openUp},
		{"earth-bond", "IET practice: 0.1 + 2 m of 0.75 mm² at 26 mΩ/m (from memory) = 0.152 Ω", earthedRadio(), openDown, 0.152},
		{"earth-bond", "DIN VDE 0701-0702: 0.3 Ω up to 5 m", eu(earthedRadio()), openDown, 0.3},
		{"earth-bond", "DIN VDE 0701-0702: 0.4 Ω at 12.5 m", long(eu(earthedRadio())), openDown, 0.4},
		{"boxed-bond", "as the open set", earthedRadio(), openDown, 0.152},
		{"touch-current", "DIN VDE 0701-0702: 0.5 mA", eu(fullRadio()), openDown, 0.5e-3},
	} {
		w := windowOf(t, c.id, caseFor(t, c.set, ""))
		if !near(w.Query.Lo, c.lo, 1e-3*math.Abs(c.lo)) || !near(w.Query.Hi, c.hi, 1e-3*math.Abs(c.hi)) {
			t.Errorf("%s: stop outside %v, want %g to %g (%s)", c.id, w.Query, c.lo, c.hi, c.source)
		}
		if w.Grade != Sheet {
			t.Errorf("%s: a published limit is never typical", c.id)
		}
	}
}

// TestBondIsGuarded: a meter of 1 % and 3 digits of 0.01 Ω has U = 0.038 Ω at
// 0.25 Ω; the highest pass is 0.262 of 0.30 Ω and 0.116 of 0.152 Ω (computed,
// U = 1.155 (0.01 R + 0.03)).
func TestBondIsGuarded(t *testing.T) {
	coarse := &sheet.Meter{AutoRange: true, Name: "coarse", Kind: sheet.Tester, Functions: []sheet.Span{
		spanOf(sheet.Bond, 1, 3, 60),
	}}
	eu := earthedRadio()
	eu.Mains.Profile = "eu"
	for _, c := range []struct {
		set   *sheet.Set
		typed string
		want  engine.Verdict
	}{
		{eu, "0.25", engine.Pass},
		{eu, "0.26", engine.Pass},
		{eu, "0.27", engine.Query},
		{eu, "0.30", engine.Query},
		{eu, "0.31", engine.Stop},
		{eu, "OL", engine.Stop},
		{earthedRadio(), "0.11", engine.Pass},
		{earthedRadio(), "0.12", engine.Query},
		{earthedRadio(), "0.16", engine.Stop},
	} {
		if got := verdictOf(t, "earth-bond", caseFor(t, c.set, ""), coarse, c.typed); got != c.want {
			t.Errorf("%s Ω under %s: %v, want %v", c.typed, c.set.Mains.Profile, got, c.want)
		}
	}
}

// TestCouplingByTester: the limits are raised for a tester that may err by 30 %
// and guarded by the meter's own figures for a better one. Computed:
// R = (V - v) Rg/v with 224 V and 470 kΩ gives 1.05 GΩ and 210 MΩ.
func TestCouplingByTester(t *testing.T) {
	wide := tester()
	for i := range wide.Functions {
		wide.Functions[i].Percent = 30
	}
	for _, c := range []struct {
		why        string
		meter      *sheet.Meter
		pass, stop float64
		shown      bool
	}{
		{"no meter yet: the worst tester", nil, 1.503e9, 300.2e6, true},
		{"tester of ± 30 %", wide, 1.503e9, 300.2e6, true},
		{"tester of ± 5 %", tester(), 1.0523e9, 210.1e6, false},
	} {
		k := caseFor(t, fullRadio(), "V4")
		k.Meter = c.meter
		w := windowOf(t, "coupling-capacitor", k)
		if !near(w.Pass.Lo, c.pass, 1e-3*c.pass) || !near(w.Query.Lo, c.stop, 1e-3*c.stop) || w.Shown != c.shown {
			t.Errorf("%s: pass from %g, stop under %g, raised %v; want %g, %g, %v", c.why, w.Pass.Lo, w.Query.Lo, w.Shown, c.pass, c.stop, c.shown)
		}
	}
	rail := func(v unit.Volt) *sheet.Set {
		s := fullRadio()
		s.Output.Coupling.RailVolts = &v
		return s
	}
	for v, want := range map[unit.Volt]float64{100: 94e6, 224: 210e6, 250: 235e6, 366: 344e6} { // computed: +0.5 V on 470 kΩ
		k := caseFor(t, rail(v), "V4")
		k.Meter = tester()
		if w := windowOf(t, "coupling-capacitor", k); !near(w.Query.Lo, want, 0.005*want) {
			t.Errorf("rail %v: stop under %g, want %g", v, w.Query.Lo, want)
		}
	}
}

// TestSparseRadioIsTypical: what the sheet does not give is judged by typical
// values, which stop a dead short and an open circuit and nothing else.
func TestSparseRadioIsTypical(t *testing.T) {
	for _, c := range []struct {
		id, item string
		far      string // outside the pass line: a query, never a stop
		short    string // a dead short, an open circuit: a stop
	}{
		{"primary-winding", "230 V", "150", "0.5"},
		{"primary-winding", "200 V", "150", "OL"},
		{"ht-line", "", "40k", "2k"},
		{"heater-winding", "", "5", "OL"},
		{"smoothing-resistor", "", "20k", "OL"},
		{"output-transformer", "", "60", "1"},
		{"half-winding", "a", "900", "OL"},
		{"speech-coil", "", "60", "OL"},
		{"ht-leak", "", "2.9 mA", ""},
		{"stamped-volts", "reservoir", "350 V", "200 V"},
	} {
		k := caseFor(t, sparseRadio(), c.item)
		check, _ := Find(c.id)
		with := digital()
		switch check.Function {
		case sheet.Leakage:
			with = tester()
		case "":
			with = nil
		}
		if w := windowOf(t, c.id, k); w.Grade != Typical || w.Typical == "" {
			t.Errorf("%s %s: grade %v, typical %q", c.id, c.item, w.Grade, w.Typical)
		}
		if got := verdictOf(t, c.id, k, with, c.far); got != engine.Query {
			t.Errorf("%s %s typed %s: %v, want query: %+v", c.id, c.item, c.far, got, windowOf(t, c.id, k))
		}
		if c.short == "" {
			continue
		}
		if got := verdictOf(t, c.id, k, with, c.short); got != engine.Stop {
			t.Errorf("%s %s typed %s: %v, want stop", c.id, c.item, c.short, got)
		}
	}
}

// TestSidesFollowTheLines: an open query line and a side without danger are the
// same thing.
func TestSidesFollowTheLines(t *testing.T) {
	for _, s := range []*sheet.Set{fullRadio(), sparseRadio(), earthedRadio()} {
		eachOf(t, s, func(c Check, k Case) {
			w, err := c.Rule(k)
			if err != nil {
				t.Errorf("%s %s: %v", c.ID, k.Item, err)
				return
			}
			low := w.Danger == limits.Low || w.Danger == limits.Both
			high := w.Danger == limits.High || w.Danger == limits.Both
			if low && math.IsInf(w.Query.Lo, -1) && high && math.IsInf(w.Query.Hi, 1) {
				t.Errorf("%s %s: danger on both sides, and no line stops", c.ID, k.Item)
			}
			if !low && !math.IsInf(w.Query.Lo, -1) && w.Query.Lo > 0 {
				t.Errorf("%s %s: a stop line at %g on the side without danger", c.ID, k.Item, w.Query.Lo)
			}
			if !high && !math.IsInf(w.Query.Hi, 1) {
				t.Errorf("%s %s: a stop line at %g on the side without danger", c.ID, k.Item, w.Query.Hi)
			}
		})
	}
}
