package session

import (
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/engine"
)

func (s *Session) promptLabel() Prompt {
	rows := []Row{{"Result", "MET THE LISTED LIMITS ON " + s.today() + ". " + s.handedText()}}
	if why := s.whyNotBack(); why != "" {
		rows = append(rows, Row{"Why not", why})
	}
	rows = append(rows, Row{"Counted", s.countText()})
	if n := len(s.weak); n > 0 {
		rows = append(rows, Row{"Weak", fmt.Sprintf("%d windows from typical values", n)})
	}
	if !s.plan.AtVolts() {
		rows = append(rows, Row{"", "the HT line was not proved at volts"})
	}
	rows = append(rows,
		Row{"", "no witness (worked alone); readings typed by hand; times are this computer's own"},
		Row{"Label", "number " + s.label + " written on the set?"},
		Row{"Type", "the number"})
	return Prompt{ID: "close/label", Block: "close", Rows: rows}
}

// whyNotBack is what keeps a set from being handed back (INV-36); empty: it may
// be.
func (s *Session) whyNotBack() string {
	switch {
	case !s.plan.Boxed:
		return "the boxed tests and touch current are a session of their own"
	case slices.Contains(s.plan.Cannot, "touch-current"):
		return "touch current not measured: no network of this profile in this kit"
	case s.state.Standing != 0:
		return "a query stands open"
	case s.phase == over && !s.ownerTold:
		return "the owner has not had the cautions"
	}
	return ""
}

func (s *Session) handedText() string {
	switch {
	case s.whyNotBack() != "":
		return "NOT HANDED BACK."
	case s.phase == over:
		return "HANDED BACK."
	}
	return "MAY BE HANDED BACK."
}

// How the record words its end. A result that was written once is never taken out.
const (
	handedBack    = "tested and handed back"
	boxedNotBack  = "tested and boxed, not handed back"
	testedNotBack = "tested, not handed back"
)

// IsResult tells whether a session closes its record with these words.
func IsResult(words string) bool {
	return words == handedBack || words == boxedNotBack || words == testedNotBack
}

func (s *Session) resultText() string {
	switch {
	case s.whyNotBack() == "":
		return handedBack
	case s.plan.Boxed:
		return boxedNotBack
	}
	return testedNotBack
}

func ownerText(told bool) string {
	if told {
		return "has had the cautions"
	}
	return ""
}

// atVolts is what the record says of an HT line that was not tested at volts
// (INV-55).
func atVolts(tested bool) string {
	if tested {
		return ""
	}
	return "true"
}

func (s *Session) today() string { return strings.ToUpper(s.now.Wall.Format("2 Jan 2006")) }

func (s *Session) countText() string {
	c := s.counts
	return fmt.Sprintf("%d pass, %d query (%d accepted), %d stop, %d not read, %d typical", c.Pass, c.Query, c.Accepted, c.Stop, c.NotRead, c.Typical)
}

func (s *Session) answerLabel(a *Answered, line string) error {
	if line != s.label {
		return fmt.Errorf("%q is not this set's number\nhint: %s", clip(line), s.label)
	}
	a.record("label", "number", line)
	s.phase = askClose
	return nil
}

func (s *Session) promptClose() Prompt {
	p := Prompt{ID: "close/close", Block: "close", Word: "close"}
	if s.whyNotBack() != "" {
		p.Rows = []Row{{"Type", "close, or park"}}
		return p
	}
	p.Word = toldClose
	p.Rows = []Row{
		{"Owner", "the cautions were read to the owner or left in writing?"},
		{"Type", toldClose + " when they were; close when not, and it is not handed back; or park"},
	}
	return p
}

// toldClose closes a set that goes back to an owner who has had the cautions
// (INV-36).
const toldClose = "close told"

func (s *Session) answerClose(a *Answered, line string) error {
	told := s.asked.Word == toldClose && line == toldClose
	if !told {
		if err := s.word(line, "close"); err != nil {
			return err
		}
	}
	if err := s.step(engine.Event{Kind: engine.Done}); err != nil {
		return err
	}
	s.phase, s.result, s.ownerTold = over, Tested, told
	a.say("Result", "MET THE LISTED LIMITS ON "+s.today()+". "+s.handedText())
	a.say("Counted", s.countText())
	a.say("Before", "opening it again: prove dead again.")
	c := s.counts
	a.record("close", "result", s.resultText(), "set", s.plan.Set.Name, "mark", s.plan.Set.Mark,
		"pass", fmt.Sprint(c.Pass), "query", fmt.Sprint(c.Query), "accepted", fmt.Sprint(c.Accepted),
		"stop", fmt.Sprint(c.Stop), "not-read", fmt.Sprint(c.NotRead), "typical", fmt.Sprint(c.Typical),
		"open", "0", "witness", "none", "owner", ownerText(told), "not-proved-at-volts", atVolts(s.plan.AtVolts()), "operators", s.operatorsText(), "repeats", s.counts.repeats())
	return nil
}
