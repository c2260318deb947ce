package describe_test

import (
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

var update = flag.Bool("update", false, "write feeds.txt anew")

// others are values to try where a sheet without the field is refused.
var others = map[string][]spec.Put{
	"mains.taps":    {{Path: "mains.taps", Value: "[215 V, 230 V]"}},
	"mains.tap":     {{Path: "mains.tap", Value: "215 V"}, {Path: "reservoir.rating", Value: "500 V"}, {Path: "second.rating", Value: "500 V"}},
	"mains.profile": {{Path: "mains.profile", Value: "eu"}},
	"watts":         {{Path: "watts", Value: "70 W"}},
	"rectifier":     {{Path: "rectifier", Value: "EZ81"}},
	"valves":        {{Path: "valves", Value: "[ECH81, EF85, EABC80, EL84]"}},
	"flex.cores":    {{Path: "flex.cores", Value: "3"}, {Path: "flex.length", Value: "2 m"}, {Path: "flex.area", Value: "0.75 mm²"}},
	"flex.length":   {{Path: "flex.length", Value: "20 m"}},
	"flex.area":     {{Path: "flex.area", Value: "1.5 mm²"}},
}

// swapped are fields of another form, which the example has to have first.
var swapped = map[string][]spec.Put{
	"output-stage.coupling.rail-volts": {{Path: "output-stage.coupling.rail"}, {Path: "output-stage.coupling.rail-volts", Value: "224 V"}},
	"printed.meter-ohms-per-volt":      {{Path: "printed.meter-input"}, {Path: "printed.meter-ohms-per-volt", Value: "1 kΩ/V"}, {Path: "printed.meter-range", Value: "300 V"}},
	"printed.meter-range":              {{Path: "printed.meter-input"}, {Path: "printed.meter-ohms-per-volt", Value: "1 kΩ/V"}, {Path: "printed.meter-range", Value: "300 V"}},
	"flex.length":                      {{Path: "flex.cores", Value: "3"}, {Path: "flex.length", Value: "2 m"}, {Path: "flex.area", Value: "0.75 mm²"}},
	"printed.mains":                    {{Path: "printed.mains", Value: "220 V"}},
	"smoothing.kind":                   {{Path: "smoothing.kind", Value: "choke"}, {Path: "smoothing.resistance", Value: "200 Ω"}},
	"flex.area":                        {{Path: "flex.cores", Value: "3"}, {Path: "flex.length", Value: "2 m"}, {Path: "flex.area", Value: "0.75 mm²"}},
}

// together are fields that are nothing without each other.
var together = [][]string{
	{"ht-winding.volts", "ht-winding.taken"}, {"bleed.resistance", "bleed.at"}, {"dial-lamps.count", "dial-lamps.current"},
}

func inputs(t *testing.T, set []byte) (plan.Inputs, error) {
	t.Helper()
	bench, err := spec.LoadBench("bench", named(t, procedures.Benches(), "two-meters"))
	if err != nil {
		t.Fatal(err)
	}
	procedure, err := spec.LoadProcedure("procedure", named(t, procedures.Procedures(), "double-wound"))
	if err != nil {
		t.Fatal(err)
	}
	in := plan.Inputs{Bench: bench, Procedure: procedure, Meters: map[string]*sheet.Meter{}}
	for _, m := range procedures.Meters() {
		if in.Meters[m.Name], err = spec.LoadMeter(m.Name, m.Text); err != nil {
			t.Fatal(err)
		}
	}
	in.Set, err = spec.LoadSet("set", set)
	return in, err
}

func named(t *testing.T, among []procedures.Named, name string) []byte {
	t.Helper()
	text, ok := procedures.Find(among, name)
	if !ok {
		t.Fatal(name)
	}
	return text
}

// card is what is said of each check's readings on a set; false where it is not
// energised.
func card(t *testing.T, text []byte) (map[string]string, []string, bool) {
	t.Helper()
	in, err := inputs(t, text)
	if err != nil {
		return nil, nil, false
	}
	d := describe.Draft{Form: describe.Set, Text: text}
	for _, r := range d.Remarks() {
		if r.Severity == sheet.Refuse {
			return nil, nil, false
		}
	}
	p, err := plan.New(in)
	if err != nil {
		return nil, nil, false
	}
	said, order := map[string]string{}, []string(nil)
	for _, line := range session.Card(p) {
		for _, r := range line.Readings {
			id := r.Slot.Check.ID
			if _, ok := said[id]; !ok {
				order = append(order, id)
			}
			said[id] += strings.Join([]string{r.Slot.Item, r.Expect, r.Danger, r.Why, r.Weak, r.Waits, "\n"}, "|")
		}
	}
	return said, order, true
}

// tried gives the checks that differ between two sheets.
func tried(t *testing.T, with, without []byte) (ids []string, ok bool) {
	t.Helper()
	before, order, ok := card(t, with)
	if !ok {
		t.Fatalf("the sheet with it is refused:\n%s", with)
	}
	after, _, ok := card(t, without)
	if !ok {
		return nil, false
	}
	for _, id := range order {
		if before[id] != after[id] && !slices.Contains(ids, id) && id != "" {
			ids = append(ids, id)
		}
	}
	return ids, true
}

func edited(t *testing.T, text []byte, puts ...spec.Put) []byte {
	t.Helper()
	out, err := spec.Edit(text, "set", "", puts)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// found tries one field.
func found(t *testing.T, whole []byte, path string) (line string) {
	t.Helper()
	if puts := swapped[path]; puts != nil {
		whole = edited(t, whole, puts...)
	}
	gone := []spec.Put{{Path: path}}
	for _, group := range together {
		if slices.Contains(group, path) {
			gone = []spec.Put{{Path: group[0]}, {Path: group[1]}}
		}
	}
	ids, ok := tried(t, whole, edited(t, whole, gone...))
	if !ok {
		path = "!" + path
		if puts := others[path[1:]]; puts != nil {
			if ids, ok = tried(t, whole, edited(t, whole, puts...)); !ok {
				t.Fatalf("%s: the other value is refused too", path)
			}
		}
	}
	return path + ": " + strings.Join(ids, " ") + "\n"
}

func TestWhatAFieldIsUsedForIsWhatChangesWithoutIt(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	whole := edited(t, named(t, procedures.Sheets(), "table-radio"), spec.Put{Path: "signal-stages"})
	var all strings.Builder
	for _, path := range describe.Set.Fields() {
		all.WriteString(found(t, whole, path))
	}
	if *update {
		if err := os.WriteFile("feeds.txt", []byte(all.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile("feeds.txt")
	if err != nil {
		t.Fatal(err)
	}
	if all.String() != string(want) {
		t.Errorf("feeds.txt is not what trying gives: go test ./internal/describe -run UsedFor -update\n%s", all.String())
	}
	for _, path := range describe.Set.Fields() {
		feed, ok := describe.FeedOf(path)
		if !ok {
			t.Errorf("%s stands nowhere", path)
		}
		if (len(feed.Checks) == 0) != (feed.Serves != "") {
			t.Errorf("%s serves %q, and its checks are %v", path, feed.Serves, feed.Checks)
		}
		for _, id := range feed.Checks {
			if _, ok := checks.Find(id); !ok {
				t.Errorf("%s: no check %q", path, id)
			}
		}
	}
}
