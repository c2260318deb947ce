package session

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	"example.com/powerup/internal/plan"
)

// Logged is one line of a record, as far as a session made it.
type Logged struct {
	Seq int
	At  Instant
	Record
}

// KindProgram is the kind of the line by which a program that did not make the
// record says that it goes on with it: its one field, program, is that one's version.
const KindProgram = "program"

// ErrDiffers: what was typed does not give what the record says, with this
// program and these files.
var ErrDiffers = errors.New("the record does not follow from its own entries")

// Replay goes through a record from its first entry on and gives the session as
// it stood at its end. Every entry is judged again and must give the lines that
// stand behind it.
func Replay(p *plan.Plan, label string, lines []Logged) (*Session, error) {
	if len(lines) == 0 {
		return nil, fmt.Errorf("%w: it is empty", ErrDiffers)
	}
	s := New(p, label, lines[0].At)
	var want []Record
	for _, l := range lines {
		if aside(l) {
			continue
		}
		if len(want) == 0 {
			var err error
			if want, err = s.again(l); err != nil {
				return nil, err
			}
			if want == nil {
				continue
			}
		}
		if want[0].Kind != l.Kind || !maps.Equal(want[0].Fields, l.Fields) {
			return nil, fmt.Errorf("%w: line %d says %s, and %s follows%s", ErrDiffers, l.Seq, l.Kind, want[0].Kind, otherField(l.Record, want[0]))
		}
		want = want[1:]
	}
	s.missing = want
	return s, nil
}

// aside tells whether a line is none of the session's and may stand within what
// one entry gave: a torn tail was found, or another program goes on.
func aside(l Logged) bool {
	return l.Kind == "recovered" || l.Kind == KindProgram && len(l.Fields) == 1 && l.Fields["program"] != ""
}

// otherField names the first field in which two lines of one kind differ.
func otherField(got, want Record) string {
	if got.Kind != want.Kind {
		return ""
	}
	all := maps.Clone(want.Fields)
	maps.Copy(all, got.Fields)
	for _, key := range slices.Sorted(maps.Keys(all)) {
		g, inGot := got.Fields[key]
		w, inWant := want.Fields[key]
		if g != w || inGot != inWant {
			return fmt.Sprintf(" with another %.40q", key)
		}
	}
	return ""
}

// Missing is what the last entry of a replayed record gave and the record has
// not: its writing was broken off. It belongs on the record before anything
// else, so that nothing is asked again blindly.
func (s *Session) Missing() []Record { return s.missing }

// again does once more what line l began; nil for lines that are not the
// session's.
func (s *Session) again(l Logged) ([]Record, error) {
	switch l.Kind {
	case "entry":
		return s.Submit(l.Fields["say"], l.At).Records, nil
	case "abort":
		return s.Abort(l.Fields["because"], l.At).Records, nil
	case "resume":
		away, err := time.ParseDuration(l.Fields["away"])
		if err != nil {
			return nil, fmt.Errorf("%w: line %d: away %q", ErrDiffers, l.Seq, l.Fields["away"])
		}
		return s.Resume(l.At, away).Records, nil
	case "room":
		free, err := strconv.ParseUint(l.Fields["free"], 10, 64)
		if told := s.Room(free).Records; err == nil && told != nil {
			return told, nil
		}
	case "open":
		return nil, nil
	}
	return nil, fmt.Errorf("%w: line %d: %s stands alone", ErrDiffers, l.Seq, l.Kind)
}
