package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/adrg/xdg"
)

// What a demonstration may take of a screen: a page or two that somebody reads.
const demoLines, demoStopLines = 110, 45

func TestDemonstrationIsShort(t *testing.T) {
	for name, most := range map[string]int{"": demoLines, "stop": demoStopLines} {
		t.Setenv("XDG_CONFIG_HOME", t.TempDir())
		xdg.Reload()
		var out, errs bytes.Buffer
		args := []string{"run", "--demo", "-o", filepath.Join(t.TempDir(), "x.transcript")}
		if name != "" {
			args = append(args, name)
		}
		run(world{in: strings.NewReader(""), out: &out, err: &errs, args: args, clock: newBenchClock(time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC))})
		if got := strings.Count(out.String(), "\n"); got > most || got < most/2 {
			t.Errorf("run --demo %s shows %d lines, at most %d", name, got, most)
		}
		if pause := time.Duration(most) * demoPause; pause > 45*time.Second {
			t.Errorf("at a terminal it would take %v", pause)
		}
	}
}
