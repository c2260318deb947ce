package checks

import (
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// benchItems are the items that come from the bench, not from the set.
var benchItems = map[string][]string{
	"lamp-cold": {"40 W", "100 W"}, "lamp-fitted": {"100 W"}, "meter-source": {"A", "B"}, "leads": {"B"},
}

// eachOf calls f for every check without mains, with a number, on the items a
// set gives it, and with what comes before it taken.
func eachOf(t *testing.T, s *sheet.Set, f func(Check, Case)) {
	t.Helper()
	n := 0
	for _, c := range mine() {
		if c.Rule == nil {
			continue
		}
		items := []string{""}
		if c.Items != nil {
			items = c.Items(s)
		}
		if of, ok := benchItems[c.ID]; ok {
			items = of
		}
		for _, item := range items {
			f(c, caseFor(t, s, item).had("primary-winding@230 V", unit.KindOhm, 46))
			n++
		}
	}
	if n < 50 {
		t.Fatalf("%d windows: the rule was tested on next to nothing", n)
	}
}

func TestCatalogueIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range All() {
		if c.ID == "" || seen[c.ID] {
			t.Errorf("check %q stands twice, or has no id", c.ID)
		}
		seen[c.ID] = true
		if got, ok := Find(c.ID); !ok || got.ID != c.ID {
			t.Errorf("%s is not found", c.ID)
		}
		for _, id := range c.Cautions {
			if _, ok := CautionOf(id); !ok {
				t.Errorf("%s: no caution %q", c.ID, id)
			}
		}
		for _, id := range c.Inputs {
			if _, ok := Find(id); !ok {
				t.Errorf("%s follows from %q, which is no check", c.ID, id)
			}
		}
		if n := utf8.RuneCountInString(strings.ReplaceAll(c.Short, "{item}", "a")); n == 0 || n > 9 {
			t.Errorf("%s: column head %q of %d characters, at most 9", c.ID, c.Short, n)
		}
		if c.Title == "" || c.Method == "" {
			t.Errorf("%s: title %q, method %q", c.ID, c.Title, c.Method)
		}
	}
	if _, ok := Find("anode-to-anode"); ok {
		t.Error("a check nobody wrote is found")
	}
}

// dueHere are the ids that procedures and the planner name.
var dueHere = strings.Fields(`rcd discharge-tool lamp-cold meter-source leads tester-apart tester-joined call
	found-mains found-top found-under plug-fuse-mark set-fuse-mark stamped-volts
	coupling-capacitor speaker-insulation joint
	primary-winding primary-here live-path-on live-path-off neutral-path plug-fuse set-fuse earth-bond mains-insulation socket-insulation
	ht-line-kick ht-line-60 ht-line discharge-path heater-winding cathode-resistor grid-leak screen-resistor smoothing-resistor
	output-transformer half-winding speech-coil electrodes ht-leak-60 ht-leak
	hot-primary winding-rise warm-insulation boxed-primary boxed-insulation boxed-bond touch-current`)

func TestDeadCatalogueHasItsIDs(t *testing.T) {
	for _, id := range dueHere {
		if _, ok := Find(id); !ok {
			t.Errorf("no check %s", id)
		}
	}
}

// TestDeadChecksSayWhatTheyMust: who reads a query or a stop is told what it
// means, what harmless cause there can be and which test would show it, and
// where the leads go.
func TestDeadChecksSayWhatTheyMust(t *testing.T) {
	for _, c := range mine() {
		if c.Crit != engine.E && c.Answer != Text && c.Meaning == "" {
			t.Errorf("%s: class %v without a meaning", c.ID, c.Crit)
		}
		if c.Answer == Text {
			continue
		}
		if c.Retest != (c.Crit == engine.S && len(c.Causes) == 0) {
			t.Errorf("%s: class %v, measured again %v, %d causes: a query is either measured again or has a cause", c.ID, c.Crit, c.Retest, len(c.Causes))
		}
		if !c.Retest && len(c.Causes) < 2 {
			t.Errorf("%s: %d causes for a query that can be accepted, at least 2", c.ID, len(c.Causes))
		}
		for _, cause := range c.Causes {
			if !strings.Contains(cause, ": ") {
				t.Errorf("%s: cause %q names no test", c.ID, cause)
			}
		}
		if c.Function != "" && (c.Red == "" || c.Black == "") {
			t.Errorf("%s: red on %q, black on %q", c.ID, c.Red, c.Black)
		}
		if c.Function != "" && c.Function.Kind() != c.Kind {
			t.Errorf("%s: the meter shows %v, the check asks for %v", c.ID, c.Function.Kind().Name(), c.Kind.Name())
		}
		if (c.Answer == Letter || c.Answer == Found) != (len(c.Choices) > 0) || (c.Answer == Derived) != (c.Derive != nil) {
			t.Errorf("%s: answer %d with %d choices, derived %v", c.ID, c.Answer, len(c.Choices), c.Derive != nil)
		}
		if numeric := c.Answer == Number || c.Answer == Derived; numeric != (c.Rule != nil) {
			t.Errorf("%s: answer %d, rule %v", c.ID, c.Answer, c.Rule != nil)
		}
		if strings.Trim(c.Void, "mxyhvroptb") != "" {
			t.Errorf("%s: voided by %q", c.ID, c.Void)
		}
		for _, word := range strings.Fields(c.Method + " " + c.Meaning) {
			if utf8.RuneCountInString(word) > 30 {
				t.Errorf("%s: %q does not wrap", c.ID, word)
			}
		}
	}
}

