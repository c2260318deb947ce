package checks

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

// stage is a part of the work, in its order.
type stage int

const (
	look stage = iota + 1
	openings
	mainsSide
	deadHT
	transformerAlone // 40 W lamp
	heatersAlone     // 60 W lamp
	lampIn           // everything on, 60 W lamp
	full
	nowhere
)

var stageNames = [...]string{
	look: "look", openings: "openings", mainsSide: "mains side", deadHT: "dead HT",
	transformerAlone: "transformer alone", heatersAlone: "heaters alone", lampIn: "lamp in", full: "full mains", nowhere: "nowhere",
}

func (s stage) String() string { return stageNames[s] }

// deadReadings are what the healthy table radio shows dead, in the order of
// work. A faulty row changes some of them, worked out by Ohm's law.
var deadReadings = []struct {
	at              stage
	id, item, typed string
}{
	{openings, "coupling-capacitor", "V4", "OL"},
	{mainsSide, "primary-winding", "230 V", "46"},
	{deadHT, "ht-line", "", "217k"},
	{deadHT, "cathode-resistor", "V4", "135"},
	{deadHT, "grid-leak", "V4", "470k"},
	{deadHT, "output-transformer", "", "380"},
	{deadHT, "smoothing-resistor", "", "1.2k"},
	{deadHT, "screen-resistor", "V4", "1k"},
	{deadHT, "half-winding", "a", "260"},
	{deadHT, "half-winding", "b", "285"},
	{deadHT, "ht-leak", "", "1.13 mA"},
}

// faulty is one fault: what it changes in readings before everything is on, and
// where it is caught first. row names the simulated row; what is caught is every
// reading of that stage that does not pass.
type faulty struct {
	fault, row string
	known      string // where the table of the worked example has its first catch
	looked     string // check and choice that names it
	dead       map[string]string
	lampAlone  float64 // volts on the 40 W lamp with the transformer alone; 0: 18, healthy by the law
	tap        unit.Volt
	lampHeat   float64 // volts on the 60 W lamp, heaters alone; 0: 41
	at         stage
	caught     string
}

