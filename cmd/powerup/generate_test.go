package main

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/spec"
)

var update = flag.Bool("update", false, "write the answers files and golden transcripts anew")

// script is an answers file that is made by a responder: one story, told once.
type script struct {
	file, sheet, bench string
	boxed              bool
	head               string
	extra              map[string][]string // at a prompt: what is typed instead, in turn
}

var scripts = []script{
	{
		file: "../../procedures/answers/demo.yaml", sheet: demoSheet, bench: demoBench,
		head: "The demonstration: the example radio through the whole procedure. Invented.",
		extra: map[string][]string{
			"openings/tester":                      {">20M 210M 9.31 0.2 0.2 9.31"},
			"query/openings/coupling-capacitor@V4": {"3G"},
			"dead-ht/black-chassis":                {"0.2 1k35 472k 133", "133ohm 472k 133"},
			"transformer/half-b@300s":              {"219.7 261.7 37"},
			"query/transformer/core-warm@300s":     {"cause 1 the back room is at 24"},
		},
	},
	{
		file: "../../procedures/answers/demo-stop.yaml", sheet: demoSheet, bench: demoBench,
		head: "The demonstration of a stop: the grid rises while the lamp is in. Invented.",
		extra: map[string][]string{
			"ramp/output-grid#75@300s": {"1.7"},
			"stop/repair":              {"park"},
		},
	},
	{file: "../../testdata/answers/two-meters.yaml", sheet: "table-radio", bench: "two-meters", head: "A first power-up with two meters. Invented."},
	{file: "../../testdata/answers/one-meter.yaml", sheet: "table-radio", bench: "one-meter", head: "A first power-up with one meter. Invented."},
	{file: "../../testdata/answers/three-meters.yaml", sheet: "table-radio", bench: "three-meters", head: "A first power-up with three meters. Invented."},
	{file: "../../testdata/answers/sparse.yaml", sheet: "sparse-radio", bench: "two-meters", head: "The sparse sheet to its close. Invented."},
	{file: "../../testdata/answers/boxed.yaml", sheet: "table-radio", bench: "two-meters", boxed: true, head: "The boxed part. Invented."},
	{
		file: "../../testdata/answers/parked.yaml", sheet: "table-radio", bench: "two-meters",
		head:  "Parked in the evening, with insulation and HT line read. Invented.",
		extra: map[string][]string{"hold-1": {"park"}},
	},
	{file: "../../testdata/answers/earthed.yaml", sheet: "earthed-radio", bench: "two-meters", head: "The earthed set. Invented."},
}

// TestScripts keeps the answers files as the responder writes them; -update
// writes them anew.
func TestScripts(t *testing.T) {
	for _, sc := range scripts {
		t.Run(filepath.Base(sc.file), func(t *testing.T) {
			got := sc.write(t)
			if *update {
				if err := os.MkdirAll(filepath.Dir(sc.file), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(sc.file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(sc.file)
			if err != nil {
				t.Fatal(err)
			}
			if string(want) != got {
				t.Errorf("%s is not what the responder types; go test ./cmd/powerup -run TestScripts -update writes it anew", sc.file)
			}
			if _, err := spec.LoadAnswers(sc.file, want); err != nil {
				t.Error(err)
			}
		})
	}
}

// write plays the script and gives the file.
func (sc script) write(t *testing.T) string {
	t.Helper()
	p := sessiontest.Plan(t, sc.sheet, sc.bench)
	if sc.boxed {
		p = sessiontest.Boxed(t, sc.sheet, sc.bench)
	}
	r := sessiontest.TapeOf(t, p)
	r.Radio.Turns = maps.Clone(sc.extra)
	r.Until("")
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\nanswers:\n  lines:\n", sc.head)
	for _, e := range r.Said {
		say := e.Say
		if say == sessiontest.Label {
			say = "{label}"
		}
		fmt.Fprintf(&b, "    - {at: %q, say: %q}\n", e.At, say)
	}
	return b.String()
}
