package checks

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

func live() []Check { return append(energisedChecks(), derivedChecks()...) }

func TestEnergisedChecksAreWhole(t *testing.T) {
	ids := map[string]bool{}
	for _, c := range live() {
		if ids[c.ID] {
			t.Errorf("%s stands twice", c.ID)
		}
		ids[c.ID] = true
		if c.Title == "" || c.Method == "" || c.Meaning == "" || c.Path == "" {
			t.Errorf("%s: title, method, meaning and path are owed", c.ID)
		}
		if n := utf8.RuneCountInString(strings.ReplaceAll(c.Short, "{item}", "a")); n < 1 || n > 9 {
			t.Errorf("%s: column head %q has %d characters", c.ID, c.Short, n)
		}
		if !c.Supply.Energised() {
			t.Errorf("%s: made with mains on, supply %v", c.ID, c.Supply)
		}
		if len(c.Causes) < 2 {
			t.Errorf("%s: %d causes", c.ID, len(c.Causes))
		}
		for _, cause := range c.Causes {
			if !strings.Contains(cause, ":") {
				t.Errorf("%s: cause %q names no test that would show it", c.ID, cause)
			}
		}
		if !slices.Contains(c.Cautions, "mains-on") {
			t.Errorf("%s: mains is on and no caution says so", c.ID)
		}
		for _, id := range c.Cautions {
			if _, ok := CautionOf(id); !ok {
				t.Errorf("%s: no caution %q", c.ID, id)
			}
		}
		if c.Supply >= engine.Raised && c.ID != "core" && !slices.Contains(c.Cautions, "high-voltage") {
			t.Errorf("%s: HT is on and no caution says so", c.ID)
		}
		wholeAnswer(t, c)
	}
	for _, id := range []string{
		"set-volts", "lamp", "lamp-early", "lamp-late", "half-volts", "core-warm", "lamp-off", "idle-watts",
		"lamp-heaters", "heater-volts", "glow", "heater-tap", "ht-reservoir", "ht-smoothed", "output-grid",
		"output-cathode", "opt-volts", "cold-start-peak", "ripple", "sound", "hum", "controls", "core",
		"ripple-smoothed", "mains-current", "ia-ratio", "cathode-current", "anode-dissipation", "screen-dissipation", "supply-line",
		"smoothing-drop", "grid-slope", "cathode-slope", "core-end",
	} {
		if !ids[id] {
			t.Errorf("no check %s", id)
		}
	}
}

// wholeAnswer: a number has leads and a rule, letters have choices, what is
// derived has inputs that exist.
func wholeAnswer(t *testing.T, c Check) {
	t.Helper()
	switch c.Answer {
	case Number:
		if c.Rule == nil || c.Red == "" || c.Function == "" || c.Kind == unit.None {
			t.Errorf("%s: a number needs lead, function, kind and rule", c.ID)
		}
		if k := c.Function.Kind(); k != c.Kind {
			t.Errorf("%s: %s gives %s, the check counts in %s", c.ID, c.Function, k.Name(), c.Kind.Name())
		}
	case Letter:
		keys := map[string]bool{}
		for _, choice := range c.Choices {
			if keys[choice.Key] || len(choice.Key) != 1 || choice.Words == "" {
				t.Errorf("%s: choice %q", c.ID, choice.Key)
			}
			keys[choice.Key] = true
		}
		if len(keys) < 2 || c.Rule != nil {
			t.Errorf("%s: letters need choices and no rule", c.ID)
		}
	case Derived:
		if c.Rule == nil || c.Derive == nil || len(c.Inputs) == 0 {
			t.Errorf("%s: a derived value needs inputs, a sum and a rule", c.ID)
		}
		for _, id := range c.Inputs {
			if _, ok := Find(id); !ok {
				t.Errorf("%s follows from %q, which is no check", c.ID, id)
			}
		}
	default:
		t.Errorf("%s: answer %d", c.ID, c.Answer)
	}
}