// The faults of the worked example (ngspice-39 for what is read with mains on,
// computed by Ohm's law for what is read dead, lamp volts of the stages before
// computed). A second row of a fault is one that hides from the test before.
//
// The shipped procedure takes all of these but two: ripple after the smoothing and
// the mains current, which an author may name. Without them a weak second
// capacitor is heard as hum and by nothing else. Behind the lamp it does not read
// the output transformer; lamp, HT1, grid, cathode and ripple catch each row there
// with at least a query all the same.
var firstCatches = []faulty{
	{fault: "cathode bypass shorted", known: "cathode resistor, dead", dead: map[string]string{"cathode-resistor": "0"}, at: deadHT, caught: "cathode-resistor stop"},
	{
		fault: "cathode bypass shorted, at volts only", row: "cathode bypass shorted", known: "lamp in",
		at: lampIn, caught: "lamp stop, opt-volts stop",
	},
	{fault: "cathode bypass leaky (67 ohm)", known: "cathode resistor, dead, if it leaks at a meter's volts", dead: map[string]string{"cathode-resistor": "67"}, at: deadHT, caught: "cathode-resistor stop"},
	{
		fault: "cathode bypass leaky, at volts only", row: "cathode bypass leaky (67 ohm)", known: "lamp in, a query",
		at: lampIn, caught: "lamp query, opt-volts stop",
	},
	{fault: "cathode resistor high +50 %", known: "cathode resistor, dead", dead: map[string]string{"cathode-resistor": "202"}, at: deadHT, caught: "cathode-resistor stop"},
	{fault: "cathode resistor open (10 M meter)", known: "cathode resistor, dead", dead: map[string]string{"cathode-resistor": "OL"}, at: deadHT, caught: "cathode-resistor stop"},
	{fault: "coupling leak 20 M, driver warm (+2.3 V)", known: "coupling capacitor, dead", dead: map[string]string{"coupling-capacitor": "20 MΩ"}, at: openings, caught: "coupling-capacitor stop"},
	{fault: "coupling leak 20 M, driver cold (+5 V)", known: "coupling capacitor, dead", dead: map[string]string{"coupling-capacitor": "20 MΩ"}, at: openings, caught: "coupling-capacitor stop"},
	{fault: "coupling leak 210 M, driver cold (+0.5 V)", known: "coupling capacitor, dead", dead: map[string]string{"coupling-capacitor": "210 MΩ"}, at: openings, caught: "coupling-capacitor stop"},
	{fault: "grid +1 V", known: "coupling capacitor, dead", dead: map[string]string{"coupling-capacitor": "104 MΩ"}, at: openings, caught: "coupling-capacitor stop"},
	{
		fault: "grid +1 V by a gassy valve", row: "grid +1 V", known: "not seen dead",
		at: lampIn, caught: "output-grid stop, output-cathode query",
	},
	{fault: "leak 12 k on HT1", known: "HT line, dead", dead: map[string]string{"ht-line": "11.4k", "ht-leak": "OL"}, at: deadHT, caught: "ht-line stop, ht-leak stop"},
	{fault: "leak 12 k on HT2", known: "HT line, dead", dead: map[string]string{"ht-line": "12.6k", "ht-leak": "OL"}, at: deadHT, caught: "ht-line stop, ht-leak stop"},
	{fault: "leak 50 k on HT1", known: "HT line, dead; nothing energised", dead: map[string]string{"ht-line": "41k", "ht-leak": "OL"}, at: deadHT, caught: "ht-line stop, ht-leak stop"},
	{fault: "reservoir 40 % (12.8 uF)", known: "lamp in", at: lampIn, caught: "ripple stop"},
	{fault: "reservoir 60 %", known: "lamp in, a query", at: lampIn, caught: "ripple query"},
	{fault: "smoothing 10 % (3.2 uF)", known: "full mains, a query", at: full, caught: "ripple-smoothed query"},
	{fault: "OPT primary open", known: "output transformer, dead", dead: map[string]string{"output-transformer": "OL"}, at: deadHT, caught: "output-transformer stop"},
	{fault: "screen resistor 10 k", known: "screen resistor, dead", dead: map[string]string{"screen-resistor": "10k"}, at: deadHT, caught: "screen-resistor stop"},
	{fault: "smoothing resistor +50 %", known: "smoothing resistor, dead", dead: map[string]string{"smoothing-resistor": "1.8k"}, at: deadHT, caught: "smoothing-resistor stop"},
	{fault: "output valve K 60 %", known: "full mains, a query", at: full, caught: "opt-volts query, output-cathode query"},
	{fault: "output valve dead", known: "lamp in, a query", at: lampIn, caught: "ht-reservoir query"},
	{fault: "IF valve dead", known: "full mains, a query", at: full, caught: "ht-smoothed query, smoothing-drop query"},
	{fault: "rectifier worn (30 %)", known: "full mains", at: full, caught: "ht-reservoir query, ht-smoothed query, mains-current query, supply-line stop"},
	{fault: "one half winding open", known: "half windings, dead", dead: map[string]string{"half-winding@b": "OL"}, at: deadHT, caught: "half-winding@b stop"},
	{fault: "silicon in place of rectifier", known: "look", looked: "found-top 1", at: look, caught: "found-top stop"},
	{
		fault: "silicon hidden in the rectifier's base", row: "silicon in place of rectifier", known: "look only",
		at: lampIn, caught: "ht-reservoir query",
	},
	{fault: "shorted layer 12 W", known: "transformer alone", lampAlone: 38, at: transformerAlone, caught: "lamp-early stop"},
	{fault: "shorted layer 7 W", known: "transformer alone, a query", lampAlone: 25, at: transformerAlone, caught: "lamp-early query"},
	{fault: "heater line shorted 0.6 ohm", known: "heaters alone", lampHeat: 125, at: heatersAlone, caught: "lamp-heaters stop"},
	{fault: "wrong tap 200", known: "look at the tap plug", looked: "found-mains 7", dead: map[string]string{"primary-winding": "40"}, at: look, caught: "found-mains stop"},
	{
		fault: "wrong tap 200, wired so inside", row: "wrong tap 200", known: "transformer alone: secondaries 15 % high",
		dead: map[string]string{"primary-winding": "40"}, tap: 200, at: transformerAlone, caught: "half-volts@a stop, half-volts@b stop",
	},
	{fault: "bleeder open", known: "HT line, dead, a query", dead: map[string]string{"ht-line": "OL", "ht-leak": "5 µA"}, at: deadHT, caught: "ht-line query, ht-leak query"},
	{fault: "healthy", known: "-", at: nowhere},
}

