package plan_test

import (
	"testing"
	"time"

	"example.com/powerup/internal/session/sessiontest"
)

// TestCostIsThatOfTheShortestPath: 60 minutes of soak alone are in it; at most
// 165 to 185 minutes and 95 to 110 lines by kit (common practice, no source).
func TestCostIsThatOfTheShortestPath(t *testing.T) {
	for bench, lines := range map[string]int{"one-meter": 110, "two-meters": 95, "three-meters": 95} {
		c := sessiontest.Plan(t, "table-radio", bench).Cost()
		if c.Lines > lines || c.Lines < lines/2 || c.Time < time.Hour || c.Time > 190*time.Minute {
			t.Errorf("%s: %d lines, %v", bench, c.Lines, c.Time)
		}
	}
}
