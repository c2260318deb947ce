package checks

import (
	"errors"
	"math"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
	"pgregory.net/rapid"
)

// noBleed is the full set with no path drawn.
func noBleed() *sheet.Set {
	s := fullRadio()
	s.Bleed = &sheet.Bleed{None: true}
	return s
}

// TestSecondReadingIsHeldAgainstTheFirst: a relation between readings stops
// whatever the grade of the window. The relations are common practice, no
// source.
func TestSecondReadingIsHeldAgainstTheFirst(t *testing.T) {
	for _, c := range []struct {
		why       string
		set       *sheet.Set
		first     string
		kind      unit.Kind
		firstRead float64
		id, item  string
		typed     string
		want      engine.Verdict
	}{
		{"settled", fullRadio(), "ht-line-60", unit.KindOhm, 218e3, "ht-line", "", "220k", engine.Pass},
		{"still climbing: not settled", fullRadio(), "ht-line-60", unit.KindOhm, 218e3, "ht-line", "", "240k", engine.Query},
		{"falling", fullRadio(), "ht-line-60", unit.KindOhm, 218e3, "ht-line", "", "190k", engine.Stop},
		{"climbing from far below", fullRadio(), "ht-line-60", unit.KindOhm, 100e3, "ht-line", "", "160k", engine.Query},
		{"settled, and too low all the same", fullRadio(), "ht-line-60", unit.KindOhm, 100e3, "ht-line", "", "101k", engine.Stop},
		{"fallen back into the pass window", fullRadio(), "ht-line-60", unit.KindOhm, 1e6, "ht-line", "", "221k", engine.Stop},
		{"no path: climbs for as long as it is charged", noBleed(), "ht-line-60", unit.KindOhm, 900e3, "ht-line", "", "1.8M", engine.Pass},
		{"no path, OL", noBleed(), "ht-line-60", unit.KindOhm, 900e3, "ht-line", "", "OL", engine.Pass},
		{"no path, falling", noBleed(), "ht-line-60", unit.KindOhm, 900e3, "ht-line", "", "600k", engine.Stop},
		{"nothing known of a path, and falling", sparseRadio(), "ht-line-60", unit.KindOhm, 900e3, "ht-line", "", "600k", engine.Stop},

		{"steady at volts", fullRadio(), "ht-leak-60", unit.KindAmpere, 1.10e-3, "ht-leak", "", "1.12 mA", engine.Pass},
		{"forming: it falls", fullRadio(), "ht-leak-60", unit.KindAmpere, 1.40e-3, "ht-leak", "", "1.2 mA", engine.Pass},
		{"rising", fullRadio(), "ht-leak-60", unit.KindAmpere, 1.10e-3, "ht-leak", "", "1.3 mA", engine.Stop},

		{"taps rise with volts", fullRadio(), "primary-winding@200 V", unit.KindOhm, 40, "primary-winding", "230 V", "46", engine.Pass},
		{"the higher tap reads less", fullRadio(), "primary-winding@200 V", unit.KindOhm, 46.2, "primary-winding", "230 V", "46", engine.Stop},
		{"both taps read alike", fullRadio(), "primary-winding@200 V", unit.KindOhm, 46, "primary-winding", "230 V", "46", engine.Stop},
		{"the lower tap reads more", fullRadio(), "primary-winding@230 V", unit.KindOhm, 40, "primary-winding", "200 V", "41", engine.Stop},
		{"its own earlier reading does not count", fullRadio(), "primary-winding@230 V", unit.KindOhm, 40, "primary-winding", "230 V", "46", engine.Pass},
		{"through the switch the order was judged before", fullRadio(), "primary-winding@200 V", unit.KindOhm, 46.2, "primary-here", "", "46", engine.Pass},

		{"halves alike", fullRadio(), "half-winding@a", unit.KindOhm, 260, "half-winding", "b", "285", engine.Pass},
		{"18 % apart", fullRadio(), "half-winding@a", unit.KindOhm, 260, "half-winding", "b", "312", engine.Query},
		{"31 % apart, each within its own 25 %", fullRadio(), "half-winding@a", unit.KindOhm, 250, "half-winding", "b", "342", engine.Stop},
		{"far apart on a sheet without their ohms", sparseRadio(), "half-winding@b", unit.KindOhm, 200, "half-winding", "a", "300", engine.Stop},

		{"thin fuses in the live wire", fullRadio(), "set-fuse", unit.KindOhm, 3, "live-path-on", "", "3.5", engine.Pass},
		{"without their reading the path is too high", fullRadio(), "", unit.None, 0, "live-path-on", "", "3.5", engine.Query},
		{"thin fuse by its marking", fullRadio(), "set-fuse-mark", unit.KindAmpere, 0.4, "set-fuse", "", "2.5", engine.Pass},
		{"thick fuse by its marking", fullRadio(), "set-fuse-mark", unit.KindAmpere, 2, "set-fuse", "", "2.5", engine.Query},
		{"marking not read", fullRadio(), "", unit.None, 0, "set-fuse", "", "2.5", engine.Query},

		{"hot primary 40 K up", fullRadio(), "primary-winding@230 V", unit.KindOhm, 46, "hot-primary", "first", "53.2", engine.Pass},
		{"hot primary 65 K up", fullRadio(), "primary-winding@230 V", unit.KindOhm, 46, "hot-primary", "first", "57.7", engine.Query},
		{"hot primary 75 K up", fullRadio(), "primary-winding@230 V", unit.KindOhm, 46, "hot-primary", "first", "59.6", engine.Stop},
		{"hot below cold: another contact", fullRadio(), "primary-winding@230 V", unit.KindOhm, 46, "hot-primary", "first", "44", engine.Query},
	} {
		k := caseFor(t, c.set, c.item)
		if c.first != "" {
			k = k.had(c.first, c.kind, c.firstRead)
		}
		with := digital()
		if check, _ := Find(c.id); check.Function == sheet.Leakage {
			with = tester()
		}
		if got := verdictOf(t, c.id, k, with, c.typed); got != c.want {
			t.Errorf("%s: %s %s typed %s after %g: %v, want %v", c.why, c.id, c.item, c.typed, c.firstRead, got, c.want)
		}
	}
}

