package checks

import (
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/unit"
)

// Judgement is a verdict and what it came from, in words.
type Judgement struct {
	Verdict engine.Verdict
	Reason  string
}

// Judge gives the one verdict of a reading, by the newest rule, with its words.
func (w Window) Judge(s meter.Shown, c engine.Crit) Judgement {
	r := rule1(w, s, c)
	return Judgement{r.verdict, w.reason(r, s)}
}

// reason says why a ruling came out as it did.
func (w Window) reason(r ruling, s meter.Shown) string {
	switch r.by {
	case noReading:
		return "this is no reading"
	case absoluteLine:
		return w.over(s, r.side, r.line, "the absolute line")
	case stopLine:
		return w.over(s, r.side, r.line, "the stop line")
	case typicalLine:
		return w.over(s, r.side, r.line, "a typical figure, which does not stop")
	case insidePass:
		return w.inside(r.reach, s)
	case between:
		return w.outside(s)
	}
	return "there is no window for this reading"
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
