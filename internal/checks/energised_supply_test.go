package checks

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

func lampOf(watts unit.Watt) *circuit.Lamp { return &circuit.Lamp{Watts: watts, Volts: 230} }

func TestSetVolts(t *testing.T) {
	for _, s := range []struct {
		why  string
		rung unit.Percent
		lamp *circuit.Lamp
		x    float64
		want engine.Verdict
	}{
		{"on the step", 50, lampOf(60), 115, engine.Pass},
		{"2 % of the tap under the step", 50, lampOf(60), 110.5, engine.Pass},
		{"not reached", 50, lampOf(60), 100, engine.Query},
		{"turned too far", 50, lampOf(60), 125, engine.Query},
		{"the lowest step", 25, lampOf(60), 54, engine.Pass},
		{"far beyond the tap", 50, nil, 270, engine.Stop},
		{"the last step is today's mains", 100, nil, 241, engine.Pass},
		{"nominal mains", 0, nil, 230, engine.Pass},
		{"top of the mains band", 0, nil, 253, engine.Pass},
		{"over it: tap or meter", 0, nil, 258, engine.Query},
		{"wrong tap by far", 0, nil, 265, engine.Stop},
		{"half the mains, no lamp", 0, nil, 100, engine.Query},
		{"behind a small lamp", 0, lampOf(25), 81, engine.Pass},
	} {
		c := fullMains(0)
		c.Rung, c.Lamp, c.Mains = s.rung, s.lamp, 230
		if got := verdict(t, "set-volts", c, s.x); got != s.want {
			t.Errorf("%s: %g V is a %v, want %v", s.why, s.x, got, s.want)
		}
	}
}

// Idle limits of a 55 VA transformer, 6.6 and 13.75 W with 40 mA magnetising,
// as lamp volts, by the lamp's law and for real tungsten (computed): 25 W lamp
// 42.7 and 63.9, real 49.1 and 69.4; 40 W 20.7 and 35.0, real 12.3 and 29.3;
// 60 W 10.4 and 19.0, real 4.5 and 10.9. Pass takes the more, stop the less.
func TestLampWithTheTransformerAlone(t *testing.T) {
	for _, s := range []struct {
		watts      unit.Watt
		pass, stop float64
	}{{25, 49.1, 63.9}, {40, 20.7, 29.3}, {60, 10.4, 10.9}} {
		c := fullMains(0)
		c.Lamp, c.Mains = lampOf(s.watts), 230
		w := windowOf(t, "lamp-early", c)
		if !(math.Abs(w.Pass.Hi-s.pass) <= 0.04*s.pass) || !(math.Abs(w.Query.Hi-s.stop) <= 0.04*s.stop) || !math.IsInf(w.Pass.Lo, -1) {
			t.Errorf("%v: pass %v, stop over %g, want up to %g and %g", s.watts, w.Pass, w.Query.Hi, s.pass, s.stop)
		}
	}
	c := fullMains(0)
	c.Lamp, c.Mains = lampOf(100), 230
	if _, err := lampEarlyRule(c); !errors.Is(err, ErrWindow) || !strings.Contains(err.Error(), "smaller lamp") {
		t.Errorf("a 100 W lamp cannot tell here: %v", err)
	}
	c.Lamp = lampOf(40)
	for x, want := range map[float64]engine.Verdict{
		10: engine.Pass,  // real healthy lamp
		18: engine.Pass,  // by the law
		25: engine.Query, // shorted layer of 7 W
		38: engine.Stop,  // shorted layer of 12 W
	} {
		if got := verdict(t, "lamp-early", c, x); got != want {
			t.Errorf("40 W lamp at %g V: %v, want %v", x, got, want)
		}
	}
}

// Shorted turns heat: more than 5 % and the meter's digits in a minute stops.
func TestLampMayNotRise(t *testing.T) {
	c := fullMains(0)
	c.Lamp, c.Mains = lampOf(40), 230
	if _, err := lampLateRule(c); !errors.Is(err, ErrNoData) {
		t.Errorf("without the reading at 5 s: %v", err)
	}
	c = c.had("lamp-early", unit.KindVolt, 12)
	for x, want := range map[float64]engine.Verdict{11: engine.Pass, 12.4: engine.Pass, 13: engine.Pass, 13.2: engine.Stop, 18: engine.Stop} {
		if got := verdict(t, "lamp-late", c, x); got != want {
			t.Errorf("12 V, then %g V: %v, want %v", x, got, want)
		}
	}
	c = c.had("lamp-early", unit.KindVolt, 20.2)
	if got := verdict(t, "lamp-late", c, 21); got != engine.Query {
		t.Errorf("not risen, but above the idle line: %v", got)
	}
}

