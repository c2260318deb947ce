package console

import (
	"io"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// Worth prints how much of a plan is known before anything is touched, and what
// the work takes.
func Worth(w io.Writer, p *plan.Plan) {
	PrintRow(w, "Windows", countWindows(session.Card(p)).String())
	PrintRow(w, "Asks", p.Cost().String()+", when everything passes")
}
