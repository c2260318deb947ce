package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// resumed is what is said when a session is taken up again.
func resumed(t *testing.T, until string, away time.Duration) string {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until(until)
	r.Say("park")
	s, err := session.Replay(r.Plan, sessiontest.Label, r.Lines)
	if err != nil {
		t.Fatal(err)
	}
	var rows []string
	for _, row := range s.Resume(session.Instant{Wall: r.Now.Wall.Add(away)}, max(0, away)).Rows {
		rows = append(rows, row.Label+" "+row.Text)
	}
	return strings.Join(rows, "\n")
}

func TestResumeSaysWhatStandsAndHowOldItIs(t *testing.T) {
	for _, c := range []struct {
		until string
		away  time.Duration
		says  []string
	}{
		{"hold-1", 20 * time.Minute, []string{"21 min ago: looking, openings, mains-side, dead-ht", "Lapsed for one session only: bench", "Until 3 Jan 18:0", "Owed 7"}},
		{"hold-1", 14 * time.Hour, []string{"the oldest of 2 Jan 18:0", "14 h ago", "Until 18:0"}},
		{"hold-1", 25 * time.Hour, []string{"25 h ago", "Lapsed older than a day: mains-side, dead-ht"}},
		{"hold-1", 80 * time.Hour, []string{"3 days ago"}},
		{"hold-1", -2 * time.Hour, []string{"their age not known", "the clock was set back, and tells no age: mains-side, dead-ht"}},
		{"hold-2", time.Hour, []string{"heaters", "ramp", "Lapsed for one session only: bench", "bench, hold-1, the look through the lamp"}},
	} {
		got := resumed(t, c.until, c.away)
		for _, want := range c.says {
			if !strings.Contains(got, want) {
				t.Errorf("at %s, after %v: no %q in\n%s", c.until, c.away, want, got)
			}
		}
		if c.away >= 25*time.Hour && strings.Contains(got, "Until ") {
			t.Errorf("at %s, after %v: something stands for a day\n%s", c.until, c.away, got)
		}
	}
}
