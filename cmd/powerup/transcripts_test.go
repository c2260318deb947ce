package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/record"
)

func TestARecordInUseIsListedSo(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	dir := filepath.Join(h.dir, "data/powerup")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	list := func() string {
		out, err := h.program(t, "list", "transcripts").CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		return string(out)
	}
	_, end := h.held(t, filepath.Join(dir, "held.transcript"))
	if got := list(); !strings.Contains(got, "in use*\n") || strings.Contains(got, claimEnding) {
		t.Errorf("while it is held:\n%s", got)
	}
	end()
	if got := list(); !strings.Contains(got, "broken off*\n") {
		t.Errorf("after a kill:\n%s", got)
	}
}

// Whatever a record says of itself, a row keeps to the screen and moves nothing.
func TestTheListOfRecordsFitsTheScreen(t *testing.T) {
	var out bytes.Buffer
	long := strings.Repeat("a long name, ", 20) + "\x1b[2J\n"
	f := record.Facts{Name: long, Mark: long, Practice: true, Begun: time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC)}
	printKept(&out, []kept{{file: long, how: "broken off", facts: f}, {file: "short", how: "LEFT ON", facts: f}}, time.FixedZone("", 14*3600))
	for _, line := range tooWide(out.Bytes()) {
		t.Errorf("too wide: %q", line)
	}
	if strings.Contains(out.String(), "\x1b") || strings.Count(out.String(), "\n") != 6 || !strings.Contains(out.String(), "2030-01-03 08:00") {
		t.Errorf("the list is\n%q", out.String())
	}
}
