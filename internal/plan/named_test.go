package plan_test

import (
	"slices"
	"testing"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// named is the shipped procedure with every check that it leaves to authors, on
// the example radio with its old capacitors and a floating HT negative.
func named(t *testing.T) plan.Inputs {
	t.Helper()
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Set.Renewed, in.Set.HTMinus = nil, ""
	ask := func(stage string, before int, ids ...string) {
		for i := range in.Procedure.Stages {
			s := &in.Procedure.Stages[i]
			for n, id := range ids {
				if s.Stage == stage {
					s.Steps = slices.Insert(s.Steps, before+n, sheet.Step{Check: id})
				}
			}
		}
	}
	ask("openings", 2, "winding-insulation")
	ask("dead-ht", 0, "coils", "valve-heaters", "capacitance")
	ask("spot-checks", 1, "ripple-smoothed")
	ask("spot-checks", 5, "mains-current")
	reform := sheet.Stage{Stage: "re-form", Supply: "dead", Steps: []sheet.Step{{Check: "reform-early"}, {Check: "reform-leak"}}}
	at := slices.IndexFunc(in.Procedure.Stages, func(s sheet.Stage) bool { return s.Stage == "dead-ht" })
	in.Procedure.Stages = slices.Insert(in.Procedure.Stages, at, reform)
	return in
}

// No meter that comes with the program has these functions, and the plan says
// so; the rest of the work is planned all the same.
func TestPlanSaysWhatTheKitCannotRead(t *testing.T) {
	p := sessiontest.Made(t, named(t))
	for _, id := range []string{"capacitance", "mains-current"} {
		if !slices.Contains(p.Cannot, id) || slices.ContainsFunc(p.Slots, func(s plan.Slot) bool { return s.Check.ID == id }) {
			t.Errorf("%s: cannot be made with this kit, and the plan says %v", id, p.Cannot)
		}
	}
	if !slices.ContainsFunc(p.Slots, func(s plan.Slot) bool { return s.Check.ID == "ripple-smoothed" }) {
		t.Error("ripple at HT2 needs no meter that this kit lacks, and is not planned")
	}
}

// A bench that has them goes through the whole of it: the extra readings are
// asked for one after the other, and the session closes.
func TestAuthorsChecksReachClose(t *testing.T) {
	in := named(t)
	m := in.Meters["general-digital"]
	for f, top := range map[sheet.Function]float64{sheet.Capacitance: 600e-6, sheet.ACAmps: 10} {
		r := sheet.Range{Top: unit.Quantity{Kind: f.Kind(), Value: top}, Digit: unit.Quantity{Kind: f.Kind(), Value: top / 6000}}
		m.Functions = append(m.Functions, sheet.Span{Function: f, Percent: 1.5, Digits: 3, Ranges: []sheet.Range{r}})
	}
	p := sessiontest.Made(t, in)
	if len(p.Cannot) > 0 {
		t.Fatalf("this kit cannot make %v", p.Cannot)
	}
	r := sessiontest.TapeOf(t, p)
	for id, say := range map[string]string{
		"winding-insulation": "80M", "coils": "12", "valve-heaters": "1.5", "capacitance": "34µ",
		"reform-early": "60", "reform-leak": "22", "ripple-smoothed": "0.17", "mains-current": "0.237",
		"valve-heaters@V1": "2.6", "valve-heaters@V2": "4", "valve-heaters@V3": "2",
	} {
		r.Radio.Faults[id] = say
	}
	r.Until("")
	if c := r.Counts(); r.Result() != session.Tested || len(r.Open()) > 0 || c.Stop > 0 || c.NotRead > 0 {
		t.Errorf("ended %v with %v open, %+v", r.Result(), r.Open(), c)
	}
	for _, b := range p.Blocks {
		if b.Spot == "mains-lead" && b.Stage != "spot-checks" {
			t.Errorf("the meter in the mains lead stands in %s", b.ID)
		}
	}
}
