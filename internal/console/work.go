package console

import (
	"slices"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// Work is what a plan tells of all that is owed, before it is laid out as text,
// HTML or JSON.
type Work struct {
	Plan   *plan.Plan
	Start  Share // what is typed before the first stage
	Stages []Stage
	End    Share    // the last proof, and the close
	Whole  bool     // the way leads to the end; not: only to a repair
	Done   []string // stages with nothing owed
	Ramp   session.Ramp
	Result string // how the session will end
	Why    string // why it is no more than that; empty: it is all
	Boxed  *Next  // the boxed part that is owed then; nil: this is it
	After  *After // the record that it goes on from; nil: from the beginning
}

// Share is what a part of the work takes, in whole minutes that add up to those
// of the whole.
type Share struct{ Lines, Minutes int }

// Stage is what is owed of one stage.
type Stage struct {
	Name   string
	Supply engine.Supply
	Share
	Cautions []session.Row
	Parks    []Park
	Lines    []Line
}

// Line is an entry line with what is typed before it.
type Line struct {
	session.CardLine
	Before []engine.Act
	Times  int      // how often it is typed
	Given  []string // ids of its slots that nothing asks for: others give them
}

// Park is a good point to park at, and what that costs when the work is taken up
// again.
type Park struct {
	Where where
	Hold  string // at a hold: which
	Share
	Known bool
}

// where a point to park at is.
type where uint8

// At a hold before it is released, behind the last line of a stage, behind the
// proof that follows it.
const (
	atHold where = iota
	atEnd
	atProof
)

// WorkOf is the whole work of a plan.
func WorkOf(p *plan.Plan) Work {
	return workOn(p, session.New(p, "", session.Instant{}))
}

func workOn(p *plan.Plan, s *session.Session) Work {
	way, safe := p.Onward(s.State())
	from := s.State()
	if from.Mode != engine.Working {
		from = plan.Mended(safe)
	}
	w := Work{Plan: p, Whole: way.Whole, Boxed: nextOf(p)}
	w.Result, w.Why = s.Ending()
	for _, name := range stagesOf(p) {
		stage := Stage{Name: name}
		if stage.fill(p, s, from, way); len(stage.Lines) > 0 {
			w.Stages = append(w.Stages, stage)
		} else {
			w.Done = append(w.Done, name)
		}
	}
	w.share(way.Parts())
	w.Ramp = session.RampOf(p, w.cardLines())
	return w
}

// stagesOf are the stages of a plan in their order.
func stagesOf(p *plan.Plan) []string {
	var out []string
	for _, slot := range p.Slots {
		if !slices.Contains(out, slot.Stage) {
			out = append(out, slot.Stage)
		}
	}
	return out
}

// share gives every part of the way its lines and minutes. Minutes are those that
// the clock of the whole work goes on by meanwhile.
func (w *Work) share(parts []plan.Part) {
	var clock time.Duration
	for n, part := range parts {
		from := clock
		clock += part.Time
		share := Share{part.Lines, int(clock.Minutes()) - int(from.Minutes())}
		switch {
		case n == 0:
			w.Start = share
		case part.Stage == "":
			w.End = share
		default:
			i := slices.IndexFunc(w.Stages, func(s Stage) bool { return s.Name == part.Stage })
			w.Stages[i].Share = share
		}
	}
}

// all is the share of the whole.
func (w Work) all() Share {
	sum := Share{w.Start.Lines + w.End.Lines, w.Start.Minutes + w.End.Minutes}
	for _, s := range w.Stages {
		sum.Lines += s.Share.Lines
		sum.Minutes += s.Minutes
	}
	return sum
}

// cardLines are the entry lines of all stages.
func (w Work) cardLines() []session.CardLine {
	var out []session.CardLine
	for _, s := range w.Stages {
		for _, l := range s.Lines {
			out = append(out, l.CardLine)
		}
	}
	return out
}

func (s *Stage) fill(p *plan.Plan, on *session.Session, from engine.State, way plan.Way) {
	s.Cautions = session.Cautions(p, s.Name)
	for n, line := range p.Lines {
		first := p.Slots[line.Slots[0]]
		slots := owedOf(p, from, way, line)
		if first.Stage != s.Name || len(slots) == 0 {
			continue
		}
		s.Supply = p.Blocks[first.Block].Supply
		l := Line{CardLine: on.CardLine(n, slots)}
		l.Before, l.Times = typedFor(p, way, n)
		for _, i := range slots {
			if way.Whole && !reads(way, i) {
				l.Given = append(l.Given, p.Slots[i].ID)
			}
		}
		s.Lines = append(s.Lines, l)
	}
	s.park(p, way)
}

// owedOf are the slots of a line that are owed in a state, and those that the way
// reads. What stands for its period alone goes with the rest of its line; where
// there is no rest it is told with the whole work only.
func owedOf(p *plan.Plan, from engine.State, way plan.Way, line plan.Line) []int {
	owed := func(i int) bool { return !from.Held.Has(i) && !from.Unread.Has(i) || reads(way, i) }
	lasts := func(i int) bool { return p.Engine.Slots[i].Life != engine.Period }
	whole := from.Held == engine.Facts{} && from.Unread == engine.Facts{}
	if !slices.ContainsFunc(line.Slots, func(i int) bool { return (lasts(i) || whole) && owed(i) }) {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(line.Slots), func(i int) bool { return !owed(i) })
}

func reads(way plan.Way, slot int) bool {
	return slices.ContainsFunc(way.Tasks, func(t plan.Task) bool { return slices.Contains(t.Reads, slot) })
}

// typedFor gives what the way types before a line, and how often the line itself.
func typedFor(p *plan.Plan, way plan.Way, line int) (before []engine.Act, times int) {
	for _, t := range way.Tasks {
		switch {
		case t.Slot < 0 || p.Slots[t.Slot].Line != line || !t.Typed:
		case t.Reads == nil:
			before = append(before, t.Act)
		default:
			times++
		}
	}
	return before, times
}

// park finds the good points to park at: at each hold, and with mains off behind
// the last line.
func (s *Stage) park(p *plan.Plan, way plan.Way) {
	last := -1
	for n, t := range way.Tasks {
		if t.Stage != s.Name {
			continue
		}
		last = n
		if t.Act == engine.Release {
			s.Parks = append(s.Parks, parkAt(p, t.Before, atHold, p.Slots[t.Slot].Hold))
		}
	}
	if last < 0 || s.Supply == engine.Unknown || way.Tasks[last].Act == engine.Release { // what follows a hold falls with it
		return
	}
	for n := last + 1; n <= len(way.Tasks); n++ {
		at, proof := way.End, false
		if n < len(way.Tasks) {
			at, proof = way.Tasks[n].Before, proves(way.Tasks[n].Act)
		}
		switch {
		case !at.Supply.Energised() && !proof && n == last+1:
			s.Parks = append(s.Parks, parkAt(p, at, atEnd, ""))
			return
		case !at.Supply.Energised() && !proof:
			s.Parks = append(s.Parks, parkAt(p, at, atProof, ""))
			return
		case !proof:
			return // mains stays on
		}
	}
}

func parkAt(p *plan.Plan, at engine.State, place where, hold string) Park {
	cost, known := p.Parking(at)
	return Park{place, hold, Share{cost.Lines, int(cost.Time.Round(time.Minute).Minutes())}, known}
}

func proves(a engine.Act) bool {
	switch a {
	case engine.Unplug, engine.ProveLead, engine.ProveFull, engine.ProveSecond, engine.ProveNodes:
		return true
	}
	return false
}
