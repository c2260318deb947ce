package limits

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/powerup/internal/unit"
)

func valve(t testing.TB, name string) Valve {
	t.Helper()
	v, ok := ValveOf(name)
	if !ok {
		t.Fatalf("no valve %q", name)
	}
	return v
}

func TestValvesAreFoundByAnyName(t *testing.T) {
	for name, want := range map[string]string{
		"EL84": "EL84", "el84": "EL84", "6BQ5": "EL84", "6bq5": "EL84",
		"6T8": "EABC80", "6AK8": "EABC80", "6V6": "6V6GT", "6V6GT": "6V6GT",
		"6X4": "EZ90", "EZ90": "EZ90", "5y3gt": "5Y3GT",
	} {
		if got := valve(t, name).Type; got != want {
			t.Errorf("%q is %q, want %q", name, got, want)
		}
	}
	for _, name := range []string{"", "EL", "EL8", "EL844", "6T8/6AK8", " EL84", "EL84 6BQ5"} {
		if v, ok := ValveOf(name); ok {
			t.Errorf("%q is taken for %s", name, v.Type)
		}
	}
}

func TestNoNameMeansTwoValves(t *testing.T) {
	owner := map[string]string{}
	for i, v := range Valves() {
		if i > 0 && Valves()[i-1].Type >= v.Type {
			t.Errorf("%s after %s: not sorted, or twice the same", v.Type, Valves()[i-1].Type)
		}
		for _, n := range v.names() {
			if n == "" || n != strings.ToUpper(n) {
				t.Errorf("%s has the name %q", v.Type, n)
			}
			if other, taken := owner[n]; taken && other != v.Type {
				t.Errorf("%q is %s and %s", n, other, v.Type)
			}
			owner[n] = v.Type
		}
	}
}

func TestEveryValveSaysWhereItsDataIsFrom(t *testing.T) {
	if len(Valves()) < 20 {
		t.Fatalf("%d valves: the tables are not all in", len(Valves()))
	}
	for _, v := range Valves() {
		if v.Source == "" || v.Mark == Practice || v.Mark > Seen {
			t.Errorf("%s: source %q, mark %q", v.Type, v.Source, v.Mark)
		}
		if !(v.HeaterVolts > 0 && v.HeaterCurrent > 0) {
			t.Errorf("%s: heater %v %v", v.Type, v.HeaterVolts, v.HeaterCurrent)
		}
		if (v.Rectifier == nil) == (len(v.Sections) == 0) {
			t.Errorf("%s is a rectifier and something else, or nothing", v.Type)
		}
		if v.Output != nil && v.Signal != nil {
			t.Errorf("%s is an output valve and a signal valve", v.Type)
		}
	}
}

// The first letter of a European type names the heater: a valve-collectors'
// page, seen; A, C, D and V also from memory.
func TestEuropeanLettersAgreeWithTheHeater(t *testing.T) {
	volts := map[byte]unit.Volt{'A': 4, 'D': 1.4, 'E': 6.3, 'G': 5, 'F': 12.6}
	amperes := map[byte]unit.Ampere{'C': 0.2, 'H': 0.15, 'P': 0.3, 'U': 0.1, 'V': 0.05}
	european := regexp.MustCompile(`^[A-Z]{2,}[0-9]+$`)
	checked := 0
	for _, v := range Valves() {
		if !european.MatchString(v.Type) {
			continue
		}
		checked++
		letter := v.Type[0]
		if want, ok := volts[letter]; ok && (v.HeaterVolts != want || v.SeriesHeater) {
			t.Errorf("%s: %v, the letter says %v", v.Type, v.HeaterVolts, want)
		}
		want, series := amperes[letter]
		if series && (v.HeaterCurrent != want || !v.SeriesHeater) {
			t.Errorf("%s: %v, the letter says %v in a chain", v.Type, v.HeaterCurrent, want)
		}
		if _, ok := volts[letter]; !ok && !series {
			t.Errorf("%s: no rule for its letter", v.Type)
		}
	}
	if checked < 10 {
		t.Fatalf("%d European types checked", checked)
	}
}

// The first figures of an American type are the heater volts, rounded; 12 is
// the two halves of 6.3 V in series: tube-collectors' page, seen.
func TestAmericanFiguresAgreeWithTheHeater(t *testing.T) {
	leading := regexp.MustCompile(`^[0-9]+`)
	checked := 0
	for _, v := range Valves() {
		for _, n := range v.names() {
			figures := leading.FindString(n)
			if figures == "" {
				continue
			}
			checked++
			want, _ := strconv.ParseFloat(figures, 64)
			got := float64(v.HeaterVolts)
			if want == 12 {
				got *= 2
			}
			if !near(got, want, 0.61) {
				t.Errorf("%s: %v, the name says %v V", n, v.HeaterVolts, want)
			}
		}
	}
	if checked < 20 {
		t.Fatalf("%d American names checked", checked)
	}
}

