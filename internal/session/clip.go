package session

import (
	"errors"
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// clip puts the shorting clip on record, or takes it off with the reading that
// shows it is off (INV-44).
func (s *Session) clip(a *Answered, word, text string) error {
	switch word {
	case "on":
		if err := s.step(engine.Event{Kind: engine.ClipOn}); err != nil {
			return err
		}
		s.counts.Words++
		a.record("clip", "is", "on")
		a.say("CLIP ON", "mains and every reading of the HT line refuse until it is off: clip off, and the ohms of the HT line.")
		return nil
	case "off":
		return s.clipOff(a, text)
	}
	return errors.New("clip on or clip off\nhint: clip off takes the ohms of the HT line: clip off 217k")
}

func (s *Session) clipOff(a *Answered, text string) error {
	e, err := unit.ParseEntry(unit.KindOhm, text)
	if err != nil {
		return err
	}
	least, why, err := s.clipOffLine()
	if err != nil {
		return err
	}
	var shown meter.Shown
	if m := s.plan.MovingMeter(); m != nil {
		if shown, err = meter.Classify(m, sheet.OhmsF, e); err != nil {
			return err
		}
	}
	s.counts.Numbers++
	verdict := engine.Stop
	if shown.Taken() && shown.Lo >= least {
		verdict = engine.Pass
	}
	if err := s.step(engine.Event{Kind: engine.ClipOff, Verdict: verdict}); err != nil {
		return err
	}
	a.record("clip", "is", "off", "say", text, "least", show(unit.KindOhm, least), "verdict", verdict.String())
	if verdict != engine.Pass {
		a.say("STILL ON?", fmt.Sprintf("%s on the HT line, and %s is wanted (%s): look for the clip, the lead, the jumper.", text, show(unit.KindOhm, least), why))
		return nil
	}
	a.say("CLIP OFF", "the HT line reads "+text+".")
	return nil
}

// promptUnclip stands wherever the clip would be in the way.
func (s *Session) promptUnclip() Prompt {
	p := Prompt{ID: "clip-off", Block: "clip"}
	if least, why, err := s.clipOffLine(); err == nil {
		p.Rows = append(p.Rows, Row{"Expect", fmt.Sprintf("%s or more on the HT line: %s", show(unit.KindOhm, least), why)})
	}
	p.Rows = append([]Row{{"Clip", "a clip joins the HT line. Take it off, then read the ohms of the line, red on HT1."}}, p.Rows...)
	p.Rows = append(p.Rows, Row{"Type", "clip off, and the ohms: clip off 217k"})
	return p
}

// clipOffLine is what the HT line must read with the clip off: its last ohms
// less a tenth, before the first of them the check's own stop line.
func (s *Session) clipOffLine() (float64, string, error) {
	if q, ok := s.taken["ht-line"]; ok {
		return q.Value * (1 - volts("removal-agree")/100), "its last reading less 10 %", nil
	}
	for i, slot := range s.plan.Slots {
		if slot.Check.ID == "ht-line" {
			w, err := slot.Check.Rule(s.caseOf(i))
			return w.Query.Lo, "the stop line of the HT line", err
		}
	}
	return 0, "", errors.New("this part of the procedure has no reading of the HT line: the set is boxed")
}