// Every fault of the worked example is caught no later than the trade catches
// it, by the check and with the verdict named, and no reading of an earlier
// stage, all of it healthy there, is anything but a pass.
func TestEveryFaultIsCaughtInTime(t *testing.T) {
	tried := map[string]bool{}
	for _, f := range firstCatches {
		row := cmp.Or(f.row, f.fault)
		tried[row] = true
		at, caught := f.first(t, row)
		if at != f.at || caught != f.caught {
			t.Errorf("%s (known: %s): caught at %v: %s\n want %v: %s", f.fault, f.known, at, caught, f.at, f.caught)
		}
		if at == lampIn && strings.HasPrefix(caught, "opt-volts") {
			t.Errorf("%s: behind the lamp only the output transformer shows it, and the shipped procedure does not read that", f.fault)
		}
	}
	for _, r := range simulated(t) {
		if !tried[r["fault"]] && !strings.HasPrefix(r["fault"], "mains ") {
			t.Errorf("%s is simulated, and nobody says where it is caught", r["fault"])
		}
	}
}

// first walks through the stages and returns the first that does not pass.
func (f faulty) first(t *testing.T, row string) (stage, string) {
	t.Helper()
	found := map[stage][]string{}
	note := func(at stage, id string, v engine.Verdict) {
		if v != engine.Pass {
			found[at] = append(found[at], id+" "+v.String())
		}
	}
	if id, key, ok := strings.Cut(f.looked, " "); ok {
		note(look, id, choiceOf(t, id, key))
	}
	f.readDead(t, note)
	f.readLimited(t, note)
	for at, list := range map[stage]string{lampIn: fires(t, rowOf(t, row, "lamp60")), full: withExtras(t, rowOf(t, row, "full"))} {
		if list != "" {
			found[at] = append(found[at], list)
		}
	}
	for at := look; at < nowhere; at++ {
		if len(found[at]) > 0 {
			return at, strings.Join(found[at], ", ")
		}
	}
	return nowhere, ""
}

func choiceOf(t *testing.T, id, key string) engine.Verdict {
	t.Helper()
	check, _ := Find(id)
	for _, c := range check.Choices {
		if c.Key == key {
			return c.Verdict
		}
	}
	t.Fatalf("%s has no choice %s", id, key)
	return engine.Stop
}

func (f faulty) readDead(t *testing.T, note func(stage, string, engine.Verdict)) {
	t.Helper()
	for _, r := range deadReadings {
		name, typed := r.id, r.typed
		if r.id == "half-winding" {
			name += "@" + r.item
		}
		if x, ok := f.dead[name]; ok {
			typed = x
		}
		with := digital()
		if r.id == "coupling-capacitor" || r.id == "ht-leak" {
			with = tester()
		}
		note(r.at, name, verdictOf(t, r.id, caseFor(t, fullRadio(), r.item), with, typed))
	}
}

// readLimited reads the transformer alone behind 40 W and the heaters alone
// behind 60 W. The heaters take 189 V of 230 V behind that (computed).
func (f faulty) readLimited(t *testing.T, note func(stage, string, engine.Verdict)) {
	t.Helper()
	c := fullMains(0)
	c.Lamp, c.Mains = lampOf(40), 230
	alone := cmp.Or(f.lampAlone, 18)
	note(transformerAlone, "lamp-early", verdict(t, "lamp-early", c, alone))
	set := unit.Volt(212)
	x := float64(273.8 * set / cmp.Or(f.tap, 230))
	for _, half := range []string{"a", "b"} {
		c := fullMains(set)
		c.Item, c.Taken = half, map[string]unit.Quantity{}
		note(transformerAlone, "half-volts@"+half, verdict(t, "half-volts", c, x))
	}
	c.Lamp = lampOf(60)
	heat := cmp.Or(f.lampHeat, 41)
	note(heatersAlone, "lamp-heaters", verdict(t, "lamp-heaters", c, heat))
}

