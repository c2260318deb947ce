package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

const golden = "testdata/golden/two-meters.transcript.golden"

// TestGoldenTranscript holds the record of one whole scripted session to the one
// that is kept: what is asked, typed, judged and why. Line 1 is left out, with
// what differs by machine and key; so is what hangs on it, the chain; the numbers
// of lines are of no interest here. -update writes it anew: read the difference
// before it is kept, for each changed line is a changed promise.
func TestGoldenTranscript(t *testing.T) {
	h := newHome(t)
	first := h.recordOfTwoMeters(t, "first")
	if second := h.recordOfTwoMeters(t, "second"); !bytes.Equal(first, second) {
		t.Fatalf("the same session on the same clock gives two records: %s", difference(string(first), string(second)))
	}
	keptText(t, golden, withoutChain(t, first))
}

// keptText holds a text to the one that is kept in a file.
func keptText(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("it is not as %s is kept: %s\nhint: -run %s -update", path, difference(string(want), got), t.Name())
	}
}

// recordOfTwoMeters is the transcript of the session with two meters.
func (h home) recordOfTwoMeters(t *testing.T, name string) []byte {
	t.Helper()
	answers, err := filepath.Abs("../../testdata/answers/two-meters.yaml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(h.dir, name+".transcript")
	if out, err := h.program(t, "run", "table-radio", "--bench", "two-meters", "--answers", answers, "-o", path).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// Processors do not agree on the last figures of a number: some multiply and add
// with one rounding, some with two. Twelve figures are the same on all.
var decimals = regexp.MustCompile(`[0-9]+\.[0-9]+`)

func twelve(number string) string {
	if len(number) <= 13 {
		return number
	}
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		panic(err) // decimals matches nothing else
	}
	return strconv.FormatFloat(x, 'g', 12, 64)
}

var chained = regexp.MustCompile(`^\{"prev":"[0-9a-f]{64}","seq":[0-9]+,`)

// withoutChain drops line 1, and from every other line what depends on it.
func withoutChain(t *testing.T, raw []byte) string {
	t.Helper()
	lines := strings.SplitAfter(string(raw), "\n")
	if len(lines) < 100 || !strings.Contains(lines[0], `"kind":"open"`) {
		t.Fatalf("%d lines, the first is %.200q", len(lines), lines[0])
	}
	var b strings.Builder
	for n, line := range lines[1:] {
		if line == "" {
			continue // behind the last line feed
		}
		rest := chained.ReplaceAllString(line, "{")
		if rest == line {
			t.Fatalf("line %d has no chain: %.200q", n+2, line)
		}
		b.WriteString(decimals.ReplaceAllStringFunc(rest, twelve))
	}
	return b.String()
}

// difference names the first line in which two texts differ.
func difference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for n := range min(len(w), len(g)) {
		if w[n] != g[n] {
			return fmt.Sprintf("line %d\n got  %s\n want %s", n+1, g[n], w[n])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}
