package session_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/unit"
)

// ledger is what the records say.
type ledger struct {
	plan    *plan.Plan
	on      bool // mains, by the word and what ends it
	wasOn   bool // and nothing but proofs that failed have been since
	half    bool
	halfAt  session.Instant
	full    bool // the whole proof counts
	short   bool // the short one does
	proofAt session.Instant
	entryAt session.Instant
	stopped bool
	stopAt  int             // slot of the newest stop, -1: none
	twice   int             // slot that must pass twice running, -1: none
	passed  int             // how often it has
	last    map[int]shown   // the newest reading of a slot
	query   int             // slot of the newest query, -1: answered
	agreed  bool            // a second reading agrees with it
	readOf  map[string]int  // by check: how many readings so far
	history map[int][]asked // the queries of a worked-out slot
}

type shown struct {
	value   float64
	verdict string
	at      time.Time
}

// asked is one query of a worked-out value, with the readings there were then.
type asked struct {
	value float64
	reads map[string]int
}

func newLedger(p *plan.Plan, now session.Instant) *ledger {
	return &ledger{
		plan: p, entryAt: now, stopAt: -1, twice: -1, query: -1,
		last: map[int]shown{}, readOf: map[string]int{}, history: map[int][]asked{},
	}
}

func (l *ledger) slot(r session.Record) int {
	return slices.IndexFunc(l.plan.Slots, func(s plan.Slot) bool { return s.ID == r.Fields["slot"] })
}

// afterStop are the records that may stand between a stop and its repair.
var afterStop = []string{
	"entry", "refused", "elapsed", "proof", "unplugged", "bench", "altered", "wrong", "clip", "not-used",
	"outlet-moved", "abort", "park", "resume", "repair", "told", "not-touched",
}

// take reads one record; what it may not say is returned.
func (l *ledger) take(r session.Record, h happening) string {
	if l.stopped && !slices.Contains(afterStop, r.Kind) {
		return "between a stop and its repair the record says " + r.Kind
	}
	switch r.Kind {
	case "elapsed":
		switch r.Fields["timer"] {
		case "proof-over":
			l.half, l.full, l.short = false, false, false
		case "live-idle":
			l.on = l.on && l.stopped // or nobody knows: it counts as live; after a stop it is on until the plug is out
		}
	case "abort", "resume":
		l.unproved()
	case "unplugged":
		l.unproved()
	case "power":
		return l.takePower(h)
	case "proof":
		return l.takeProof(r, h)
	case "reading":
		return l.takeReading(r, h)
	case "second":
		l.takeSecond(r)
	case "accepted":
		return l.takeAccepted(r)
	case "not-read":
		if c := l.plan.Slots[l.slot(r)].Check; c.Crit != engine.E {
			return fmt.Sprintf("%s of class %v was left", c.ID, c.Crit)
		}
	case "no-such-part":
		if c := l.plan.Slots[l.slot(r)].Check; c.ID != "set-fuse" {
			return c.ID + " counts as a part that the set has not"
		}
	case "released":
		if !l.full || strings.TrimSpace(h.line) != "release" {
			return fmt.Sprintf("%q released a hold, proved dead %v", h.line, l.full)
		}
	case "stop":
		l.stopped, l.stopAt = true, l.slot(r)
		l.twice = -1
	case "repair":
		l.takeRepair(r)
	case "altered":
		l.soldered(r.Fields["letter"])
	case "clip":
		if r.Fields["is"] == "on" && r.Fields["say"] != "" {
			l.unproved()
		}
	case "refused":
		if strings.Contains(r.Fields["because"], "property was broken") {
			return r.Fields["because"]
		}
	}
	return ""
}

func (l *ledger) unproved() {
	l.on, l.wasOn, l.half, l.full, l.short = false, false, false, false, false
}

func (l *ledger) takePower(h happening) string {
	word := strings.TrimSpace(h.line)
	if base(h.before.prompt.ID) != "power" || word != h.before.prompt.Word || word != "power" && word != "power covered" {
		return fmt.Sprintf("%q put mains on at %s", h.line, h.before.prompt.ID)
	}
	l.unproved()
	l.on = true
	return ""
}