// TestNoNumberBeforeIsNoRelation: an OL or a dash that was accepted has no
// value to hold anything against.
func TestNoNumberBeforeIsNoRelation(t *testing.T) {
	k := caseFor(t, fullRadio(), "")
	k.Taken["ht-line-60"] = unit.Quantity{}
	if got := verdictOf(t, "ht-line", k, digital(), "220k"); got != engine.Pass {
		t.Errorf("after a reading without a number: %v", got)
	}
	k = k.had("ht-line-60", unit.KindOhm, math.Inf(1))
	if got := verdictOf(t, "ht-line", k, digital(), "220k"); got != engine.Pass {
		t.Errorf("after an infinite one: %v", got)
	}
}

// TestOldCapacitorsMayLeak: old ones are judged by what leaks beyond the path.
// JAN-C-62 as quoted on a restorers' list: 0.02 mA/µF at 250 V and 0.3 mA, so
// 64 µF may leak 1.58 mA, and thrice that is a stop.
func TestOldCapacitorsMayLeak(t *testing.T) {
	old := fullRadio()
	old.Renewed = []string{"mains lead"}
	bare := noBleed()
	lost := fullRadio()
	lost.Bleed = nil
	for _, c := range []struct {
		why            string
		set            *sheet.Set
		passLo, passHi float64
		queryHi        float64
		typical        bool
	}{
		{"old, with a path of 1.130 mA", old, 0.904e-3, 2.710e-3, 5.870e-3, false},
		{"new, and no path", bare, openDown, 1.58e-3, 4.74e-3, false},
		{"nothing known of a path", lost, openDown, 1.58e-3, openUp, true},
	} {
		w := windowOf(t, "ht-leak", caseFor(t, c.set, ""))
		if !near(w.Pass.Lo, c.passLo, 1e-6) || !near(w.Pass.Hi, c.passHi, 2e-6) || !near(w.Query.Hi, c.queryHi, 5e-6) {
			t.Errorf("%s: pass %v, query %v", c.why, w.Pass, w.Query)
		}
		if (w.Grade == Typical) != c.typical {
			t.Errorf("%s: grade %v", c.why, w.Grade)
		}
	}
}