// Rows typed from sources other than the tables of this package.
func TestValveDataAgreesWithItsSources(t *testing.T) {
	for _, c := range []struct {
		what      string
		got, want float64
		source    string
	}{
		{"EL84 Pa", float64(valve(t, "EL84").Output.PaMax), 12, "encyclopedia quoting the maker's design-centre maxima, seen"},
		{"EL84 Pg2", float64(valve(t, "EL84").Output.Pg2Max), 2, "same, seen"},
		{"EL84 Va", float64(valve(t, "EL84").Output.VaMax), 300, "same, seen"},
		{"EL84 Vg2", float64(valve(t, "EL84").Output.Vg2Max), 300, "same, seen"},
		{"EL84 Ik", float64(valve(t, "EL84").Output.IkMax), 65e-3, "same, seen"},
		{"EL84 heater", float64(valve(t, "EL84").HeaterCurrent), 0.76, "same, seen"},
		{"6V6 Pa", float64(valve(t, "6V6").Output.PaMax), 12, "trade data: 12 W, the same type later 14 W, seen; the lower stands"},
		{"6L6GC Pa", float64(valve(t, "6L6GC").Output.PaMax), 30, "encyclopedia quoting a maker's data of 1973, seen"},
		{"6L6GC Va", float64(valve(t, "6L6GC").Output.VaMax), 500, "same, seen"},
		{"6L6GC heater", float64(valve(t, "6L6GC").HeaterCurrent), 0.9, "same, seen"},
		{"6L6GC Ia", float64(valve(t, "6L6GC").Output.Ia), 54e-3, "same, 350/250/-18 V, seen"},
		{"6L6GC grid pin", float64(valve(t, "6L6GC").Output.Pins.Grid), 5, "same, seen"},
		{"6L6GC cathode pin", float64(valve(t, "6L6GC").Output.Pins.Cathode), 8, "same, seen"},
		{"6L6GC anode pin", float64(valve(t, "6L6GC").Output.Pins.Anode), 3, "same, seen"},
		{"6L6GC screen pin", float64(valve(t, "6L6GC").Output.Pins.Screen), 4, "same, seen"},
		{"ECL86 Pa", float64(valve(t, "ECL86").Output.PaMax), 9, "maker's release of 1962, seen"},
		{"EZ80 reservoir", float64(valve(t, "EZ80").Rectifier.CMax), 50e-6, "published for EZ40 of the same ratings, seen"},
		{"EZ80 volts", float64(valve(t, "EZ80").Rectifier.VacMax), 350, "same, seen"},
		{"EZ80 current", float64(valve(t, "EZ80").Rectifier.IdcMax), 90e-3, "same, seen"},
		{"EZ80 warm-up", float64(valve(t, "EZ80").Rectifier.WarmUp), 35, "same, seen"},
		{"EZ80 series at 350 V", float64(valve(t, "EZ80").Rectifier.Series[3].Ohms), 300, "same, seen"},
		{"5Y3 reservoir", float64(valve(t, "5Y3").Rectifier.CMax), 20e-6, "valve data, seen"},
		{"5Y3 current", float64(valve(t, "5Y3").Rectifier.IdcMax), 125e-3, "valve data, seen"},
		{"GZ34 reservoir", float64(valve(t, "GZ34").Rectifier.CMax), 60e-6, "valve data, seen"},
		{"6X4 volts", float64(valve(t, "6X4").Rectifier.VacMax), 325, "transcription of a maker's sheet, seen"},
		{"6X4 current", float64(valve(t, "6X4").Rectifier.IdcMax), 70e-3, "same, seen"},
		{"6X4 series", float64(valve(t, "6X4").Rectifier.Series[0].Ohms), 525, "same, seen"},
		{"6X4 drop", float64(valve(t, "6X4").Rectifier.Drop), 22, "same, seen"},
		{"ECC83 Mu", valve(t, "ECC83").Sections[0].Mu, 100, "encyclopedia, seen"},
		{"6V6 Rk", float64(valve(t, "6V6").Output.TypicalRk), 252.5, "computed: 12.5 V / 49.5 mA, data from memory"},
		{"EL84 grid leak", float64(valve(t, "EL84").Output.GridLeakMax), 1e6, "valve data, memory"},
	} {
		if !near(c.got, c.want, 1e-9*c.want) {
			t.Errorf("%s is %v, want %v (%s)", c.what, c.got, c.want, c.source)
		}
	}
}

