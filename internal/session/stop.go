package session

import (
	"errors"
	"fmt"
	"strings"

	"example.com/powerup/internal/engine"
)

func (s *Session) promptUnplug() Prompt {
	return Prompt{ID: "stop/unplugged", Block: "stop", Word: "unplugged", Rows: []Row{
		{"Do", "SWITCH OFF at the wall, then plug OUT, where you can see it."},
		{"DANGER", fmt.Sprintf("the capacitors hold a charge after the plug is out: HT up to %s", s.htText())},
		{"Type", "unplugged"},
	}}
}

func (s *Session) answerUnplug(a *Answered, line string) error {
	if err := s.word(line, "unplugged"); err != nil {
		return err
	}
	if err := s.step(engine.Event{Kind: engine.Off}); err != nil {
		return err
	}
	a.record("unplugged")
	t, path := s.discharge()
	s.waitTo = s.now.plus(t)
	a.say("Wait", inSeconds(t)+": "+path+". Hands out.")
	return nil
}

// offNow is mains off before a stage begins, as one who parks before the soak wants
// it. Nobody knows what happens to the leads meanwhile: the set is proved dead before
// mains comes on again. A stage that is under way would have to begin again, which is
// what a resume makes of it.
func (s *Session) offNow(a *Answered, owed int) error {
	for i, slot := range s.plan.Slots {
		if slot.Stage == s.plan.Slots[owed].Stage && s.plan.Engine.Slots[i].Life != engine.Period && s.state.Held.Has(i) {
			return fmt.Errorf("%s is under way, and begins again when mains has been off\nhint: go on to its end; or Ctrl+C, which stops at once and keeps all, and later powerup resume", slot.Stage)
		}
	}
	if err := s.step(engine.Event{Kind: engine.Abort}); err != nil {
		return err
	}
	s.forgetLine()
	s.counts.Words++
	a.record("unplugged")
	a.say("Off", "what was read stands. Prove it dead, then park, or go on.")
	return nil
}

// insideText is what nobody knows of a boxed set.
const insideText = "inside it is not proved: HT may stand there. Whoever opens it keeps hands out: the tool first, then HT1 and HT2 proved dead, across each capacitor"

// stoppedRows end the making safe.
func (s *Session) stoppedRows() []Row {
	if s.plan.Boxed {
		return []Row{
			{"Label", "red label on the set: FAILED - DO NOT CONNECT. Nobody can waive it."},
			{"DANGER", insideText},
			{"To go on", "name by its letter what was done with the set closed, and say the cause. For work inside park: its open part is owed again, from the beginning."},
		}
	}
	return []Row{
		{"Label", "red label on the set: FAILED - DO NOT CONNECT. Nobody can waive it."},
		{"To go on", "name the repair by its letter and say the cause, or park: all is kept."},
	}
}

func (s *Session) promptRepair() Prompt {
	p := Prompt{ID: "stop/repair", Block: "stop"}
	if s.stopOf != nil {
		slot := s.plan.Slots[s.stopOf.Slot]
		p.Rows = append(p.Rows, Row{"Stopped", Titled(slot.Check, slot.Item) + ": " + s.stopOf.Reason})
	}
	for _, c := range s.plan.Classes {
		name := strings.TrimSpace(c.Letter + " " + c.Part)
		words := c.Words
		if c.Letter == "n" {
			words = "nothing in the set: a lead, a contact or the meter, say which; it must then pass twice"
		}
		p.Rows = append(p.Rows, Row{"", name + "  " + words})
	}
	p.Rows = append(p.Rows, Row{"Type", "the letter, then cause and repair in your own words; a semicolon between two; or park"})
	return p
}

func (s *Session) answerRepair(a *Answered, line string) error {
	classes, err := s.alterations(line)
	if err != nil {
		return err
	}
	return s.mend(a, classes, line)
}

// mend takes cause and repair. A repair that does not reach the reading that
// stopped explains nothing: as after a lead or a contact, that reading must then
// pass twice, and with mains on the work starts again behind the lamp.
func (s *Session) mend(a *Answered, classes []engine.Class, line string) error {
	for _, clause := range strings.Split(line, ";") {
		if len(strings.Fields(clause)) < 2 {
			return errors.New("cause and repair are not said\nhint: the letter, then what was wrong and what was done")
		}
	}
	events, doubt := s.mendEvents(classes)
	return s.tell(a, alteration{classes: classes, line: line, events: events, mends: true, doubt: doubt})
}

// mendEvents are what a repair is to the engine, and whether it leaves the stop
// unexplained.
func (s *Session) mendEvents(classes []engine.Class) ([]engine.Event, bool) {
	e := engine.Event{Kind: engine.Mend, Class: classes[0], Doubt: s.lettersOf(classes) == "n"}
	if stop := s.state.StopAt - 1; stop >= 0 && !s.reaches(classes, stop) {
		e.Doubt = true
	}
	rest := classes
	if !e.Doubt {
		rest = classes[1:] // the first is voided with the repair
	}
	return append(s.alterEvents(rest), e), e.Doubt
}

// reaches tells whether one of the classes voids slot i.
func (s *Session) reaches(classes []engine.Class, i int) bool {
	for _, c := range classes {
		if s.plan.Engine.Voids[c].Has(i) {
			return true
		}
	}
	return false
}
