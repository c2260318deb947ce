package plan_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

var (
	sheets  = []string{"table-radio", "sparse-radio", "earthed-radio"}
	benches = []string{"one-meter", "two-meters", "three-meters"}
)

// everyPlan calls f with the plan of each shipped sheet at each shipped bench.
func everyPlan(t *testing.T, f func(*testing.T, *plan.Plan)) {
	for _, s := range sheets {
		for _, b := range benches {
			t.Run(s+" "+b, func(t *testing.T) { f(t, sessiontest.Plan(t, s, b)) })
		}
	}
}

// gateOf is what stage needs before mains, as the interlock table words it.
var gateOf = map[string][]string{
	"transformer": {"rcd", "discharge-tool", "meter-source", "leads", "call", "live-path-on", "live-path-off", "neutral-path", "mains-insulation", "socket-insulation", "hold-1"},
	"ramp":        {"stamped-volts", "ht-line", "output-transformer", "coupling-capacitor", "speaker-insulation", "grid-leak", "electrodes", "ht-leak", "speech-coil", "lamp-late", "half-volts", "heater-volts", "lamp-heaters", "lamp-fitted"},
	"first-full":  {"ht-reservoir", "output-grid", "output-cathode", "hold-2"},
	"spot-checks": {"cold-start-peak"},
}

func TestMainsNeedsWhatTheInterlocksSay(t *testing.T) {
	everyPlan(t, func(t *testing.T, p *plan.Plan) {
		for b, block := range p.Blocks {
			gate := p.Engine.Blocks[b].Gate
			for _, id := range gateOf[block.Stage] {
				if !gateHas(p, gate, id) {
					t.Errorf("INV-01: %s can be energised without %s", block.ID, id)
				}
			}
		}
	})
}

// gateHas tells whether every earlier slot of a check is in a gate, or the set
// has no such slot at all.
func gateHas(p *plan.Plan, gate engine.Facts, id string) bool {
	seen := false
	for i, s := range p.Slots {
		if s.Check.ID != id && s.Hold != id {
			continue
		}
		seen = true
		if !gate.Has(i) && s.Check.Life != engine.Period && !laterStage(p, s) {
			return false
		}
	}
	return seen
}

// laterStage leaves out slots of a check that is read again further on.
func laterStage(p *plan.Plan, s plan.Slot) bool {
	return s.Stage == "first-full" || s.Stage == "spot-checks" || s.Stage == "soak" || s.Look
}

func TestNoRungAboveTheLampsCeiling(t *testing.T) {
	everyPlan(t, func(t *testing.T, p *plan.Plan) {
		most := float64(p.Lamps.Ceiling/p.Model.Nominal) * 100
		for _, s := range p.Slots {
			if s.Stage == "ramp" && float64(s.Rung) > most {
				t.Errorf("INV-57: %s at %g %%, and the lamp carries the set to %.1f %%", s.ID, float64(s.Rung), most)
			}
		}
		if p.Lamps.Top != 75 {
			t.Errorf("last rung with a 100 W lamp in is %s, want 75 %%", p.Lamps.Top)
		}
	})
}

func TestLeadsMoveBetweenBlocksOnly(t *testing.T) {
	everyPlan(t, func(t *testing.T, p *plan.Plan) {
		for _, line := range p.Lines {
			for _, i := range line.Slots {
				if s := p.Slots[i]; s.Block != p.Slots[line.Slots[0]].Block {
					t.Errorf("line %s stands in two lead positions", line.ID)
				}
			}
		}
		for b := 1; b < len(p.Blocks); b++ {
			x, y := p.Blocks[b-1], p.Blocks[b]
			if x.Supply.Energised() && y.Supply.Energised() && x.Spot != y.Spot && p.Engine.Blocks[b-1].Lead == p.Engine.Blocks[b].Lead {
				t.Errorf("%s follows %s without a proof", y.ID, x.ID)
			}
		}
	})
}

func TestNeverAnodeToAnode(t *testing.T) { // INV-61
	everyPlan(t, func(t *testing.T, p *plan.Plan) {
		for _, s := range p.Slots {
			if s.Stage == "transformer" && strings.Contains(s.Check.Red, "anode") && strings.Contains(s.Check.Black, "anode") {
				t.Errorf("%s is read from %q to %q", s.ID, s.Check.Red, s.Check.Black)
			}
		}
	})
}

func TestSlotIDsAreUnique(t *testing.T) {
	everyPlan(t, func(t *testing.T, p *plan.Plan) {
		seen := map[string]bool{}
		for _, s := range p.Slots {
			if seen[s.ID] {
				t.Errorf("%s stands twice", s.ID)
			}
			seen[s.ID] = true
		}
	})
}

func TestShippedTwoMeterBenchLacksOnlyTouchCurrent(t *testing.T) { // INV-62
	if p := sessiontest.Plan(t, "table-radio", "two-meters"); len(p.Cannot) > 0 {
		t.Errorf("open part: cannot measure %v", p.Cannot)
	}
	if p := sessiontest.Boxed(t, "table-radio", "two-meters"); !slices.Equal(p.Cannot, []string{"touch-current"}) {
		t.Errorf("boxed part: cannot measure %v", p.Cannot)
	}
}

