package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// envKills is how many sessions are killed at a random moment; a long run takes
// a thousand or more.
const envKills = "POWERUP_TEST_KILLS"

func kills(t *testing.T) int {
	t.Helper()
	text := os.Getenv(envKills)
	if text == "" {
		return 25
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		t.Fatalf("%s=%q is no number of sessions", envKills, text)
	}
	return n
}

// The real program, killed at a random moment: every line whose answer the
// screen had shown is in the record, and the record is gone on with, or refused
// with words where nothing had been shown yet.
func TestAProgramKilledAtAnyMomentLosesNothingShown(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	typed := typing(t)
	whole := h.killed(t, typed, filepath.Join(h.dir, "whole"), time.Minute)
	counts := map[string]int{}
	for n := range kills(t) {
		path := filepath.Join(h.dir, strconv.Itoa(n)+recordEnding)
		after := time.Duration(rand.Int64N(int64(whole.took)))
		k := h.killed(t, typed, path, after)
		counts[h.foundAgain(t, k, path)]++
		if t.Failed() {
			t.Fatalf("session %d, killed after %v; the screen ended\n%s", n, after, tail(k.screen))
		}
		for _, name := range []string{path, path + claimEnding} {
			_ = os.Remove(name)
		}
	}
	t.Logf("killed within %v: %v", whole.took, counts)
	if counts["resumed"] == 0 {
		t.Error("no session was killed after its beginning")
	}
}

// killed is what became of one session.
type killed struct {
	screen string
	took   time.Duration
}

func (h home) killed(t *testing.T, typed, path string, after time.Duration) killed {
	t.Helper()
	c := h.program(t, "run", "table-radio", "--bench", "two-meters", "-o", path)
	var out bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(typed), &out, &out
	start := time.Now()
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(after, func() { _ = c.Process.Kill() })
	_ = c.Wait()
	timer.Stop()
	return killed{out.String(), time.Since(start)}
}

// foundAgain holds the record against the screen, and goes on with it.
func (h home) foundAgain(t *testing.T, k killed, path string) string {
	t.Helper()
	raw, err := os.ReadFile(path)
	shown := acknowledged(k.screen)
	if err != nil {
		if k.screen != "" {
			t.Errorf("there is a screen and no record: %v", err)
		}
		return "not begun"
	}
	said := entries(transcriptlog.Read(raw))
	for n, want := range echoed(k.screen)[:shown] {
		if n >= len(said) || said[n] != want {
			t.Errorf("line %d, %q, was answered on the screen and is not in the record", n+1, want)
			break
		}
	}
	c := h.program(t, "resume", path)
	c.Stdin = strings.NewReader("same\nunplugged\nn\n")
	out, err := c.CombinedOutput()
	switch {
	case code(err) == errAborted.code && strings.Contains(string(out), liveAndCharged) && strings.Contains(string(out), "> n\n"):
		return "resumed"
	case code(err) == 1 && shown == 0 && strings.Contains(string(out), "hint: nothing is added to it"):
		return "refused"
	}
	t.Errorf("resumed with exit %d\n%s", code(err), out)
	return ""
}

// entries are the lines that were typed, by the record; the end of the input is
// an empty one.
func entries(r transcriptlog.Transcript) (said []string) {
	for _, l := range r.Lines {
		if l.Kind == "entry" || l.Kind == "abort" {
			said = append(said, l.Fields["say"])
		}
	}
	return said
}

// echoed are the lines that were typed, by the screen.
func echoed(screen string) (said []string) {
	for line := range strings.Lines(screen) {
		if text, ok := strings.CutPrefix(line, "> "); ok {
			said = append(said, strings.TrimSuffix(text, "\n"))
		}
	}
	return said
}
