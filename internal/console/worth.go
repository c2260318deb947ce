package console

import (
	"fmt"
	"io"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// Worth prints how much of a plan is known before anything is touched, and what
// the work takes.
func Worth(w io.Writer, p *plan.Plan) {
	n := countWindows(session.Card(p))
	PrintRow(w, "Windows", fmt.Sprintf("%d computed, %d typical, %d from readings at the bench", n.known, n.weak, n.later))
	cost := p.Cost()
	PrintRow(w, "Asks", fmt.Sprintf("%d lines at the bench, about %d h %02d, when everything passes", cost.Lines, int(cost.Time.Hours()), int(cost.Time.Minutes())%60))
}
