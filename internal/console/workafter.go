package console

import (
	"time"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// After is the record that work goes on from, as it would be taken up at an
// instant.
type After struct {
	Label    string
	Practice bool
	At       time.Time
	Closed   bool             // as tested: the boxed part is owed
	Kept     int              // readings that are held
	Lapsed   int              // and those that have been, and stand no more
	Queries  []string         // paths on which an accepted query stands
	Stopped  string           // the reading that stopped it; empty: no stop stands
	Because  string           // what it was; empty: it was no reading
	Repairs  []session.Repair // of that stop
}

// WorkAfter is what is owed after a session was broken off, as taking it up at an
// instant leaves it. The session is used up by it.
func WorkAfter(p *plan.Plan, s *session.Session, label string, now session.Instant, away time.Duration) Work {
	before := len(s.Kept())
	s.Resume(now, away)
	w := workOn(p, s)
	w.After = &After{Label: label, At: now.Wall, Kept: len(s.Kept()), Queries: s.OpenQueries()}
	w.After.Lapsed = before - w.After.Kept
	if s.Stopped() {
		_, safe := p.Onward(s.State())
		w.After.Repairs = s.Repairs(safe)
		w.After.Stopped, w.After.Because = stopText(p, s)
	}
	return w
}

// WorkBoxed is the boxed part of a set whose open part is closed.
func WorkBoxed(p *plan.Plan, label string, now time.Time) Work {
	w := WorkOf(p)
	w.After = &After{Label: label, At: now, Closed: true}
	return w
}

// stopText is what stopped the session, and why.
func stopText(p *plan.Plan, s *session.Session) (what, why string) {
	r := s.StopReading()
	if r == nil {
		return "not by a reading", ""
	}
	slot := p.Slots[r.Slot]
	return session.Titled(slot.Check, slot.Item), r.Reason
}
