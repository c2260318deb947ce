package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session/sessiontest"
)

// soakOn takes the set to the soak, off, dead and parked, and comes back after the
// time away; it gives the lines typed from there to the close.
func soakOn(t *testing.T, away time.Duration) (lines int, asked string) {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("soak/output-cathode@300s")
	if a := r.Say("park"); !strings.Contains(row(a, "Not taken"), "type unplugged, prove") {
		t.Fatalf("%v", a.Rows)
	}
	if r.Say("unplugged"); r.State().Supply.Energised() || r.State().Mode != engine.Working {
		t.Fatalf("%+v", r.State())
	}
	r.Until("power")
	r.Say("park")
	r.Again(away)
	before := len(r.Said)
	r.Until("")
	closed(t, r)
	var ids []string
	for _, e := range r.Said[before:] {
		ids = append(ids, e.At)
	}
	return len(ids), strings.Join(ids, " ")
}

// The soak may be another evening: what was read before it stands, and only the
// bench, the proof, one look through the lamp and the soak with what follows it are
// asked. A day later insulation and HT line too.
func TestTheSoakMayBeAnotherEvening(t *testing.T) {
	same, asked := soakOn(t, 3*time.Hour)
	if same > 26 || strings.Contains(asked, "spot-checks") || strings.Contains(asked, "mains-side/insulation ") {
		t.Errorf("%d lines the same evening: %s", same, asked)
	}
	next, asked := soakOn(t, 27*time.Hour)
	if next > 30 || strings.Contains(asked, "spot-checks") || !strings.Contains(asked, "mains-side/insulation dead-ht/ht-line") {
		t.Errorf("%d lines a day later: %s", next, asked)
	}
	t.Logf("%d lines within a day, %d after it", same, next)
}
