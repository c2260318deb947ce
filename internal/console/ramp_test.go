package console

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

var update = flag.Bool("update", false, "write the golden texts anew")

func typesParts(out *bytes.Buffer, parts []Part) {
	for _, p := range parts {
		typed{out}.part(p)
	}
}

// What the card shows of the ramp is the kept text, to the letter.
func TestRampIsShownToTheLetter(t *testing.T) {
	for _, sheet := range []string{"table-radio", "sparse-radio"} {
		p := sessiontest.Plan(t, sheet, "two-meters")
		var out bytes.Buffer
		typesParts(&out, rampParts(session.RampOf(p, session.Card(p))))
		fits(t, out.String())
		path := filepath.Join("testdata", "ramp-"+sheet+".txt")
		if *update {
			if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if out.String() != string(want) {
			t.Errorf("%s shows\n%s\nwant\n%s\nhint: go test ./internal/console -run TestRampIsShown -update", sheet, &out, want)
		}
	}
}

// The ramp of the table is the procedure's: lamp in up to the last step that the
// lamp lets the set reach, then the steps of first-full without it.
func TestRampHasEveryStepOnce(t *testing.T) {
	type step struct {
		rung     float64
		in, both bool
	}
	want := []step{
		{25, true, false},
		{50, true, false},
		{60, true, false},
		{70, true, false},
		{75, true, true},
		{70, false, false},
		{80, false, true},
		{90, false, true},
		{100, false, true},
	}
	for _, bench := range []string{"one-meter", "two-meters", "three-meters"} {
		p := sessiontest.Plan(t, "table-radio", bench)
		r := session.RampOf(p, session.Card(p))
		if len(r.Steps) != len(want) || len(r.Unknown) > 0 {
			t.Fatalf("%s: %d steps, not known %v", bench, len(r.Steps), r.Unknown)
		}
		for i, s := range r.Steps {
			if got := (step{float64(s.Rung), s.Lamp != nil, s.TwoSided}); got != want[i] {
				t.Errorf("%s: step %d is %v, want %v", bench, i, got, want[i])
			}
			f := s.Figures
			b, err := p.Model.BoundsAtSet(f.Point.Set, s.Lamp, 0)
			if err != nil || figure(b.HT1.X) != figure(f.HT1.X) || figure(float64(b.Cold)) != figure(float64(f.Cold)) {
				t.Errorf("%s: step %d is not what the circuit says: %v", bench, i, err)
			}
		}
	}
}

// A step whose figures could not be computed is named, not left out in silence.
func TestAStepWithoutFiguresIsNamed(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	lines := session.Card(p)
	for i := range lines {
		for j := range lines[i].Readings {
			lines[i].Readings[j].Step = nil
		}
	}
	var out bytes.Buffer
	typesParts(&out, rampParts(session.RampOf(p, lines)))
	for _, want := range []string{"ht-reservoir#75", "not computed, so not shown", "Plot        none: nothing to draw"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not in\n%s", want, &out)
		}
	}
}

// The boxed part has no ramp, and says nothing of one.
func TestNoRampNoTable(t *testing.T) {
	p := sessiontest.Boxed(t, "table-radio", "two-meters")
	if parts := rampParts(session.RampOf(p, session.Card(p))); len(parts) > 0 {
		t.Errorf("%+v", parts)
	}
}
