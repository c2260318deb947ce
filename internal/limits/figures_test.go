package limits

import (
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/unit"
)

// Each row is a value printed by a source outside this project, or what this
// project does where nothing is printed. "seen" is a text or its quotation that
// was read, "memory" one that was not.
func TestFiguresAgreeWithTheirSources(t *testing.T) {
	for _, c := range []struct {
		id     string
		want   unit.Quantity
		source string
	}{
		{"no-danger-ac", unit.Volt(25).Quantity(), "EN 50191:2010 cl. 1.2 a, seen"},
		{"no-danger-dc", unit.Volt(60).Quantity(), "EN 50191:2010 cl. 1.2 a, seen"},
		{"no-danger-ac", unit.Volt(25).Quantity(), "long touch volts of a child, page derived from IEC 60479, seen"},
		{"no-danger-dc", unit.Volt(60).Quantity(), "long touch volts of a child, page derived from IEC 60479, seen"},
		{"no-danger-dc", unit.Volt(60).Quantity(), "ES1, IEC 62368-1 table 4, memory"},
		{"harmless-current-ac", unit.Ampere(0.003).Quantity(), "EN 50191:2010 cl. 1.2 b, seen"},
		{"harmless-current-dc", unit.Ampere(0.012).Quantity(), "EN 50191:2010 cl. 1.2 b, seen"},
		{"harmless-energy", number(0.350).Quantity(), "EN 50191:2010 cl. 1.2 d, 350 mJ, seen"},
		{"probe-tip", unit.Metre(0.004).Quantity(), "HSE GS38 4th edition, seen"},
		{"probe-tip-better", unit.Metre(0.002).Quantity(), "HSE GS38 4th edition, seen"},
		{"probe-fuse", unit.Ampere(0.5).Quantity(), "HSE GS38 4th edition, 500 mA, seen"},
		{"tester-error", unit.Percent(30).Quantity(), "IEC 61557-2:2019, seen"},
		{"aerial-bleed-low", unit.Ohm(1e6).Quantity(), "service-safety note, United States, seen"},
		{"aerial-bleed-high", unit.Ohm(5.2e6).Quantity(), "service-safety note, United States, seen"},
		{"heater-recommended", unit.Percent(7).Quantity(), "trade article of 1962, seen"},
		{"heater-outer", unit.Percent(10).Quantity(), "trade article of 1962, seen"},
		{"reform-volts", unit.Volt(75).Quantity(), "capacitor maker's note 1993, seen"},
		{"reform-series", unit.Ohm(100e3).Quantity(), "capacitor maker's note 1993, seen"},
		{"reform-current", unit.Ampere(1e-3).Quantity(), "capacitor maker's note 1993, seen"},
		{"reform-time", unit.Second(4 * 3600).Quantity(), "capacitor maker's note 1993, 4 h, seen"},
		{"flex-ohms", unit.Ohm(0.026).Quantity(), "26 mΩ/m of 0.75 mm² copper, memory"},

		{"dead-volts", unit.Volt(10).Quantity(), "common practice, no source"},
		{"still-charged", unit.Volt(60).Quantity(), "EN 50191:2010 cl. 1.2 a, seen"},
		{"scope-ht", unit.Volt(500).Quantity(), "common practice, no source"},
		{"proof-idle", unit.Second(900).Quantity(), "common practice, no source: 15 min"},
		{"proof-longest", unit.Second(3600).Quantity(), "common practice, no source: 60 min"},
		{"live-idle", unit.Second(1800).Quantity(), "common practice, no source: 30 min"},
		{"day", unit.Second(86400).Quantity(), "common practice, no source: 24 h"},
		{"wall-jump", unit.Second(120).Quantity(), "common practice, no source: 2 min"},
		{"record-room", number(1 << 20).Quantity(), "common practice, no source: 1 MiB"},
		{"grid-stop", unit.Volt(0.5).Quantity(), "common practice, no source"},
		{"idle-query", unit.Percent(25).Quantity(), "common practice, no source"},
		{"rating-stop", number(1.1).Quantity(), "common practice, no source"},
		{"soak-60", unit.Second(3600).Quantity(), "common practice, no source: an hour"},
	} {
		got := Lookup(c.id).Value
		if got.Kind != c.want.Kind || !near(got.Value, c.want.Value, 1e-12*math.Abs(c.want.Value)) {
			t.Errorf("%s is %v, want %v (%s)", c.id, got, c.want, c.source)
		}
	}
}

