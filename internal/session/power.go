package session

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/unit"
)

// promptPower tells how the set must stand before mains goes on, and waits for
// the one word.
func (s *Session) promptPower(b int) Prompt {
	block := s.plan.Blocks[b]
	if s.full {
		return s.promptRoom(block.ID)
	}
	p := Prompt{ID: "power", Block: block.ID, Word: "power"}
	if block.Cold > 0 {
		p.Rows = append(p.Rows, Row{"Off", coldText(block)})
		p.Waits = "the valves cool"
	}
	if block.Stands != "" {
		p.Rows = append(p.Rows, Row{"Set", block.Stands})
	}
	if block.Note != "" {
		p.Rows = append(p.Rows, Row{"Note", block.Note + " (the file's author; it overrides nothing)"})
	}
	if row, ok := s.leadRow(b); ok {
		p.Rows = append(p.Rows, row)
	}
	p.Rows = append(p.Rows, Row{"Lamp", s.lampText(block.Lamp != nil, b)})
	p.Rows = append(p.Rows, s.startRows()...)
	p.Rows = append(p.Rows, Row{"Off if", "smell, smoke, crackle, arcing, a glowing anode, a bright lamp that stays bright"})
	if s.alone {
		p.Word = alonePower
		p.Rows = append(p.Rows, Row{"Alone", "a cover lies over the chassis: nobody is there to help"})
	}
	p.Rows = append(p.Rows, Row{"Type", p.Word + ", when it stands as said above, all is clipped, hands are out and the set is on"})
	return p
}

// coldText says how long mains is off before a cold start.
func coldText(b plan.Block) string {
	return fmt.Sprintf("switch off now, for %g s: the next start is the first from cold at full mains", float64(b.Cold))
}

// alonePower also says, with nobody within call, that the chassis is covered
// (INV-26).
const alonePower = "power covered"

// leadRow says where the moving meter goes for the block.
func (s *Session) leadRow(b int) (Row, bool) {
	for _, slot := range s.plan.Slots {
		if slot.Block == b && slot.Letter != "" && slot.Check.Red != "" && slot.Check.Life != engine.Period && slot.Check.Answer == checks.Number && slot.Check.Supply.Energised() {
			c := slot.Check
			return Row{"Meter " + slot.Letter, fmt.Sprintf("%s; red on %s, black on %s, clipped on dead", c.Function, withItem(c.Red, slot.Item), withItem(c.Black, slot.Item))}, true
		}
	}
	return Row{}, false
}

// startRows say where the variable transformer stands as mains goes on. Left
// where the lamp had it, it would put the whole mains on cold valves.
func (s *Session) startRows() []Row {
	slot := s.plan.Slots[s.todo().Slot]
	if slot.Rung == 0 || slot.Rung == 100 && !s.raises(slot.Stage) {
		return nil
	}
	return []Row{{"Variable", "transformer at zero now; after power " + s.raiseText(slot.Rung)}}
}

// raises tells whether a stage has steps below the whole mains.
func (s *Session) raises(stage string) bool {
	for i, slot := range s.plan.Slots {
		if slot.Stage == stage && slot.Rung > 0 && slot.Rung < 100 && !s.state.Held.Has(i) {
			return true
		}
	}
	return false
}

// raiseText words a step of a raise.
func (s *Session) raiseText(rung unit.Percent) string {
	return fmt.Sprintf("up to %s at the set, %s of its tap, no further", show(unit.KindVolt, float64(s.plan.Model.Nominal)*float64(rung)/100), rung)
}

func (s *Session) lampText(in bool, b int) string {
	block := s.plan.Blocks[b]
	switch {
	case !in:
		return "out; whole mains on the set"
	case block.Supply == engine.Raised:
		return fmt.Sprintf("%s in; it carries this set to about %s", block.Lamp.Watts, show(unit.KindVolt, float64(s.plan.Lamps.Ceiling)))
	}
	return block.Lamp.Watts.String() + " in"
}

func (s *Session) answerPower(a *Answered, line string, b int) error {
	if s.full {
		return errNoRoom
	}
	asked := s.promptPower(b)
	if err := s.word(line, asked.Word); err != nil {
		return err
	}
	if err := s.step(engine.Event{Kind: engine.Power}); err != nil {
		return err
	}
	s.powerAt, s.rungAt, s.readAt, s.rung = s.now, s.now, s.now, 0
	s.period++
	s.shownHT = false
	a.record("power", append(declared(asked), "block", s.plan.Blocks[b].ID, "supply", s.state.Supply.String())...)
	return nil
}

// declared is what the one word has said of the set: valves, leads, lamp and
// cover stand as the prompt asked (INV-48).
func declared(asked Prompt) []string {
	var f []string
	for _, r := range asked.Rows {
		switch r.Label {
		case "Set", "Lamp", "Alone":
			f = append(f, strings.ToLower(r.Label), r.Text)
		}
	}
	return f
}

func (s *Session) promptRelease(i int) Prompt {
	slot := s.plan.Slots[i]
	rows := []Row{{"Hold", slot.Hold + ": everything before it is in. Look at the set once more, then at the list."}}
	if slot.Hold == "hold-2" {
		rows = append(rows, Row{"Then", "the lamp comes out: nothing limits a fault but the fuses"})
	}
	rows = append(rows, Row{"Alone", "the record will say: no witness"})
	return Prompt{ID: slot.Hold, Block: slot.Hold, Word: "release", Rows: append(rows, Row{"Type", "release, or park"})}
}

func (s *Session) answerRelease(a *Answered, line string, i int) error {
	if err := s.word(line, "release"); err != nil {
		return err
	}
	if err := s.step(engine.Event{Kind: engine.Free}); err != nil {
		return err
	}
	a.record("released", "hold", s.plan.Slots[i].Hold, "witness", "none")
	a.say("Released", s.plan.Slots[i].Hold+", no witness")
	return nil
}
