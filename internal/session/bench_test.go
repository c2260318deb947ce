package session_test

import (
	"testing"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// A whole healthy session, without disk and screen: typed lines a second. Played
// is with the invented radio that thinks of the readings; replayed goes through
// its record and compares every line.
func BenchmarkSession(b *testing.B) {
	s := playedOnce(b, map[string][]string{})
	b.Run("played", func(b *testing.B) {
		typed := 0
		for b.Loop() {
			r := sessiontest.TapeOf(b, s.plan)
			r.Until("")
			typed += len(r.Said)
		}
		b.ReportMetric(float64(typed)/b.Elapsed().Seconds(), "lines/s")
	})
	b.Run("replayed", func(b *testing.B) {
		typed := 0
		for b.Loop() {
			if _, err := session.Replay(s.plan, sessiontest.Label, s.lines); err != nil {
				b.Fatal(err)
			}
			typed += len(s.begin)
		}
		b.ReportMetric(float64(typed)/b.Elapsed().Seconds(), "lines/s")
	})
}
