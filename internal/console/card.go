package console

import (
	"fmt"
	"io"
	"strings"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/unit"
)

// Card prints the bench card: the head, what the circuit says of the ramp, and
// the work by lead position.
func Card(w io.Writer, p *plan.Plan, lines []session.CardLine) {
	c := card{w: w}
	c.head(p, lines)
	c.ramp(session.RampOf(p, lines))
	block := ""
	for _, l := range lines {
		if l.Block.ID != block {
			block = l.Block.ID
			c.block(l.Block)
		}
		c.line(l)
	}
}

type card struct{ w io.Writer }

func (c card) row(label, text string) {
	for _, line := range row(label, text) {
		fmt.Fprintln(c.w, line)
	}
}

func (c card) head(p *plan.Plan, lines []session.CardLine) {
	n := countWindows(lines)
	c.row("Set", fmt.Sprintf("%s, mark %s, %s, %d-core flex", p.Set.Name, p.Set.Mark, p.Set.Construction, p.Set.Flex.Cores))
	c.row("Windows", fmt.Sprintf("%d computed, %d typical, %d from readings at the bench", n.known, n.weak, n.later))
	cost := p.Cost()
	c.row("Needs", fmt.Sprintf("%d lines, about %d h %02d, when everything passes", cost.Lines, int(cost.Time.Hours()), int(cost.Time.Minutes())%60))
	for _, t := range p.Typical {
		c.row("Typical", t)
	}
	if len(p.Cannot) > 0 {
		c.row("This kit", "cannot measure "+strings.Join(p.Cannot, ", "))
	}
	c.row("Lamps", fmt.Sprintf("%s for transformer and heaters; %s for the ramp, which it lets reach %s: last step with the lamp in %s",
		p.Lamps.First.Watts, p.Lamps.Ramp.Watts, unit.Round(p.Lamps.Ceiling.Quantity(), 3), p.Lamps.Top))
	c.bulbs(p)
}

// bulbs shows what each bulb of the bench makes of this set, and says when the
// one of the ramp cannot tell.
func (c card) bulbs(p *plan.Plan) {
	for _, l := range p.Lamps.Each {
		c.row("", fmt.Sprintf("%s: the set reaches %s, the lamp %s; a set that takes half as much again %s, at least %.2f x",
			l.Lamp.Watts, unit.Round(l.Ceiling.Quantity(), 3), unit.Round(l.Healthy.Quantity(), 3), unit.Round(l.Fault.Quantity(), 3), l.Apart))
	}
	if !p.Lamps.Tells {
		c.row("", "no bulb of this bench that carries the set high enough tells such a fault from a healthy set: lamp volts alone will not stop it, HT and the output stage must")
	}
}

// windowCounts counts the readings of a card by where their windows come from.
// Letters, texts and hold points have none and are not counted.
type windowCounts struct{ known, weak, later int }

func countWindows(lines []session.CardLine) (n windowCounts) {
	for _, l := range lines {
		for _, r := range l.Readings {
			switch {
			case r.Weak != "":
				n.weak++
			case !r.Known:
				n.later++
			case r.Expect != "":
				n.known++
			}
		}
	}
	return n
}

func (c card) block(b plan.Block) {
	fmt.Fprintln(c.w)
	fmt.Fprintln(c.w, strings.Repeat("-", width))
	text := b.ID + ", supply " + b.Supply.String()
	if b.Supply.Energised() {
		text += ", lamp out"
		if b.Lamp != nil {
			text = b.ID + ", supply " + b.Supply.String() + ", lamp " + b.Lamp.Watts.String()
		}
	}
	c.row("POSITION", text)
	if b.Stands != "" {
		c.row("", b.Stands)
	}
	if b.Note != "" {
		c.row("Note", b.Note)
	}
}

func (c card) line(l session.CardLine) {
	text := l.ID
	if l.Wait > 0 {
		text += fmt.Sprintf("  (after %g s)", l.Wait)
	}
	c.row("line", text)
	for _, r := range l.Readings {
		c.reading(r)
	}
}

func (c card) reading(r session.CardReading) {
	if r.Slot.Hold != "" {
		c.row("  hold", r.Slot.Hold)
		return
	}
	text := session.Titled(r.Slot.Check, r.Slot.Item)
	if r.Expect != "" {
		text += ": " + r.Expect
	}
	c.row("  "+classMark(r.Slot.Check.Crit), text)
	for _, more := range []string{r.Danger, r.Why, r.Weak} {
		if more != "" {
			c.row("", more)
		}
	}
}

func classMark(c engine.Crit) string { return c.String() }
