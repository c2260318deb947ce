package session_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// The promises of a session, written from what it shows and records alone: its
// gates and properties are not asked. A ledger reads the records as a stranger
// would and keeps what they say of mains, of the proof and of what is open.

// sight is what a session shows between two events.
type sight struct {
	state    engine.State
	prompt   session.Prompt
	standing string
	result   session.Result
}

func sightOf(s *session.Session) sight {
	return sight{s.State(), s.Prompt(), s.Standing()[0], s.Result()}
}

func (s sight) stopped() bool {
	return s.state.Mode == engine.MakeSafe || s.state.Mode == engine.Stopped
}

// happening is one event with what came of it.
type happening struct {
	what          string // "line", "abort", "resume"
	line          string
	now           session.Instant
	before, after sight
	answered      session.Answered
}

// promises are asserted after every event, when the ledger has read its
// records.
var promises = []struct {
	says  string
	holds func(l *ledger, h happening) bool
}{
	{"mains is on exactly when the records say so", func(l *ledger, h happening) bool {
		return l.on == h.after.state.Supply.Energised()
	}},
	{"a set is proved dead only where the records prove it", func(l *ledger, h happening) bool {
		return h.after.state.Supply != engine.Dead || l.full && h.after.state.Proof == engine.FullProof || l.short && h.after.state.Proof == engine.LeadProof
	}},
	{"mains comes on out of a proof, or straight from the block before", fromProofOrBlock},
	{"mains comes on with all that guards a person or energy held", guardsHeld},
	{"nothing is gained between a stop and its repair", func(_ *ledger, h happening) bool {
		return !h.before.stopped() || gainedOf(h) == (engine.Facts{}) || slices.Contains(kindsOf(h.answered.Records), "repair")
	}},
	{"a stop ends by a repair only", func(_ *ledger, h happening) bool {
		return !h.before.stopped() || h.after.stopped() || slices.Contains(kindsOf(h.answered.Records), "repair")
	}},
	{"the session is stopped exactly when the records say so", func(l *ledger, h happening) bool {
		return l.stopped == h.after.stopped()
	}},
	{"what is held was read, accepted, released or given", gainsExplained},
	{"what a stop found no fault for passes twice before it is held, or is a query borne out", func(l *ledger, h happening) bool {
		return l.twice < 0 || !gainedOf(h).Has(l.twice) || l.passed >= 2
	}},
	{"only class E is left unread", func(l *ledger, h happening) bool {
		return all(l, h.after.state.Unread.Without(h.before.state.Unread), func(s plan.Slot) bool { return s.Check.Crit == engine.E && s.Hold == "" })
	}},
	{"the caution matches the supply", cautionMatches},
	{"what is refused changes nothing", func(_ *ledger, h happening) bool {
		if !slices.Equal(kindsOf(h.answered.Records), []string{"entry", "refused"}) || len(h.answered.Records) > 2 {
			return true
		}
		after := h.after.state
		after.Waited = h.before.state.Waited
		return after == h.before.state
	}},
	{"no proof outlasts a quarter of an hour without an entry, or an hour", func(l *ledger, h happening) bool {
		idle := sinceBoth(h.now, l.entryAt) > 15*time.Minute || (l.full || l.short) && sinceBoth(h.now, l.proofAt) > time.Hour
		anew := l.full && l.proofAt == h.now // the one line that proves the pins of a boxed set
		return h.what != "line" || !idle || anew || h.before.state.Proof == engine.NoProof || h.after.state.Supply != engine.Dead
	}},
	{"mains is not left on for half an hour, but where a stop has said to pull the plug", func(l *ledger, h happening) bool {
		return h.what != "line" || h.after.stopped() || sinceBoth(h.now, l.entryAt) <= 30*time.Minute || !h.after.state.Supply.Energised()
	}},
	{"what stands for a day does not stand longer", func(l *ledger, h happening) bool {
		for i, slot := range l.plan.Slots {
			if at, ok := l.last[i]; ok && slot.Check.Life == engine.Day && h.after.state.Held.Has(i) && h.now.Wall.Sub(at.at) >= 24*time.Hour {
				return false
			}
		}
		return true
	}},
	{"a resume begins with nothing known", func(l *ledger, h happening) bool {
		s := h.after
		return h.what != "resume" || s.state.Supply == engine.Unknown && s.state.Proof == engine.NoProof && s.state.Block == 0 &&
			s.prompt.ID == "start/bench" && strings.HasPrefix(s.standing, "DANGER - TREAT AS LIVE AND CHARGED") &&
			all(l, s.state.Held, func(slot plan.Slot) bool { return slot.Hold == "" && slot.Check.Life > engine.Session })
	}},
	{"a closed record has all that guards, and is dead", func(l *ledger, h happening) bool {
		s := h.after.state
		return (s.Mode == engine.Closed) == (h.after.result == session.Tested) && (s.Mode != engine.Closed ||
			h.before.state.Mode == engine.Working && l.full && !s.Queried && s.Unproved == 0 && !s.Clip && !l.stopped && closedWhole(l, h))
	}},
	{"volts read on an ohms range leave nothing proved dead", func(_ *ledger, h happening) bool {
		return !slices.ContainsFunc(h.answered.Records, func(r session.Record) bool {
			return strings.HasPrefix(r.Fields["reason"], "volts on an ohms range")
		}) || h.after.state.Supply != engine.Dead
	}},
	{"mains is not on at a prompt that nothing answers", func(_ *ledger, h happening) bool {
		p := h.after.prompt
		return !h.after.state.Supply.Energised() || len(p.Fields) > 0 || p.Word != "" || strings.HasPrefix(p.ID, "query/")
	}},
	{"whatever happens, something is said or asked", func(_ *ledger, h happening) bool {
		return h.what != "line" || len(h.answered.Rows) > 0 || h.before.state != h.after.state || h.before.prompt.ID != h.after.prompt.ID
	}},
}