// TestLeakInstrument: what cannot prove the line at volts is refused, and the
// line then counts as not proved.
func TestLeakInstrument(t *testing.T) {
	with := func(change func(*sheet.Span)) *sheet.Meter {
		m := tester()
		for i := range m.Functions {
			if m.Functions[i].Function == sheet.Leakage {
				change(&m.Functions[i])
			}
		}
		return m
	}
	low := fullRadio()
	low.Bleed.Resistance = new(unit.Ohm(100e3))
	for _, c := range []struct {
		why   string
		set   *sheet.Set
		meter *sheet.Meter
		loop  *sheet.Supply100k
		fit   bool
	}{
		{"a good tester", fullRadio(), tester(), nil, true},
		{"no meter chosen yet", fullRadio(), nil, nil, true},
		{"no leakage range", fullRadio(), digital(), nil, false},
		{"a coarse one", fullRadio(), with(func(s *sheet.Span) { s.Percent = 10 }), nil, false},
		{"a weak one", fullRadio(), with(func(s *sheet.Span) { s.MinCurrent = new(unit.Ampere(1e-3)) }), nil, false},
		{"one that does not say what it gives", fullRadio(), with(func(s *sheet.Span) { s.MinCurrent = nil }), nil, false},
		{"only 500 V", fullRadio(), with(func(s *sheet.Span) { s.Test = new(unit.Volt(500)) }), nil, false},
		{"a path that takes more than half", low, tester(), nil, false},
		{"the same from a supply", low, digital(), &sheet.Supply100k{Volts: 250, Series: 100e3}, true},
		{"a supply too low", fullRadio(), digital(), &sheet.Supply100k{Volts: 100, Series: 100e3}, false},
	} {
		k := caseFor(t, c.set, "")
		k.Meter, k.Bench.Loop = c.meter, c.loop
		check, _ := Find("ht-leak")
		w, err := check.Rule(k)
		if first, _ := Find("ht-leak-60"); err != nil {
			if _, again := first.Rule(k); !errors.Is(again, ErrUnfitLeak) {
				t.Errorf("%s: after a minute %v, after two %v", c.why, again, err)
			}
		}
		if (err == nil) != c.fit || err != nil && !errors.Is(err, ErrUnfitLeak) {
			t.Errorf("%s: %v", c.why, err)
		}
		if err != nil && w.built {
			t.Errorf("%s: a window with an error", c.why)
		}
		if c.loop != nil && err == nil && !near(w.Pass.Hi, 1.4*250/201.2e3, 1e-6) { // computed: 250 V over path and series resistor
			t.Errorf("%s: pass %v", c.why, w.Pass)
		}
	}
}