func TestWithoutATesterTheFirstHTIsHeldTenMinutes(t *testing.T) { // INV-55
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Meters["insulation-tester"].Functions = slices.DeleteFunc(in.Meters["insulation-tester"].Functions, func(s sheet.Span) bool { return s.Function == sheet.Leakage })
	p := sessiontest.Made(t, in)
	if !slices.Contains(p.Cannot, "ht-leak") {
		t.Fatalf("a tester without a leakage range can measure leakage: cannot %v", p.Cannot)
	}
	want := map[string]unit.Second{"ramp/ht-reservoir#25": 600, "ramp/ht-reservoir#50": 600, "ramp/ht-reservoir#60": 60}
	for _, line := range p.Lines {
		if w, ok := want[line.ID]; ok && line.Wait != w {
			t.Errorf("%s is held %s, want %s", line.ID, line.Wait, w)
		}
	}
}

// refusals are kits, sets and procedures that no plan is made for.
func TestRefusals(t *testing.T) {
	step := func(p *sheet.Procedure, stage string, s sheet.Step) {
		for i := range p.Stages {
			if p.Stages[i].Stage == stage {
				p.Stages[i].Steps = append([]sheet.Step{s}, p.Stages[i].Steps...) // a hold stands last
			}
		}
	}
	narrow := func(p *sheet.Procedure, check string, n sheet.Narrower) {
		for i := range p.Stages {
			for j := range p.Stages[i].Steps {
				if p.Stages[i].Steps[j].Check == check {
					p.Stages[i].Steps[j].Narrower = &n
				}
			}
		}
	}
	for _, c := range []struct {
		name   string
		change func(*plan.Inputs)
		want   string
	}{
		{"stage nobody knows", func(in *plan.Inputs) {
			for i := range in.Procedure.Stages {
				if in.Procedure.Stages[i].Stage == "soak" {
					in.Procedure.Stages[i].Stage = "overnight"
				}
			}
		}, "INV-48"},
		{"live chassis", func(in *plan.Inputs) { in.Set.Construction = sheet.SeriesHeater }, "this set is series-heater"},
		{"unknown construction", func(in *plan.Inputs) { in.Set.Construction = sheet.UnknownBuild }, "treat a set of unknown construction as live chassis"},
		{"profile", func(in *plan.Inputs) { in.Set.Mains.Profile = "us" }, `profile "us" is not known`},
		{"rectifier without data", func(in *plan.Inputs) { in.Set.Rectifier = "XX99" }, "XX99"},
		{"meter that the HT over-runs", func(in *plan.Inputs) { in.Meters["general-digital"].MaxVolts = 400 }, "INV-41"},
		{"tester that the HT over-runs", func(in *plan.Inputs) { in.Meters["insulation-tester"].MaxVolts = 400 }, "INV-41"},
		{"ramp that proves no HT", func(in *plan.Inputs) {
			for i := range in.Procedure.Stages {
				for j := range in.Procedure.Stages[i].Steps {
					if s := &in.Procedure.Stages[i].Steps[j]; in.Procedure.Stages[i].Supply == "raised" && len(s.Raise) > 0 {
						s.Raise = []unit.Percent{25, 50}
					}
				}
			}
		}, "INV-56"},
		{"meter unfit for mains", func(in *plan.Inputs) { in.Meters["general-digital"].Category = "none" }, "INV-41"},
		{"training without a trainer's key", func(in *plan.Inputs) { in.Bench.Training = true }, "training"},
		{"fixed bias", func(in *plan.Inputs) { in.Set.Output.Bias = "fixed" }, "INV-29"},
		{"nothing against a shock", func(in *plan.Inputs) { in.Bench.RCD = false }, "neither an RCD nor an isolating transformer"},
		{"no lamp for the transformer", func(in *plan.Inputs) { in.Bench.Lamps = []unit.Watt{100} }, "transformer alone"},
		{"lamps too small for the ramp", func(in *plan.Inputs) { in.Bench.Lamps = []unit.Watt{25, 40} }, "INV-5"},
		{"working HT above the scope", func(in *plan.Inputs) { in.Set.HTWinding.Volts = 600 }, "INV-28"},
		{"check nobody knows", func(in *plan.Inputs) { step(in.Procedure, "dead-ht", sheet.Step{Check: "ht-lime"}) }, `check "ht-lime" is not in the catalogue`},
		{"dead check on a live set", func(in *plan.Inputs) { step(in.Procedure, "soak", sheet.Step{Check: "ht-line"}) }, "is made on a set that is dead"},
		{"live check on a dead set", func(in *plan.Inputs) { step(in.Procedure, "dead-ht", sheet.Step{Check: "ht-reservoir"}) }, "not dead"},
		{"wider window", func(in *plan.Inputs) {
			narrow(in.Procedure, "mains-insulation", sheet.Narrower{Min: "1 MΩ", Because: "haste"})
		}, "INV-17"},
		{"wider window, upper", func(in *plan.Inputs) {
			narrow(in.Procedure, "cathode-resistor", sheet.Narrower{Max: "200 Ω", Because: "haste"})
		}, "INV-17"},
		{"window in the wrong unit", func(in *plan.Inputs) {
			narrow(in.Procedure, "mains-insulation", sheet.Narrower{Min: "50 V", Because: "slip"})
		}, "50 V is not a resistance"},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := sessiontest.Inputs(t, "table-radio", "two-meters")
			c.change(&in)
			_, err := plan.New(in)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("plan.New: %v, want ...%s...", err, c.want)
			}
		})
	}
}

