package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

func TestAnotherTakesOverWithMainsOffOnly(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("transformer/half-a@5s")
	if a := r.Say("over to carl"); len(a.Rows) != 1 || !strings.Contains(a.Rows[0].Text, "no hands change at a live set") {
		t.Errorf("with mains on: %v", a.Rows)
	}
	for _, line := range []string{"over", "over to", "over to anna", "over to two words", "over carl", "over to -x"} {
		if a := r.Say(line); a.Rows[0].Label != "Not taken" {
			t.Errorf("%q: %v", line, a.Rows)
		}
	}
}

// Who takes over tells who is within call, and releases what the other released.
func TestWhoTakesOverAnswersForTheHolds(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("power")
	if a := r.Say("over to carl"); a.Records[1].Kind != "over" || a.Records[1].Fields["from"] != "anna" || a.Records[1].Fields["to"] != "carl" {
		t.Fatalf("%v", a.Records)
	}
	r.Until("bench/call")
	r.Until("hold-1")
	r.Say("release")
	r.Until("power")
	r.Again(time.Minute)
	r.Until("")
	if r.Result() != session.Tested {
		t.Fatal(r.Result())
	}
	last := r.Lines[len(r.Lines)-1]
	if last.Kind != "close" || last.Fields["operators"] != "anna, carl" {
		t.Errorf("%v", last)
	}
}
