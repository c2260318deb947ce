package session

import (
	"errors"
	"fmt"
	"strconv"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/unit"
)

// judged is what a number was judged by; nil for letters and text.
type judged struct {
	window checks.Window
	shown  meter.Shown
}

// judge judges by the window as the record will carry it, so that whoever reads
// the record comes to the same verdict.
func judge(w checks.Window, shown meter.Shown, c engine.Crit) checks.Judgement {
	logged, err := checks.ParseWindow(w.Fields())
	if err != nil {
		return checks.Judgement{Verdict: engine.Stop, Reason: "the window of this reading cannot be written down: " + err.Error()}
	}
	return logged.Judge(shown, c)
}

// put sends a judged reading to the engine, keeps it, and tells what came of it.
func (s *Session) put(a *Answered, r Reading, by *judged) error {
	slot := s.plan.Slots[r.Slot]
	weak := by != nil && by.window.Grade == checks.Typical
	mode := s.state.Mode
	if err := s.step(engine.Event{Kind: engine.Read, Verdict: r.Verdict, Weak: weak}); err != nil {
		var refusal engine.Refusal
		if !errors.As(err, &refusal) {
			s.stopOf = &r
		}
		return err
	}
	r.Number, r.At, r.mono = len(s.wrote)+1, s.now.Wall, s.now.Mono
	if r.Verdict == engine.Query && s.state.Mode != mode {
		r.Verdict, r.Reason = engine.Stop, r.Reason+"; a second query on "+slot.Check.Path
	}
	s.wrote = append(s.wrote, r)
	s.recordReading(a, r, by)
	s.count(r, weak)
	s.remember(r)
	s.tellReading(a, r, by)
	s.tellLate(a, r)
	s.againDerived(a, r)
	return nil
}

func (s *Session) count(r Reading, weak bool) {
	switch r.Verdict {
	case engine.Pass:
		s.counts.Pass++
	case engine.Query:
		s.counts.Query++
	default:
		s.counts.Stop++
	}
	if weak {
		s.weak[s.plan.Slots[r.Slot].ID] = true
		s.counts.Typical = len(s.weak)
	}
}

func (s *Session) recordReading(a *Answered, r Reading, by *judged) {
	slot := s.plan.Slots[r.Slot]
	f := map[string]string{
		"number": strconv.Itoa(r.Number), "slot": slot.ID, "check": slot.Check.ID, "item": slot.Item,
		"say": r.Raw, "class": slot.Check.Crit.String(), "verdict": r.Verdict.String(), "reason": r.Reason,
		"supply": s.state.Supply.String(), "meter": slot.Letter,
	}
	if by != nil {
		f["rule"] = strconv.Itoa(checks.RulesVersion)
		for k, v := range by.window.Fields() {
			f["window "+k] = v
		}
		for k, v := range by.shown.Fields() {
			f["shown "+k] = v
		}
	}
	if r.Value.Kind != unit.None {
		f["value"] = r.Value.String()
	}
	if after, timed := s.afterOn(r); timed {
		f["after"] = after.String()
	}
	if set := s.setVolts(slot.Rung); set > 0 && s.state.Supply.Energised() {
		f["set-volts"] = set.String()
	}
	for k, v := range f {
		if v == "" {
			delete(f, k)
		}
	}
	a.Records = append(a.Records, Record{Kind: "reading", Fields: f})
}

// afterOn is how long mains had been on at a reading that has its time.
func (s *Session) afterOn(r Reading) (after time.Duration, timed bool) {
	if s.plan.Slots[r.Slot].After == 0 || !s.state.Supply.Energised() {
		return 0, false
	}
	return (r.mono - s.powerAt.Mono).Round(time.Second), true
}

// tellLate says of a reading that was made late that it counts with its own time.
func (s *Session) tellLate(a *Answered, r Reading) {
	wanted := duration(s.plan.Slots[r.Slot].After)
	if after, timed := s.afterOn(r); timed && after > wanted+seconds("late-reading") {
		a.say("Late", fmt.Sprintf("read %v after mains came on, wanted at %v: it counts with its own time, and what follows of its series moves by as much", after, wanted))
	}
}

func (s *Session) tellReading(a *Answered, r Reading, by *judged) {
	slot := s.plan.Slots[r.Slot]
	shown := r.Raw
	if r.Value.Kind != unit.None && (by == nil || !by.shown.Censored) {
		shown = show(r.Value.Kind, r.Value.Value)
	}
	name := fieldName(slot.Check, s.item(r.Slot))
	switch r.Verdict {
	case engine.Pass:
		a.say("PASS", fmt.Sprintf("%s %s: %s", name, shown, r.Reason))
		if slot.Check.Kind == unit.KindWatt && by != nil { // a dissipation shows its sum
			a.say("Why", by.window.Sum)
		}
	case engine.Query:
		a.say("QUERY", fmt.Sprintf("%s %s: %s (entry %d)", Titled(slot.Check, slot.Item), shown, r.Reason, r.Number))
		if by != nil && by.window.Sum != "" {
			a.say("Why", by.window.Sum)
		}
	default:
		s.tellStop(a, r, by)
	}
}

// tellStop is the screen of a stop: what, why, what it means, and first of all
// what to do.
func (s *Session) tellStop(a *Answered, r Reading, by *judged) {
	slot := s.plan.Slots[r.Slot]
	s.stopOf = &r
	a.Bell = true
	do := "nothing goes on. Leave the plug out."
	if s.state.Supply.Energised() {
		do = "SWITCH OFF NOW, at the wall. Then plug out."
	}
	a.say("STOP", do)
	because := r.Reason
	if r.Value.Kind != unit.None {
		because = show(r.Value.Kind, r.Value.Value) + ": " + r.Reason
	}
	a.say("Because", Titled(slot.Check, slot.Item)+" "+because)
	if by != nil && by.window.Sum != "" {
		a.say("Why", by.window.Sum)
	}
	if by != nil && by.window.Source != "" {
		a.say("Source", by.window.Source)
	}
	if slot.Check.Meaning != "" {
		a.say("Meaning", slot.Check.Meaning)
	}
	a.record("stop", "slot", slot.ID, "check", slot.Check.ID, "number", strconv.Itoa(r.Number), "reason", r.Reason)
	if s.state.Mode == engine.Stopped {
		a.Rows = append(a.Rows, s.stoppedRows()...)
	}
}
