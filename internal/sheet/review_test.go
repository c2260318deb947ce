package sheet_test

import (
	"strings"
	"testing"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
	"example.com/powerup/procedures"
)

// radio is the example with every line filled in; change makes one of it.
func radio(t *testing.T, change func(*sheet.Set)) *sheet.Set {
	t.Helper()
	s := example(t, "table-radio")
	change(s)
	return s
}

func example(t *testing.T, name string) *sheet.Set {
	t.Helper()
	text, ok := procedures.Find(procedures.Sheets(), name)
	if !ok {
		t.Fatalf("no example sheet %s", name)
	}
	s, err := spec.LoadSet(name+".yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func uk(t *testing.T) limits.Profile {
	t.Helper()
	p, ok := limits.ProfileOf("uk")
	if !ok {
		t.Fatal("no profile uk")
	}
	return p
}

func text(all []sheet.Remark) string {
	var lines []string
	for _, m := range all {
		lines = append(lines, m.Severity.String()+" "+m.Field+": "+m.What)
	}
	return strings.Join(lines, "\n")
}

func to[T any](v T) *T { return &v }

// The full examples leave nothing to say; the sparse one lacks much, and is
// still enough to energise.
func TestExamplesReviewClean(t *testing.T) {
	for _, f := range procedures.Sheets() {
		all := example(t, f.Name).Review(uk(t))
		for _, m := range all {
			if m.Severity != sheet.Note {
				t.Errorf("%s: %s %s: %s", f.Name, m.Severity, m.Field, m.What)
			}
			if m.What == "" || m.Hint == "" {
				t.Errorf("%s: a remark on %q without its words", f.Name, m.Field)
			}
		}
		if sparse := f.Name == "sparse-radio"; sparse != (len(all) > 0) {
			t.Errorf("%s: %d notes\n%s", f.Name, len(all), text(all))
		}
	}
}

func TestSparseSheetSaysWhatItLacks(t *testing.T) {
	const want = `note ht-winding: the HT winding's volts: not on the sheet
note transformer.primary: the primary's ohms: not on the sheet
note transformer.half-a: the ohms of the HT winding's halves: not on the sheet
note transformer.rating: the transformer's size: not on the sheet
note transformer.heater-rating: the heater winding's rating: not on the sheet
note reservoir.capacitance: the reservoir's capacitance: not on the sheet
note reservoir.rating: the reservoir's rating: not on the sheet
note smoothing.resistance: the smoothing's ohms: not on the sheet
note second.capacitance: the second capacitor's capacitance: not on the sheet
note second.rating: the second capacitor's rating: not on the sheet
note bleed: whether a path discharges the HT line: not on the sheet
note ht-minus: where the HT negative is: not on the sheet
note output-transformer.primary: the output transformer's ohms: not on the sheet
note output-transformer.speaker: the loudspeaker's impedance: not on the sheet
note output-stage.screen-resistor: the output valve's screen resistor: not on the sheet
note output-stage.coupling: the coupling capacitor's rating: not on the sheet
note dial-lamps: whether there are dial lamps: not on the sheet
note renewed: what was renewed: not on the sheet
note output-stage.coupling.rail: which rail feeds the driver: not on the sheet
note printed: printed volts of ht2, anode, screen, cathode, heater: not on the sheet
note printed.mains: the mains at which the volts were printed: not on the sheet
note printed.meter-input: the meter of the printed volts: not on the sheet
note signal-stages: resistors of ECH81, EF89: not on the sheet`
	if got := text(example(t, "sparse-radio").Review(uk(t))); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Each row breaks the example in one place. Figures beside a row are computed
// from the example: 1.414 x 275 V x 253/230 = 427.8 V without load at top mains.
func TestReview(t *testing.T) {
	for _, c := range []struct {
		why    string
		change func(*sheet.Set)
		want   string
	}{
		// the minimum to energise
		{
			"live chassis", func(s *sheet.Set) { s.Construction = sheet.SeriesHeater },
			"refuse construction: the chassis of a series-heater set is joined to the mains: it is not energised by this program",
		},
		{
			"an auto-transformer is no isolation", func(s *sheet.Set) { s.Construction = sheet.AutoWound },
			"refuse construction: the chassis of an auto-transformer set is joined to the mains: it is not energised by this program",
		},
		{
			"unknown counts as live", func(s *sheet.Set) { s.Construction = sheet.UnknownBuild },
			"refuse construction: a set of unknown construction counts as one with a live chassis: it is not energised by this program",
		},
		{
			"no tap in use", func(s *sheet.Set) { s.Mains.Tap = nil },
			"refuse mains.tap: the tap in use is missing",
		},
		{
			"a tap that is not there", func(s *sheet.Set) { s.Mains.Tap = to[unit.Volt](240) },
			"refuse mains.tap: the tap in use, 240 V, is not one of the taps",
		},
		{
			"taps that fall", func(s *sheet.Set) { s.Mains.Taps = []unit.Volt{230, 215} },
			"refuse mains.taps[1]: the tap 215 V does not follow 230 V",
		},
		{
			"a tap twice", func(s *sheet.Set) { s.Mains.Taps = []unit.Volt{230, 230} },
			"refuse mains.taps[1]: the tap 230 V does not follow 230 V",
		},
		{
			"limits of another place", func(s *sheet.Set) { s.Mains.Profile = "eu" },
			"refuse mains.profile: the sheet is written for the profile eu, and uk is used",
		},
		{
			"no watts", func(s *sheet.Set) { s.Watts = nil },
			"refuse watts: the set's watts are missing",
		},
		{
			"another frequency", func(s *sheet.Set) { s.Frequency = to[unit.Hertz](60) },
			"warn frequency: the set is made for 60 Hz, and the mains has 50 Hz",
		},
		{
			"a rectifier without data", func(s *sheet.Set) { s.Rectifier = "XY99" },
			"refuse rectifier: there is no data of XY99 as a full-wave rectifier",
		},
		{
			"a half-wave rectifier", func(s *sheet.Set) { s.Rectifier = "UY85" },
			"refuse rectifier: there is no data of UY85 as a full-wave rectifier",
		},
		{
			"no rectifier at all", func(s *sheet.Set) { s.Rectifier = "EL84" },
			"refuse rectifier: there is no data of EL84 as a full-wave rectifier\n" +
				"refuse valves[3]: EL84 is the rectifier, which the list of valves leaves out",
		},
		{
			"the rectifier listed twice", func(s *sheet.Set) { s.Valves = append(s.Valves, "EZ80") },
			"refuse valves[4]: EZ80 is the rectifier, which the list of valves leaves out\n" +
				"warn transformer.heater-rating: with the rectifier's heater on the same winding it gives 3.51 A of 3 A",
		},
		{
			"the rectifier listed first", func(s *sheet.Set) { s.Valves[0] = "EZ80" },
			"refuse valves[0]: EZ80 is the rectifier, which the list of valves leaves out\n" +
				"warn transformer.heater-rating: with the rectifier's heater on the same winding it gives 3.21 A of 3 A",
		},
		{
			"no output valve", func(s *sheet.Set) { s.Valves = s.Valves[:3] },
			"refuse valves: no output valve is among the valves",
		},
		{
			"two output valves", func(s *sheet.Set) { s.Valves = append(s.Valves, "EL84") },
			"refuse valves: 2 output valves are among the valves, and only a set with one can be guided\n" +
				"refuse transformer.heater-rating: valves and dial lamps draw 3.07 A, and the heater winding gives 3 A",
		},
		{
			"an output valve without data", func(s *sheet.Set) { s.Output.Valve = "EF89" },
			"refuse output-stage.valve: there is no data of EF89 as an output valve",
		},
		{
			"nothing to know the HT by", func(s *sheet.Set) { s.HTWinding, s.Printed.HT1 = nil, nil },
			"refuse ht-winding: neither the HT winding's volts nor printed HT1 are known\n" +
				"note ht-winding: the HT winding's volts: not on the sheet\n" +
				"note printed: printed volts of ht1: not on the sheet",
		},
		{
			"an earth core of unknown ohms", func(s *sheet.Set) { s.Flex.Cores = 3 },
			"refuse flex.length: the length of the 3-core flex is missing\n" +
				"refuse flex.area: the cross-section of the 3-core flex is missing",
		},

		// heaters: 0.3 + 0.2 + 0.45 + 0.76 A, EZ80 0.6 A, lamps 0.6 A (valve data)
		{"heaters that fit exactly", func(s *sheet.Set) { s.Transformer.Heaters = to[unit.Ampere](2.91) }, ""},
		{
			"heaters that fit without the rectifier", func(s *sheet.Set) { s.Transformer.Heaters = to[unit.Ampere](2.4) },
			"warn transformer.heater-rating: with the rectifier's heater on the same winding it gives 2.91 A of 2.4 A",
		},
		{
			"heaters that do not fit", func(s *sheet.Set) { s.Transformer.Heaters = to[unit.Ampere](2.2) },
			"refuse transformer.heater-rating: valves and dial lamps draw 2.31 A, and the heater winding gives 2.2 A",
		},
		{"a heater rectifier with its own winding does not count", func(s *sheet.Set) {
			s.Rectifier, s.Transformer.Heaters = "GZ34", to[unit.Ampere](2.4)
		}, ""},
		{
			"a valve of a series chain", func(s *sheet.Set) { s.Valves[3] = "UL84" },
			"refuse valves[3]: the heater of UL84 takes 45 V, that of the valves before 6.3 V",
		},
		{
			"a valve without data", func(s *sheet.Set) { s.Valves[2] = "XY99" },
			"note valves[2]: there is no data of XY99",
		},
		{
			"heater volts of another series", func(s *sheet.Set) { s.Printed.Heater = to[unit.Volt](4) },
			"refuse printed.heater: the heater volts are printed as 4 V, and the valves are made for 6.3 V",
		},

		// the HT line
		{"a rating just enough", func(s *sheet.Set) { s.Reservoir.Rating = to[unit.Volt](428) }, ""},
		{
			"a rating of the working volts", func(s *sheet.Set) { s.Reservoir.Rating = to[unit.Volt](400) },
			"refuse reservoir.rating: a rating of 400 V is below the 428 V that stand there before the valves draw current, at 253 V mains",
		},
		{
			"the second one too", func(s *sheet.Set) { s.Second.Rating = to[unit.Volt](350) },
			"refuse second.rating: a rating of 350 V is below the 428 V that stand there before the valves draw current, at 253 V mains",
		},
		{"a rating against typical volts is only warned of", func(s *sheet.Set) {
			s.HTWinding.Taken, s.Transformer.Primary = sheet.OnLoad, nil // 275 V x 1.15
			s.Reservoir.Rating = to[unit.Volt](480)
		}, "warn reservoir.rating: a rating of 480 V is below the 492 V that stand there before the valves draw current, at 253 V mains\n" +
			"warn second.rating: a rating of 450 V is below the 492 V that stand there before the valves draw current, at 253 V mains\n" +
			"note transformer.primary: the primary's ohms: not on the sheet"},
		{"a reservoir the rectifier may have", func(s *sheet.Set) { s.Reservoir.Capacitance = to[unit.Farad](50e-6) }, ""},
		{
			"a reservoir above it", func(s *sheet.Set) { s.Reservoir.Capacitance = to[unit.Farad](75e-6) },
			"warn reservoir.capacitance: 75 µF is more than the 50 µF that EZ80 may charge",
		},
		{
			"a reservoir far above it", func(s *sheet.Set) { s.Reservoir.Capacitance = to[unit.Farad](100e-6) },
			"refuse reservoir.capacitance: 100 µF is more than 1.5 times the 50 µF that EZ80 may charge",
		},
		{
			"a rectifier whose data gives none", func(s *sheet.Set) { s.Rectifier = "6X4" },
			"note reservoir.capacitance: the data of 6X4 gives no largest reservoir",
		},
		{"volts at the rectifier's limit", func(s *sheet.Set) {
			s.HTWinding.Volts, s.Reservoir.Rating, s.Second.Rating = 350, to[unit.Volt](600), to[unit.Volt](600)
		}, ""},
		{"volts of both halves together", func(s *sheet.Set) {
			s.HTWinding.Volts, s.Reservoir.Rating, s.Second.Rating = 550, to[unit.Volt](900), to[unit.Volt](900)
		}, "warn ht-winding.volts: 550 V are more than the 350 V that each anode of EZ80 stands"},

		// round the output valve; EL84: 65 mA, grid leak to 1 MΩ (valve data)
		{"a cathode resistor of another valve", func(s *sheet.Set) { s.Output.CathodeR = to[unit.Ohm](68) }, // 88.2 mA
			"refuse output-stage.cathode-resistor: printed cathode volts over the cathode resistor give 88.2 mA, and EL84 may carry 65 mA"},
		{"a cathode resistor on the low side", func(s *sheet.Set) { s.Output.CathodeR = to[unit.Ohm](100) }, // 60 mA, 92 %
			"warn output-stage.cathode-resistor: printed cathode volts over the cathode resistor give 60 mA, and EL84 may carry 65 mA"},
		{
			"a grid leak beyond the valve's", func(s *sheet.Set) { s.Output.GridLeak = to[unit.Ohm](4.7e6) },
			"refuse output-stage.grid-leak: 4.7 MΩ is more than the 1 MΩ that EL84 may have",
		},
		{"a grid leak at the valve's limit", func(s *sheet.Set) { s.Output.GridLeak = to[unit.Ohm](1e6) }, ""},
		{
			"a valve whose data gives no limit", func(s *sheet.Set) { s.Valves[3] = "6V6GT"; s.Output.GridLeak = to[unit.Ohm](220e3) },
			"note output-stage.cathode-resistor: the data of 6V6GT gives no limit of cathode current",
		},
		{"a coupling capacitor just enough", func(s *sheet.Set) { s.Output.Coupling.Rating = to[unit.Volt](224) }, ""},
		{
			"a coupling capacitor for a cathode", func(s *sheet.Set) { s.Output.Coupling.Rating = to[unit.Volt](160) },
			"refuse output-stage.coupling.rating: a rating of 160 V is below the 224 V of the rail that feeds the driver",
		},
		{
			"the rail's own volts go before printed ones", func(s *sheet.Set) { s.Output.Coupling.RailVolts = to[unit.Volt](410) },
			"refuse output-stage.coupling.rating: a rating of 400 V is below the 410 V of the rail that feeds the driver",
		},
		{
			"a driver above its rail", func(s *sheet.Set) { s.Output.Coupling.AnodeWarm = to[unit.Volt](224) },
			"refuse output-stage.coupling.anode-warm: 224 V at the driver's anode are not below the 224 V of its rail",
		},
		{"a rail nobody gives", func(s *sheet.Set) {
			s.Output.Coupling.Rail, s.Output.Coupling.Rating = "", to[unit.Volt](250)
		}, "warn output-stage.coupling.rating: a rating of 250 V may be below the rail that feeds the driver, at most 389 V\n" +
			"note output-stage.coupling.rail: which rail feeds the driver: not on the sheet"},

		// printed volts
		{
			"HT2 above HT1", func(s *sheet.Set) { s.Printed.HT2 = to[unit.Volt](264) },
			"refuse printed.ht2: ht2 of 264 V is not below ht1 of 264 V",
		},
		{
			"the anode above HT1", func(s *sheet.Set) { s.Printed.Anode = to[unit.Volt](270) },
			"refuse printed.anode: anode of 270 V is not below ht1 of 264 V",
		},
		{"the screen at HT2", func(s *sheet.Set) { s.Printed.Screen = to[unit.Volt](224) }, ""},
		{
			"the screen above HT2", func(s *sheet.Set) { s.Printed.Screen = to[unit.Volt](225) },
			"refuse printed.screen: screen of 225 V is not below ht2 of 224 V",
		},
		{
			"a decimal point lost", func(s *sheet.Set) { s.Printed.Cathode, s.Output.CathodeR = to[unit.Volt](60), nil },
			"refuse printed.cathode: 60 V at the cathode are more than any output valve of a radio has\n" +
				"note output-stage.cathode-resistor: the output valve's cathode resistor: not on the sheet",
		},
		{
			"the most that a cathode can have", func(s *sheet.Set) { s.Printed.Cathode, s.Output.CathodeR = to[unit.Volt](30), to[unit.Ohm](1000) },
			"refuse printed.cathode: 30 V at the cathode are more than any output valve of a radio has",
		},
		{
			"two meters", func(s *sheet.Set) { s.Printed.PerVolt, s.Printed.Range = to[unit.OhmPerVolt](1000), to[unit.Volt](300) },
			"refuse printed.meter-input: the printed volts were taken with a fixed input resistance or with ohms per volt, not both",
		},
		{
			"a moving coil without its range", func(s *sheet.Set) { s.Printed.PerVolt, s.Printed.Meter = to[unit.OhmPerVolt](1000), nil },
			"note printed.meter-range: the range of the meter for the printed volts is missing",
		},

		// missing
		{
			"no service sheet", func(s *sheet.Set) { s.Printed, s.Output.Coupling.RailVolts = nil, to[unit.Volt](224) },
			"note printed: printed volts: not on the sheet",
		},
		{"a known absence of a bleed path is knowledge", func(s *sheet.Set) { s.Bleed = &sheet.Bleed{None: true} }, ""},
		{"no dial lamps is knowledge too", func(s *sheet.Set) { s.DialLamps = &sheet.DialLamps{} }, ""},
		{
			"half of a stage", func(s *sheet.Set) { s.Signal[1].ScreenR = nil },
			"note signal-stages: resistors of EF89: not on the sheet",
		},
		{
			"no coupling capacitor", func(s *sheet.Set) { s.Output.Coupling = nil },
			"note output-stage.coupling: the coupling capacitor's rating: not on the sheet\n" +
				"note output-stage.coupling.rail: which rail feeds the driver: not on the sheet",
		},
	} {
		if got := text(radio(t, c.change).Review(uk(t))); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.why, got, c.want)
		}
	}
}

