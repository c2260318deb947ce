package spec_test

import (
	"testing"

	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

func TestExamplesLoad(t *testing.T) {
	for _, kind := range []struct {
		name  string
		files []procedures.Named
		least int
		load  func(string, []byte) error
	}{
		{"set sheets", procedures.Sheets(), 3, func(n string, b []byte) error { _, err := spec.LoadSet(n, b); return err }},
		{"meter sheets", procedures.Meters(), 4, func(n string, b []byte) error { _, err := spec.LoadMeter(n, b); return err }},
		{"bench files", procedures.Benches(), 3, func(n string, b []byte) error { _, err := spec.LoadBench(n, b); return err }},
		{"procedures", procedures.Procedures(), 1, func(n string, b []byte) error { _, err := spec.LoadProcedure(n, b); return err }},
		{"answers", procedures.Answers(), 2, func(n string, b []byte) error { _, err := spec.LoadAnswers(n, b); return err }},
	} {
		if len(kind.files) < kind.least {
			t.Errorf("%d %s, at least %d are wanted", len(kind.files), kind.name, kind.least)
		}
		for _, f := range kind.files {
			if err := kind.load(f.Name+".yaml", f.Text); err != nil {
				t.Errorf("%v", err)
			}
		}
	}
}
