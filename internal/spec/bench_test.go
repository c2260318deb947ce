package spec_test

import (
	"testing"

	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// One shipped file of each kind: strict parse, tags and rules.
func BenchmarkLoad(b *testing.B) {
	for _, c := range []struct {
		name  string
		among []procedures.Named
		load  func(string, []byte) error
	}{
		{"table-radio", procedures.Sheets(), func(n string, t []byte) error { _, err := spec.LoadSet(n, t); return err }},
		{"double-wound", procedures.Procedures(), func(n string, t []byte) error { _, err := spec.LoadProcedure(n, t); return err }},
		{"two-meters", procedures.Benches(), func(n string, t []byte) error { _, err := spec.LoadBench(n, t); return err }},
		{"demo", procedures.Answers(), func(n string, t []byte) error { _, err := spec.LoadAnswers(n, t); return err }},
	} {
		b.Run(c.name, func(b *testing.B) {
			text, ok := procedures.Find(c.among, c.name)
			if !ok {
				b.Fatalf("no file %s", c.name)
			}
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if err := c.load(c.name, text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
