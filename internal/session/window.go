package session

import (
	"fmt"
	"math"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/unit"
)

// caseOf gathers what slot i's window is computed from, as things stand now.
func (s *Session) caseOf(i int) checks.Case {
	slot := s.plan.Slots[i]
	block := s.plan.Blocks[slot.Block]
	k := checks.Case{
		Set: s.plan.Set, Profile: s.plan.Profile, Bench: s.plan.Bench, Meter: slot.Meter, Model: s.plan.Model,
		Lamp: block.Lamp, Item: s.item(i), Rung: slot.Rung, Taken: s.taken(),
		TwoSided: slot.Rung >= twoSidedFrom(s.plan),
		Memory:   s.memory,
		Settled:  s.state.Supply.Energised() && s.now.Mono-s.rungAt.Mono >= seconds("settled"),
	}
	k.AtSet = s.atSet(slot)
	k.Mains = s.mainsRead
	return k
}

// atSet gives the volts at the set's primary for a reading of slot, 0 if nobody
// has read them: from this line, from the pass at the lamp box at the same rung,
// or from the outlet less what the lamp took in the pass before.
func (s *Session) atSet(slot plan.Slot) unit.Volt {
	if !s.state.Supply.Energised() {
		return 0
	}
	if v := s.setVolts(slot.Rung); v > 0 {
		return v
	}
	lamp, ok := s.valueOf(lampOf[slot.Stage])
	switch {
	case s.state.Supply == engine.Raised && s.oneMeter():
		return s.rungVolts[slot.Rung]
	case s.state.Supply == engine.Full && (slot.Rung == 0 || slot.Rung == 100):
		return s.mainsRead
	case s.state.Supply == engine.Limited && ok && s.mainsRead > 0:
		return s.mainsRead - unit.Volt(lamp.Value)
	}
	return 0
}

// lampOf is the lamp's volts in each stage where the lamp is not by-passed.
var lampOf = map[string]string{"transformer": "lamp-late", "heaters": "lamp-heaters"}

// twoSidedFrom is the step from which HT has a lower bound.
func twoSidedFrom(p *plan.Plan) unit.Percent {
	if v, ok := limits.ValveOf(p.Set.Rectifier); ok && v.Rectifier != nil && v.Rectifier.DirectlyHeated {
		return unit.Percent(limits.Lookup("two-sided-direct").Value.Value)
	}
	return unit.Percent(limits.Lookup("two-sided").Value.Value)
}

// window computes the window of slot i now. A rule that cannot be computed
// gives the zero window, which passes nothing.
func (s *Session) window(i int) (checks.Window, error) { return s.windowFor(i, s.caseOf(i)) }

func (s *Session) windowFor(i int, k checks.Case) (checks.Window, error) {
	slot := s.plan.Slots[i]
	if slot.Check.Rule == nil {
		return checks.Window{}, fmt.Errorf("%s has no window", slot.ID)
	}
	w, err := slot.Check.Rule(k)
	if err != nil {
		return w, err
	}
	return plan.Narrowed(w, slot.Narrow)
}

// expect says what slot i should read, which side is dangerous, and why.
func (s *Session) expect(i int) []Row {
	w, err := s.window(i)
	if err != nil {
		return []Row{{"Expect", "not known before the readings above: " + err.Error()}}
	}
	rows := []Row{{"Expect", Span(w.Kind, w.Pass)}}
	if text := dangerText(w); text != "" {
		rows = append(rows, Row{"Danger", text})
	}
	if w.Sum != "" {
		rows = append(rows, Row{"Why", w.Sum})
	}
	if w.Grade == checks.Typical {
		rows = append(rows, Row{"", "typical values: a query at most"})
	}
	return rows
}

// Span words an interval: "155 to 287 kΩ", "at most 12.3 V", "20 MΩ or more".
func Span(k unit.Kind, i checks.Interval) string {
	lo, hi := show(k, i.Lo), show(k, i.Hi)
	switch {
	case math.IsInf(i.Lo, -1) && math.IsInf(i.Hi, 1):
		return "any"
	case math.IsInf(i.Lo, -1), i.Lo == 0 && i.Hi > 0:
		return "at most " + hi
	case math.IsInf(i.Hi, 1):
		return lo + " or more"
	}
	a, b, _ := strings.Cut(lo, " ")
	if _, c, _ := strings.Cut(hi, " "); c == b && b != "" {
		lo = a
	}
	return lo + " to " + hi
}

func show(k unit.Kind, x float64) string {
	return unit.Round(unit.Quantity{Kind: k, Value: x}, 3).String()
}

// stopLines words the lines beyond which a reading of w stops; none for typical
// figures, which stop at the absolute lines only.
func stopLines(w checks.Window) []string {
	lines := w.Query
	if w.Grade == checks.Typical {
		lines = w.Stop
	}
	var out []string
	if (w.Danger == limits.Low || w.Danger == limits.Both) && !math.IsInf(lines.Lo, -1) {
		out = append(out, "under "+show(w.Kind, lines.Lo))
	}
	if (w.Danger == limits.High || w.Danger == limits.Both) && !math.IsInf(lines.Hi, 1) {
		out = append(out, "over "+show(w.Kind, lines.Hi))
	}
	return out
}

func dangerText(w checks.Window) string {
	lines := strings.Join(stopLines(w), " or ")
	if lines == "" {
		return ""
	}
	side := map[limits.Side]string{limits.Low: "LOW", limits.High: "HIGH", limits.Both: "BOTH SIDES"}[w.Danger]
	return side + ": " + lines + " is a STOP"
}

// dangerWords is dangerText for a line of many: "; STOP under 111 kΩ".
func dangerWords(w checks.Window) string {
	lines := strings.Join(stopLines(w), " or ")
	if lines == "" {
		return ""
	}
	return "; STOP " + lines
}

// htBound is the highest HT there can be now: the caution shows this, never the
// last reading. On a ramp that goes as it should it is that of the rung which is
// asked for, or of more volts at the set if more were read.
func (s *Session) htBound() unit.Volt {
	top := s.plan.Model.NoLoadHT(s.plan.Profile.MainsTop)
	rung := max(s.rung, s.owedRung())
	if s.state.Supply != engine.Raised || s.state.Mode != engine.Working || s.rung == 0 {
		return top
	}
	set := max(unit.Volt(float64(s.plan.Model.Nominal)*float64(rung)/100), s.setVolts(s.rung))
	if v, err := s.plan.Model.ValvesCold(set); err == nil {
		return v
	}
	return top
}

// owedRung is the step of a raise that is asked for now, 0 if none is.
func (s *Session) owedRung() unit.Percent {
	if todo := s.todo(); todo.Act == engine.Enter || todo.Act == engine.Resolve {
		return s.plan.Slots[todo.Slot].Rung
	}
	return 0
}