func TestIsolatingTransformerIsProvedWhereThereIsOne(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Bench.RCD, in.Bench.Isolating = false, "box under the bench"
	p := sessiontest.Made(t, in)
	seen := map[string]int{}
	for _, s := range p.Slots {
		seen[s.Check.ID]++
	}
	if seen["isolation"] != 2 || seen["rcd"] != 0 {
		t.Errorf("isolation is read %d times, the RCD %d times", seen["isolation"], seen["rcd"])
	}
	r := sessiontest.TapeOf(t, p)
	r.Until("")
	if len(r.Open()) > 0 {
		t.Errorf("open %v", r.Open())
	}
	r = sessiontest.TapeOf(t, p)
	r.Radio.Faults = map[string]string{"isolation": "0.1M"} // a variable transformer taken for one
	r.Until("stop/repair")
}

func TestAuthorMayNarrow(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	for i := range in.Procedure.Stages {
		for j := range in.Procedure.Stages[i].Steps {
			if s := &in.Procedure.Stages[i].Steps[j]; s.Check == "coupling-capacitor" {
				s.Narrower = &sheet.Narrower{Min: "4 GΩ", Because: "workshop rule"}
			}
		}
	}
	r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
	r.Until("openings/tester")
	r.Say(r.Radio.Line(r.Prompt())) // 3 GΩ: good for the check, not for this workshop
	if id := r.Prompt().ID; !strings.HasPrefix(id, "query/openings/coupling-capacitor") {
		t.Errorf("3 GΩ against a workshop rule of 4 GΩ leads to %s, want a query", id)
	}
}

func TestAuthorMayNotLeaveOutTheColdStart(t *testing.T) { // INV-47
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	for i := range in.Procedure.Stages {
		in.Procedure.Stages[i].Steps = slices.DeleteFunc(in.Procedure.Stages[i].Steps, func(s sheet.Step) bool { return s.Cold != nil })
	}
	if _, err := plan.New(in); err == nil || !strings.Contains(err.Error(), "cold-start-peak does not stand") {
		t.Errorf("plan.New: %v", err)
	}
}

// TestPlanTellsWhatEachBulbMakesOfTheSet: the bulb of the ramp is the one that
// best separates the set from a fault, of those that carry it high enough.
func TestPlanTellsWhatEachBulbMakesOfTheSet(t *testing.T) {
	for _, c := range []struct {
		lamps []unit.Watt
		ramp  unit.Watt
		tells bool
	}{
		{[]unit.Watt{40, 100}, 100, true},
		{[]unit.Watt{40, 100, 150}, 100, true},
		{[]unit.Watt{40, 500}, 500, false},
	} {
		in := sessiontest.Inputs(t, "table-radio", "two-meters")
		in.Bench.Lamps = c.lamps
		p := sessiontest.Made(t, in)
		if p.Lamps.First.Watts != 40 || p.Lamps.Ramp.Watts != c.ramp || p.Lamps.Tells != c.tells || len(p.Lamps.Each) != len(c.lamps) {
			t.Errorf("%v: %+v", c.lamps, p.Lamps)
		}
	}
}

// Whatever the number of meters, the lamp's volts are owed at each step of the ramp
// with the lamp in: they are the first to show a set that takes too much.
func TestLampVoltsAreOwedAtEveryStepOfTheRamp(t *testing.T) {
	for _, bench := range []string{"one-meter", "two-meters", "three-meters"} {
		p := sessiontest.Plan(t, "table-radio", bench)
		steps, owed := map[unit.Percent]bool{}, map[unit.Percent]bool{}
		for _, line := range p.Lines {
			lamp, stands := unit.Percent(0), false
			for _, i := range line.Slots {
				slot := p.Slots[i]
				if slot.Stage != "ramp" || slot.Look {
					continue
				}
				steps[slot.Rung] = true
				stands = stands || p.Engine.Slots[i].Life > engine.Period
				if slot.Check.ID == "lamp" {
					lamp = slot.Rung
				}
			}
			if lamp > 0 && stands {
				owed[lamp] = true
			}
		}
		if len(steps) < 5 || len(owed) != len(steps) {
			t.Errorf("%s: steps %v, lamp volts owed at %v", bench, steps, owed)
		}
	}
}
