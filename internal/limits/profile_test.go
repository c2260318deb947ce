package limits

import (
	"math"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/unit"
)

func profile(t testing.TB, id string) Profile {
	t.Helper()
	p, ok := ProfileOf(id)
	if !ok {
		t.Fatalf("no profile %q", id)
	}
	return p
}

func TestProfilesAreWholeAndConsistent(t *testing.T) {
	if len(Profiles()) == 0 {
		t.Fatal("no profile")
	}
	dated := regexp.MustCompile(`^20[0-9]{2}-(0[1-9]|1[0-2])$`)
	for _, p := range Profiles() {
		if !dated.MatchString(p.Dated) {
			t.Errorf("%s: dated %q", p.ID, p.Dated)
		}
		if !(p.MainsLow > 0 && p.MainsLow < p.MainsNominal && p.MainsNominal < p.MainsTop) {
			t.Errorf("%s: mains %v, %v, %v", p.ID, p.MainsLow, p.MainsNominal, p.MainsTop)
		}
		if p.Frequency != 50 && p.Frequency != 60 {
			t.Errorf("%s: %v", p.ID, p.Frequency)
		}
		if p.TouchNetwork() == "" {
			t.Errorf("%s: nothing is known of the network %q", p.ID, p.Network)
		}
		if !(p.Buck > 1 && p.Buck < float64(p.MainsTop/p.MainsNominal)) {
			t.Errorf("%s: lower volts are advised from %v, which mains never reach or always do", p.ID, p.Buck)
		}
		if _, has := p.PlugFuseFor(50); has != p.PlugFuse {
			t.Errorf("%s: a fuse in the plug is usual %v, offered %v", p.ID, p.PlugFuse, has)
		}
		if !(p.Insulation(true).Value.Value < p.Insulation(false).Value.Value) {
			t.Errorf("%s: an unearthed set needs no more insulation than an earthed one", p.ID)
		}
		if !(p.Touch().Value.Value <= 0.5e-3) {
			t.Errorf("%s: touch current %v is above ES1, 0.5 mA (IEC 62368-1, memory)", p.ID, p.Touch().Value)
		}
		if !(p.Touch().Value.Value < p.Protective().Value.Value) {
			t.Errorf("%s: touch current %v is not the stricter limit", p.ID, p.Touch().Value)
		}
		current, _, _ := p.Trip()
		for name, f := range map[string]Figure{
			"earthed": p.Insulation(true), "unearthed": p.Insulation(false), "touch": p.Touch(),
			"protective": p.Protective(), "bond": p.Bond(), "trip": current,
		} {
			if got := Lookup(f.ID); got != f || f.Mark == Practice {
				t.Errorf("%s: %s: %v is not in the table of figures, or has no source", p.ID, name, f)
			}
		}
	}
}

func TestAProfileNobodyWroteIsNone(t *testing.T) {
	for _, id := range []string{"us", "UK", "", "uk "} {
		if p, ok := ProfileOf(id); ok || p != (Profile{}) {
			t.Errorf("ProfileOf(%q) = %v, %v", id, p.ID, ok)
		}
	}
}

func TestProfileLimits(t *testing.T) {
	for _, c := range []struct {
		id, what  string
		got, want float64
		source    string
	}{
		{"uk", "mains from", float64(profile(t, "uk").MainsLow), 216.2, "UK statutory band, seen"},
		{"uk", "mains to", float64(profile(t, "uk").MainsTop), 253, "UK statutory band, seen"},
		{"eu", "mains from", float64(profile(t, "eu").MainsLow), 207, "230 V - 10 %, IEC 60038/EN 50160, seen"},
		{"eu", "mains to", float64(profile(t, "eu").MainsTop), 253, "230 V + 10 %, IEC 60038/EN 50160, seen"},
		{"uk", "insulation earthed", value("uk-insulation-earthed"), 1e6, "IET practice, seen"},
		{"uk", "insulation unearthed", value("uk-insulation-unearthed"), 2e6, "IET practice, seen"},
		{"eu", "insulation earthed", value("eu-insulation-earthed"), 1e6, "VDE 0701-0702, seen"},
		{"eu", "insulation unearthed", value("eu-insulation-unearthed"), 2e6, "VDE 0701-0702, seen"},
		{"uk", "touch", value("uk-touch"), 0.5e-3, "EN 50678, memory; VDE 0701-0702, seen"},
		{"eu", "touch", value("eu-touch"), 0.5e-3, "tester maker's manual quoting DIN VDE 0701-0702, seen"},
		{"eu", "protective conductor", value("eu-protective"), 3.5e-3, "tester maker's manual quoting DIN VDE 0701-0702, seen"},
		{"uk", "protective conductor", value("uk-protective"), 5e-3, "page on the IET code, 5th edition, seen"},
		{"uk", "residual-current device", value("uk-rcd"), 30e-3, "IEC 61008, memory"},
		{"uk", "and its time", value("uk-rcd-time"), 0.3, "IEC 61008, memory"},
		{"eu", "and at five times the current", value("eu-rcd-time-five"), 0.04, "IEC 61008, memory"},
	} {
		if !near(c.got, c.want, 1e-12) {
			t.Errorf("%s: %s is %v, want %v (%s)", c.id, c.what, c.got, c.want, c.source)
		}
	}
	if uk, eu := profile(t, "uk"), profile(t, "eu"); !uk.Polarised || eu.Polarised {
		t.Error("uk plugs are polarised, eu plugs are not: common practice, no source")
	}
}