func TestOutputValvesRunInsideTheirMaxima(t *testing.T) {
	checked := 0
	for _, v := range Valves() {
		for _, s := range v.Sections {
			if s.Va == 0 {
				continue // diodes
			}
			checked++
			if !(s.Va <= s.VaMax && float64(s.Va)*float64(s.Ia) <= float64(s.PaMax)*1.001) {
				t.Errorf("%s %s: %v x %v in %v, %v", v.Type, s.Name, s.Va, s.Ia, s.VaMax, s.PaMax)
			}
			if s.Vg2 > 0 && !(s.Vg2 <= s.Vg2Max && float64(s.Vg2)*float64(s.Ig2) <= float64(s.Pg2Max)*1.001) {
				t.Errorf("%s %s: screen %v x %v in %v, %v", v.Type, s.Name, s.Vg2, s.Ig2, s.Vg2Max, s.Pg2Max)
			}
			if s.IkMax > 0 && !(s.Ia+s.Ig2 <= s.IkMax) {
				t.Errorf("%s %s: %v + %v in %v", v.Type, s.Name, s.Ia, s.Ig2, s.IkMax)
			}
		}
	}
	if checked < 15 {
		t.Fatalf("%d working points checked", checked)
	}
}

func TestOutputFiguresAreThoseOfTheSection(t *testing.T) {
	for _, v := range Valves() {
		if v.Output == nil {
			continue
		}
		o, s := v.Output, v.Sections[0]
		if o.PaMax != s.PaMax || o.Pg2Max != s.Pg2Max || o.IkMax != s.IkMax || o.VaMax != s.VaMax || o.Vg2Max != s.Vg2Max || o.Ia != s.Ia || o.Ig2 != s.Ig2 {
			t.Errorf("%s: output and section differ", v.Type)
		}
		if !near(o.Share, float64(s.Ig2/(s.Ia+s.Ig2)), 1e-12) {
			t.Errorf("%s: screen share %v of %v and %v", v.Type, o.Share, s.Ia, s.Ig2)
		}
		if !near(float64(o.TypicalRk)*float64(s.Ia+s.Ig2)/float64(-s.Vg1), 1, 0.07) {
			t.Errorf("%s: %v with %v does not give %v", v.Type, o.TypicalRk, s.Ia+s.Ig2, s.Vg1)
		}
		if !(o.GridLeakMaxFixed > 0 && o.GridLeakMaxFixed < o.GridLeakMax && float64(o.GridLeakMax) <= value("grid-leak-most")) {
			t.Errorf("%s: grid leak %v, fixed bias %v", v.Type, o.GridLeakMax, o.GridLeakMaxFixed)
		}
		// The two types whose data has no cathode maximum.
		if none := v.Type == "6V6GT" || v.Type == "6L6GC"; (o.IkMax == 0) != none {
			t.Errorf("%s: cathode maximum %v", v.Type, o.IkMax)
		}
		seen := map[int]bool{}
		for _, pin := range []int{o.Pins.Grid, o.Pins.Cathode, o.Pins.Anode, o.Pins.Screen, o.Pins.Heater[0], o.Pins.Heater[1]} {
			if pin < 1 || pin > 9 || seen[pin] {
				t.Errorf("%s: pins %v", v.Type, o.Pins)
			}
			seen[pin] = true
		}
	}
}

// law is Ik = K (Vg + Vg2/mu - Ik R)^1.5, R = Rk + share Rg2/mu (Child and
// Langmuir; Radiotron Designer's Handbook, 4th edition, ch. 2, memory), solved
// by halving.
func law(k, mu, vg, vg2, r float64) float64 {
	lo, hi := 0.0, k*math.Pow(vg+vg2/mu, 1.5)
	for range 200 {
		if i := (lo + hi) / 2; i < k*math.Pow(math.Max(0, vg+vg2/mu-i*r), 1.5) {
			lo = i
		} else {
			hi = i
		}
	}
	return lo
}

func TestTheLawMeetsTheDataSheet(t *testing.T) {
	for _, v := range Valves() {
		if v.Output == nil {
			continue
		}
		o, s := v.Output, v.Sections[0]
		vg2 := float64(s.Vg2 - s.Vg1) // to chassis, the cathode standing at -Vg1
		if v.Type == "EL34" {
			vg2 = float64(s.Vg2) // as its note says
		}
		got := law(o.K, o.Mu, float64(s.Vg1), vg2, 0)
		if !near(got/float64(s.Ia+s.Ig2), 1, 0.002) {
			t.Errorf("%s: %v A at the working point, data %v", v.Type, got, s.Ia+s.Ig2)
		}
		// Slope of the law, 1.5 Ia/d. Mu is rounded, so that it errs.
		slope := 1.5 * float64(s.Ia) / (float64(s.Vg1) + vg2/o.Mu)
		if !near(slope/s.Gm, 1, 0.3) {
			t.Errorf("%s: slope %v, data %v A/V", v.Type, slope, s.Gm)
		}
	}
	for _, v := range Valves() {
		if v.Signal == nil {
			continue
		}
		g, s := v.Signal, v.Sections[0]
		got := law(g.K, g.Mu, float64(s.Vg1), float64(s.Vg2-s.Vg1), 0)
		if !near(got/float64(s.Ia+s.Ig2), 1, 0.002) {
			t.Errorf("%s: %v A at the working point, data %v", v.Type, got, s.Ia+s.Ig2)
		}
		if !near(g.Share, float64(s.Ig2/(s.Ia+s.Ig2)), 1e-9) {
			t.Errorf("%s: screen share %v", v.Type, g.Share)
		}
	}
}

