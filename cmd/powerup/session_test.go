package main

import (
	"testing"
	"time"

	"example.com/powerup/internal/session"
)

// walk runs a session without files until it ends, or until stuck.
func walk(t *testing.T, h *healthy, s *session.Session, c *benchClock, see func(id, line string, a session.Answered)) {
	t.Helper()
	for n := 0; s.Result() == session.Running; n++ {
		p := s.Prompt()
		if n > 400 {
			t.Fatalf("stuck at %s", p.ID)
		}
		if p.Wait > 0 {
			_ = c.wait(t.Context(), p.Wait)
		}
		line := h.line(p)
		if line == "" {
			t.Fatalf("no answer at %s", p.ID)
		}
		a := s.Submit(line, c.now())
		if see != nil {
			see(p.ID, line, a)
		}
	}
}

func TestHealthyReachesClose(t *testing.T) {
	for _, sheet := range []string{"table-radio", "earthed-radio"} {
		for _, bench := range []string{"one-meter", "two-meters", "three-meters"} {
			t.Run(sheet+" "+bench, func(t *testing.T) {
				_, p, err := gather(sheet, "double-wound", bench)
				if err != nil {
					t.Fatal(err)
				}
				c := newBenchClock(time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC))
				s := session.New(p, label(p, c), c.now())
				walk(t, newHealthy(t, p), s, c, func(id, line string, a session.Answered) {
					t.Logf("%v %s > %s %v", c.now().Mono, id, line, elapsedIn(a))
					for _, r := range a.Rows {
						if r.Label != "PASS" {
							t.Logf("      %s: %s", r.Label, r.Text)
						}
					}
				})
				if s.Result() != session.Tested || len(s.Open()) > 0 {
					t.Fatalf("ended %v, open %v", s.Result(), s.Open())
				}
				t.Logf("%+v", s.Counts())
			})
		}
	}
}

func elapsedIn(a session.Answered) (out []string) {
	for _, r := range a.Records {
		if r.Kind == "elapsed" {
			out = append(out, r.Fields["timer"])
		}
	}
	return out
}
