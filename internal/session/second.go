package session

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// secondHow is how a second reading is told (INV-23).
const secondHow = "second VALUE and how: by LETTER, another meter; later, five minutes on; way WORDS, another way; seen NAME, a second person"

// second takes a reading by another meter, later, another way, or that a second
// person has seen. It is kept beside the first, and agrees within a tenth.
func (s *Session) second(a *Answered, text string, i int) error {
	slot := s.plan.Slots[i]
	if slot.Check.Answer == checks.Derived {
		return errDerivedSecond
	}
	first := s.wrote[len(s.wrote)-1]
	value, how, err := s.secondOf(text, i, first)
	if err != nil {
		return err
	}
	with := slot.Meter
	if how.meter != nil {
		with = how.meter
	}
	e, err := unit.ParseEntry(slot.Check.Kind, value)
	if err != nil {
		return err
	}
	shown, err := classifyOn(with, slot.Check.Function, e)
	if errors.Is(err, meter.ErrLive) {
		return s.putLive(a, liveOnOhms(i, "second", value))
	}
	if err != nil {
		return err
	}
	k := s.caseOf(i)
	k.Meter = with
	w, err := s.windowFor(i, k)
	if err != nil {
		return err
	}
	j := judge(w, shown, slot.Check.Crit)
	a.record("second", "slot", slot.ID, "say", value, "how", how.words, "verdict", j.Verdict.String(), "of", strconv.Itoa(first.Number))
	if j.Verdict == engine.Stop {
		return s.put(a, Reading{Slot: i, Prompt: "second", Raw: value, Value: unit.Quantity{Kind: slot.Check.Kind, Value: shown.X}, Verdict: j.Verdict, Reason: j.Reason}, &judged{w, shown})
	}
	if !agree(first.Value.Value, shown.X, volts("second-agree")/100) {
		a.say("Differs", "the two readings do not agree: find out why before either counts.")
		return nil
	}
	if err := s.step(engine.Event{Kind: engine.Agree}); err != nil {
		return err
	}
	a.say("Agrees", "the second reading agrees; a cause may now answer for it.")
	return nil
}

// how a second reading was come by: words for the record, and another meter
// where it was one.
type how struct {
	words string
	meter *sheet.Meter
}

// secondOf parts the value from how it was come by, and refuses what is no
// second route.
func (s *Session) secondOf(text string, i int, first Reading) (string, how, error) {
	words := strings.Fields(text)
	at := slices.IndexFunc(words, func(w string) bool { return slices.Contains([]string{"by", "later", "way", "seen"}, w) })
	if at < 1 {
		return "", how{}, fmt.Errorf("%q does not tell value and way\nhint: %s", clip(text), secondHow)
	}
	value, rest := strings.Join(words[:at], " "), strings.Join(words[at+1:], " ")
	told := how{words: strings.Join(words[at:], " ")}
	switch words[at] {
	case "by":
		m, err := s.otherMeter(rest, i)
		told.meter = m
		return value, told, err
	case "later":
		if ready := first.mono + seconds("second-later"); s.now.Mono < ready {
			return "", told, fmt.Errorf("the first reading is not five minutes old\nhint: later counts from %s", s.now.plus(ready-s.now.Mono).clock())
		}
	case "way":
		if rest == "" {
			return "", told, errors.New("the other way is not told\nhint: way, and how it was measured")
		}
	case "seen":
		if rest == "" || strings.EqualFold(rest, s.operator()) {
			return "", told, errors.New("a second person is somebody else\nhint: seen, and who has read it too")
		}
	}
	return value, told, nil
}

// otherMeter is the sheet of a meter of the bench that did not take slot i.
func (s *Session) otherMeter(letter string, i int) (*sheet.Meter, error) {
	letter = strings.ToUpper(letter)
	if letter == s.plan.Slots[i].Letter {
		return nil, fmt.Errorf("meter %s has taken the first reading\nhint: %s", letter, secondHow)
	}
	for _, m := range s.plan.Bench.Meters {
		if m.Letter == letter {
			return s.plan.Meters[m.Sheet], nil
		}
	}
	return nil, fmt.Errorf("%q is no meter of this bench\nhint: %s", clip(letter), secondHow)
}

func agree(x, y, part float64) bool {
	d, m := x-y, (x+y)/2
	if d < 0 {
		d = -d
	}
	if m < 0 {
		m = -m
	}
	return d <= m*part
}
