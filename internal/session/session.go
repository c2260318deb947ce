// Package session is the concrete shell round the engine: it takes what was
// typed, with an instant, judges readings by the windows of this set, fires
// overdue deadlines first, and lets the engine decide. It reads no clock, file
// or terminal, so that a record can be replayed through it.
package session

import (
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/unit"
)

// Instant is a wall-clock time with the monotonic time since the program began.
type Instant struct {
	Wall time.Time
	Mono time.Duration
}

// Session is one set at one bench from plug out to close.
type Session struct {
	plan  *plan.Plan
	label string // number for the label on the set
	state engine.State
	told  *alteration // waits for its word; nil: none
	phase phase
	asked Prompt    // what the newest line answers
	wrote []Reading // every reading taken, by number less one

	values    []value                    // of held readings, oldest first
	byCheck   map[string]unit.Quantity   // as taken gives them; nil: to be gathered
	rungVolts map[unit.Percent]unit.Volt // at the set, by rung, for a single meter that has moved on
	mainsRead unit.Volt                  // today's; 0: not read
	shownHT   bool                       // the meter at the reservoir has shown HT since mains came on and since it was last turned to a.c.

	pending []string // typed behind a reading that is queried, not judged yet
	slip    string   // an entry that waits for a second look; empty: none
	tries   map[string]int

	now       Instant // of the newest event
	entryAt   Instant // of the newest entry
	proofAt   Instant
	powerAt   Instant
	period    int     // how often mains came on
	rungAt    Instant // of the first reading at this rung
	readAt    Instant // of the newest energised reading
	rung      unit.Percent
	counts    Counts
	result    Result
	weak      map[string]bool // slots judged by typical values
	alone     bool            // nobody is within call
	undead    bool            // the last proof has failed (INV-32)
	ownerTold bool            // the owner has had the cautions
	operators []string        // who took over, in their order
	repeats   map[int]int     // by line: the slot that is read again at its end
	repeated  map[int]bool    // by slot: it was
	remade    map[int]bool    // by slot that is worked out: its series was made once more
	full      bool            // the disk has no room left for the record of mains
	missing   []Record        // of a replay, see Missing
	cautioned map[string]bool // cautions that have stood in this session
	stopOf    *Reading        // what stopped the session last
	waitTo    Instant         // make-safe: until then the discharge runs
	memory    *checks.Memory  // what the circuit gave at the volts that came up
}

// phase is what surrounds the engine's work.
type phase uint8

const (
	askBench phase = iota
	askUnplugged
	askTouched
	working
	askLabel
	askClose
	over
)

// Reading is one attempt at a slot, kept for ever.
type Reading struct {
	Number  int
	Slot    int
	Prompt  string
	Raw     string
	Value   unit.Quantity
	Verdict engine.Verdict
	Reason  string
	At      time.Time

	mono time.Duration
}

// Counts are for the last screen and the summary.
type Counts struct {
	Lines, Numbers, Words            int
	Pass, Query, Accepted, Stop      int
	NotRead, Typical, Slips, Refused int
	Again, Differ, NotAgain          int // blind repeats
}

// Result is how a session ended. The zero value has not ended.
type Result uint8

// The results.
const (
	Running Result = iota
	Parked         // left at a dead point, to be resumed
	Aborted        // stop key, end of input, hang-up
	Tested         // tested, not handed back
)

// New begins a session in the state in which nothing is known.
func New(p *plan.Plan, label string, now Instant) *Session {
	return &Session{
		repeats: repeats(p), repeated: map[int]bool{}, remade: map[int]bool{},
		plan: p, label: label, now: now, entryAt: now,
		memory: checks.NewMemory(), rungVolts: map[unit.Percent]unit.Volt{}, tries: map[string]int{}, weak: map[string]bool{}, cautioned: map[string]bool{},
	}
}

// Result tells how the session ended.
func (s *Session) Result() Result { return s.result }

// Counts gives the counts so far.
func (s *Session) Counts() Counts { return s.counts }

// Stopped tells whether a stop is not yet repaired.
func (s *Session) Stopped() bool {
	return s.state.Mode == engine.MakeSafe || s.state.Mode == engine.Stopped
}

// StopReading gives the reading that stopped the session, nil if none did.
func (s *Session) StopReading() *Reading { return s.stopOf }

// State gives the engine's state, for the record and for tests.
func (s *Session) State() engine.State { return s.state }

// Open lists what is still owed: ids of slots that gate or guard and are not
// held.
func (s *Session) Open() []string {
	var out []string
	for i, slot := range s.plan.Slots {
		if !s.state.Held.Has(i) && !s.state.Unread.Has(i) && slot.Check.Life != engine.Period {
			out = append(out, slot.ID)
		}
	}
	return out
}

// todo is what the engine wants next.
func (s *Session) todo() engine.Todo { return engine.Next(&s.plan.Engine, s.state) }

