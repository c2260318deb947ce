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

// layout refuses stages that the program does not know, in another order, in
// another state of the supply or in another part.
func (p *Plan) layout() error {
	last := -1
	for _, s := range p.Procedure.Stages {
		at := slices.IndexFunc(stages, func(x stage) bool { return x.name == s.Stage })
		if at < 0 {
			return fmt.Errorf("%s: INV-48: nobody can say how the set stands in a stage %q\nhint: powerup list procedures names one that has them all", s.At.Below("stage"), s.Stage)
		}
		want := stages[at]
		part := s.Part
		if part == "" {
			part = "open"
		}
		switch {
		case s.Supply != want.supply:
			return fmt.Errorf("%s: INV-48: in stage %s the supply is %s, not %s\nhint: supply: %s", s.At.Below("supply"), s.Stage, want.supply, s.Supply, want.supply)
		case part != want.part:
			return fmt.Errorf("%s: INV-48: stage %s belongs to the part %s, not %s\nhint: part: %s", s.At.Below("part"), s.Stage, want.part, part, want.part)
		case at < last:
			return fmt.Errorf("%s: INV-09: stage %s stands behind stage %s\nhint: the work goes the other way round: %s, then %s", s.At.Below("stage"), s.Stage, stages[last].name, s.Stage, stages[last].name)
		}
		last = at
	}
	return nil
}

// homes are the stages of the checks that mean nothing with the set standing in
// another way, a leg free, valves out, just off after an hour, and of the holds
// that end a stage.
var homes = map[string]string{
	"coupling-capacitor": "openings", "speaker-insulation": "openings", "joint": "openings", "winding-insulation": "openings",
	"lamp-early": "transformer", "lamp-late": "transformer", "half-volts": "transformer", "core-warm": "transformer", "lamp-off": "transformer",
	"lamp-heaters": "heaters", "heater-volts": "heaters", "glow": "heaters", "heater-tap": "heaters",
	"ht-line": "dead-ht", "ht-leak-60": "dead-ht", "ht-leak": "dead-ht", "hold-1": "dead-ht",
	"lamp-fitted": "next-lamp", "hold-2": "lamp-out", "hold-box": "boxed", "cold-start-peak": "first-full",
	"grid-slope": "spot-checks", "ia-ratio": "spot-checks", "cathode-current": "spot-checks", "anode-dissipation": "spot-checks",
	"screen-dissipation": "spot-checks", "supply-line": "spot-checks", "smoothing-drop": "spot-checks", "cathode-slope": "soak", "core-end": "soak",
	"hot-primary": "warm", "winding-rise": "warm", "warm-insulation": "warm",
	"boxed-primary": "boxed", "boxed-insulation": "boxed", "boxed-bond": "boxed", "touch-current": "boxed-touch",
}

// madeHere refuses a check in a stage where the set is in another state than it
// is made in.
func (b *builder) madeHere(step sheet.Step, c checks.Check) error {
	if !suits(c, b.supply) {
		return fmt.Errorf("%s: INV-48: check %s is made on a set that is %s, not %s\nhint: put it in a stage with the supply %s", named(step, c.ID), c.ID, c.Supply, b.supply, c.Supply)
	}
	if home := homes[c.ID]; home != "" && home != b.stage.Stage {
		return fmt.Errorf("%s: INV-48: check %s is made as the set stands in stage %s, not %s\nhint: put it there", named(step, c.ID), c.ID, home, b.stage.Stage)
	}
	if b.stage.Part == "boxed" && homes[c.ID] == "" && c.ID != "lamp" {
		return fmt.Errorf("%s: INV-48: check %s needs hands or leads inside, and the set is boxed\nhint: put it in the open part", named(step, c.ID), c.ID)
	}
	return nil
}

// named is where a step names a check.
func named(step sheet.Step, id string) sheet.Place {
	if step.Check == id {
		return step.At.Below("check")
	}
	return step.At.Below("read")
}

// holdHere wants each of the program's own holds at the end of its stage: what
// stood behind it would not have been looked at when it was released.
func (b *builder) holdHere(at int) error {
	step := b.stage.Steps[at]
	switch home := homes[step.Hold]; {
	case home == "":
		return nil // the author's own
	case home != b.stage.Stage:
		return fmt.Errorf("%s: INV-01: %s is released at the end of stage %s, not in %s\nhint: put it there", step.At.Below("hold"), step.Hold, home, b.stage.Stage)
	case at != len(b.stage.Steps)-1:
		return fmt.Errorf("%s: INV-01: %s is released with steps of its stage still to come\nhint: it stands last", step.At.Below("hold"), step.Hold)
	}
	return nil
}

// suits tells whether a check is made in a state of the supply: with no HT yet,
// or with HT. Lamp volts are read in both.
func suits(c checks.Check, supply engine.Supply) bool {
	switch {
	case c.Supply == engine.Raised || c.Supply == engine.Full:
		return supply == engine.Raised || supply == engine.Full
	case c.ID == "lamp" && supply == engine.Raised:
		return true
	}
	return c.Supply == supply
}

