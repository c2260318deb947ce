package console

import (
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// Next is the part of the work that comes after the one of a plan.
type Next struct {
	Share
	Cannot      []string // ids of checks that the kit cannot make in it
	Result, Why string   // how it will end
	Refused     error    // it cannot be made with this kit at all
}

// nextOf is the boxed part after an open one.
func nextOf(p *plan.Plan) *Next {
	if p.Boxed {
		return nil
	}
	in := p.Inputs
	in.Boxed = true
	boxed, err := plan.New(in)
	if err != nil {
		return &Next{Refused: err}
	}
	cost := boxed.Cost()
	n := &Next{Share: Share{cost.Lines, int(cost.Time.Minutes())}, Cannot: boxed.Cannot}
	n.Result, n.Why = session.New(boxed, "", session.Instant{}).Ending()
	return n
}
