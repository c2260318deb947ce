package plan

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// New makes the plan, or says why this set cannot be worked on with this
// procedure at this bench.
func New(in Inputs) (*Plan, error) {
	profile, ok := limits.ProfileOf(in.Set.Mains.Profile)
	if !ok {
		return nil, fmt.Errorf("profile %q is not known\nhint: uk or eu", in.Set.Mains.Profile)
	}
	if in.Set.Construction != in.Procedure.For.Construction {
		return nil, fmt.Errorf("%s: procedure %s is for a %s set, and this set is %s\nhint: treat a set of unknown construction as live chassis; it cannot be energised with this program yet",
			in.Procedure.For.At.Below("construction"), in.Procedure.Name, in.Procedure.For.Construction, in.Set.Construction)
	}
	p := &Plan{Inputs: in, Profile: profile}
	if err := p.layout(); err != nil {
		return nil, err
	}
	model, typical, err := circuit.FromSheet(in.Set, profile, nil)
	if err != nil {
		return nil, fmt.Errorf("the HT supply cannot be computed from this sheet: %w", err)
	}
	p.Model, p.Typical = model, typical
	for _, make := range []func() error{p.fit, p.chooseLamps, p.unroll, p.narrow, p.complete, p.raises, p.waits, p.slopes} {
		if err := make(); err != nil {
			return nil, err
		}
	}
	p.notAtVolts()
	p.classes()
	return p, p.link()
}

// unroll goes through the author's stages and lays each out for this kit.
func (p *Plan) unroll() error {
	k := kitOf(p.Bench)
	for _, stage := range p.Procedure.Stages {
		if !p.has(stage) {
			continue
		}
		supply, ok := supplies[stage.Supply]
		if !ok {
			return fmt.Errorf("%s: supply %q is not known", stage.At, stage.Supply)
		}
		b := builder{p: p, k: k, stage: stage, supply: supply}
		if err := b.layOut(); err != nil {
			return err
		}
	}
	if len(p.Slots) > engine.MaxSlots {
		return fmt.Errorf("%s: the procedure unrolls to %d readings\nhint: at most %d", p.Procedure.At, len(p.Slots), engine.MaxSlots)
	}
	return nil
}

// has tells whether a stage belongs to the part that is planned.
func (p *Plan) has(stage sheet.Stage) bool {
	return stage.Part == "both" || (stage.Part == "boxed") == p.Boxed
}

var supplies = map[string]engine.Supply{
	"unknown": engine.Unknown, "dead": engine.Dead, "limited": engine.Limited,
	"raised": engine.Raised, "full": engine.Full,
}

// builder lays out one stage.
type builder struct {
	p      *Plan
	k      kit
	stage  sheet.Stage
	supply engine.Supply
	first  string // spot of an energised stage's first pass
}

func (b *builder) layOut() error {
	if b.supply.Energised() {
		return b.live()
	}
	return b.dead()
}

// reading is a check with its item before it has a place in the order.
type reading struct {
	check  checks.Check
	item   string
	after  unit.Second
	narrow *sheet.Narrower
}

// readings gives a step's readings on this set, none where the set has no such
// part.
func (b *builder) readings(step sheet.Step, id string) ([]reading, error) {
	c, ok := checks.Find(id)
	if !ok {
		return nil, fmt.Errorf("%s: INV-38: check %q is not in the catalogue\nhint: powerup list checks", named(step, id), id)
	}
	if err := b.madeHere(step, c); err != nil {
		return nil, err
	}
	items := b.p.items(c)
	if !b.p.canMake(b.k, c) {
		b.p.Cannot = append(b.p.Cannot, id)
		items = nil
	}
	afters := step.After
	if len(afters) == 0 {
		afters = []unit.Second{0}
	}
	var out []reading
	for _, item := range items {
		for _, after := range afters {
			out = append(out, reading{check: c, item: item, after: after, narrow: step.Narrower})
		}
	}
	return out, nil
}

// items are what a check is made on at this set and bench, each once; none
// where there is no such part.
func (p *Plan) items(c checks.Check) []string {
	switch c.ID {
	case "rcd":
		return onlyIf(p.Bench.RCD, "")
	case "isolation":
		if p.Bench.Isolating == "" {
			return nil
		}
	case "meter-source":
		return p.letters()
	case "leads":
		return []string{kitOf(p.Bench).moving}
	case "lamp-cold":
		if p.Boxed {
			return []string{p.Lamps.Ramp.Watts.String()}
		}
		return []string{p.Lamps.First.Watts.String()}
	case "lamp-fitted":
		return onlyIf(p.Lamps.Change, p.Lamps.Ramp.Watts.String())
	}
	if c.Items == nil {
		return []string{""}
	}
	return c.Items(p.Set)
}

func onlyIf(there bool, item string) []string {
	if !there {
		return nil
	}
	return []string{item}
}

func (p *Plan) letters() []string {
	var out []string
	for _, m := range p.Bench.Meters {
		out = append(out, m.Letter)
	}
	return out
}

// canMake tells whether the bench has the instrument that a check asks for.
func (p *Plan) canMake(k kit, c checks.Check) bool {
	switch c.Function {
	case "":
		return true
	case sheet.Thermo:
		return p.Bench.Thermometer
	case sheet.Touch: // never one profile's limit on another's network (INV-59)
		if p.Bench.Touch != p.Profile.ID || p.Bench.Isolating != "" { // INV-33: behind one it would read nothing
			return false
		}
	}
	m := p.meter(p.letterFor(k, c.ID, k.moving, c.Function))
	if m == nil {
		return false
	}
	_, ok := m.Span(c.Function)
	return ok
}

// slotID joins a check with its item, rung and time.
func slotID(r reading, rung unit.Percent) string {
	var s strings.Builder
	s.WriteString(r.check.ID)
	if r.item != "" {
		s.WriteString("@" + strings.ReplaceAll(r.item, " ", "-"))
	}
	if rung > 0 {
		fmt.Fprintf(&s, "#%g", float64(rung))
	}
	if r.after > 0 {
		fmt.Fprintf(&s, "@%gs", float64(r.after))
	}
	return s.String()
}