// raises wants HT to come up by small steps, with the lamp in and again the
// first time that it is out, read and waited for at each.
func (p *Plan) raises() error {
	for _, s := range p.Procedure.Stages {
		if !p.has(s) {
			continue
		}
		from := unit.Percent(0)
		if s.Stage == "first-full" { // the lamp had let it come so far
			from = p.Lamps.Top - largestStep()
		}
		if (s.Stage == rampStage || s.Stage == "first-full") && len(s.Steps[0].Raise) == 0 {
			return fmt.Errorf("%s: INV-10: the stage does not begin with a raise\nhint: HT comes up step by step, from %s", s.Steps[0].At, from+largestStep())
		}
		for _, step := range s.Steps {
			if err := p.raise(s, step, from); err != nil {
				return err
			}
		}
	}
	return nil
}

func largestStep() unit.Percent { return unit.Percent(limits.Lookup("largest-step").Value.Value) }

func (p *Plan) raise(s sheet.Stage, step sheet.Step, from unit.Percent) error {
	if step.Cold != nil && *step.Cold < figure("cold-off") {
		return fmt.Errorf("%s: INV-47: off for %s, the set is still warm\nhint: %s at least", step.At.Below("cold"), step.Cold, figure("cold-off"))
	}
	if len(step.Raise) == 0 {
		return nil
	}
	top := unit.Percent(100)
	if s.Stage == rampStage {
		top = p.Lamps.Top
	}
	for _, r := range append(slices.Clone(step.Raise), top) {
		if r > from+largestStep() {
			return fmt.Errorf("%s: INV-10: %s is more than %s above what stands before it\nhint: a step at %s or below first", step.At.Below("raise"), r, largestStep(), from+largestStep())
		}
		from = r
		if r >= top {
			break
		}
	}
	switch {
	case step.Dwell == nil || *step.Dwell < figure("dwell"):
		return fmt.Errorf("%s: INV-10: each step of a raise is stayed at for %s at least\nhint: dwell: %s", step.At.Below("dwell"), figure("dwell"), figure("dwell"))
	case !slices.Contains(step.Read, "ht-reservoir"):
		return fmt.Errorf("%s: INV-10: this raise does not read HT1 at its steps\nhint: read: [ht-reservoir] at least", step.At.Below("read"))
	}
	return nil
}

func figure(id string) unit.Second { return unit.Second(limits.Lookup(id).Value.Value) }

// lateReadings are those that tell something only after a time.
var lateReadings = []struct{ stage, check, figure string }{
	{"transformer", "lamp-early", "lamp-early"},
	{"transformer", "lamp-late", "lamp-late"},
	{rampStage, "output-grid", "grid-wait"},
	{"first-full", "ht-reservoir", "settled"},
	{"spot-checks", "output-cathode", "settled"},
	{"spot-checks", "ht-smoothed", "settled"},
	{"spot-checks", "opt-volts", "settled"},
	{"soak", "output-cathode", "soak-60"},
}

// waits wants each of them in its stage, as late as that.
func (p *Plan) waits() error {
	for _, late := range lateReadings {
		for _, s := range p.Procedure.Stages {
			if s.Stage == late.stage && p.has(s) && !p.readLate(late.stage, late.check, figure(late.figure)) {
				return fmt.Errorf("%s: INV-35: %s is not read after %s or more\nhint: - {check: %s, after: [%s]}", s.At, late.check, figure(late.figure), late.check, figure(late.figure))
			}
		}
	}
	return nil
}

// slopes wants what a slope is worked out from read often enough in its stage,
// and over long enough.
func (p *Plan) slopes() error {
	few, span := int(limits.Lookup("slope-readings").Value.Value), figure("slope-span")
	for _, s := range p.Slots {
		from, ok := map[string]string{"grid-slope": "output-grid", "cathode-slope": "output-cathode"}[s.Check.ID]
		if !ok {
			continue
		}
		var at []unit.Second
		for _, r := range p.Slots {
			if r.Stage == s.Stage && r.Check.ID == from && !slices.Contains(at, r.After) {
				at = append(at, r.After)
			}
		}
		if len(at) < few || slices.Max(at)-slices.Min(at) < span {
			return fmt.Errorf("%s: INV-01: %s needs %d readings of %s in this stage, %s apart from first to last\nhint: - {check: %s, after: [60 s, 180 s, 300 s]}",
				p.placeOf(s.Stage), s.Check.ID, few, from, span, from)
		}
	}
	return nil
}

func (p *Plan) readLate(stage, check string, after unit.Second) bool {
	c, ok := checks.Find(check)
	return ok && len(p.items(c)) == 0 || slices.ContainsFunc(p.Slots, func(s Slot) bool {
		return s.Stage == stage && s.Check.ID == check && s.After >= after
	})
}
