package plan_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
)

// without leaves a step or a hold out of a procedure.
func without(p *sheet.Procedure, id string) *sheet.Procedure {
	out := *p
	out.Stages = slices.Clone(p.Stages)
	for i := range out.Stages {
		out.Stages[i].Steps = slices.DeleteFunc(slices.Clone(out.Stages[i].Steps), func(s sheet.Step) bool {
			return s.Check == id || s.Hold == id
		})
	}
	out.Stages = slices.DeleteFunc(out.Stages, func(s sheet.Stage) bool { return len(s.Steps) == 0 })
	return &out
}

func TestAuthorMayNotLeaveOutWhatGuards(t *testing.T) {
	for _, c := range []struct {
		id    string
		boxed bool
	}{
		{"mains-insulation", false},
		{"discharge-tool", false},
		{"live-path-on", false},
		{"call", false},
		{"coupling-capacitor", false},
		{"ht-line", false},
		{"lamp-early", false},
		{"hold-1", false},
		{"hold-2", false},
		{"hold-box", true},
		{"boxed-insulation", true},
	} {
		in := sessiontest.Inputs(t, "table-radio", "two-meters")
		in.Boxed = c.boxed
		in.Procedure = without(in.Procedure, c.id)
		if _, err := plan.New(in); err == nil || !strings.Contains(err.Error(), "INV-01") || !strings.Contains(err.Error(), c.id) {
			t.Errorf("without %s: %v", c.id, err)
		}
	}
}

func TestAuthorMayLeaveOutConditionOfParts(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Procedure = without(in.Procedure, "hum")
	if _, err := plan.New(in); err != nil {
		t.Error(err)
	}
}

func TestKitWithoutATesterIsRefused(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	bench := *in.Bench
	bench.Tester = ""
	in.Bench = &bench
	if _, err := plan.New(in); err == nil || !strings.Contains(err.Error(), "cannot measure mains-insulation") {
		t.Errorf("got %v", err)
	}
}

func TestBenchWithoutAVariableTransformerIsRefused(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	bench := *in.Bench
	bench.Variable = false
	in.Bench = &bench
	if _, err := plan.New(in); err == nil || !strings.Contains(err.Error(), "variable transformer") {
		t.Errorf("got %v", err)
	}
}

func TestWordsOfAnAlterationNameEveryPart(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	for typed, want := range map[string]string{
		"p coupling capacitor V4": "p coupling", "p": "p", "p a resistor": "p",
		"v rectifier and output": "v output, v rectifier", "v": "v", "z": "", "": "",
	} {
		var got []string
		for _, c := range p.ClassesOf(typed) {
			got = append(got, strings.TrimSpace(p.Classes[c].Letter+" "+p.Classes[c].Part))
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("%q is %q, want %q", typed, got, want)
		}
	}
}