func sinceBoth(now, then session.Instant) time.Duration {
	return max(now.Mono-then.Mono, now.Wall.Sub(then.Wall))
}

func gainedOf(h happening) engine.Facts { return h.after.state.Held.Without(h.before.state.Held) }

// all tells whether ok holds for every slot of f.
func all(l *ledger, f engine.Facts, ok func(plan.Slot) bool) bool {
	for i, s := range l.plan.Slots {
		if f.Has(i) && !ok(s) {
			return false
		}
	}
	return true
}

func cameOn(h happening) bool {
	after, before := h.after.state, h.before.state
	return after.Supply.Energised() && (!before.Supply.Energised() || before.Block != after.Block)
}

func fromProofOrBlock(l *ledger, h happening) bool {
	if !cameOn(h) || h.before.state.Supply == engine.Dead {
		return true
	}
	from := h.before.state.Block - 1
	if from < 0 {
		return false
	}
	a, b := l.plan.Blocks[from], l.plan.Blocks[h.after.state.Block-1]
	return h.before.state.Supply.Energised() && a.Stage == b.Stage && a.Spot == b.Spot
}

func guardsHeld(l *ledger, h happening) bool {
	if !cameOn(h) {
		return true
	}
	if h.before.state.Clip || h.before.state.Unproved != 0 {
		return false
	}
	for i, s := range l.plan.Slots {
		guards := s.Hold != "" || s.Check.Crit != engine.E && s.Check.Life != engine.Period
		if guards && s.Block < h.after.state.Block-1 && !h.before.state.Held.Has(i) {
			return false
		}
	}
	return true
}

// gainsExplained looks for what made each new fact one.
func gainsExplained(l *ledger, h happening) bool {
	f := gainedOf(h)
	for _, r := range h.answered.Records {
		i := l.slot(r)
		switch {
		case r.Kind == "released":
			for j, s := range l.plan.Slots {
				if s.Hold == r.Fields["hold"] {
					f = f.Without(engine.Facts{}.With(j))
				}
			}
		case r.Kind == "reading" && r.Fields["verdict"] == "pass":
			f = f.Without(engine.Facts{}.With(i)).Without(l.plan.Engine.Slots[i].Gives)
		case r.Kind == "accepted", r.Kind == "no-such-part":
			f = f.Without(engine.Facts{}.With(i))
		}
	}
	return f == engine.Facts{}
}

// cautionMatches is by the ledger, not by the state.
func cautionMatches(l *ledger, h happening) bool {
	if strings.HasPrefix(h.after.prompt.ID, "touched/confirm") {
		return true // already that of the altered set, which is stricter
	}
	danger := strings.HasPrefix(h.after.standing, "DANGER - ")
	switch {
	case l.on:
		return strings.HasPrefix(h.after.standing, "DANGER - MAINS ON")
	case !l.full && !l.short:
		return strings.HasPrefix(h.after.standing, "DANGER - TREAT AS LIVE AND CHARGED")
	case h.after.state.Unproved != 0:
		return danger
	case danger: // a proof may end early: an alteration after a short one
		return h.after.state.Supply == engine.Unknown
	}
	return strings.Contains(h.after.standing, "DEAD")
}

func closedWhole(l *ledger, h happening) bool {
	for i, s := range l.plan.Slots {
		held := h.after.state.Held.Has(i)
		if s.Check.Life != engine.Period && s.Check.Crit != engine.E && !held {
			return false
		}
	}
	for _, r := range h.answered.Records {
		back := r.Kind == "close" && r.Fields["result"] == "tested and handed back"
		if back && (h.after.state.Standing != 0 || !l.plan.Boxed || r.Fields["owner"] == "" || l.readOf["touch-current"] == 0) {
			return false
		}
	}
	return true
}

// broken is the first promise that an event broke; empty: none.
func (l *ledger) broken(h happening) string {
	if fault := l.follow(h); fault != "" {
		return fault
	}
	for _, p := range promises {
		if !p.holds(l, h) {
			return "broken: " + p.says
		}
	}
	l.entryAt = h.now
	return ""
}

// same tells how two sessions differ in what they show; empty: in nothing.
func same(a, b *session.Session) string {
	for _, pair := range []struct {
		what string
		a, b any
	}{
		{"state", a.State(), b.State()},
		{"prompt", a.Prompt(), b.Prompt()},
		{"caution", a.Standing(), b.Standing()},
		{"counts", a.Counts(), b.Counts()},
		{"result", a.Result(), b.Result()},
		{"open", a.Open(), b.Open()},
	} {
		if !reflect.DeepEqual(pair.a, pair.b) {
			return fmt.Sprintf("%s: %+v and %+v", pair.what, pair.a, pair.b)
		}
	}
	return ""
}