// TestDischargeTime: R C ln(V0/60 V). 64 µF through 220 kΩ from 427.8 V takes
// 27.7 s, with 50 % more capacitance 41.5 s (computed).
func TestDischargeTime(t *testing.T) {
	check, _ := Find("discharge-path")
	large := fullRadio()
	*large.Reservoir.Capacitance, *large.Second.Capacitance = 48e-6, 48e-6
	for _, c := range []struct {
		set  *sheet.Set
		ohms float64
		want float64
		as   engine.Verdict
	}{
		{fullRadio(), 220e3, 27.66, engine.Pass},
		{large, 220e3, 41.49, engine.Pass},
		{fullRadio(), 470e3, 59.09, engine.Pass},
		{fullRadio(), 1e6, 125.7, engine.Query},
		{fullRadio(), 60e6, 7544, engine.Query},
	} {
		k := caseFor(t, c.set, "").had("ht-line", unit.KindOhm, c.ohms)
		q, err := check.Derive(k)
		if err != nil || q.Kind != unit.KindSecond || !near(q.Value, c.want, 0.002*c.want) {
			t.Errorf("%g Ω: %v, %v, want %g s", c.ohms, q, err, c.want)
		}
		if got := windowOf(t, "discharge-path", k).Judge(meter.Read(q.Value, 0), check.Crit).Verdict; got != c.as {
			t.Errorf("%g Ω: %v, want %v", c.ohms, got, c.as)
		}
	}
	if _, err := check.Derive(caseFor(t, fullRadio(), "")); !errors.Is(err, ErrNoData) {
		t.Errorf("without the line's ohms: %v", err)
	}
	k := caseFor(t, sparseRadio(), "").had("ht-line", unit.KindOhm, 220e3)
	if q, err := check.Derive(k); err != nil || !(q.Value > 0) {
		t.Errorf("capacitances taken from the circuit: %v, %v", q, err)
	}
	if w := windowOf(t, "discharge-path", k); w.Grade != Typical {
		t.Errorf("capacitances guessed: grade %v", w.Grade)
	}
	k.Model = nil
	if _, err := check.Derive(k); !errors.Is(err, ErrNoData) {
		t.Errorf("without circuit or capacitances: %v", err)
	}
}

// TestWindingRise draws the hot readings back to switch-off.
func TestWindingRise(t *testing.T) {
	check, _ := Find("winding-rise")
	cooling := func(top, tau float64, at ...float64) []float64 {
		var out []float64
		for _, s := range at {
			out = append(out, 46+top*math.Exp(-s/tau))
		}
		return out
	}
	for _, c := range []struct {
		why      string
		cold     float64
		readings []float64
		after    []float64
		want     float64
	}{
		{"30 to 36 Ω from 20 °C in a room still at 20: 50.9 K (copper, formula seen in a heating-test clause)", 30, []float64{36, 36, 36}, nil, 50.9},
		{"46 to 53.23 Ω: 40 K (computed)", 46, []float64{53.23, 53.23, 53.23}, nil, 40},
		{"7.23 Ω over cold, falling by 1/e in 600 s, read when asked: 40 K (computed)", 46, cooling(7.23, 600, 180, 300, 420), nil, 40},
		{"the same, read late, with the session's own times", 46, cooling(7.23, 600, 200, 400, 540), []float64{200, 400, 540}, 40},
		{"readings that do not fall: never below the highest", 46, []float64{52, 53, 54}, nil, 44.26},
		{"two below cold: the highest counts", 46, []float64{45, 47, 45}, nil, 5.53},
		{"all below cold", 46, []float64{45, 45, 44}, nil, -5.53},
	} {
		k := caseFor(t, fullRadio(), "").had("primary-winding@230 V", unit.KindOhm, c.cold)
		for i, x := range c.readings {
			k = k.had("hot-primary@"+hotItems[i], unit.KindOhm, x)
			if c.after != nil {
				k = k.had("hot-primary@"+hotItems[i]+"#after", unit.KindSecond, c.after[i])
			}
		}
		q, err := check.Derive(k)
		if err != nil || q.Kind != unit.KindCelsius || !near(q.Value, c.want, 0.1) {
			t.Errorf("%s: %v, %v", c.why, q, err)
		}
	}
	k := caseFor(t, fullRadio(), "")
	if _, err := check.Derive(k); !errors.Is(err, ErrNoData) {
		t.Errorf("without a cold reading: %v", err)
	}
	k = k.had("primary-winding@230 V", unit.KindOhm, 46).had("hot-primary@first", unit.KindOhm, 53)
	if _, err := check.Derive(k); !errors.Is(err, ErrNoData) {
		t.Errorf("with one hot reading: %v", err)
	}
}