// fire sends every deadline that has passed as an event, oldest first.
func (s *Session) fire(now Instant) []Record {
	var out []Record
	jumped := s.jumped(now)
	s.setBack(-jumped)
	idle := now.since(s.entryAt)
	if s.state.Proof != engine.NoProof && (idle > seconds("proof-idle") || now.since(s.proofAt) > seconds("proof-longest")) {
		out = append(out, s.elapsed(engine.ProofOver, "proof-over"))
	}
	if s.state.Supply.Energised() && idle > s.liveIdle() {
		out = append(out, s.elapsed(engine.LiveIdle, "live-idle"))
	}
	if jumped != 0 || s.dayIsOver(now) {
		out = append(out, s.elapsed(engine.DayOver, "day-over"))
	}
	if due, ok := s.due(); ok && now.Mono >= due.Mono && !s.state.Waited {
		out = append(out, s.elapsed(engine.MinWait, "wait-over"))
	}
	s.now = now
	return out
}

// liveIdle is how long mains may be on without an entry: less when nobody is
// within call.
func (s *Session) liveIdle() time.Duration {
	if s.alone {
		return seconds("check-in")
	}
	return seconds("live-idle")
}

func (s *Session) elapsed(t engine.Timer, name string) Record {
	_ = s.step(engine.Event{Kind: engine.Elapsed, Timer: t}) // a deadline is never refused
	return Record{Kind: "elapsed", Fields: map[string]string{"timer": name}}
}

// jumped is how far the wall clock has gone without the monotonic one, forward as
// after a sleep or backward; 0: no more than a clock is put right by.
func (s *Session) jumped(now Instant) time.Duration {
	drift := now.Wall.Sub(s.now.Wall) - (now.Mono - s.now.Mono)
	if s.now.Wall.IsZero() || drift.Abs() <= seconds("wall-jump") {
		return 0
	}
	return drift
}

// setBack moves what was timed by a clock that was set back since, so that its age
// does not shrink.
func (s *Session) setBack(by time.Duration) {
	for _, at := range []*Instant{&s.entryAt, &s.proofAt, &s.powerAt} {
		at.Wall = at.Wall.Add(-max(by, 0))
	}
}

// dayIsOver tells whether a held reading that stands for a day is older.
func (s *Session) dayIsOver(now Instant) bool {
	for i := range s.plan.Slots {
		if s.plan.Engine.Slots[i].Life != engine.Day {
			continue
		}
		if at, ok := s.heldSince(i); ok && now.Wall.Sub(at) >= seconds("day") {
			return true
		}
	}
	return false
}

// heldSince is when slot i was read, if it is held.
func (s *Session) heldSince(i int) (time.Time, bool) {
	r, ok := s.newest(i)
	return r.At, ok
}

// since is the time that has passed by either clock: the monotonic one may stand
// still while a computer sleeps.
func (i Instant) since(earlier Instant) time.Duration {
	return max(i.Mono-earlier.Mono, i.Wall.Sub(earlier.Wall))
}

func seconds(figure string) time.Duration {
	return duration(unit.Second(limits.Lookup(figure).Value.Value))
}

// due gives the instant from which the owed line may be read.
func (s *Session) due() (Instant, bool) {
	todo := s.todo()
	switch todo.Act {
	case engine.ProveSecond:
		return s.proofAt.plus(seconds("rebound-wait")), true
	case engine.Enter:
		line := s.plan.Lines[s.plan.Slots[todo.Slot].Line]
		switch {
		case line.Wait == 0:
			return Instant{}, false
		case s.plan.Slots[line.Slots[0]].After > 0:
			return s.powerAt.plus(max(duration(line.Wait), s.apart(line))), true
		}
		return s.readAt.plus(duration(line.Wait)), true
	case engine.SwitchOn:
		cold := s.plan.Blocks[todo.Block].Cold
		return s.entryAt.plus(duration(cold)), cold > 0
	}
	return Instant{}, false
}

// apart is how long after mains came on the line stands off from the readings
// before it in its series: one that was late moves those behind it.
func (s *Session) apart(line plan.Line) time.Duration {
	var longest time.Duration
	for _, i := range line.Slots {
		slot := s.plan.Slots[i]
		for _, v := range s.values {
			earlier := s.plan.Slots[v.slot]
			if v.at < s.powerAt.Mono || earlier.Block != slot.Block || keyOf(earlier) != keyOf(slot) || earlier.After == 0 || earlier.After >= slot.After {
				continue
			}
			longest = max(longest, v.at-s.powerAt.Mono+duration(slot.After-earlier.After))
		}
	}
	return longest
}

func (i Instant) plus(d time.Duration) Instant {
	return Instant{Wall: i.Wall.Add(d), Mono: i.Mono + d}
}