func TestTheWidestCapacitorForTheTouchCurrent(t *testing.T) {
	// Computed: C = I/(2 pi f V) at the top of the mains, 6.29 nF; and the way
	// back, 2 and 10 nF at 230 V 50 Hz pass 0.145 and 0.723 mA.
	for _, p := range Profiles() {
		c := p.Touch().Value.Value / (2 * math.Pi * float64(p.Frequency) * float64(p.MainsTop))
		if !near(c, 6.29e-9, 0.005e-9) {
			t.Errorf("%s: %v F, want 6.29 nF", p.ID, c)
		}
		for farads, want := range map[float64]float64{2e-9: 0.145e-3, 10e-9: 0.723e-3} {
			got := 2 * math.Pi * float64(p.Frequency) * farads * float64(p.MainsNominal)
			if !near(got, want, 0.5e-6) || (got <= p.Touch().Value.Value) != (farads < 6.29e-9) {
				t.Errorf("%s: %v F passes %v A, want %v", p.ID, farads, got, want)
			}
		}
	}
}

func TestBondLimit(t *testing.T) {
	for _, c := range []struct {
		id     string
		length unit.Metre
		area   unit.SquareMetre
		want   float64
		source string
	}{
		{"uk", 2, 0.75e-6, 0.152, "0.1 + 2 x 0.026: IET practice, seen; 26 mΩ/m, memory"},
		{"uk", 2, 1.5e-6, 0.126, "twice the copper, half the lead's ohms: computed"},
		{"uk", 10, 0.75e-6, 0.36, "0.1 + 10 x 0.026: computed"},
		// Table in a tester maker's manual for VDE 0701 and 0702, seen: up to 5,
		// 12.5, 20, 27.5, 35, 42.5, 50 m and more.
		{"eu", 2, 0.75e-6, 0.3, "manual's table"},
		{"eu", 5, 0.75e-6, 0.3, "manual's table"},
		{"eu", 5.01, 0.75e-6, 0.4, "manual's table"},
		{"eu", 12.5, 0.75e-6, 0.4, "manual's table"},
		{"eu", 20, 1.5e-6, 0.5, "manual's table"},
		{"eu", 27.5, 0.75e-6, 0.6, "manual's table"},
		{"eu", 35, 0.75e-6, 0.7, "manual's table"},
		{"eu", 42.5, 0.75e-6, 0.8, "manual's table"},
		{"eu", 50, 0.75e-6, 0.9, "manual's table"},
		{"eu", 51, 0.75e-6, 1.0, "manual's table"},
		{"eu", 500, 0.75e-6, 1.0, "at most 1 Ω whatever the length: manual, seen"},
		{"eu", 2, 2.5e-6, 0.1156, "cores above 1.5 mm² by their own ohms: tester maker's note on EN 50678, seen"},
	} {
		if got := profile(t, c.id).BondLimit(c.length, c.area); !near(float64(got), c.want, 1e-12) {
			t.Errorf("%s, %v of %v: %v, want %v (%s)", c.id, c.length, c.area, got, c.want, c.source)
		}
	}
}

func TestALeadNobodyHasMeetsNoBondLimit(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, p := range Profiles() {
		for _, bad := range []float64{0, -1, nan, inf, -inf} {
			if got := p.BondLimit(unit.Metre(bad), 0.75e-6); got != 0 {
				t.Errorf("%s: %v m: limit %v", p.ID, bad, got)
			}
			if got := p.BondLimit(2, unit.SquareMetre(bad)); got != 0 {
				t.Errorf("%s: %v m²: limit %v", p.ID, bad, got)
			}
		}
	}
}

func TestALongerLeadNeverLowersTheBondLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(Profiles()).Draw(t, "profile")
		area := unit.SquareMetre(rapid.Float64Range(0.5e-6, 4e-6).Draw(t, "area"))
		short := rapid.Float64Range(0.1, 50).Draw(t, "short")
		long := rapid.Float64Range(short, 60).Draw(t, "long")
		a, b := p.BondLimit(unit.Metre(short), area), p.BondLimit(unit.Metre(long), area)
		if !(a > 0 && a <= b) {
			t.Fatalf("%s: %v m has %v, %v m has %v", p.ID, short, a, long, b)
		}
	})
}

func TestHighestBondReadingThatPasses(t *testing.T) {
	// Computed: x + 1.155 (1 % of x + 3 digits of 0.01 Ω) = limit.
	for _, c := range []struct {
		id   string
		want float64
	}{{"uk", 0.116}, {"eu", 0.262}} {
		limit := float64(profile(t, c.id).BondLimit(2, 0.75e-6))
		k := 2 / math.Sqrt(3)
		if got := (limit - k*0.03) / (1 + k*0.01); !near(got, c.want, 5e-4) {
			t.Errorf("%s: limit %v passes up to %v, want %v", c.id, limit, got, c.want)
		}
	}
}

func TestPlugFuse(t *testing.T) {
	for _, c := range []struct {
		id    string
		watts float64
		want  float64
		ok    bool
		why   string
	}{
		{"uk", 52, 3, true, "3 A, red, under 700 W: BS 1362 practice, seen"},
		{"uk", 699.9, 3, true, "under 700 W"},
		{"uk", 700, 13, true, "not under 700 W: BS 1362 practice, memory"},
		{"uk", 3000, 0, false, "more than such a plug carries"},
		{"uk", 0, 0, false, "a set without watts is none"},
		{"uk", math.NaN(), 0, false, "not a number has no fuse"},
		{"eu", 52, 0, false, "the plug has none: the set must"},
	} {
		got, ok := profile(t, c.id).PlugFuseFor(unit.Watt(c.watts))
		if ok != c.ok || !near(float64(got), c.want, 0) {
			t.Errorf("%s, %v W: %v, %v, want %v, %v: %s", c.id, c.watts, got, ok, c.want, c.ok, c.why)
		}
	}
}
