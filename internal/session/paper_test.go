package session_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// On paper nothing is proved dead, and with mains on what stands says how high it
// is, whatever a session has read.
func TestCautionsOnPaperAreTheWorst(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	for stage, want := range map[string]string{
		"looking":     "TREAT AS LIVE AND CHARGED. Nothing is proved dead.",
		"dead-ht":     "TREAT AS LIVE AND CHARGED. Nothing is proved dead.",
		"transformer": "MAINS ON, up to 253 V at the set, 428 V peak at its HT winding. One hand, no touching metal, emergency off in reach.",
		"ramp":        "MAINS ON, up to 253 V at the set. One hand, no touching metal, emergency off in reach.",
		"soak":        "MAINS ON, up to 253 V at the set. One hand, no touching metal, emergency off in reach.",
	} {
		rows := session.Cautions(p, stage)
		if len(rows) < 3 || rows[0].Label != "DANGER" || rows[0].Text != want {
			t.Errorf("%s: %v", stage, rows)
		}
		if slices.ContainsFunc(rows, func(r session.Row) bool { return strings.Contains(r.Text, "{volts}") }) {
			t.Errorf("%s: volts are not filled in: %v", stage, rows)
		}
	}
}

// What a repair is said to cost is what its own prompt then says.
func TestRepairsCostWhatTheirPromptSays(t *testing.T) {
	for _, line := range []string{"p coupling capacitor leaked and renewed", "h reservoir leaked and renewed"} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Radio.Faults = map[string]string{"output-grid": "1.7"}
		r.Until("stop/repair")
		told := r.Repairs(r.State())
		class := r.Plan.ClassesOf(strings.Fields(line)[0] + " " + strings.Fields(line)[1])[0]
		cost := told[class].Cost
		if len(told) != len(r.Plan.Classes) || !cost.Known {
			t.Fatalf("%d repairs of %d, known %v", len(told), len(r.Plan.Classes), cost.Known)
		}
		a := r.Say(line)
		if got := a.Records[len(a.Records)-1]; got.Kind != "told" || got.Fields["more-lines"] != strconv.Itoa(cost.More.Lines) {
			t.Errorf("%s: said to cost %d lines; told %v", line, cost.More.Lines, got.Fields)
		}
	}
}

// A query that was accepted is open on its path, and its reading is kept.
func TestAcceptedQueriesAreOpen(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"smoothing-resistor": "1.4k"}
	r.Until("dead-ht/windings")
	if got := r.OpenQueries(); !slices.Equal(got, []string{"ht"}) {
		t.Errorf("open: %v", got)
	}
	if kept := r.Kept(); !slices.Contains(kept, "dead-ht/smoothing-resistor") || slices.Contains(kept, "dead-ht/speech-coil") {
		t.Errorf("kept: %v", kept)
	}
}

// An open session ends tested and no more; so does a boxed one whose kit reads no
// touch current.
func TestEndingSaysWhyItIsNoMore(t *testing.T) {
	for want, r := range map[string]*sessiontest.Tape{
		"tested, not handed back":           sessiontest.NewTape(t, "table-radio", "two-meters"),
		"tested and boxed, not handed back": sessiontest.TapeOf(t, sessiontest.Boxed(t, "table-radio", "two-meters")),
	} {
		if result, why := r.Ending(); result != want || why == "" {
			t.Errorf("%q because %q, want %q", result, why, want)
		}
	}
}
