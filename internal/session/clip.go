package session

import (
	"errors"
	"fmt"
	"math"

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
		if s.plan.Boxed { // nor could its line be read with the clip off again
			return errors.New("the set is boxed: no clip reaches its HT line")
		}
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
	if !s.state.Clip {
		return errors.New("no clip is on\nhint: clip on says that there is one")
	}
	e, err := unit.ParseEntry(unit.KindOhm, text)
	if err != nil {
		return err
	}
	least, why, err := s.clipOffLine()
	if err != nil {
		return err
	}
	shown, err := meter.Classify(s.plan.MovingMeter(), sheet.OhmsF, e)
	if errors.Is(err, meter.ErrLive) {
		return s.clipLive(a, text)
	}
	if err != nil {
		return err
	}
	s.counts.Numbers++
	verdict := engine.Stop
	if shown.Taken() && shown.Lo >= least && (!shown.Censored || s.lineMayBeOpen()) {
		verdict = engine.Pass
	}
	if err := s.step(engine.Event{Kind: engine.ClipOff, Verdict: verdict}); err != nil {
		return err
	}
	a.record("clip", "is", "off", "say", text, "least", show(unit.KindOhm, least), "verdict", verdict.String())
	if verdict != engine.Pass {
		a.say("STILL ON?", fmt.Sprintf("%s on the HT line, and %s is wanted (%s): look for the clip, the lead, the jumper. OL is a lead that is off.", text, show(unit.KindOhm, least), why))
		return nil
	}
	a.say("CLIP OFF", "the HT line reads "+text+".")
	return nil
}

// clipLive: volts on the leads while the HT line was read end the proof that the
// set is dead.
func (s *Session) clipLive(a *Answered, text string) error {
	if err := s.step(engine.Event{Kind: engine.Prove, Verdict: engine.Stop}); err != nil {
		return err
	}
	a.record("clip", "is", "on", "say", text, "verdict", engine.Stop.String())
	a.Bell = true
	a.say("STOP", "hands out: volts on an ohms range, the HT line is charged or live. Prove it dead from the start.")
	return nil
}

// lineMayBeOpen tells whether the HT line of this set may read over the meter's
// range, or has: where it may not, OL is a lead that is off.
func (s *Session) lineMayBeOpen() bool {
	for i, slot := range s.plan.Slots {
		if slot.Check.ID == "ht-line" {
			w, err := s.window(i)
			q, read := s.valueOf("ht-line")
			return err == nil && (math.IsInf(w.Pass.Hi, 1) || read && q.Value > w.Pass.Hi)
		}
	}
	return false
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
	if q, ok := s.valueOf("ht-line"); ok {
		return q.Value * (1 - volts("removal-agree")/100), "its last reading less 10 %", nil
	}
	for i, slot := range s.plan.Slots {
		if slot.Check.ID == "ht-line" {
			w, err := s.window(i)
			return w.Query.Lo, "the stop line of the HT line", err
		}
	}
	return 0, "", errors.New("this part of the procedure has no reading of the HT line: the set is boxed")
}