// TestClasses fixes what a person's safety hangs on: no procedure file and no
// edit of a text may lower it.
func TestClasses(t *testing.T) {
	want := map[engine.Crit]string{
		engine.S: `rcd discharge-tool meter-source leads tester-apart tester-joined call plug-fuse-mark set-fuse-mark
			speaker-insulation live-path-on live-path-off neutral-path plug-fuse set-fuse earth-bond mains-insulation
			socket-insulation warm-insulation boxed-insulation boxed-bond touch-current`,
		engine.G: `lamp-cold lamp-fitted found-mains found-under stamped-volts coupling-capacitor joint ht-line grid-leak output-transformer
			speech-coil electrodes ht-leak`,
	}
	for class, ids := range want {
		for _, id := range strings.Fields(ids) {
			if c, ok := Find(id); !ok || c.Crit != class {
				t.Errorf("%s is class %v, want %v", id, c.Crit, class)
			}
		}
	}
	day := "earth-bond mains-insulation socket-insulation warm-insulation ht-line"
	for _, c := range mine() {
		if got, want := c.Life == engine.Day, strings.Contains(" "+day+" ", " "+c.ID+" "); got != want {
			t.Errorf("%s stands for a day: %v, want %v", c.ID, got, want)
		}
	}
}

// TestVoidFollowsThePart: what was altered is measured again.
func TestVoidFollowsThePart(t *testing.T) {
	for letter, ids := range map[string]string{
		"m": "plug-fuse-mark set-fuse-mark live-path-on live-path-off neutral-path plug-fuse set-fuse earth-bond mains-insulation socket-insulation touch-current",
		"x": "mains-insulation socket-insulation earth-bond primary-winding half-winding heater-winding ht-line",
		"y": "mains-insulation socket-insulation touch-current",
		"h": "ht-line ht-line-60 ht-line-kick discharge-path stamped-volts ht-leak mains-insulation",
		"v": "electrodes",
		"r": "cathode-resistor grid-leak screen-resistor smoothing-resistor mains-insulation ht-line",
		"o": "output-transformer speaker-insulation speech-coil ht-leak mains-insulation ht-line",
		"p": "coupling-capacitor joint ht-leak mains-insulation ht-line",
		"t": "primary-winding",
		"b": "boxed-primary boxed-insulation boxed-bond touch-current",
	} {
		for _, id := range strings.Fields(ids) {
			if c, _ := Find(id); !strings.Contains(c.Void, letter) {
				t.Errorf("%s stands after alteration %s", id, letter)
			}
		}
	}
}

func TestEveryWindowHoldsSomething(t *testing.T) {
	eu := fullRadio()
	eu.Mains.Profile = "eu"
	for _, s := range []*sheet.Set{fullRadio(), sparseRadio(), earthedRadio(), eu} {
		eachOf(t, s, func(c Check, k Case) {
			w, err := c.Rule(k)
			if err != nil {
				t.Errorf("%s %s: %v", c.ID, k.Item, err)
				return
			}
			if w.Kind != c.Kind {
				t.Errorf("%s %s: window of %v, check of %v", c.ID, k.Item, w.Kind.Name(), c.Kind.Name())
			}
			if !(w.Pass.Lo < w.Pass.Hi) {
				t.Errorf("%s %s: nothing passes: %v", c.ID, k.Item, w.Pass)
			}
		})
	}
}

// TestUnknownSetsGetNoWindow: a rule that lacks what it needs gives an error
// and the zero window, which passes nothing.
func TestUnknownSetsGetNoWindow(t *testing.T) {
	bare := &sheet.Set{Mains: sheet.Mains{Profile: "uk"}, Flex: sheet.Flex{Cores: 3}}
	uk, _ := limits.ProfileOf("uk")
	for _, id := range strings.Fields("meter-source lamp-cold plug-fuse-mark set-fuse-mark stamped-volts coupling-capacitor primary-winding earth-bond ht-leak hot-primary screen-resistor") {
		c, _ := Find(id)
		if w, err := c.Rule(Case{Set: bare, Profile: uk, Item: "230 V"}); err == nil || w.built {
			t.Errorf("%s: window %+v, error %v", id, w, err)
		}
	}
}

func TestCautionsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range cautions {
		if seen[c.ID] {
			t.Errorf("caution %s stands twice", c.ID)
		}
		seen[c.ID] = true
		if c.Signal != Danger && c.Signal != Warning && c.Signal != Care {
			t.Errorf("%s opens with %q", c.ID, c.Signal)
		}
		if !strings.HasSuffix(c.Text, ".") || len(c.Text) > 400 {
			t.Errorf("%s: %q", c.ID, c.Text)
		}
	}
	for _, id := range []string{"treat-as-live", "plug-out", "stored-charge", "live-chassis", "open-socket", "eht", "shorting-clip", "mains-on", "high-voltage"} {
		if c, ok := CautionOf(id); !ok || c.Signal != Danger {
			t.Errorf("%s: what kills opens with DANGER, not %q", id, c.Signal)
		}
	}
	if _, ok := CautionOf("mind-the-cat"); ok {
		t.Error("a caution nobody wrote is found")
	}
}