// takeProof holds a proof that counts against its volts and its time.
func (l *ledger) takeProof(r session.Record, h happening) string {
	kind := base(r.Fields["kind"])
	if r.Fields["fault"] != "" {
		just := l.on || l.wasOn
		l.unproved()
		l.wasOn = just
		return ""
	}
	if fault := deadEnough(r, kind, l.plan); fault != "" {
		return fault
	}
	switch kind {
	case "proof-full.1":
		if l.plan.Boxed { // the pins are all there is to prove
			l.unproved()
			l.full, l.proofAt = true, h.now
			return ""
		}
		just := l.on || l.wasOn
		l.unproved()
		l.wasOn = just // the short one may still take its place
		l.half, l.halfAt = true, h.now
	case "proof-full.2":
		if wait := h.now.Mono - l.halfAt.Mono; !l.half || wait < time.Minute {
			return fmt.Sprintf("a whole proof %v after its first line, which counts: %v", wait, l.half)
		}
		l.unproved()
		l.full, l.proofAt = true, h.now
	case "proof-quick", "watch":
		if !l.on && !l.wasOn {
			return "a short proof where mains was not just on"
		}
		l.unproved()
		l.short, l.proofAt = true, h.now
	case "proof-node":
		if !l.full {
			return "nodes proved dead in a set that is not"
		}
	default:
		return "a proof of no kind: " + kind
	}
	return ""
}

// wanted are the points that each kind of proof reads, and whether the tool is
// part of its line.
var wanted = map[string][]string{
	"proof-full.1": {"tool", "source", "HT1", "HT2", "screen", "pins a.c.", "pins d.c."},
	"proof-full.2": {"HT1", "HT2", "source"},
	"proof-quick":  {"source", "HT1", "pins a.c.", "pins d.c.", "source", "tool"},
	"watch":        {"HT1 watch", "HT1 after tool"},
	"proof-node":   {"source", "source"},
}

// deadEnough wants the volts at every point of a proof that counts: 10 V at most
// (common practice, no source) but where HT is meant to show.
func deadEnough(r session.Record, kind string, p *plan.Plan) string {
	points := slices.Clone(wanted[kind])
	if p.Boxed && kind != "proof-node" {
		points = []string{"source", "pins a.c.", "pins d.c.", "source"}
	}
	for _, k := range slices.Sorted(maps.Keys(r.Fields)) {
		say := r.Fields[k]
		number, point, ok := strings.Cut(k, " ")
		if !ok || strings.Trim(number, "0123456789") != "" {
			continue
		}
		if i := slices.Index(points, point); i >= 0 {
			points = slices.Delete(points, i, i+1)
		}
		if point == "tool" {
			if say != "t" {
				return fmt.Sprintf("%s counts with tool %q", kind, say)
			}
			continue
		}
		e, err := unit.ParseEntry(unit.KindVolt, say)
		if err != nil || e.Form != unit.Exact {
			return fmt.Sprintf("%s counts with %q at %s", kind, say, point)
		}
		switch point {
		case "mains", "HT1 at once", "HT1 waited": // shown for what they tell, before the tool
		case "HT1 while on":
			if !(e.Value > 60) {
				return fmt.Sprintf("%s counts with a meter that showed %q with mains on", kind, say)
			}
		case "source":
			want := float64(p.Bench.Source.Volts)
			if !(math.Abs(e.Value-want) <= 0.1*want) {
				return fmt.Sprintf("%s counts with %q on the source", kind, say)
			}
		default:
			if !(math.Abs(e.Value) <= 10) {
				return fmt.Sprintf("%s counts with %q at %s", kind, say, point)
			}
		}
	}
	if len(points) > 0 {
		return fmt.Sprintf("%s counts without %v: %v", kind, points, r.Fields)
	}
	return ""
}