func TestHalfVolts(t *testing.T) {
	c := fullMains(230)
	c.Item, c.Taken = "a", map[string]unit.Quantity{}
	for x, want := range map[float64]engine.Verdict{
		273.8: engine.Pass,
		275:   engine.Pass,
		256:   engine.Query,
		316:   engine.Stop, // wrong tap: 15 % high
		250:   engine.Stop, // shorted layer
		0:     engine.Stop, // absent
	} {
		if got := verdict(t, "half-volts", c, x); got != want {
			t.Errorf("%g V: %v, want %v", x, got, want)
		}
	}
	// The other half is kept at tap volts; this one is read at 216 V.
	c = c.had("half-volts@b", unit.KindVolt, 280)
	c.AtSet = 216
	for x, want := range map[float64]engine.Verdict{263: engine.Pass, 257: engine.Pass, 250: engine.Query, 245.5: engine.Stop} {
		if got := verdict(t, "half-volts", c, x); got != want {
			t.Errorf("half b 280 V at the tap, half a %g V at 216 V: %v, want %v (%v)", x, got, want, windowOf(t, "half-volts", c).Pass)
		}
	}
	if got := halves(nil); len(got) != 2 {
		t.Errorf("halves %v", got)
	}
}

// Volts printed on load with no winding ohms, or none at all: typical, and only
// an absent winding stops.
func TestHalfVoltsFromTypicalValues(t *testing.T) {
	for name, change := range map[string]func(*sheet.Set){
		"on load, ohms not known": func(s *sheet.Set) {
			s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad}
			s.Transformer.HalfA = nil
		},
		"worked back": func(s *sheet.Set) { s.HTWinding = nil },
	} {
		s := fullRadio()
		change(s)
		c := caseFor(t, s, "a")
		c.AtSet = 230
		for x, want := range map[float64]engine.Verdict{275: engine.Pass, 340: engine.Query, 230: engine.Query, 5: engine.Stop} {
			if got := verdict(t, "half-volts", c, x); got != want {
				t.Errorf("%s: %g V is a %v, want %v", name, x, got, want)
			}
		}
		// The halves against each other are no typical figure.
		if got := verdict(t, "half-volts", c.had("half-volts@b", unit.KindVolt, 275), 255); got != engine.Stop {
			t.Errorf("%s: halves 7.5 %% apart: %v", name, got)
		}
	}
	s := fullRadio()
	s.HTWinding = &sheet.HTWinding{Volts: 250, Taken: sheet.OnLoad}
	if w := windowOf(t, "half-volts", caseFor(t, s, "a")); w.Grade != Sheet {
		t.Error("on load with all ohms known the regulation is computed, not typical")
	}
}

func TestPlainStageValues(t *testing.T) {
	c := fullMains(230)
	c = c.had("room", unit.KindCelsius, 20)
	for _, s := range []struct {
		id   string
		x    float64
		want engine.Verdict
	}{
		{"core-warm", 28, engine.Pass},
		{"core-warm", 33, engine.Query},
		{"core-warm", 36, engine.Stop},
		{"lamp-off", 0, engine.Pass},
		{"lamp-off", 2, engine.Query}, // capacitor before the switch
		{"lamp-off", 12, engine.Stop}, // switch does not open
		{"idle-watts", 5, engine.Pass},
		{"idle-watts", 10, engine.Query},
		{"idle-watts", 14, engine.Stop}, // shorted layer
		{"core", 55, engine.Pass},
		{"core", 70, engine.Query},
		{"core", 81, engine.Stop},
	} {
		if got := verdict(t, s.id, c, s.x); got != s.want {
			t.Errorf("%s %g: %v, want %v", s.id, s.x, got, s.want)
		}
	}
	delete(c.Taken, "room")
	for x, want := range map[float64]engine.Verdict{34: engine.Pass, 45: engine.Query, 61: engine.Stop} {
		if got := verdict(t, "core-warm", c, x); got != want {
			t.Errorf("core %g °C in a room nobody read: %v, want %v", x, got, want)
		}
	}
}

// Healthy lamp volts with the heaters alone: 40 W 70 V by the law and 68 real,
// 60 W 41 and 37, 100 W 19 and 11 (computed). A line short of 0.6 ohm puts 125 V
// on the 60 W lamp (computed), and no ohmmeter sees it.
func TestLampWithTheHeatersAlone(t *testing.T) {
	for _, s := range []struct {
		watts unit.Watt
		x     float64
		want  engine.Verdict
	}{
		{40, 70, engine.Pass},
		{40, 68, engine.Pass},
		{60, 41, engine.Pass},
		{60, 37, engine.Pass},
		{60, 20, engine.Query}, // a heater not drawing
		{60, 60, engine.Query},
		{60, 125, engine.Stop},
		{100, 19, engine.Pass},
	} {
		c := fullMains(0)
		c.Lamp, c.Mains = lampOf(s.watts), 230
		if got := verdict(t, "lamp-heaters", c, s.x); got != s.want {
			t.Errorf("%v lamp, %g V: %v, want %v", s.watts, s.x, got, s.want)
		}
	}
}