// Where two sources differ, the stricter one stands.
func TestFiguresAreOnTheStrictSide(t *testing.T) {
	for _, c := range []struct {
		id     string
		most   float64
		source string
	}{
		{"no-danger-ac", 30, "ES1 allows 30 V, IEC 62368-1 table 4, memory"},
		{"no-danger-ac", 50, "long touch volts of an adult, page derived from IEC 60479, seen"},
		{"no-danger-dc", 120, "long touch volts of an adult, page derived from IEC 60479, seen"},
		{"dead-volts", 60, "EN 50191:2010 cl. 1.2 a, seen"},
		{"probe-tip", 0.019, "IEC 61010-031 allows 19 mm in low categories, seen"},
		{"harmless-energy", 0.5 * 64e-6 * 350 * 350 / 11, "computed: 64 µF at 350 V hold 3.92 J, over eleven times as much"},
		{"winding-stop", 105, "class A insulation, IEC 60085, memory"},
		{"tool-minimum", 60, "less than the wait for the rebound: common practice, no source"},
		{"proof-idle", 3600, "no longer than a whole proof lasts: common practice, no source"},
	} {
		if !(value(c.id) <= c.most) {
			t.Errorf("%s is %v, above %v (%s)", c.id, Lookup(c.id).Value, c.most, c.source)
		}
	}
}

func TestFiguresStandInOrder(t *testing.T) {
	for _, c := range [][]string{
		{"dead-volts", "still-charged", "scope-ht"},
		{"grid-low", "grid-pass", "grid-stop"},
		{"coupling-pass", "coupling-stop"},
		{"idle-pass", "idle-query"},
		{"core-pass", "core-stop"},
		{"winding-pass", "winding-stop"},
		{"winding-early", "winding-late"},
		{"two-sided-direct", "two-sided", "emitting"},
		{"settling", "dwell", "settled", "grid-wait", "low-emission"},
		{"lamp-first-low", "lamp-first-high"},
		{"lamp-early", "lamp-late"},
		{"cold-lamp-ratio-low", "cold-lamp-ratio-high"},
		{"primary-typical-low", "primary-typical-high"},
		{"ht-short", "path-most"},
		{"grid-leak-most-fixed", "grid-leak-most"},
		{"spread-winding-read", "spread-winding"},
		{"spread-resistor-read", "spread-resistor"},
		{"soak-5", "soak-15", "soak-grid", "soak-30", "soak-45", "soak-60", "soak-longest"},
		{"grid-early", "grid-second", "grid-third"},
		{"leak-read-first", "leak-read-second"},
		{"proof-idle", "live-idle", "proof-longest", "day"},
	} {
		for i := 1; i < len(c); i++ {
			if !(value(c[i-1]) < value(c[i])) {
				t.Errorf("%s %v is not below %s %v", c[i-1], Lookup(c[i-1]).Value, c[i], Lookup(c[i]).Value)
			}
		}
	}
}

// A tester may show 1/0.7 of what is there, so a limit is raised by as much.
func TestDisplayedInsulationLimitHoldsForTheWorstTester(t *testing.T) {
	for _, c := range []struct {
		limit, shown float64
		source       string
	}{
		{1e6, 1.43e6, "computed: L/(1 - 0.3), IEC 61557-2:2019 (seen)"},
		{2e6, 2.86e6, "computed: L/(1 - 0.3), IEC 61557-2:2019 (seen)"},
		{5e6, 7.14e6, "computed: L/(1 - 0.3), IEC 61557-2:2019 (seen)"},
	} {
		shown := c.limit / value("tester-guard")
		if !near(shown, c.shown, 0.005e6) {
			t.Errorf("%v Ω shows as %v, want %v (%s)", c.limit, shown, c.shown, c.source)
		}
		if worst := shown * (1 - value("tester-error")/100); !(worst >= c.limit*(1-1e-12)) {
			t.Errorf("a reading of %v Ω may be %v Ω, below the limit %v", shown, worst, c.limit)
		}
	}
}

func TestHarmlessEnergyAsVolts(t *testing.T) {
	// Computed: V = sqrt(2 E / C), 350 mJ on 32 µF (EN 50191:2010 cl. 1.2 d, seen).
	if got := math.Sqrt(2 * value("harmless-energy") / 32e-6); !near(got, 147.9, 0.05) {
		t.Errorf("350 mJ on 32 µF is %v V, want 147.9", got)
	}
}

func TestHeaterTolerance(t *testing.T) {
	for _, c := range []struct {
		id     string
		lo, hi float64
	}{
		// Trade article of 1962 quoting British practice, seen.
		{"heater-recommended", 5.859, 6.741},
		{"heater-outer", 5.67, 6.93},
	} {
		off := value(c.id) / 100
		if !near(6.3*(1-off), c.lo, 5e-4) || !near(6.3*(1+off), c.hi, 5e-4) {
			t.Errorf("%s: 6.3 V goes %v to %v, want %v to %v", c.id, 6.3*(1-off), 6.3*(1+off), c.lo, c.hi)
		}
	}
	// Computed: 6.3 V x mains/tap. 240 V on the 220 V tap gives 6.873 V, inside
	// the outer limit only; 253 V gives 7.245 V, inside none.
	outer := 6.3 * (1 + value("heater-outer")/100)
	recommended := 6.3 * (1 + value("heater-recommended")/100)
	if at240 := 6.3 * 240 / 220; !(at240 > recommended && at240 < outer) {
		t.Errorf("240 V on 220: %v V against %v and %v", at240, recommended, outer)
	}
	if at253 := 6.3 * 253 / 220; !(at253 > outer) {
		t.Errorf("253 V on 220: %v V against %v", at253, outer)
	}
}