// What is refused for want of data says which data there is.
func TestRefusalsNameWhatIsKnown(t *testing.T) {
	for _, c := range []struct {
		change func(*sheet.Set)
		want   string
	}{
		{func(s *sheet.Set) { s.Rectifier = "XY99" }, "EZ80"},
		{func(s *sheet.Set) { s.Valves = s.Valves[:3] }, "EL84"},
		{func(s *sheet.Set) { s.Output.Valve = "EF89" }, "EL84"},
	} {
		hint := radio(t, c.change).Review(uk(t))[0].Hint
		if !strings.Contains(hint, c.want) || strings.Contains(hint, "EF89") || strings.Contains(hint, "UY85") {
			t.Errorf("got %q, want the types with data, %s among them", hint, c.want)
		}
	}
}

// The zero value of a severity must be the one that keeps the mains off.
func TestSeverityFailsClosed(t *testing.T) {
	var s sheet.Severity
	if s != sheet.Refuse || s.String() != "refuse" {
		t.Errorf("zero severity is %s", s)
	}
	if got := sheet.Severity(200).String(); got != "note" {
		t.Errorf("a severity that is none of ours: got %s", got)
	}
}

// The watts decide on fuses: too few digits, or one too many, is seen before one is
// bought. Heaters of the example 18.3 W, EZ80 90 mA at 389 V without load.
func TestWattsAreHeldAgainstWhatDrawsThem(t *testing.T) {
	for watts, want := range map[unit.Watt]string{
		5.2: "refuse watts: 5.2 W are less than the 18 W of its heaters alone",
		18:  "", 52: "", 79: "",
		90:  "warn watts: 90 W are 1.7 times the 53 W",
		520: "refuse watts: 520 W are 9.7 times the 53 W",
	} {
		got := text(radio(t, func(s *sheet.Set) { s.Watts = &watts }).Review(uk(t)))
		if want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%v: %q, want %q", watts, got, want)
		}
	}
}
