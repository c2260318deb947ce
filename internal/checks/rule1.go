package checks

import (
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
)

// Rule 1 is FROZEN: records that it judged are judged again by it for ever.
// FORMAT.md, "Judging again", specifies it; what it gives is held by
// testdata/records/rules-1, where nothing is ever made anew. What is to be judged
// otherwise gets a rule of its own in a file of its own.

// ruling is a verdict and what gave it.
type ruling struct {
	verdict engine.Verdict
	by      cause
	line    float64 // the line that was crossed
	side    string  // on which side
	reach   reach
}

// cause is the step of the rule that gave the verdict.
type cause uint8

const (
	noWindow cause = iota
	noReading
	absoluteLine
	stopLine
	typicalLine
	insidePass
	between
)

// loggedRule1 is rule 1 for a reading as it stands in a record.
func loggedRule1(l Logged) (engine.Verdict, error) {
	w, err := ParseWindow(l.Window)
	if err != nil {
		return engine.Stop, err
	}
	s, err := meter.ParseShown(l.Shown)
	if err != nil {
		return engine.Stop, err
	}
	return rule1(w, s, classOf(l.Class)).verdict, nil
}

// classOf is the class of that letter; one that is not known is judged as S.
func classOf(letter string) engine.Crit {
	for _, c := range []engine.Crit{engine.G, engine.E} {
		if c.String() == letter {
			return c
		}
	}
	return engine.S
}

// rule1 is guarded acceptance after JCGM 106:2012 8.3.2 (from memory) and
// ILAC-G8:09/2019 with w = U:
//
//   - Classes S and G pass when the reading with the meter's error on either
//     side lies in the pass interval, and stop when an end of it lies beyond
//     the query interval on a danger side. Otherwise it is a query: beyond a
//     side without danger it never stops.
//   - Class E, and limits raised for the instrument already, judge the number
//     itself.
//   - A reading that shows no number passes when all it can be passes, and
//     stops only when all it can be is beyond.
//   - Typical figures stop at the absolute lines only.
//
// A window that NewWindow did not make and a reading that package meter did not
// make stop, as does NaN anywhere.
func rule1(w Window, s meter.Shown, c engine.Crit) ruling {
	if _, err := w.valid(); err != nil {
		return ruling{verdict: engine.Stop, by: noWindow}
	}
	if !s.Taken() {
		return ruling{verdict: engine.Stop, by: noReading}
	}
	e := w.reach(s, c)
	if line, side, ok := e.beyond(w.Stop, limits.Both); ok {
		return ruling{engine.Stop, absoluteLine, line, side, e}
	}
	if line, side, ok := e.beyond(w.Query, w.Danger); ok {
		if w.Grade == Typical {
			return ruling{engine.Query, typicalLine, line, side, e}
		}
		return ruling{engine.Stop, stopLine, line, side, e}
	}
	if e.pass.Lo >= w.Pass.Lo && e.pass.Hi <= w.Pass.Hi {
		return ruling{verdict: engine.Pass, by: insidePass, reach: e}
	}
	return ruling{verdict: engine.Query, by: between, reach: e}
}

// reach is how far the truth can lie: pass is what must all pass, low and high
// are the values that must not be beyond on their side.
type reach struct {
	pass      Interval
	low, high float64
}

func (w Window) reach(s meter.Shown, c engine.Crit) reach {
	bare := c == engine.E || w.Shown
	switch {
	case s.Censored && bare:
		return reach{Interval{s.Lo, s.Hi}, s.Hi, s.Lo}
	case s.Censored:
		return reach{Interval{s.Lo - s.U, s.Hi + s.U}, s.Hi, s.Lo}
	case bare:
		return reach{Interval{s.X, s.X}, s.X, s.X}
	}
	return reach{Interval{s.Lo, s.Hi}, s.Lo, s.Hi}
}

// beyond tells whether the reach leaves i on a side where danger lies, and by
// which line.
func (e reach) beyond(i Interval, danger limits.Side) (line float64, side string, ok bool) {
	switch {
	case danger != limits.High && danger != limits.Neither && !(e.low >= i.Lo):
		return i.Lo, "below", true
	case danger != limits.Low && danger != limits.Neither && !(e.high <= i.Hi):
		return i.Hi, "above", true
	}
	return 0, "", false
}