func TestCathodeBiasedCurrents(t *testing.T) {
	signal := func(name string) (k, mu, r float64) {
		g := valve(t, name).Signal
		return g.K, g.Mu, float64(g.TypicalRk) + g.Share*float64(g.TypicalRg2)/g.Mu
	}
	output := func(name string, r float64) (k, mu, rk float64) {
		o := valve(t, name).Output
		return o.K, o.Mu, r
	}
	row := func(k, mu, r float64) [3]float64 { return [3]float64{k, mu, r} }
	// Computed; the circuit simulator ngspice gives the same.
	for _, c := range []struct {
		what string
		v    [3]float64
		vg2  float64
		want float64
	}{
		{"EL84, its own Rk", row(output("EL84", float64(valve(t, "EL84").Output.TypicalRk))), 220, 44.73e-3},
		{"EL84, half the volts", row(output("EL84", 135)), 110, 19.4e-3},
		{"EL84, Rk doubled", row(output("EL84", 270)), 220, 27.9e-3},
		{"EL84, Rk shorted", row(output("EL84", 0)), 220, 135.2e-3},
		{"UL84, its own Rk", row(output("UL84", float64(valve(t, "UL84").Output.TypicalRk))), 170, 69.6e-3},
		{"ECH81", row(signal("ECH81")), 224, 10.0e-3},
		{"EF89", row(signal("EF89")), 224, 12.3e-3},
	} {
		if got := law(c.v[0], c.v[1], 0, c.vg2, c.v[2]); !near(got/c.want, 1, 0.006) {
			t.Errorf("%s: %v A, want %v", c.what, got, c.want)
		}
	}
}

func TestAnodeCurrentFromTheCathode(t *testing.T) {
	// Computed: 7.3 V over 135 Ω is 54.07 mA, of which the anode has 48/53.5.
	o := valve(t, "EL84").Output
	ik := 7.3 / float64(o.TypicalRk)
	if !near(ik, 54.07e-3, 5e-6) || !near(ik*(1-o.Share), 48.5e-3, 0.02e-3) {
		t.Errorf("Ik %v, Ia %v", ik, ik*(1-o.Share))
	}
}

func TestRectifiers(t *testing.T) {
	checked := 0
	for _, v := range Valves() {
		r := v.Rectifier
		if r == nil {
			continue
		}
		checked++
		if !near(r.Perveance*math.Pow(float64(r.Drop), 1.5)/float64(r.DropAt), 1, 0.002) {
			t.Errorf("%s: %v at %v does not give a perveance of %v", v.Type, r.Drop, r.DropAt, r.Perveance)
		}
		// Computed: a capacitor at the crest and the other crest stand across an
		// anode, 2 sqrt 2 V. Makers round to within 2 %.
		if !(float64(r.PIV) >= 0.98*2*math.Sqrt2*float64(r.VacMax)) {
			t.Errorf("%s: peak inverse %v with %v", v.Type, r.PIV, r.VacMax)
		}
		if !(r.IdcMax > 0 && r.IpkMax > 2*r.IdcMax) {
			t.Errorf("%s: %v, peak %v", v.Type, r.IdcMax, r.IpkMax)
		}
		if !(r.WarmUp > 0 && r.WarmUp <= 60) || r.DirectlyHeated != (r.WarmUp <= 5) {
			t.Errorf("%s: warm in %v, directly heated %v", v.Type, r.WarmUp, r.DirectlyHeated)
		}
		// The one type whose data has no largest reservoir.
		if (r.CMax == 0) != (v.Type == "EZ90") {
			t.Errorf("%s: reservoir %v", v.Type, r.CMax)
		}
		for i := 1; i < len(r.Series); i++ {
			if !(r.Series[i-1].At < r.Series[i].At && r.Series[i-1].Ohms < r.Series[i].Ohms) {
				t.Errorf("%s: series resistance %v", v.Type, r.Series)
			}
		}
		if len(r.Series) == 0 || r.Series[len(r.Series)-1].At < r.VacMax {
			t.Errorf("%s: no series resistance at %v", v.Type, r.VacMax)
		}
	}
	if checked < 7 {
		t.Fatalf("%d rectifiers checked", checked)
	}
}