// lampVolts is the law the exponent belongs to, turned round:
// I = In (V/Vn)^k, so V = Vn (I/In)^(1/k), In = W/Vn.
func lampVolts(watts, rated, amperes float64) float64 {
	return rated * math.Pow(amperes*rated/watts, 1/value("lamp-exponent"))
}

func TestLampLaw(t *testing.T) {
	for _, c := range []struct {
		watts, amperes, want, tol float64
	}{
		// Computed by the law, 230 V lamps.
		{40, 0.050, 23.8, 0.1},
		{25, value("magnetising"), 37.4, 0.1},
		{40, value("magnetising"), 15.9, 0.1},
		{60, value("magnetising"), 7.6, 0.1},
		{100, value("magnetising"), 3.0, 0.1},
		{60, 60.0 / 230, 230, 1e-9},
	} {
		if got := lampVolts(c.watts, 230, c.amperes); !near(got, c.want, c.tol) {
			t.Errorf("%v W at %v A: %v V, want %v", c.watts, c.amperes, got, c.want)
		}
	}
	// Computed: a 60 W lamp in series with 60 W of plain resistance on 230 V.
	lo, hi := 0.0, 60.0/230
	for range 60 {
		if i := (lo + hi) / 2; lampVolts(60, 230, i)+i*230*230/60 < 230 {
			lo = i
		} else {
			hi = i
		}
	}
	if !near(lo, 0.157, 5e-4) || !near(lampVolts(60, 230, lo), 91.5, 0.1) {
		t.Errorf("lamp and resistance share %v V at %v A, want 91.5 V at 0.157 A", lampVolts(60, 230, lo), lo)
	}
	// A lamp page has the cold filament at 1/14 of hot (seen), an encyclopedia
	// 144 to 9.5 Ω (seen).
	for _, ratio := range []float64{14, 144 / 9.5} {
		if !(ratio >= value("cold-lamp-ratio-low") && ratio <= value("cold-lamp-ratio-high")*1.02) {
			t.Errorf("hot over cold %v is outside %v to %v", ratio, Lookup("cold-lamp-ratio-low").Value, Lookup("cold-lamp-ratio-high").Value)
		}
	}
}

func TestLampsForTheTransformerAlone(t *testing.T) {
	// Computed: a 40 W label at 230 V passes 0.174 A, 25 W 0.109 A; the rule is
	// common practice, no source, and rounds to 0.11 and 0.17.
	for _, c := range []struct {
		id    string
		watts float64
	}{{"lamp-first-low", 25}, {"lamp-first-high", 40}} {
		if !near(value(c.id), c.watts/230, 0.005) {
			t.Errorf("%s is %v, want about %v A", c.id, Lookup(c.id).Value, c.watts/230)
		}
	}
}

func TestRippleFactorIsOfASawtooth(t *testing.T) {
	// A pure sawtooth has peak to peak over r.m.s. 2 sqrt 3 = 3.46, a sine
	// 2 sqrt 2 = 2.83 (computed): a reservoir's ripple lies between.
	if r := value("ripple-rms"); !(r > 2*math.Sqrt2 && r < 2*math.Sqrt(3)) {
		t.Errorf("peak to peak over r.m.s. is %v", r)
	}
}

func TestDischargeToolLeavesNothing(t *testing.T) {
	// Computed: t = R C ln(V0/V). 64 µF from 389 V 2.34 s, from 428 V 2.40 s to
	// 10 V through the tool.
	r, end := value("discharge-tool"), value("dead-volts")
	for v0, want := range map[float64]float64{389: 2.34, 428: 2.40} {
		got := r * 64e-6 * math.Log(v0/end)
		if !near(got, want, 0.01) {
			t.Errorf("from %v V it takes %v s, want %v", v0, got, want)
		}
		if !(got < value("tool-minimum")) {
			t.Errorf("%v s is longer than the shortest use of the tool", got)
		}
	}
}

// Every tolerance that a pass line leaves room for says why it is so wide: in
// words of its own, no two the same.
func TestEverySpreadHasItsReason(t *testing.T) {
	seen, reasons := 0, map[string]string{}
	for _, f := range All() {
		if !strings.HasPrefix(f.ID, "spread-") {
			continue
		}
		seen++
		if len(strings.Fields(f.Why)) < 5 {
			t.Errorf("%s of %v: why %q", f.ID, f.Value, f.Why)
		}
		if other := reasons[f.Why]; other != "" {
			t.Errorf("%s and %s give one reason", f.ID, other)
		}
		reasons[f.Why] = f.ID
	}
	if seen < 7 {
		t.Errorf("%d spreads, want all seven", seen)
	}
}
