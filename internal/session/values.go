package session

import (
	"math"
	"slices"
	"strconv"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/unit"
)

// value is what a held reading has shown, for the windows that follow from it.
type value struct {
	slot    int
	at      time.Duration // when it was read, by this session's clock; before: negative
	period  int           // which time that mains was on, counted through the record
	minutes int           // of the energised time at full mains; -1: not in one of a series
	q       unit.Quantity
}

// step sends an event to the engine and keeps the state that follows. What is no
// longer held has no value either: no window may follow from it.
func (s *Session) step(e engine.Event) error {
	before := s.state.Held
	n, err := engine.Step(&s.plan.Engine, s.state, e)
	s.state = n
	lost := before.Without(n.Held)
	s.drop(func(v value) bool { return lost.Has(v.slot) })
	return err
}

// forgetTimes: the clock that told when the values were read has stopped.
func (s *Session) forgetTimes() {
	s.values = slices.Clone(s.values)
	for i := range s.values {
		s.values[i].at = -1
	}
}

func (s *Session) drop(lost func(value) bool) {
	s.values, s.byCheck = slices.DeleteFunc(slices.Clone(s.values), lost), nil
}

// remember makes the value of a held reading available to the windows that
// follow.
func (s *Session) remember(r Reading) {
	slot := s.plan.Slots[r.Slot]
	if !s.state.Held.Has(r.Slot) || slot.Check.Answer != checks.Number && slot.Check.Answer != checks.Derived {
		return
	}
	if set := s.atSet(slot); slot.Check.ID == "half-volts" && set > 0 {
		r.Value.Value *= float64(s.plan.Model.Nominal / set) // kept as brought to tap volts
	}
	v := value{slot: r.Slot, at: r.mono, period: s.period, minutes: -1, q: r.Value}
	if slot.After > 0 && s.state.Supply == engine.Full { // a late reading counts with its own time
		v.minutes = int(math.Round((r.mono - s.powerAt.Mono).Minutes()))
	}
	s.drop(func(old value) bool { return old.slot == r.Slot })
	s.values, s.byCheck = append(s.values, v), nil
	s.seenLive(slot, v)
}

// seenLive keeps what a reading with mains on tells of the supply.
func (s *Session) seenLive(slot plan.Slot, v value) {
	if !s.state.Supply.Energised() {
		return
	}
	s.readAt = s.now
	if slot.Rung > 0 && slot.Rung != s.rung {
		s.rung, s.rungAt = slot.Rung, s.now
	}
	if slices.Contains(atReservoir, slot.Check.ID) && v.q.Value > volts("still-charged") {
		s.shownHT = true
	}
	if slot.Check.ID == "ripple" { // the same meter, turned to a.c.: left so, it falls to nothing whatever is charged
		s.shownHT = false
	}
	set := s.setVolts(slot.Rung)
	switch id := slot.Check.ID; {
	case id == "set-volts" && s.state.Supply == engine.Raised:
		s.rungVolts[slot.Rung] = set
	case id == "set-volts" && s.state.Supply == engine.Full && slot.Rung == 100:
		s.mainsIs(set)
	case (id == "lamp-early" || id == "lamp-heaters") && set > 0: // read on one line with the volts at the set
		s.mainsIs(set + unit.Volt(v.q.Value))
	}
}

// atReservoir are the readings that show HT on the meter that stands there.
var atReservoir = []string{"ht-reservoir", "cold-start-peak"}

// setVolts gives the volts at the set's primary as read in this energised time
// at a rung, 0 if nobody has read them there.
func (s *Session) setVolts(rung unit.Percent) unit.Volt {
	for _, v := range slices.Backward(s.values) {
		if slot := s.plan.Slots[v.slot]; slot.Check.ID == "set-volts" && slot.Rung == rung {
			return unit.Volt(v.q.Value)
		}
	}
	return 0
}

// taken are the values of held readings by check[@item]. Neither a look through
// the lamp nor a later pass of the ramp stands for full mains.
func (s *Session) taken() map[string]unit.Quantity {
	if s.byCheck == nil {
		s.byCheck = s.gathered()
	}
	return s.byCheck
}

// series tells by check[@item] in which time that mains was on most of its timed
// readings were made, the newest of equal ones: a slope counts within that time alone.
func (s *Session) series() map[string]int {
	type in struct {
		key    string
		period int
	}
	count, most := map[in]int{}, map[string]int{}
	for _, v := range s.values { // oldest first
		if v.minutes < 0 {
			continue
		}
		at := in{keyOf(s.plan.Slots[v.slot]), v.period}
		if count[at]++; count[at] >= count[in{at.key, most[at.key]}] {
			most[at.key] = at.period
		}
	}
	return most
}

func (s *Session) gathered() map[string]unit.Quantity {
	out, series := map[string]unit.Quantity{}, s.series()
	for _, rank := range []int{looked, ramped, counts} {
		for _, v := range s.values {
			slot := s.plan.Slots[v.slot]
			if s.rankOf(slot) != rank {
				continue
			}
			key := keyOf(slot)
			out[key] = v.q
			if slot.Rung > 0 {
				out[key+"#"+strconv.FormatFloat(float64(slot.Rung), 'g', -1, 64)] = v.q
			}
			if v.minutes >= 0 && v.period == series[key] {
				out[checks.TimedSlot(key, v.minutes)] = v.q
			}
		}
	}
	return out
}

// The ranks of a reading among those of one check: the last counts most.
const (
	looked = iota
	ramped
	counts
)

func (s *Session) rankOf(slot plan.Slot) int {
	switch {
	case slot.Look:
		return looked
	case s.plan.Blocks[slot.Block].Supply == engine.Raised:
		return ramped
	}
	return counts
}

func keyOf(slot plan.Slot) string {
	if slot.Item == "" {
		return slot.Check.ID
	}
	return slot.Check.ID + "@" + slot.Item
}

// valueOf gives the value of a held reading.
func (s *Session) valueOf(key string) (unit.Quantity, bool) {
	q, ok := s.taken()[key]
	return q, ok
}

// forgetSupply drops what was known of today's mains and of the variable
// transformer's scale.
func (s *Session) forgetSupply() {
	s.rungVolts, s.mainsRead = map[unit.Percent]unit.Volt{}, 0
}
