package plan

import (
	"fmt"
	"slices"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// owing is what must be read, or released, before mains goes on in a supply.
type owing struct {
	supply engine.Supply
	ids    []string
}

// owedOpen is the first interlock (INV-01) for an open set: what guards a person
// comes before any mains, what gates HT before any HT, HT behind the lamp before
// the lamp comes out. The HT line at volts may lack: INV-55 makes up for it.
var owedOpen = []owing{
	{engine.Limited, []string{
		"rcd", "isolation", "discharge-tool", "lamp-cold", "meter-source", "leads", "call", "found-mains", "found-top", "found-under",
		"plug-fuse-mark", "set-fuse-mark",
		"primary-winding", "plug-fuse", "set-fuse", "live-path-on", "live-path-off", "neutral-path",
		"earth-bond", "mains-insulation", "socket-insulation", "tester-apart", "tester-joined", "hold-1",
	}},
	{engine.Raised, []string{
		"stamped-volts", "coupling-capacitor", "speaker-insulation", "joint", "ht-line", "cathode-resistor", "grid-leak",
		"output-transformer", "speech-coil", "electrodes", "lamp-early", "lamp-late", "lamp-off", "half-volts",
		"lamp-heaters", "heater-volts", "glow", "heater-tap", "lamp-fitted",
	}},
	{engine.Full, []string{"ht-reservoir", "output-grid", "output-cathode", "hold-2"}},
}

// owedBoxed is the same for a boxed set (INV-60).
var owedBoxed = []owing{
	{engine.Limited, []string{"rcd", "isolation", "discharge-tool", "lamp-cold", "meter-source", "leads", "call", "boxed-primary", "boxed-insulation", "boxed-bond", "tester-apart", "tester-joined", "hold-box"}},
	{engine.Full, []string{"lamp"}},
}

// owedAtEnd are the checks of class S and G that come when whole mains has been
// on, or that a kit may be unable to make: the set is not finished without them.
var owedAtEnd = map[bool][]string{
	false: {"ht-leak", "ht-smoothed", "opt-volts", "grid-slope", "ia-ratio", "supply-line", "cathode-slope", "warm-insulation", "cold-start-peak"},
	true:  {"touch-current"},
}

// complete refuses a plan that would put mains on the set without what must be
// known before: because the author left it out, or because this kit cannot
// measure it.
func (p *Plan) complete() error {
	table := owedOpen
	if p.Boxed {
		table = owedBoxed
	}
	for _, o := range table {
		first := slices.IndexFunc(p.Blocks, func(b Block) bool { return b.Supply >= o.supply })
		for _, id := range o.ids {
			if first >= 0 && p.applies(id) && !p.readBefore(id, first) {
				return p.incomplete(id, p.Blocks[first])
			}
		}
	}
	if !p.Boxed && !p.provesHT() { // INV-56
		return fmt.Errorf("%s: INV-56: the ramp never reads HT1 at %s of the tap or more, and hold 2 needs that\nhint: raise to 75 %% with the lamp in", p.placeOf(rampStage), limits.Lookup("two-sided").Value)
	}
	if second := p.secondFull(); second >= 0 && !p.Boxed && !p.readBefore("cold-start-peak", second) { // INV-47
		return fmt.Errorf("%s: INV-47: cold-start-peak does not stand before this stage\nhint: cold: %s, read: [cold-start-peak]", p.placeOf(p.Blocks[second].Stage), figure("cold-off"))
	}
	for _, id := range owedAtEnd[p.Boxed] {
		if p.applies(id) && !slices.Contains(p.Cannot, id) && !p.readBefore(id, len(p.Blocks)) {
			return fmt.Errorf("%s: INV-36: the procedure leaves out %s\nhint: %s", p.Procedure.At, id, onlyE)
		}
	}
	return nil
}

// provesHT tells whether HT1 is read, lamp in, where its window has two sides.
func (p *Plan) provesHT() bool {
	from := unit.Percent(limits.Lookup("two-sided").Value.Value)
	return slices.ContainsFunc(p.Slots, func(s Slot) bool {
		return !s.Look && s.Check.ID == "ht-reservoir" && p.Blocks[s.Block].Supply == engine.Raised && s.Rung >= from
	})
}

// secondFull is the first block of the second stage at whole mains, or -1.
func (p *Plan) secondFull() int {
	first := ""
	for b, block := range p.Blocks {
		switch {
		case block.Supply != engine.Full:
		case first == "":
			first = block.Stage
		case block.Stage != first:
			return b
		}
	}
	return -1
}

const onlyE = "an author may leave out class E checks only, and no hold"

// placeOf is where a stage stands in the file.
func (p *Plan) placeOf(stage string) sheet.Place {
	for _, s := range p.Procedure.Stages {
		if s.Stage == stage {
			return s.At
		}
	}
	return p.Procedure.At
}

func (p *Plan) incomplete(id string, before Block) error {
	if slices.Contains(p.Cannot, id) {
		return fmt.Errorf("INV-01: this kit cannot measure %s, and mains (%s) refuses without it\nhint: an instrument for it, named in the bench file; powerup list checks tells what each asks for", id, before.Supply)
	}
	return fmt.Errorf("%s: INV-01: %s does not stand before mains (%s)\nhint: %s", p.placeOf(before.Stage), id, before.Supply, onlyE)
}

// applies tells whether the set or the bench has what a check reads.
func (p *Plan) applies(id string) bool {
	c, ok := checks.Find(id)
	return !ok || len(p.items(c)) > 0
}

func (p *Plan) readBefore(id string, block int) bool {
	return slices.ContainsFunc(p.Slots, func(s Slot) bool {
		return s.Block < block && (s.Hold == id || s.Check.ID == id)
	})
}
