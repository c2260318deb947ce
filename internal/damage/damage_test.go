package damage_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/damage"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
)

// bench is a set on a bench, with what the shipped procedure reads there.
type bench struct {
	plan.Inputs
	reads map[string]bool
	only  string // it is there for this check's sake
}

// benches have every shipped sheet and every shipped bench once, and what no
// shipped bench has: an isolating transformer, a network for touch current.
func benches(t *testing.T) map[string]bench {
	isolated := sessiontest.Inputs(t, "table-radio", "two-meters")
	isolated.Bench.Isolating = "box under the bench"
	touch := sessiontest.Inputs(t, "table-radio", "two-meters")
	touch.Bench.Touch = touch.Set.Mains.Profile
	m := touch.Meters["general-digital"]
	m.Functions = append(m.Functions, sheet.Span{Function: sheet.Touch, Percent: 2, Digits: 3, Ranges: []sheet.Range{{Top: unit.Quantity{Kind: unit.KindAmpere, Value: 20e-3}}}})
	unmarked := sessiontest.Inputs(t, "table-radio", "two-meters")
	unmarked.Set.Output.CathodeR, unmarked.Set.Output.GridLeak = nil, nil
	all := map[string]bench{}
	for name, in := range map[string]plan.Inputs{
		"table-radio at two-meters":     sessiontest.Inputs(t, "table-radio", "two-meters"),
		"sparse-radio at one-meter":     sessiontest.Inputs(t, "sparse-radio", "one-meter"),
		"earthed-radio at three-meters": sessiontest.Inputs(t, "earthed-radio", "three-meters"),
		"table-radio, isolated":         isolated,
		"table-radio, touch network":    touch,
		"table-radio, unmarked":         unmarked,
	} {
		all[name] = bench{in, reads(t, in), map[string]string{
			"table-radio, isolated": "isolation", "table-radio, touch network": "touch-current", "table-radio, unmarked": "marked-ohms",
		}[name]}
	}
	return all
}

func reads(t *testing.T, in plan.Inputs) map[string]bool {
	out := map[string]bool{}
	for _, boxed := range []bool{false, true} {
		in.Boxed = boxed
		p := sessiontest.Made(t, in)
		for _, s := range p.Slots {
			out[s.Check.ID] = true
		}
		for _, id := range p.Cannot {
			delete(out, id)
		}
	}
	return out
}

// unrolled goes the way of a user's file that could be read: the open part and
// the boxed part over a set and a bench.
func unrolled(p *sheet.Procedure, in plan.Inputs) error {
	in.Procedure = p
	for _, boxed := range []bool{false, true} {
		in.Boxed = boxed
		if _, err := plan.New(in); err != nil {
			return err
		}
	}
	return nil
}

func TestEveryDamageIsRefused(t *testing.T) {
	t.Parallel()
	all := benches(t)
	caught, of, controls := 0, 0, 0
	for _, d := range damage.All() {
		p, err := spec.LoadProcedure("f.yaml", d.Text)
		switch {
		case d.Harmless != "":
			controls++
			t.Logf("control: %s: %s", d.Name, d.Harmless)
			if err != nil {
				t.Errorf("%s: an author may do this: %v", d.Name, err)
				continue
			}
			accepted(t, d, p, all)
			continue
		case err != nil || caughtWhereItMatters(t, d, p, all):
			caught++
		}
		of++
	}
	t.Logf("caught %d of %d, over up to %d sets and benches; %d controls accepted", caught, of, len(all), controls)
	if of < 60 || controls < 8 {
		t.Errorf("%d damages and %d controls prove little", of, controls)
	}
}

// What an author may do does not lead a session astray either: the invented
// radio goes through all of it, and nothing is left open.
func TestControlsRunToTheirEnd(t *testing.T) {
	for _, d := range damage.All() {
		if d.Harmless == "" {
			continue
		}
		t.Run(d.Name, func(t *testing.T) {
			t.Parallel()
			in, err := d.Over(sessiontest.Inputs(t, "table-radio", "two-meters"))
			if err != nil {
				t.Fatal(err)
			}
			r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
			r.Until("")
			if r.Result() != session.Tested || len(r.Open()) > 0 {
				t.Errorf("ended %v with %v open", r.Result(), r.Open())
			}
		})
	}
}

func accepted(t *testing.T, d damage.Damage, p *sheet.Procedure, all map[string]bench) {
	for name, b := range all {
		if b.only != "" {
			continue
		}
		if err := unrolled(p, b.Inputs); err != nil {
			t.Errorf("%s: an author may do this (%s), and at %s: %v", d.Name, d.Harmless, name, err)
		}
	}
}

// caughtWhereItMatters wants a refusal, with its place in the file, on every
// bench where the damaged check is read.
func caughtWhereItMatters(t *testing.T, d damage.Damage, p *sheet.Procedure, all map[string]bench) bool {
	matters, ok := 0, true
	for name, b := range all {
		if d.Of != "" && !b.reads[d.Of] || b.only != "" && b.only != d.Of {
			continue
		}
		matters++
		err := unrolled(p, b.Inputs)
		switch {
		case err == nil:
			t.Errorf("%s: accepted for %s", d.Name, name)
			ok = false
		case !strings.HasPrefix(err.Error(), "f.yaml:"):
			t.Errorf("%s: no place in the file: %v", d.Name, err)
		}
	}
	if matters == 0 {
		t.Errorf("%s: %s is read at none of %v", d.Name, d.Of, slices.Collect(maps.Keys(all)))
	}
	return ok && matters > 0
}

func TestDamagesHaveNamesOfTheirOwn(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range damage.All() {
		if seen[d.Name] {
			t.Errorf("two damages are called %q", d.Name)
		}
		seen[d.Name] = true
	}
}
