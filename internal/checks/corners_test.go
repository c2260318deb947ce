package checks

import (
	"maps"
	"math"
	"slices"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/unit"
)

// cornerParts change the table radio by a factor, each with its spread as it is
// once the winding volts and the resistors were read.
var cornerParts = []struct {
	name   string
	spread string // figure, per cent
	change func(m *circuit.Supply, f float64)
}{
	{"winding volts", "spread-winding-read", func(m *circuit.Supply, f float64) { m.Secondary *= unit.Volt(f) }},
	{"winding ohms", "spread-winding", func(m *circuit.Supply, f float64) { timesOhms(f, &m.Primary, &m.HalfA, &m.HalfB) }},
	{"electrolytics", "", func(m *circuit.Supply, f float64) { m.Reservoir *= unit.Farad(f); m.Second *= unit.Farad(f) }},
	{"output valve", "spread-valve", func(m *circuit.Supply, f float64) { m.Output.K *= f }},
	{"small valves", "spread-valve", func(m *circuit.Supply, f float64) {
		for i := range m.Others {
			m.Others[i].K *= f
		}
	}},
	{"rectifier", "spread-valve", func(m *circuit.Supply, f float64) { m.Perveance *= f }},
	{"smoothing", "spread-resistor-read", func(m *circuit.Supply, f float64) { timesOhms(f, &m.Smoothing) }},
	{"cathode resistor", "spread-resistor-read", func(m *circuit.Supply, f float64) { timesOhms(f, &m.Output.CathodeR) }},
	{"screen resistor", "spread-resistor", func(m *circuit.Supply, f float64) { timesOhms(f, &m.Output.ScreenR) }},
	{"output transformer", "spread-resistor-read", func(m *circuit.Supply, f float64) { timesOhms(f, &m.Output.AnodeR) }},
	{"other resistors", "spread-resistor", func(m *circuit.Supply, f float64) {
		timesOhms(f, &m.Bleed, &m.Rest)
		for i := range m.Others {
			timesOhms(f, &m.Others[i].CathodeR, &m.Others[i].ScreenR)
		}
	}},
}

func timesOhms(f float64, of ...*unit.Ohm) {
	for _, r := range of {
		*r *= unit.Ohm(f)
	}
}

// corner is the table radio with each part at the upper end of its spread where
// its bit is set, else at the lower; k widens every spread.
func corner(bits int, k float64) *circuit.Supply {
	m := tableRadioModel()
	for i, part := range cornerParts {
		up := bits>>i&1 == 1
		spread := part.spread
		switch {
		case spread == "" && up:
			spread = "spread-capacitor-high"
		case spread == "":
			spread = "spread-capacitor-low"
		}
		p := k * number(spread) / 100
		if !up {
			p = -p
		}
		part.change(m, 1+p)
	}
	return m
}

// judged is what one healthy radio reads, each value judged by the window of its
// check, as a meter without error shows it. A window at the same volts on the
// set is worked out once.
type judged struct {
	c       Case
	windows map[string]Window
}

func (j judged) verdict(t *testing.T, id string, x float64) engine.Verdict {
	t.Helper()
	w, ok := j.windows[id]
	if !ok {
		w = windowOf(t, id, j.c)
		j.windows[id] = w
	}
	check, _ := Find(id)
	return w.Judge(meter.Read(x, 0), check.Crit).Verdict
}

// typedAt are the readings of a point. The grid is at chassis in every corner.
func typedAt(p circuit.Point, lamp bool) map[string]float64 {
	out := map[string]float64{
		"ht-reservoir": float64(p.HT1), "ht-smoothed": float64(p.HT2), "output-grid": 0, "output-cathode": float64(p.Cathode),
		"opt-volts": float64(p.OPT), "ripple": float64(p.Ripple) / number("ripple-rms"),
	}
	if lamp {
		out["lamp"] = float64(p.Lamp)
		return out
	}
	out["screen-drop"] = float64(p.HT2 - p.Screen)
	out["mains-current"] = float64(p.Primary)
	out["heater-volts"] = 6.3 * p.Heater
	return out
}

// failures lists what does not pass at a corner, and derived values with it.
func (j judged) failures(t *testing.T, p circuit.Point) []string {
	t.Helper()
	var out []string
	note := func(id string, x float64) {
		if v := j.verdict(t, id, x); v != engine.Pass {
			out = append(out, id+" "+v.String())
		}
	}
	typed := typedAt(p, j.c.Lamp != nil)
	for id, x := range typed {
		note(id, x)
	}
	if j.c.Lamp == nil {
		c := j.c
		c.Taken = maps.Clone(j.c.Taken)
		for id, x := range typed {
			c.Taken[id] = unit.Quantity{Kind: unit.KindVolt, Value: x}
		}
		for _, id := range derivedReadings {
			check, _ := Find(id)
			q, err := check.Derive(c)
			if err != nil {
				t.Fatalf("%s: %v", id, err)
			}
			note(id, q.Value)
		}
	}
	slices.Sort(out)
	return out
}

// Every corner of the tolerances, parts measured, passes every window at 207,
// 230 and 253 V and behind the 60 W lamp. Whether the tap suits the mains is
// another verdict, of the heaters alone. Behind a lamp the volts on the set
// differ by the corner; they are taken to the 0.1 V that a meter shows.
func TestEveryHealthyCornerPasses(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	at := map[unit.Volt]judged{}
	lamps := map[int]judged{}
	seen := 0
	for bits := range 1 << len(cornerParts) {
		m := corner(bits, 1)
		for _, set := range []unit.Volt{207, 230, 253} {
			if at[set].windows == nil {
				at[set] = judged{fullMains(set), map[string]Window{}}
			}
			p, err := m.AtSet(set, nil)
			if err != nil {
				t.Fatal(err)
			}
			seen++
			for _, f := range at[set].failures(t, p) {
				t.Errorf("corner %011b at %v: %s", bits, set, f)
			}
		}
		p, err := m.AtMains(230, lampOf(60))
		if err != nil {
			t.Fatal(err)
		}
		tenths := int(math.Round(10 * float64(p.Set)))
		if lamps[tenths].windows == nil {
			lamps[tenths] = judged{behindLamp(60, unit.Volt(tenths)/10), map[string]Window{}}
		}
		seen++
		for _, f := range lamps[tenths].failures(t, p) {
			t.Errorf("corner %011b behind 60 W, %v on the set: %s", bits, p.Set, f)
		}
		if t.Failed() && bits > 64 {
			break // more of the same
		}
	}
	if want := 4 << len(cornerParts); seen != want {
		t.Errorf("%d corners tried, want %d", seen, want)
	}
}

// The windows have no more room than the tolerances: with every spread twice as
// wide some corner falls out of each of these.
func TestCornersBeyondTheTolerancesDoNotPass(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	j := judged{fullMains(230), map[string]Window{}}
	missed := map[string]bool{}
	for bits := range 1 << len(cornerParts) {
		p, err := corner(bits, 2).AtSet(230, nil)
		if err != nil {
			t.Fatal(err)
		}
		for id, x := range typedAt(p, false) {
			if j.verdict(t, id, x) != engine.Pass {
				missed[id] = true
			}
		}
	}
	for _, id := range []string{"ht-reservoir", "ht-smoothed", "output-cathode", "opt-volts", "ripple", "screen-drop", "mains-current"} {
		if !missed[id] {
			t.Errorf("%s passes twice the tolerance", id)
		}
	}
}
