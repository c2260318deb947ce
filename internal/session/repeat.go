package session

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"strconv"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// A blind repeat is one reading of a stage read again at the end of a line, with
// nothing shown of what it was: whoever invents numbers, or reads another point
// than the one asked for, seldom invents the same twice. It costs no line.

// AtRepeat is the Node of a field that reads a slot again.
const AtRepeat = "again"

// repeats chooses for each stage a line and the slot that is read again at its end:
// where the meter across the reservoir was turned to a.c. HT1, which shows that it is
// back on d.c. before it watches. Otherwise the choice follows from the kind of set,
// so that a replay makes the same, and another kind another.
func repeats(p *plan.Plan) map[int]int {
	type at struct{ line, slot int }
	found, watched := map[string][]at{}, map[string]at{}
	var stages []string
	for n, line := range p.Lines {
		stage := p.Slots[line.Slots[0]].Stage
		if j, ok := backOnDC(p, line); ok {
			watched[stage] = at{n, j}
		}
		for _, j := range again(p, n) {
			if found[stage] == nil {
				stages = append(stages, stage)
			}
			found[stage] = append(found[stage], at{n, j})
		}
	}
	chosen := map[int]int{}
	for _, one := range watched {
		chosen[one.line] = one.slot
	}
	for _, stage := range stages {
		if _, ok := watched[stage]; ok {
			continue
		}
		h := fnv.New32a()
		fmt.Fprintln(h, p.Set.Rectifier, p.Set.Valves, p.Set.Mains.Taps, stage)
		one := found[stage][h.Sum32()%uint32(len(found[stage]))]
		chosen[one.line] = one.slot
	}
	return chosen
}

// backOnDC is HT1 on a line that reads ripple too.
func backOnDC(p *plan.Plan, line plan.Line) (slot int, ok bool) {
	ripple := func(i int) bool { return p.Slots[i].Check.ID == "ripple" }
	ht := slices.IndexFunc(line.Slots, func(i int) bool { return slices.Contains(atReservoir, p.Slots[i].Check.ID) })
	if ht < 0 || !slices.ContainsFunc(line.Slots, ripple) {
		return 0, false
	}
	return line.Slots[ht], true
}

// again are the slots that may be read again at the end of a line of more than one
// reading: its own, whose leads are at hand.
func again(p *plan.Plan, n int) []int {
	line := p.Lines[n]
	for _, i := range line.Slots {
		if c := p.Slots[i].Check; p.Engine.Slots[i].Charges != 0 || p.Slots[i].Hold != "" || c.Answer != checks.Number && c.Answer != checks.Derived {
			return nil
		}
	}
	var out []int
	for _, j := range line.Slots {
		if len(line.Slots) > 1 && steady(p, j) {
			out = append(out, j)
		}
	}
	return out
}

// steady tells whether a reading stays what it is while a line is read: neither
// timed nor of a winding that cools.
func steady(p *plan.Plan, j int) bool {
	slot := p.Slots[j]
	c := slot.Check
	ranged := c.Function == sheet.OhmsF || c.Function == sheet.DCVolts || c.Function == sheet.ACVolts
	return ranged && slot.Meter != nil && c.Answer == checks.Number && c.Life > engine.Period && slot.After == 0 &&
		!slot.Look && !slices.Contains(unsteady, c.ID) && p.Engine.Slots[j].Charges == 0
}

// unsteady are checks whose readings move by themselves, show OL on a sound set or
// the last digit on all of them, prove a meter rather than the set, or would leave
// the meter that watches HT on a.c.
var unsteady = []string{"lamp", "lamp-cold", "hot-primary", "meter-source", "leads", "ht-line-kick", "ht-line-60", "ht-line", "electrodes", "live-path-off", "joint", "ripple"}

// repeatField is what is read again at the end of the line that slot i is on, once
// in a session.
func (s *Session) repeatField(i int) (Field, bool) {
	line := s.plan.Slots[i].Line
	j, ok := s.repeats[line]
	if !ok || s.repeated[j] || s.state.Unread.Has(j) || s.absent(j) {
		return Field{}, false
	}
	c := s.plan.Slots[j].Check
	return Field{Name: fieldName(c, s.item(j)) + " again", Kind: c.Kind, Slot: -1, Node: AtRepeat, Repeat: j}, true
}

// repeat holds a reading that was made again against the first. Where the two do
// not agree nobody knows which is right, and the first is taken back.
func (s *Session) repeat(a *Answered, f Field, word string) error {
	slot := s.plan.Slots[f.Repeat]
	s.repeated[f.Repeat] = true
	first, held := s.newest(f.Repeat)
	if word == "-" || !held {
		a.record("repeat", "slot", slot.ID, "say", word, "verdict", "not-read")
		s.counts.NotAgain++
		return nil
	}
	s.counts.Numbers++
	if s.sameAgain(f.Repeat, first.Raw, word) {
		a.record("repeat", "slot", slot.ID, "say", word, "verdict", "agrees", "of", strconv.Itoa(first.Number))
		s.counts.Again++
		s.shownHT = s.shownHT || s.state.Supply.Energised() && slices.Contains(atReservoir, slot.Check.ID) && first.Value.Value > volts("still-charged")
		return nil
	}
	before := s.state.Held
	a.record("repeat", "slot", slot.ID, "say", word, "verdict", "differs", "of", strconv.Itoa(first.Number))
	s.counts.Differ++
	if err := s.takeBack(f.Repeat); err != nil {
		return err
	}
	a.say("Not the same", fmt.Sprintf("%s read %s (entry %d), and again %s: neither counts. Look at range, leads and point, and read it anew.", fieldName(slot.Check, s.item(f.Repeat)), first.Raw, first.Number, word))
	s.tellLost(a, before)
	return nil
}

// newest is the newest reading of a held slot.
func (s *Session) newest(i int) (Reading, bool) {
	if !s.state.Held.Has(i) {
		return Reading{}, false
	}
	for _, r := range slices.Backward(s.wrote) {
		if r.Slot == i {
			return r, true
		}
	}
	return Reading{}, false
}

// sameAgain tells whether two displays can be one value: within both errors, and on
// a live set within what mains may have moved between them.
func (s *Session) sameAgain(i int, one, other string) bool {
	k := s.plan.Slots[i].Check.Kind
	var x, u [2]float64
	for n, text := range []string{one, other} {
		e, err := unit.ParseEntry(k, text)
		if err != nil {
			return false
		}
		if e.Form != unit.Exact {
			return one == other
		}
		shown, err := s.classify(i, e)
		if err != nil {
			return false
		}
		x[n], u[n] = shown.X, shown.U
	}
	room := u[0] + u[1]
	if s.state.Supply.Energised() {
		room += volts("outlet-agree") / 100 * math.Max(math.Abs(x[0]), math.Abs(x[1]))
	}
	return math.Abs(x[0]-x[1]) <= room
}

// repeats counts what was read again.
func (c Counts) repeats() string {
	if c.Again+c.Differ+c.NotAgain == 0 {
		return ""
	}
	return fmt.Sprintf("%d agreed, %d differed, %d left", c.Again, c.Differ, c.NotAgain)
}