// What no author may lower: gate class for everything that lets energy in.
func TestEnergisedClasses(t *testing.T) {
	equipment := []string{
		"set-volts", "core-warm", "idle-watts", "screen-drop", "ripple", "sound", "hum", "controls", "core",
		"ripple-smoothed", "mains-current", "cathode-current", "anode-dissipation", "screen-dissipation", "smoothing-drop", "core-end",
	}
	for _, c := range live() {
		want := engine.G
		if slices.Contains(equipment, c.ID) {
			want = engine.E
		}
		if c.Crit != want {
			t.Errorf("%s: class %v, want %v", c.ID, c.Crit, want)
		}
	}
}

// The lamp is never a stop on its low side: below a tenth of its volts a real
// lamp reads far less than the law.
func TestLampHasNoLowStop(t *testing.T) {
	for id, c := range map[string]Case{"lamp": behindLamp(60, 148), "lamp-early": behindLamp(40, 200), "lamp-heaters": behindLamp(60, 190)} {
		if got := verdict(t, id, c, 0); got == engine.Stop {
			t.Errorf("%s: 0 V stops", id)
		}
	}
}

// What is missing is said, and no window is made without it.
func TestRulesSayWhatIsMissing(t *testing.T) {
	changes := []struct {
		name   string
		change func(*Case)
		want   error
		of     []string
	}{
		{"no circuit", func(c *Case) { c.Model = nil }, ErrNoData, []string{
			"lamp", "half-volts", "lamp-heaters", "ht-reservoir", "ht-smoothed", "output-cathode", "opt-volts", "screen-drop",
			"cold-start-peak", "ripple", "ia-ratio", "supply-line", "smoothing-drop",
		}},
		{"no lamp", func(c *Case) { c.Lamp = nil }, ErrWindow, []string{"lamp", "lamp-early", "lamp-late", "lamp-heaters"}},
		{"no ohms of the stage", func(c *Case) { c.Model.Output.AnodeR = 0 }, ErrNoData, []string{"ia-ratio"}},
		{"output valve not in the data", func(c *Case) { c.Set.Valves = []string{"ECH81"} }, ErrNoData, []string{
			"heater-volts", "heater-tap", "cathode-current", "anode-dissipation", "screen-dissipation",
		}},
		{"a circuit that gives no answer", func(c *Case) { c.Model.Reservoir = 0 }, circuit.ErrNoAnswer, []string{
			"lamp", "lamp-heaters", "ht-reservoir", "ht-smoothed", "output-cathode", "opt-volts", "screen-drop", "ripple", "smoothing-drop",
		}},
	}
	for _, x := range changes {
		for _, id := range x.of {
			c := behindLamp(40, 120).had("lamp-early", unit.KindVolt, 12)
			x.change(&c)
			if id == "supply-line" {
				c.Lamp = nil
			}
			check, _ := Find(id)
			w, err := check.Rule(c)
			if !errors.Is(err, x.want) {
				t.Errorf("%s, %s: %v", x.name, id, err)
			}
			if w.built {
				t.Errorf("%s, %s: a window with an error", x.name, id)
			}
		}
	}
	// Without the tap in use nothing that is a part of it can be judged.
	for _, check := range live() {
		c := behindLamp(40, 120).had("lamp-early", unit.KindVolt, 12).had("half-volts@b", unit.KindVolt, 270)
		c.Set.Mains.Tap, c.Mains, c.Item = nil, 0, "a"
		if check.Rule == nil || slices.Contains([]string{
			"lamp", "core-warm", "lamp-off", "idle-watts", "heater-tap", "core", "ia-ratio", "cathode-current", "screen-dissipation",
			"grid-slope", "cathode-slope", "core-end", "screen-drop", "cold-start-peak", "ripple", "smoothing-drop", "lamp-heaters",
			"ripple-smoothed", "mains-current",
		}, check.ID) {
			continue
		}
		if check.ID == "supply-line" {
			continue // judged with the lamp out, where the volts read on the set are enough
		}
		if _, err := check.Rule(c); err == nil {
			t.Errorf("%s: a window without the tap in use", check.ID)
		}
	}
	c := behindLamp(40, 120)
	c.Set.Watts, c.Set.Transformer.Rating = nil, nil
	for _, rule := range []func(Case) (Window, error){lampEarlyRule, lampLateRule, idleWattsRule} {
		if _, err := rule(c); err == nil {
			t.Error("idle lines without the size of the transformer")
		}
	}
}

