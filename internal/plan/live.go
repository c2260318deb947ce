package plan

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// rungReading is a reading at a rung of a raise; rung 0 is outside one.
type rungReading struct {
	reading
	rung unit.Percent
	look bool
}

// pass is one lead position with all its readings, before it becomes blocks.
type pass struct {
	spot     string
	cold     unit.Second
	readings []rungReading
}

// live lays out an energised stage: one pass for each lead position, in the
// order in which the author first asks for it.
func (b *builder) live() error {
	var passes []pass
	var loose []rungReading
	for _, step := range b.stage.Steps {
		rs, err := b.stepReadings(step)
		if err != nil {
			return err
		}
		if step.Cold != nil {
			passes = append(passes, pass{spot: spotOf(rs[0].check.ID, rs[0].item), cold: *step.Cold, readings: rs})
			continue
		}
		for _, r := range rs {
			spot := spotOf(r.check.ID, r.item)
			if spot == byEye || (spot == atLampBox && !b.k.one()) || r.check.Answer == checks.Derived {
				loose = append(loose, r)
				continue
			}
			if spot == atLampBox && r.check.Life == engine.Period {
				r.check = owedAsHT(r.check)
			}
			passes = place(passes, spot, r)
		}
	}
	passes = b.spread(passes, loose)
	passes = b.look(passes)
	b.first = passes[0].spot
	for _, ps := range passes {
		b.block(ps)
	}
	return nil
}

// owedAsHT is a check of the lamp's volts that no reading of the set goes with: a
// single meter reads them in a pass of their own, which nobody would owe otherwise.
// It falls with what HT falls with.
func owedAsHT(c checks.Check) checks.Check {
	if ht, ok := checks.Find("ht-reservoir"); ok {
		c.Life, c.Void = ht.Life, ht.Void
	}
	return c
}

// place adds a reading to the last pass at its spot, or opens one.
func place(passes []pass, spot string, r rungReading) []pass {
	for i := len(passes) - 1; i >= 0; i-- {
		if passes[i].spot == spot {
			passes[i].readings = append(passes[i].readings, r)
			return passes
		}
	}
	return append(passes, pass{spot: spot, readings: []rungReading{r}})
}

func (b *builder) stepReadings(step sheet.Step) ([]rungReading, error) {
	if len(step.Read) == 0 {
		if step.Check == "" {
			return nil, fmt.Errorf("%s: INV-10: nothing is read here\nhint: read: [ht-reservoir] at least", step.At)
		}
		rs, err := b.readings(step, step.Check)
		out := make([]rungReading, 0, len(rs))
		for _, r := range rs {
			if r.check.Life == engine.Period { // asked for by itself, it is owed by itself
				r.check.Life = engine.Session
			}
			out = append(out, rungReading{reading: r, rung: b.standingRung()})
		}
		return out, err
	}
	rungs := b.rungs(step.Raise)
	if step.Cold != nil {
		rungs = []unit.Percent{b.standingRung()}
	}
	var out []rungReading
	for _, id := range step.Read {
		rs, err := b.readings(step, id)
		if err != nil {
			return nil, err
		}
		for _, rung := range rungs {
			if !atEveryRung(id) && rung < rungs[len(rungs)-1] && b.supply == engine.Raised {
				continue // a later pass owes entries only at the top step
			}
			for _, r := range rs {
				out = append(out, rungReading{reading: r, rung: rung})
			}
		}
	}
	return out, nil
}

// atEveryRung tells what a ramp reads at each rung, wherever it stands in the
// author's list.
func atEveryRung(id string) bool { return id == "lamp" || id == "ht-reservoir" }

// standingRung is the volts at which a reading outside a raise is taken.
func (b *builder) standingRung() unit.Percent {
	switch b.supply {
	case engine.Full:
		return 100
	case engine.Raised:
		return b.p.Lamps.Top
	}
	return 0
}

// rungs are the steps of a raise that the lamp in series lets the set reach.
func (b *builder) rungs(raise []unit.Percent) []unit.Percent {
	if b.supply != engine.Raised {
		return raise
	}
	var out []unit.Percent
	for _, r := range raise {
		if r <= b.p.Lamps.Top {
			out = append(out, r)
		}
	}
	return out
}

// spread gives the readings that need no lead in the set to a pass: what comes
// within the first minute to the first, everything later to the last; lamp
// volts of a rung go with every line of that rung.
func (b *builder) spread(passes []pass, loose []rungReading) []pass {
	if len(passes) == 0 {
		passes = []pass{{spot: atLampBox}}
	}
	for _, r := range loose {
		if r.check.ID == "lamp" && b.supply == engine.Raised {
			continue // rides along, see withMains
		}
		to := len(passes) - 1
		if r.after > 0 && r.after <= 60 {
			to = 0
		}
		passes[to].readings = append(passes[to].readings, r)
	}
	for i := range passes {
		b.joinLast(passes[i].readings)
		slices.SortStableFunc(passes[i].readings, func(x, y rungReading) int {
			return cmp.Or(cmp.Compare(x.rung, y.rung), cmp.Compare(b.due(x), b.due(y)))
		})
	}
	return passes
}

// joinLast lets readings without a time of their own share the last line of the
// pass: what needs no lead, and on a transformer that idles everything.
func (b *builder) joinLast(rs []rungReading) {
	var last unit.Second
	for _, r := range rs {
		last = max(last, r.after)
	}
	for i, r := range rs {
		free := spotOf(r.check.ID, r.item) == byEye || b.supply == engine.Limited
		if r.after == 0 && free && r.check.Answer != checks.Derived {
			rs[i].after = last
		}
	}
}