// withExtras is fires with the readings on full mains that only some procedures
// take.
func withExtras(t *testing.T, r row) string {
	t.Helper()
	c := caseOf(t, r)
	c.Item = ""
	var out []string
	if list := fires(t, r); list != "" {
		out = strings.Split(list, ", ")
	}
	for id, x := range map[string]float64{
		"ripple-smoothed": r.value(t, "ripple_HT2_pp") / (2 * math.Sqrt2),
		"mains-current":   r.value(t, "I_pri_mA") / 1e3,
	} {
		if v := verdict(t, id, c, x); v != engine.Pass {
			out = append(out, id+" "+v.String())
		}
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

// What nothing that is read can show, and why. Each is worked out by the
// circuit, and passes every reading of its stage.
func TestWhatNoReadingShows(t *testing.T) {
	// A reservoir above some 70 % of its capacitance: good ones vary as much, so
	// that only a capacitance meter tells.
	m := tableRadioModel()
	m.Reservoir *= 0.75
	p, err := m.AtSet(230, nil)
	if err != nil {
		t.Fatal(err)
	}
	c := fullMains(230)
	if got := verdict(t, "ripple", c, float64(p.Ripple)/number("ripple-rms")); got != engine.Pass {
		t.Errorf("reservoir at 75 %%: ripple %v is a %v", p.Ripple, got)
	}
	// One shorted turn of fine wire, 0.2 to 1 W: iron varies by more.
	c.Lamp = lampOf(40)
	for _, watts := range []unit.Watt{0.2, 1} {
		law, tungsten := circuit.TransformerOnly(230, *c.Lamp, 5+watts, 0.04)
		for _, x := range []unit.Volt{law, tungsten} {
			if got := verdict(t, "lamp-early", c, float64(x)); got != engine.Pass {
				t.Errorf("a shorted turn that takes %v: lamp at %v is a %v", watts, x, got)
			}
		}
	}
	// Read on full mains alone, and without the dead tests before, these pass all
	// that the shipped procedure reads there.
	for _, fault := range quiet {
		if got := fires(t, rowOf(t, fault, "full")); got != "" {
			t.Errorf("%s: %s", fault, got)
		}
	}
}

// Ripple tells a tired reservoir: 2.05 times what the circuit gives stops it below
// 46 % of its capacitance and not above (computed with ngspice-39's figures of 40
// and 60 %); to some 70 % it is a query. Behind the lamp the stop is near 50 %.
func TestRippleTellsATiredReservoir(t *testing.T) {
	for _, c := range []struct {
		part       float64
		full, lamp engine.Verdict
	}{
		{0.40, engine.Stop, engine.Stop},
		{0.44, engine.Stop, engine.Stop},
		{0.50, engine.Query, engine.Query},
		{0.60, engine.Query, engine.Query},
		{0.75, engine.Pass, engine.Pass},
		{1.00, engine.Pass, engine.Pass},
		{1.50, engine.Pass, engine.Pass},
	} {
		m := tableRadioModel()
		m.Reservoir *= unit.Farad(c.part)
		at, err := m.AtSet(230, nil)
		if err != nil {
			t.Fatal(err)
		}
		in, err := m.AtMains(230, lampOf(60))
		if err != nil {
			t.Fatal(err)
		}
		if got := verdict(t, "ripple", fullMains(230), float64(at.Ripple)/number("ripple-rms")); got != c.full {
			t.Errorf("%.0f %%: %v on full mains is a %v, want %v", 100*c.part, at.Ripple, got, c.full)
		}
		if got := verdict(t, "ripple", behindLamp(60, in.Set), float64(in.Ripple)/number("ripple-rms")); got != c.lamp {
			t.Errorf("%.0f %%: %v behind the lamp is a %v, want %v", 100*c.part, in.Ripple, got, c.lamp)
		}
	}
}
