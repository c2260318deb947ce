package session_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

func TestLateReadingMovesTheSeriesBehindIt(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "three-meters")
	r.Until("spot-checks/output-grid@180s")
	r.Pass(17 * time.Minute)
	r.Say(r.Radio.Line(r.Prompt()))
	if p := r.Prompt(); p.ID != "spot-checks/output-grid@300s" || p.Wait != 2*time.Minute {
		t.Fatalf("%s is asked after %s", p.ID, p.Wait)
	}
	r.Until("")
	if r.Result() != session.Tested {
		t.Errorf("the session ended %v", r.Result())
	}
}

// soaked reads a core that gains as much in every quarter of an hour, and all
// else as the radio gives it, so many times.
func soaked(t *testing.T, gain float64, times int) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "three-meters")
	r.Until("soak/")
	for core := 25.0; times > 0; {
		p := r.Prompt()
		if !strings.HasPrefix(p.ID, "soak/") {
			t.Fatalf("%s is asked, and %d readings of the core are to come", p.ID, times)
		}
		words := strings.Fields(r.Radio.Line(p))
		for i, f := range p.Fields {
			if r.Plan.Slots[f.Slot].Check.ID == "core" {
				if p.Wait > 0 {
					core += gain
				}
				words[i] = fmt.Sprintf("%.1f", core)
				times--
			}
		}
		r.Say(strings.Join(words, " "))
	}
	return r
}

func TestCoreThatDoesNotSettleIsSoakedOn(t *testing.T) {
	r := soaked(t, 3.1, 3)
	last := r.Lines[len(r.Lines)-1]
	if last.Kind != "read-again" || !strings.Contains(last.Fields["because"], "not settling") {
		t.Fatalf("the record ends with %v", last)
	}
	if p := r.Prompt(); !strings.HasPrefix(p.ID, "soak/") || !r.State().Supply.Energised() {
		t.Fatalf("%s is asked", p.ID)
	}
	r.Until("")
	if r.Result() != session.Tested {
		t.Errorf("with a core that settles later the session ended %v", r.Result())
	}
}

func TestCoreThatNeverSettlesStopsTheSession(t *testing.T) {
	r := soaked(t, 3.1, 15)
	stop := r.StopReading()
	if stop == nil || r.Plan.Slots[stop.Slot].Check.ID != "core-end" || r.State().Mode != engine.MakeSafe {
		t.Fatalf("after three hours: %+v, %+v", stop, r.State())
	}
	if strings.Contains(stop.Reason, "soak on") {
		t.Errorf("a stop says %q", stop.Reason)
	}
	if at := r.Now.Mono; at < 3*time.Hour {
		t.Errorf("stopped %s in", at)
	}
}