// due is when a reading is taken after switch-on; readings without a time of
// their own come with the first that has one, the opening of the set's switch
// and what is derived last.
func (b *builder) due(r rungReading) unit.Second {
	switch {
	case r.check.Answer == checks.Derived:
		return 1e9
	case r.check.ID == "lamp-off":
		return 1e8
	}
	return r.after
}

// look ends a ramp with the line that every later session gives anew: one look
// through the lamp at the top step.
func (b *builder) look(passes []pass) []pass {
	if b.supply != engine.Raised {
		return passes
	}
	c, ok := checks.Find("ht-reservoir")
	if !ok {
		return passes
	}
	return append(passes, pass{spot: "ht-reservoir", readings: []rungReading{
		{reading: reading{check: c}, rung: b.p.Lamps.Top, look: true},
	}})
}

// block turns a pass into lines. The block goes on from the one before where
// leads and supply are the same and nothing asks for a cold start.
func (b *builder) block(ps pass) {
	lamp := b.lamp()
	n := len(b.p.Blocks) - 1
	same := n >= 0 && b.p.Blocks[n].Spot == ps.spot && b.p.Blocks[n].Supply == b.supply && ps.cold == 0 && !ps.looks()
	if !same {
		id := fmt.Sprintf("%s/%s", b.stage.Stage, ps.spot)
		n = b.p.addBlock(Block{
			ID: id, Stage: b.stage.Stage, Stands: standsIn(b.stage.Stage), Note: b.stage.Note, Supply: b.supply, Lamp: lamp,
			Spot: ps.spot, Cold: ps.cold, Watch: b.supply != engine.Limited && (ps.spot == "ht-reservoir" || b.k.watch != ""),
		})
	}
	var last rungReading
	for i, r := range ps.readings {
		if i == 0 || r.rung != last.rung || (r.after != last.after && b.due(r) < 1e9) || (b.due(r) == 1e8) {
			b.p.Lines = append(b.p.Lines, Line{ID: b.lineID(ps, r), Wait: b.wait(ps, r, i == 0 || r.rung != last.rung)})
			if i == 0 || r.rung != last.rung || r.after-last.after > 300 {
				b.withMains(r, n)
			}
		}
		b.addLive(r, n)
		last = r
	}
}

func (ps pass) looks() bool { return len(ps.readings) == 1 && ps.readings[0].look }

func (b *builder) lamp() *circuit.Lamp {
	switch b.supply {
	case engine.Limited:
		if b.p.Boxed {
			return &b.p.Lamps.Ramp
		}
		return &b.p.Lamps.First
	case engine.Raised:
		return &b.p.Lamps.Ramp
	}
	return nil
}

func (b *builder) lineID(ps pass, r rungReading) string {
	id := b.stage.Stage + "/" + ps.spot
	if r.look {
		id = b.stage.Stage + "/look"
	}
	if ps.cold > 0 {
		id = b.stage.Stage + "/cold-start"
	}
	if r.rung > 0 && b.supply != engine.Full {
		id += fmt.Sprintf("#%g", float64(r.rung))
	}
	if r.rung > 0 && r.rung < 100 && b.supply == engine.Full {
		id += fmt.Sprintf("#%g", float64(r.rung))
	}
	if r.after > 0 {
		id += fmt.Sprintf("@%gs", float64(r.after))
	}
	return id
}

// wait is the time before a line: its own, or the dwell of a new rung; at a rung
// that an earlier pass has been to, the time a meter needs to settle.
func (b *builder) wait(ps pass, r rungReading, newRung bool) unit.Second {
	if r.after > 0 {
		return r.after
	}
	if b.supply == engine.Raised && (ps.spot != b.first || r.look) {
		return unit.Second(limits.Lookup("settling").Value.Value)
	}
	for _, step := range b.stage.Steps {
		if step.Dwell != nil && newRung && r.rung > 0 && len(step.Raise) > 0 {
			return *step.Dwell
		}
	}
	return 0
}

// withMains opens a line with the volts at the set and, with a lamp in, across
// the lamp. A single meter at another place cannot give them: it reads the
// outlet before and after instead.
func (b *builder) withMains(r rungReading, block int) {
	if b.k.one() && !b.p.Blocks[block].AtLampBox() {
		return
	}
	with := []string{"set-volts"}
	if b.supply == engine.Raised && (r.check.ID != "lamp") {
		with = append(with, "lamp")
	}
	for _, id := range with {
		if c, ok := checks.Find(id); ok {
			c.Life = engine.Period
			b.addLive(rungReading{reading: reading{check: c, after: r.after}, rung: r.rung}, block)
		}
	}
}

func (b *builder) addLive(r rungReading, block int) {
	id := b.stage.Stage + "/" + slotID(r.reading, r.rung)
	if r.look {
		id = b.stage.Stage + "/look"
	}
	if c := r.check; c.Life == engine.Period {
		id = fmt.Sprintf("%s~%d", id, len(b.p.Lines)-1)
	}
	b.p.addSlot(Slot{
		ID: id, Check: r.check, Item: r.item, Rung: r.rung, After: r.after, Stage: b.stage.Stage,
		Look: r.look, Narrow: r.narrow, Block: block,
		Letter: b.p.letterFor(b.k, r.check.ID, r.item, r.check.Function),
	})
}
