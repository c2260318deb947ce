package session_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

var update = flag.Bool("update", false, "write testdata/wrong-values.txt anew")

// wrongValues are what a tired hand makes of the example radio's sheet: one in each
// field, of slips by ten, neighbours on the page and types alike.
var wrongValues = []struct {
	path, value, slip string
}{
	{"flex.cores", "3", "an earth core that is not there"},
	{"mains.taps", "[20 V, 215 V, 230 V]", "slip of ten"},
	{"mains.tap", "215 V", "the neighbour"},
	{"mains.profile", "eu", "another country"},
	{"watts", "5.2 W", "slip of ten"},
	{"watts", "520 W", "slip of ten"},
	{"rectifier", "EZ81", "a type alike"},
	{"rectifier", "GZ34", "another type"},
	{"ht-winding.volts", "257 V", "turned digits"},
	{"ht-winding.volts", "550 V", "both halves for one"},
	{"ht-winding.taken", "on-load", "the other state"},
	{"transformer.primary", "460 Ω", "slip of ten"},
	{"transformer.half-a", "26 Ω", "slip of ten"},
	{"transformer.half-b", "385 Ω", "wrong digit"},
	{"transformer.heater-rating", "0.3 A", "slip of ten"},
	{"reservoir.capacitance", "320 µF", "slip of ten"},
	{"reservoir.capacitance", "3.2 µF", "slip of ten"},
	{"reservoir.rating", "350 V", "wrong digit"},
	{"smoothing.resistance", "120 Ω", "slip of ten"},
	{"second.capacitance", "320 µF", "slip of ten"},
	{"second.rating", "350 V", "wrong digit"},
	{"bleed.resistance", "22 kΩ", "slip of ten"},
	{"bleed.resistance", "2.2 MΩ", "slip of ten"},
	{"bleed.at", "HT1", "the neighbour"},
	{"output-transformer.primary", "38 Ω", "slip of ten"},
	{"output-transformer.speaker", "30 Ω", "slip of ten"},
	{"valves", "[ECH81, EF89, EABC80, EL34]", "another type"},
	{"valves", "[ECH81, EF89, UABC80, EL84]", "a series type"},
	{"dial-lamps.count", "8", "wrong digit"},
	{"output-stage.cathode-resistor", "1.35 kΩ", "slip of ten"},
	{"output-stage.cathode-resistor", "270 Ω", "the neighbour"},
	{"output-stage.grid-leak", "47 kΩ", "slip of ten"},
	{"output-stage.grid-leak", "4.7 MΩ", "slip of ten"},
	{"output-stage.screen-resistor", "10 kΩ", "slip of ten"},
	{"output-stage.coupling.rating", "40 V", "slip of ten"},
	{"output-stage.coupling.rail", "HT1", "the neighbour"},
	{"output-stage.coupling.anode-warm", "240 V", "the neighbour"},
	{"printed.ht1", "364 V", "wrong digit"},
	{"printed.ht2", "274 V", "wrong digit"},
	{"printed.anode", "28 V", "a digit left out"},
	{"printed.screen", "320 V", "wrong digit"},
	{"printed.cathode", "60 V", "slip of ten"},
	{"printed.heater", "63 V", "slip of ten"},
	{"printed.mains", "200 V", "the neighbour"},
	{"printed.meter-input", "10 kΩ", "slip of a thousand"},
}

// found tells where a wrong value shows: at once, at the first reading of a sound
// radio that does not pass, or never.
func found(t *testing.T, path, value string) string {
	t.Helper()
	text, _ := procedures.Find(procedures.Sheets(), "table-radio")
	text, err := spec.Edit(text, "set", "", []spec.Put{{Path: path, Value: value}})
	if err != nil {
		t.Fatal(err)
	}
	set, err := spec.LoadSet("set", text)
	if err != nil {
		return "at once: " + firstLine(err)
	}
	profile, _ := limits.ProfileOf(set.Mains.Profile)
	for _, r := range append(set.Review(profile), checks.ReviewPrinted(set, profile)...) {
		if r.Severity != sheet.Note {
			return fmt.Sprintf("at once: %s: %s: %s", r.Severity, r.Field, r.What)
		}
	}
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Set = set
	p, err := plan.New(in)
	if err != nil {
		return "at once: plan: " + firstLine(err)
	}
	return atTheBench(t, p)
}

func firstLine(err error) string {
	text, _, _ := strings.Cut(err.Error(), "\n")
	return text
}

func atTheBench(t *testing.T, p *plan.Plan) string {
	t.Helper()
	r := sessiontest.TapeOf(t, p)
	for n := 0; r.Result() == session.Running && n < 400; n++ {
		at := r.Prompt().ID
		a := r.Say(r.Radio.Line(r.Prompt()))
		for _, row := range a.Rows {
			if row.Label == "Slip?" {
				return fmt.Sprintf("at the bench: not counted at %s: %s", at, row.Text)
			}
		}
		for _, rec := range a.Records {
			if rec.Kind == "reading" && rec.Fields["verdict"] != "pass" {
				return fmt.Sprintf("at the bench: %s at %s", rec.Fields["verdict"], rec.Fields["slot"])
			}
		}
	}
	if r.Result() != session.Tested {
		t.Fatalf("stuck at %s", r.Prompt().ID)
	}
	return "never"
}

// TestWhereAWrongValueOfASheetShows writes down what is said at once of each slip,
// what only a reading shows, and what nothing shows. A sound radio is never brought
// to harm by one: what is not found passes the sound radio, and so do its windows.
func TestWhereAWrongValueOfASheetShows(t *testing.T) {
	if testing.Short() {
		t.Skip("one sheet after the other")
	}
	var got strings.Builder
	count := map[string]int{}
	for _, w := range wrongValues {
		where := found(t, w.path, w.value)
		kind, _, _ := strings.Cut(where, ":")
		count[kind]++
		fmt.Fprintf(&got, "%s %s (%s): %s\n", w.path, w.value, w.slip, where)
	}
	fmt.Fprintf(&got, "%d slips: %d at once, %d at the bench, %d never\n", len(wrongValues), count["at once"], count["at the bench"], count["never"])
	const file = "testdata/wrong-values.txt"
	if *update {
		if err := os.WriteFile(file, []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got.String() != string(want) {
		t.Errorf("%s differs; with -update it is written anew:\n%s", file, got.String())
	}
}
