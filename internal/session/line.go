package session

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// answerLine judges the readings of a line from left to right.
func (s *Session) answerLine(a *Answered, line string) error {
	p := s.asked
	if line == "keep" {
		return s.keep(a)
	}
	words, err := split(p, line)
	if err != nil {
		return err
	}
	s.forgetLine()
	if err := s.legible(p, words); err != nil {
		return err
	}
	return s.take(a, p, words, false)
}

// split gives each field its text. A line with too few or too many is refused
// whole: no reading may slide into its neighbour's place.
func split(p Prompt, line string) ([]string, error) {
	if len(p.Fields) == 1 && p.Fields[0].Text {
		return []string{line}, nil
	}
	words := joinUnits(strings.Fields(line))
	if len(words) != len(p.Fields) {
		return nil, fmt.Errorf("%s wanted and %s typed\nhint: %s; - for one that was not read", numbered(len(p.Fields), "reading is", "readings are"), numbered(len(words), "was", "were"), typeText(p))
	}
	return words, nil
}

func numbered(n int, one, many string) string {
	if n == 1 {
		many = one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// joinUnits puts a unit that stands alone back to its number: "4.7 kΩ".
func joinUnits(words []string) []string {
	var out []string
	for _, w := range words {
		if len(out) > 0 && isUnit(w) && !isUnit(out[len(out)-1]) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// legible refuses the whole line when a word of it cannot be read at all, so
// that nothing counts before everything can be understood.
func (s *Session) legible(p Prompt, words []string) error {
	for n, f := range p.Fields {
		if err := s.readable(f, words[n]); err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	return nil
}

func (s *Session) readable(f Field, word string) error {
	switch {
	case f.Node == AtRepeat:
		f.Slot, f.Node = f.Repeat, ""
		return s.readable(f, word)
	case f.Slot < 0 && f.Node == atTool:
		return toolLetter(word)
	case f.Slot < 0:
		return plainVolts(word)
	}
	c := s.plan.Slots[f.Slot].Check
	switch c.Answer {
	case checks.Text:
		return nil
	case checks.Letter:
		if _, ok := choiceOf(c, word); !ok {
			return fmt.Errorf("%q is not one of its letters\nhint: %s", clip(word), letters(c))
		}
		return nil
	case checks.Found:
		_, err := found(c, word)
		return err
	}
	e, err := unit.ParseEntry(f.Kind, word)
	if err != nil || e.Form == unit.NotRead {
		return err
	}
	_, err = s.classify(f.Slot, e)
	if errors.Is(err, meter.ErrLive) {
		return nil // judged as the stop it is
	}
	return err
}

func plainVolts(word string) error {
	e, err := unit.ParseEntry(unit.KindVolt, word)
	if err == nil && e.Form != unit.Exact {
		return errors.New("a proof needs the volts themselves\nhint: the number the meter shows")
	}
	return err
}

func toolLetter(word string) error {
	if word == toolUsed || word == "n" {
		return nil
	}
	return fmt.Errorf("%q does not say whether the discharge tool was used\nhint: t it was, n it was not", clip(word))
}

func letters(c checks.Check) string {
	var out []string
	for _, x := range c.Choices {
		out = append(out, x.Key+" "+x.Words)
	}
	return strings.Join(out, ", ")
}

func choiceOf(c checks.Check, key string) (checks.Choice, bool) {
	i := slices.IndexFunc(c.Choices, func(x checks.Choice) bool { return x.Key == key })
	if i < 0 {
		return checks.Choice{}, false
	}
	return c.Choices[i], true
}

// take sends the words of a line one by one. What stands behind a stop is not
// used; what stands behind a query waits for its answer.
func (s *Session) take(a *Answered, p Prompt, words []string, kept bool) error {
	for n := 0; n < len(p.Fields); n++ {
		f := p.Fields[n]
		switch {
		case f.Node == AtRepeat:
			return s.repeat(a, f, words[n])
		case f.Slot < 0:
			return s.proveNodes(a, words[n:])
		}
		s.runDerived(a)
		switch {
		case s.Stopped():
			s.cut(a, words[n:])
			return nil
		case s.state.Queried: // of what is worked out between them
			s.pending = words[n:]
			return nil
		}
		if !kept && s.slips(f.Slot, words[n]) {
			return s.holdSlip(a, f, words[n:])
		}
		kept = false
		if err := s.takeOne(a, p.ID, f.Slot, words[n]); err != nil {
			s.cut(a, words[n+1:])
			return err
		}
		switch {
		case s.Stopped():
			s.cut(a, words[n+1:])
			return nil
		case s.state.Again:
			a.say("Once more", "after a stop that found no fault this must pass twice: read it again, by another meter or way.")
			s.cut(a, words[n+1:])
			return nil
		case s.state.Queried:
			s.pending = words[n+1:]
			return nil
		}
	}
	return nil
}

func (s *Session) cut(a *Answered, rest []string) {
	for _, w := range rest {
		a.record("not-used", "say", w)
	}
	if len(rest) > 0 {
		a.say("Not used", fmt.Sprintf("%d more readings of this line: read, not used.", len(rest)))
	}
}

// takeOne judges one word for slot i.
func (s *Session) takeOne(a *Answered, prompt string, i int, word string) error {
	slot := s.plan.Slots[i]
	if j := engine.Cursor(&s.plan.Engine, s.state); j != i {
		return fmt.Errorf("%s is not what is owed now", slot.ID)
	}
	if word == "-" {
		return s.leave(a, i)
	}
	switch slot.Check.Answer {
	case checks.Letter:
		c, _ := choiceOf(slot.Check, word)
		return s.put(a, Reading{Slot: i, Prompt: prompt, Raw: word, Verdict: c.Verdict, Reason: c.Words}, nil)
	case checks.Found:
		v, _ := found(slot.Check, word)
		return s.put(a, v.reading(i, prompt, word), nil)
	case checks.Text:
		if slot.Check.ID == "call" {
			s.alone = saysNobody(word)
		}
		return s.put(a, Reading{Slot: i, Prompt: prompt, Raw: word, Verdict: engine.Pass, Reason: "noted"}, nil)
	}
	return s.takeNumber(a, prompt, i, word)
}

// saysNobody tells whether an answer to who is within call names no one.
func saysNobody(text string) bool {
	first, rest, _ := strings.Cut(strings.ToLower(text), " ")
	second, _, _ := strings.Cut(rest, " ")
	switch strings.Trim(first, ".,;:-") {
	case "nobody", "none", "noone", "no-one", "alone", "nil", "0", "n", "":
		return true
	case "no":
		return second == "" || strings.Trim(second, ".,;:") == "one" || strings.HasPrefix(second, "body")
	}
	return false
}

func (s *Session) takeNumber(a *Answered, prompt string, i int, word string) error {
	slot := s.plan.Slots[i]
	e, err := unit.ParseEntry(slot.Check.Kind, word)
	if err != nil {
		return err
	}
	s.counts.Numbers++
	shown, err := s.classify(i, e)
	if errors.Is(err, meter.ErrLive) {
		return s.putLive(a, liveOnOhms(i, prompt, word))
	}
	if err != nil {
		return err
	}
	w, err := s.window(i)
	if err != nil {
		return fmt.Errorf("%s has no window yet: %w", slot.ID, err)
	}
	j := judge(w, shown, slot.Check.Crit)
	r := Reading{Slot: i, Prompt: prompt, Raw: word, Value: unit.Quantity{Kind: slot.Check.Kind, Value: shown.X}, Verdict: j.Verdict, Reason: j.Reason}
	return s.put(a, r, &judged{window: w, shown: shown})
}

// liveOnOhms is a reading below zero where only volts on the leads make one.
func liveOnOhms(i int, prompt, raw string) Reading {
	return Reading{Slot: i, Prompt: prompt, Raw: raw, Verdict: engine.Stop, Reason: "volts on an ohms range: something is charged or live"}
}

// putLive takes such a reading: it stops, and nothing that was proved dead before
// it is dead any more.
func (s *Session) putLive(a *Answered, r Reading) error {
	if err := s.put(a, r, nil); err != nil {
		return err
	}
	return s.step(engine.Event{Kind: engine.Prove, Verdict: engine.Stop})
}

// classify gives the entry as the slot's instrument means it. A reading without
// an instrument (a marking, a thermometer on the bench) stands for itself.
func (s *Session) classify(i int, e unit.Entry) (meter.Shown, error) {
	slot := s.plan.Slots[i]
	return classifyOn(slot.Meter, slot.Check.Function, e)
}

func classifyOn(m *sheet.Meter, f sheet.Function, e unit.Entry) (meter.Shown, error) {
	if m == nil {
		if e.Form != unit.Exact {
			return meter.Shown{}, errors.New("a number is wanted here")
		}
		return meter.Read(e.Value, 0), nil
	}
	return meter.Classify(m, f, e)
}

func (s *Session) leave(a *Answered, i int) error {
	slot := s.plan.Slots[i]
	if err := s.step(engine.Event{Kind: engine.Leave}); err != nil {
		return fmt.Errorf("%s guards you or the set, and was not read: %w\nhint: read it, or type park", slot.Check.Title, err)
	}
	s.counts.NotRead++
	a.record("not-read", "slot", slot.ID)
	a.say("Not read", slot.Check.Title+": counted as not read.")
	return nil
}

// slips tells whether a value without a second look would be a slip of ten or a
// thousand: dead, both ends of the window finite and near each other, the value
// outside, and inside after moving the decimal point. A slip towards danger on
// a live set is never waited for.
func (s *Session) slips(i int, word string) bool {
	slot := s.plan.Slots[i]
	if slot.Check.Answer != checks.Number || s.state.Supply.Energised() {
		return false
	}
	e, err := unit.ParseEntry(slot.Check.Kind, word)
	w, werr := s.window(i)
	if err != nil || werr != nil || e.Form != unit.Exact {
		return false
	}
	lo, hi := w.Pass.Lo, w.Pass.Hi
	if !(lo > 0 && hi < lo*10) || !(e.Value < w.Query.Lo || e.Value > w.Query.Hi) {
		return false
	}
	for _, k := range []float64{10, 100, 1000} {
		if up := e.Value * k; up >= lo && up <= hi {
			return true
		}
		if down := e.Value / k; down >= lo && down <= hi {
			return true
		}
	}
	return false
}

func (s *Session) holdSlip(a *Answered, f Field, words []string) error {
	slot := s.plan.Slots[f.Slot]
	e, _ := unit.ParseEntry(slot.Check.Kind, words[0])
	w, _ := s.window(f.Slot)
	s.slip, s.pending = words[0], words[1:]
	s.counts.Slips++
	s.tries[s.ask().ID]++
	a.record("not-counted", "slot", slot.ID, "say", words[0])
	a.say("Understood", unit.Words(unit.Quantity{Kind: slot.Check.Kind, Value: e.Value})+". NOT COUNTED YET, nothing corrected.")
	times := math.Max(e.Value/w.Pass.Hi, w.Pass.Lo/e.Value)
	a.say("Slip?", fmt.Sprintf("about %.2g times off what this set should give. Decimal point? Range? Right pin?", times))
	a.say("Do", "look at the meter again. Type what it shows with its unit, or keep if it truly shows that. Both entries stay on record.")
	return nil
}

// keep counts an entry that was held for a second look.
func (s *Session) keep(a *Answered) error {
	if s.slip == "" {
		return errors.New("nothing waits for a second look")
	}
	words := append([]string{s.slip}, s.pending...)
	s.slip, s.pending = "", nil
	return s.take(a, s.asked, words, true)
}

// isUnit tells whether a word is a unit that a space has parted from its number.
func isUnit(word string) bool {
	if word == "" || strings.ContainsAny(word[:1], "0123456789+-.,<>") {
		return false
	}
	for _, tail := range []string{"V", "Ω", "Ω", "ohm", "ohms", "A", "C", "s", "volts", "volt"} {
		if prefix, ok := strings.CutSuffix(word, tail); ok && len([]rune(prefix)) <= 1 {
			return true
		}
	}
	return false
}
