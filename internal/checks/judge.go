package checks

import (
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/unit"
)

// RulesVersion is the version of the rule in this file. A logged reading is
// judged again by the rule of its version; no released version ever changes.
const RulesVersion = 1

// Judgement is a verdict and what it came from, in words.
type Judgement struct {
	Verdict engine.Verdict
	Reason  string
}

// Judge gives the one verdict of a reading. Guarded acceptance after JCGM
// 106:2012 8.3.2 (from memory) and ILAC-G8:09/2019 with w = U:
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
func (w Window) Judge(s meter.Shown, c engine.Crit) Judgement {
	if _, err := w.valid(); err != nil {
		return Judgement{engine.Stop, "there is no window for this reading"}
	}
	if !s.Taken() {
		return Judgement{engine.Stop, "this is no reading"}
	}
	e := w.reach(s, c)
	if line, side, ok := e.beyond(w.Stop, limits.Both); ok {
		return Judgement{engine.Stop, w.over(s, side, line, "the absolute line")}
	}
	if line, side, ok := e.beyond(w.Query, w.Danger); ok {
		if w.Grade == Typical {
			return Judgement{engine.Query, w.over(s, side, line, "a typical figure, which does not stop")}
		}
		return Judgement{engine.Stop, w.over(s, side, line, "the stop line")}
	}
	if e.pass.Lo >= w.Pass.Lo && e.pass.Hi <= w.Pass.Hi {
		return Judgement{engine.Pass, w.inside(e, s)}
	}
	return Judgement{engine.Query, w.outside(s)}
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

// over is the reason of a reading beyond a line: the number itself, or the
// number with the meter's error.
func (w Window) over(s meter.Shown, side string, line float64, what string) string {
	if s.Censored || side == "below" && s.X < line || side == "above" && s.X > line {
		return fmt.Sprintf("%s %s: beyond %s", side, w.text(line), what)
	}
	return fmt.Sprintf("within the meter's error of %s of %s: it may be beyond %s", w.spread(s.U), w.text(line), what)
}

func (w Window) inside(e reach, s meter.Shown) string {
	if e.pass.Lo == s.X && e.pass.Hi == s.X || s.U == 0 {
		return "inside " + w.span(w.Pass)
	}
	return "inside " + w.span(w.Pass) + " with the meter's error taken off"
}

// outside is the reason of a query.
func (w Window) outside(s meter.Shown) string {
	switch {
	case s.Censored:
		return s.Note + ": it may be inside or outside " + w.span(w.Pass)
	case s.X < w.Pass.Lo:
		return fmt.Sprintf("below %s: under the pass line", w.text(w.Pass.Lo))
	case s.X > w.Pass.Hi:
		return fmt.Sprintf("above %s: over the pass line", w.text(w.Pass.Hi))
	}
	return fmt.Sprintf("inside %s, but within the meter's error of %s of the line", w.span(w.Pass), w.spread(s.U))
}

// span gives an interval in words.
func (w Window) span(i Interval) string {
	switch {
	case i == unbounded:
		return "any value"
	case i.Lo == unbounded.Lo:
		return w.text(i.Hi) + " or less"
	case i.Hi == unbounded.Hi:
		return w.text(i.Lo) + " or more"
	}
	return w.text(i.Lo) + " to " + w.text(i.Hi)
}

func (w Window) text(x float64) string {
	return unit.Round(unit.Quantity{Kind: w.Kind, Value: x}, 4).String()
}

// spread gives an uncertainty, whose third digit says nothing.
func (w Window) spread(u float64) string {
	return unit.Round(unit.Quantity{Kind: w.Kind, Value: u}, 2).String()
}
