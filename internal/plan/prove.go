package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/engine"
)

// mostPlaces is how far a proof goes: eight times what the longest procedure
// there can be has, in less than 100 MiB.
const mostPlaces = 200_000

// Prove goes through every order in which readings, queries, stops, repairs,
// alterations, time limits, interruptions and restarts can come (engine.Explore).
// Its error tells, as a story from the bench, how an interlock would be broken or
// the work come to no end; or that the plan is too large to be proved.
func (p *Plan) Prove(scope engine.Scope) (*engine.Exploration, error) {
	x, err := engine.Explore(&p.Engine, scope, mostPlaces)
	var unsafe *engine.Unsafe
	switch {
	case errors.As(err, &unsafe):
		return x, p.told(unsafe)
	case err != nil:
		return x, fmt.Errorf("%s: %w\nhint: fewer readings, or two procedures", p.Procedure.At, err)
	}
	return x, nil
}

// told is an unsafe procedure as its author reads of it.
func (p *Plan) told(u *engine.Unsafe) error {
	what := u.What
	for _, property := range engine.Properties() {
		if property.ID == u.ID {
			what = fmt.Sprintf("%s is broken: %s", u.ID, property.Sentence)
		}
	}
	return fmt.Errorf("%s: %s\n  %s\nhint: change the stage of the last line", p.Procedure.At, what, strings.Join(p.Story(u.Story), "\n  "))
}

// Story tells events in the words of the bench, a line each, with where the stage
// stands in the procedure file. What was answered as it was asked is one line, up
// to what was not; the last event always has its own.
func (p *Plan) Story(events []engine.Told) []string {
	var out []string
	asked := 0
	for n, t := range events {
		if n < len(events)-1 && slices.Contains(engine.Answers(&p.Engine, t.State), t.Event) {
			asked++
			continue
		}
		if asked > 0 {
			out = append(out, "all is answered well, up to "+p.where(t.State))
		}
		asked = 0
		out = append(out, p.happens(t))
	}
	return out
}

// where is the slot that is owed, or the block mains would go to, with the line of
// its stage.
func (p *Plan) where(s engine.State) string {
	todo := engine.Next(&p.Engine, s)
	switch {
	case todo.Slot < 0:
		return "the close"
	case todo.Act == engine.SwitchOn:
		return fmt.Sprintf("mains at %s (line %d)", p.Blocks[todo.Block].ID, p.placeOf(p.Blocks[todo.Block].Stage).Line)
	}
	return p.slotAt(todo.Slot)
}

func (p *Plan) slotAt(i int) string {
	return fmt.Sprintf("%s (line %d)", p.Slots[i].ID, p.placeOf(p.Blocks[p.Slots[i].Block].Stage).Line)
}

// happens words one event.
func (p *Plan) happens(t engine.Told) string {
	e, at := t.Event, p.where(t.State)
	switch e.Kind {
	case engine.Read:
		return fmt.Sprintf("%s reads %s%s", at, strings.ToUpper(e.Verdict.String()), map[bool]string{true: ", by typical values"}[e.Weak])
	case engine.Leave:
		return at + map[bool]string{false: " is left unread", true: " counts as a part that the set has not"}[e.Absent]
	case engine.Agree:
		return "a second reading of " + at + " agrees"
	case engine.Accept:
		return "the query on " + at + " is accepted, " + [...]string{"by whoever measured", "by somebody else"}[e.By]
	case engine.Free:
		return at + " is released"
	case engine.Power:
		return "mains comes on" + strings.TrimPrefix(at, "mains")
	case engine.Off:
		return "the plug is pulled, at " + at
	case engine.Prove:
		return proofWords(e) + ", at " + at
	case engine.ProveNode:
		return "what a test has charged reads " + map[bool]string{true: "dead", false: "charged"}[e.Verdict == engine.Pass] + ", at " + at
	case engine.Elapsed:
		return timerWords[e.Timer] + ", at " + at
	case engine.Alter:
		return fmt.Sprintf("touched %s, at %s", p.Classes[e.Class].Words, at)
	case engine.Mend:
		if e.Doubt {
			return "nothing was wrong with the set, a lead or a contact was"
		}
		return "repaired: " + p.Classes[e.Class].Words
	case engine.Retract:
		return "the reading of " + p.slotAt(e.Slot) + " is taken back"
	}
	return otherWords[e.Kind] + ", at " + at
}

func proofWords(e engine.Event) string {
	switch {
	case e.Verdict != engine.Pass:
		return "a proof of dead fails"
	case e.Proof == engine.HalfProof:
		return "the first line of the whole proof reads dead"
	case e.Proof == engine.LeadProof:
		return "the short proof reads dead"
	}
	return "the second line of the whole proof reads dead"
}

var timerWords = [...]string{
	engine.ProofOver: "the proof of dead runs out", engine.LiveIdle: "nobody types anything for too long with mains on",
	engine.DayOver: "a day passes", engine.MinWait: "the wait is over",
}

var otherWords = map[engine.Kind]string{
	engine.Interrupt: "the program is started again", engine.Abort: "the stop key", engine.Done: "the record is closed",
	engine.ClipOn: "a shorting clip goes on the HT line", engine.ClipOff: "the shorting clip comes off",
}