// TestAnyReadingBeforeLeavesAWindow: whatever was read before, the relation
// leaves a window that holds something, and NaN never passes it.
func TestAnyReadingBeforeLeavesAWindow(t *testing.T) {
	related := []struct {
		id, item, before string
		kind             unit.Kind
		lo, hi           float64
	}{
		{"ht-line", "", "ht-line-60", unit.KindOhm, 0, 60e6},
		{"ht-leak", "", "ht-leak-60", unit.KindAmpere, 0, 3e-3},
		{"half-winding", "a", "half-winding@b", unit.KindOhm, 0, 60e6},
		{"primary-winding", "215 V", "primary-winding@200 V", unit.KindOhm, 0, 60e6},
		{"primary-winding", "215 V", "primary-winding@230 V", unit.KindOhm, 0, 60e6},
		{"hot-primary", "first", "primary-winding@230 V", unit.KindOhm, 0.1, 60e6},
	}
	for _, s := range []*sheet.Set{fullRadio(), sparseRadio(), noBleed()} {
		base := caseFor(t, s, "")
		rapid.Check(t, func(t *rapid.T) {
			r := related[rapid.IntRange(0, len(related)-1).Draw(t, "relation")]
			x := rapid.Float64Range(r.lo, r.hi).Draw(t, "before")
			k := base
			k.Item, k.Taken = r.item, map[string]unit.Quantity{r.before: {Kind: r.kind, Value: x}}
			check, _ := Find(r.id)
			w, err := check.Rule(k)
			if err != nil {
				t.Fatalf("%s after %s %g: %v", r.id, r.before, x, err)
			}
			if j := w.Judge(meter.Read(math.NaN(), 0), check.Crit); j.Verdict != engine.Stop {
				t.Fatalf("NaN: %v", j)
			}
		})
	}
}

// TestMeetStaysInside: what two intervals share lies in both, and where they
// share nothing an end of the second stands for it.
func TestMeetStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Interval {
			a := rapid.Float64Range(-1e6, 1e6).Draw(t, name+" from")
			return Interval{a, a + rapid.Float64Range(1, 1e6).Draw(t, name+" wide")}
		}
		i, j := draw("first"), draw("second")
		got := i.meet(j)
		if !got.some() || !(got.Lo >= j.Lo && got.Hi <= j.Hi) {
			t.Fatalf("%v and %v: %v is not inside the second", i, j, got)
		}
		if i.Lo <= j.Hi && j.Lo <= i.Hi && !(got.Lo >= i.Lo && got.Hi <= i.Hi) {
			t.Fatalf("%v and %v: %v is not inside the first", i, j, got)
		}
	})
}

func TestBandsInWords(t *testing.T) {
	for _, c := range []struct {
		band limits.Band
		want string
	}{
		{limits.Band{PassLo: 0.7, PassHi: 1.3, QueryLo: 0.5, QueryHi: openUp, Danger: limits.Low}, "pass 0.7 to 1.3 x, stop under 0.5 x"},
		{limits.Band{PassLo: openDown, PassHi: 1.05, QueryLo: openDown, QueryHi: 1.05, Danger: limits.High}, "pass up to 1.05 x, stop over 1.05 x"},
		{limits.Band{Kind: unit.KindOhm, PassLo: 20e6, PassHi: openUp, QueryLo: 1e6, QueryHi: openUp, Danger: limits.Low}, "pass from 20 MΩ, stop under 1 MΩ"},
		{limits.Band{Kind: unit.KindOhm, PassLo: 9e3, PassHi: 11e3, QueryLo: 9e3, QueryHi: 11e3}, "pass 9 kΩ to 11 kΩ, stop under 9 kΩ and over 11 kΩ"},
		{limits.Band{PassLo: openDown, PassHi: openUp, QueryLo: openDown, QueryHi: openUp, Danger: limits.Neither}, "any value passes, never a stop"},
	} {
		if got := bandWords(c.band); got != c.want {
			t.Errorf("%+v: %q, want %q", c.band, got, c.want)
		}
	}
}
