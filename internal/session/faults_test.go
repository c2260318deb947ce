package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// TestDangerousReadingStops: each fault ends the session at the check that
// shows it, for the reason that is its own, and nothing is energised after it.
func TestDangerousReadingStops(t *testing.T) {
	for _, c := range []struct {
		name, sheet string
		faults      map[string]string
		check       string // that stops
		reason      string // part of why
		live        bool   // read with mains on
	}{
		{"HT line to chassis at 3 kΩ", "table-radio", map[string]string{"ht-line-kick": "2.9k", "ht-line-60": "3k", "ht-line": "3k"}, "ht-line", "below 110.6 kΩ", false},
		{"earth bond of 2 Ω", "earthed-radio", map[string]string{"earth-bond": "2"}, "earth-bond", "above", false},
		{"insulation of 0.9 MΩ", "table-radio", map[string]string{"mains-insulation": "0.9M"}, "mains-insulation", "below 2.857 MΩ", false},
		{"one HT half open", "table-radio", map[string]string{"half-winding@b": "OL"}, "half-winding", "above", false},
		{"lamp at full volts on the transformer alone", "table-radio", map[string]string{"set-volts": "61", "lamp-early": "229"}, "lamp-early", "above 30.04 V", true},
		{"reservoir at 40 %, behind the lamp", "table-radio", map[string]string{"ripple": "6.4"}, "ripple", "above", true},
		{"grid at +2 V", "table-radio", map[string]string{"output-grid": "2.0"}, "output-grid", "above 0.5 V", true},
		{"cathode at 0.4 V with HT present at full mains", "table-radio", map[string]string{"spot-checks/output-cathode@V4#100@180s": "0.4"}, "output-cathode", "below", true},
		{"HT over a capacitor's rating", "table-radio", map[string]string{"cold-start-peak": "462"}, "cold-start-peak", "above", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, told := runUntilStop(t, c.sheet, c.faults)
			r := s.StopReading()
			if r == nil {
				t.Fatalf("no stop; ended %v", s.Result())
			}
			if got := told.check; got != c.check || !strings.Contains(r.Reason, c.reason) {
				t.Errorf("stopped at %s because %q, want %s because ...%s...", got, r.Reason, c.check, c.reason)
			}
			if told.live != c.live {
				t.Errorf("stopped with mains on: %v, want %v", told.live, c.live)
			}
			if told.energised {
				t.Error("the set was energised after the stop")
			}
			if c.live && !strings.Contains(told.safe, "28 s: 428 V to 60 V through 220 kΩ") {
				t.Errorf("make-safe does not show the computed discharge time: %q", told.safe)
			}
			if s.State().Mode != engine.Stopped || s.State().Supply != engine.Dead {
				t.Errorf("ended in %+v, want stopped and proved dead", s.State())
			}
		})
	}
}

// told is what a stopped session showed.
type told struct {
	check           string
	live, energised bool
	safe            string
}

// runUntilStop plays a faulty set until its cause and repair are asked for.
func runUntilStop(t *testing.T, sheet string, faults map[string]string) (*sessiontest.Tape, told) {
	t.Helper()
	r := sessiontest.NewTape(t, sheet, "two-meters")
	r.Radio.Faults = faults
	var out told
	for r.Result() == session.Running && r.Prompt().ID != "stop/repair" {
		live := r.State().Supply.Energised()
		a := r.Say(r.Radio.Line(r.Prompt()))
		for _, rec := range a.Records {
			if rec.Kind == "stop" {
				out.check, out.live = rec.Fields["check"], live
			}
		}
		for _, row := range a.Rows {
			if out.check != "" && row.Label == "Wait" {
				out.safe = row.Text
			}
		}
		out.energised = out.energised || out.check != "" && !live && r.State().Supply.Energised()
	}
	return r, out
}

func TestAStopOutlivesTheEvening(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"spot-checks/output-grid@V4#100@60s": "1.7"}
	r.Until("stop/repair")
	r.Say("park")
	if !r.Stopped() {
		t.Fatal("a stop was lost at park")
	}
	r.Again(2 * time.Hour)
	r.Radio.Faults = nil
	r.Until("stop/repair") // n at the start repairs nothing
	r.Say("p coupling capacitor leaked, a new one fitted")
	r.Until("")
	closed(t, r)
}