func TestDerivedValuesSayWhatIsMissing(t *testing.T) {
	for _, check := range live() {
		if check.Answer != Derived {
			continue
		}
		c := fullMains(230)
		c.Taken = map[string]unit.Quantity{}
		if _, err := check.Derive(c); !errors.Is(err, ErrNoData) {
			t.Errorf("%s from no readings: %v", check.ID, err)
		}
		c.Model = nil
		if _, err := check.Derive(c); err == nil {
			t.Errorf("%s from nothing: no error", check.ID)
		}
	}
	// Each input on its own is owed.
	all := map[string]float64{
		"ht-reservoir": 264, "ht-smoothed": 224, "opt-volts@V4": 15.2, "output-cathode@V4": 6, "screen-drop@V4": 4.6,
	}
	for _, check := range derivedChecks() {
		for out := range all {
			id, _, _ := strings.Cut(out, "@")
			if !slices.Contains(check.Inputs, id) || slices.Contains([]string{"grid-slope", "cathode-slope", "core-end"}, check.ID) {
				continue
			}
			c := fullMains(230)
			for key, x := range all {
				if key != out {
					c = c.had(key, unit.KindVolt, x)
				}
			}
			if _, err := check.Derive(c); !errors.Is(err, ErrNoData) {
				t.Errorf("%s without %s: %v", check.ID, out, err)
			}
		}
	}
	// A maximum the data does not give is no limit to judge by.
	if _, err := fullMains(230).maximum("nothing", func(limits.Output) float64 { return 0 }); !errors.Is(err, ErrNoData) {
		t.Errorf("a limit of 0: %v", err)
	}
	c := fullMains(230)
	c.Set.Valves = []string{"ECH81"}
	if _, ok := c.reading("output-cathode"); ok {
		t.Error("a reading of a valve the sheet does not have")
	}
}

// Before anything was read: volts of the step, and behind a lamp what it leaves.
func TestVoltsOnTheSetBeforeTheyAreRead(t *testing.T) {
	c := fullMains(0)
	c.Mains = 240
	for _, s := range []struct {
		why  string
		rung unit.Percent
		lamp unit.Watt
		want float64
	}{
		{"a step", 60, 100, 138},
		{"the last step is today's mains", 100, 0, 240},
		{"no step, no lamp", 0, 0, 240},
		{"behind the 60 W lamp, its ceiling", 0, 60, 153.9}, // about 148.6 V at 230 (ngspice), mains to the 0.8
	} {
		c.Rung, c.Lamp = s.rung, nil
		if s.lamp > 0 {
			c.Lamp = lampOf(s.lamp)
		}
		got, err := setVolts(c)
		if err != nil || !near(float64(got), s.want, 0.5) {
			t.Errorf("%s: %v, %v, want %g V", s.why, got, err, s.want)
		}
	}
	c.Mains, c.Rung, c.Lamp = 0, 100, nil
	if got, err := setVolts(c); err != nil || got != 230 {
		t.Errorf("mains not read: %v, %v, want the tap", got, err)
	}
}

// Emission goes by the step and by what is known of the cathodes.
func TestEmitting(t *testing.T) {
	for _, s := range []struct {
		rung unit.Percent
		set  unit.Volt
		two  bool
		want bool
	}{
		{85, 190, true, true},
		{80, 200, true, false},
		{100, 230, false, false},
		{0, 200, true, true},
		{0, 190, true, false},
	} {
		c := fullMains(s.set)
		c.Rung, c.TwoSided = s.rung, s.two
		if got, err := c.emitting(s.set); err != nil || got != s.want {
			t.Errorf("step %v, %v on the set, two-sided %v: %v, %v", s.rung, s.set, s.two, got, err)
		}
	}
}