func (l *ledger) takeReading(r session.Record, h happening) string {
	i := l.slot(r)
	if i < 0 {
		return "a reading of no slot"
	}
	slot, verdict := l.plan.Slots[i], r.Fields["verdict"]
	switch {
	case slot.Check.Supply == engine.Dead && !l.full:
		return slot.ID + " was read in a set that is not proved dead"
	case slot.Check.Supply.Energised() && !l.on:
		return slot.ID + " was read without mains"
	}
	value := 0.0
	if text := r.Fields["shown x"]; text != "" {
		var err error
		if value, err = strconv.ParseFloat(text, 64); err != nil {
			return fmt.Sprintf("%s was shown %q: %v", slot.ID, text, err)
		}
	}
	if strings.HasPrefix(r.Fields["reason"], "volts on an ohms range") {
		l.unproved()
	}
	l.readOf[slot.Check.ID]++
	l.last[i] = shown{value, verdict, h.now.Wall}
	if l.twice == i {
		l.passed++
		if verdict != "pass" {
			l.passed = 0
		}
		if l.passed == 2 { // the stop is answered; what ends the reading later is another matter
			l.twice = -1
		}
	}
	if verdict != "query" {
		l.query = -1
		return ""
	}
	l.query, l.agreed = i, false
	if slot.Check.Answer == checks.Derived {
		now := asked{value, maps.Clone(l.readOf)}
		l.agreed = slices.ContainsFunc(l.history[i], func(old asked) bool {
			return near(old.value, value) && slices.ContainsFunc(slot.Check.Inputs, func(id string) bool { return now.reads[id] > old.reads[id] })
		})
		l.history[i] = append(l.history[i], now)
	}
	return ""
}

// near tells whether two readings agree within a tenth of their mean.
func near(x, y float64) bool { return math.Abs(x-y) <= 0.1*math.Abs(x+y)/2*(1+1e-9) }

func (l *ledger) takeSecond(r session.Record) {
	i := l.slot(r)
	e, err := unit.ParseEntry(l.plan.Slots[i].Check.Kind, r.Fields["say"])
	if i == l.query && err == nil && r.Fields["verdict"] != "stop" && near(e.Value, l.last[i].value) {
		l.agreed = true
	}
}

// condition are the readings of class S whose query is about the condition of a
// part, the limit being met.
var condition = []string{"mains-insulation", "socket-insulation", "boxed-insulation", "warm-insulation"}

func (l *ledger) takeAccepted(r session.Record) string {
	i := l.slot(r)
	c := l.plan.Slots[i].Check
	switch {
	case l.query != i:
		return c.ID + " was accepted, and no query of it is open"
	case c.Crit == engine.S && !slices.Contains(condition, c.ID):
		return c.ID + " guards a person, and was accepted"
	case c.Crit == engine.G && !l.agreed:
		return c.ID + " gates energy, and was accepted on one reading"
	case l.twice == i && !l.agreed:
		return c.ID + " had stopped, and was accepted on one reading"
	case l.twice == i:
		l.twice = -1
	}
	l.query = -1
	return ""
}

// soldered are the letters of alterations after which nothing is proved.
const soldered = "mxyhrop?"

func (l *ledger) soldered(letters string) {
	if strings.ContainsAny(letters, soldered) {
		l.unproved()
	}
}

func (l *ledger) takeRepair(r session.Record) {
	l.twice, l.passed = -1, 0
	if r.Fields["letter"] == "n" {
		l.twice = l.stopAt
	}
	l.stopped, l.stopAt = false, -1
	l.soldered(r.Fields["letter"])
}

// follow reads the records of one event in their order.
func (l *ledger) follow(h happening) string {
	stop := false
	for _, r := range h.answered.Records {
		if stop && r.Kind != "not-used" {
			return "behind the stop of a line stands " + r.Kind
		}
		if fault := l.take(r, h); fault != "" {
			return fault
		}
		stop = stop || r.Kind == "stop"
	}
	return ""
}

func base(id string) string {
	id, _, _ = strings.Cut(id, "~")
	return id
}