// 6.3 V ± 7 % is 5.859 to 6.741, ± 10 % is 5.67 to 6.93 (trade article of 1962
// quoting British practice). Before HT loads the transformer 8 and 12 % high
// are allowed.
func TestHeaterVolts(t *testing.T) {
	c := fullMains(230)
	for x, want := range map[float64]engine.Verdict{
		6.46: engine.Pass,
		5.86: engine.Pass,
		5.75: engine.Query,
		5.60: engine.Stop, // overload or wrong valve
		6.90: engine.Query,
		7.10: engine.Stop,
		5.96: engine.Pass, // with the heater line shorted through 0.6 ohm: only the lamp shows it
	} {
		if got := verdict(t, "heater-volts", c, x); got != want {
			t.Errorf("%g V at 230 V: %v, want %v", x, got, want)
		}
	}
	// Behind a lamp the window goes by the volts on the set, as read or before
	// that as computed.
	c.Lamp, c.AtSet = lampOf(60), 190
	if w := windowOf(t, "heater-volts", c); !near(w.Pass.Lo, 0.93*6.3*190/230, 1e-3) {
		t.Errorf("at 190 V: pass %v", w.Pass)
	}
	c.AtSet = 0
	if got := verdict(t, "heater-volts", c, 5.32); got != engine.Pass { // healthy behind the 60 W lamp (computed)
		t.Errorf("before the set was read: %v, pass %v", got, windowOf(t, "heater-volts", c).Pass)
	}
}

// 6.3 V on the 220 V tap is 6.873 V at 240 and 7.245 V at 253 V (computed):
// a query and a stop.
func TestHeaterTap(t *testing.T) {
	for _, s := range []struct {
		mains unit.Volt
		value float64
		want  engine.Verdict
	}{
		{240, 6.873, engine.Query},
		{253, 7.245, engine.Stop},
		{220, 6.3, engine.Pass},
		{190, 5.44, engine.Query}, // low mains is no danger
	} {
		c := fullMains(160)
		c.Set.Mains.Tap, c.Mains = new(unit.Volt(220)), s.mains
		c = c.had("heater-volts", unit.KindVolt, 6.3*160/220)
		x := derivedValue(t, "heater-tap", c)
		if !(math.Abs(x-s.value) <= 1e-3*s.value) {
			t.Errorf("at %v: %.4g V, want %.4g", s.mains, x, s.value)
		}
		if got := verdict(t, "heater-tap", c, x); got != s.want {
			t.Errorf("%.4g V: %v, want %v", x, got, s.want)
		}
	}
	c := fullMains(0)
	c.Mains = 230
	if _, err := deriveHeaterTap(c.had("heater-volts", unit.KindVolt, 6)); !errors.Is(err, ErrNoData) {
		t.Errorf("without volts on the set: %v", err)
	}
	delete(c.Taken, "heater-volts")
	if _, err := deriveHeaterTap(c); !errors.Is(err, ErrNoData) {
		t.Errorf("without the heater reading: %v", err)
	}
}

// Letters carry their verdicts themselves.
func TestLetters(t *testing.T) {
	want := map[string]string{
		"glow":     "a pass, s query, b stop, n query",
		"sound":    "g pass, w query, n query",
		"hum":      "l pass, h query",
		"controls": "g pass, c query, l stop",
	}
	for id, verdicts := range want {
		check, ok := Find(id)
		if !ok || check.Answer != Letter || check.Rule != nil {
			t.Errorf("%s is no check by letters", id)
			continue
		}
		var got []string
		for _, c := range check.Choices {
			got = append(got, c.Key+" "+c.Verdict.String())
		}
		if strings.Join(got, ", ") != verdicts {
			t.Errorf("%s: %s, want %s", id, strings.Join(got, ", "), verdicts)
		}
	}
}

// The guard of the meter is taken off in class G and not in class E.
func TestGuardByClass(t *testing.T) {
	c := fullMains(230)
	grid, _ := Find("output-grid")
	ripple, _ := Find("ripple")
	if got := windowOf(t, "output-grid", c).Judge(meter.Read(0.24, 0.02), grid.Crit).Verdict; got != engine.Query {
		t.Errorf("grid +0.24 ± 0.02 V: %v", got)
	}
	if got := windowOf(t, "output-grid", c).Judge(meter.Read(0.49, 0.02), grid.Crit).Verdict; got != engine.Stop {
		t.Errorf("grid +0.49 ± 0.02 V: %v", got)
	}
	w := windowOf(t, "ripple", c)
	if got := w.Judge(meter.Read(w.Pass.Hi, 0.1), ripple.Crit).Verdict; got != engine.Pass {
		t.Errorf("ripple on its line, class E: %v", got)
	}
}
