package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/powerup/internal/transcriptlog"
)

// A command line that is printed for the user can be typed as it stands.
func TestStartedBy(t *testing.T) {
	for arg0, want := range map[string]string{
		"/home/ann/cache/go-build3141/b001/exe/powerup": "go run ./cmd/powerup",
		"powerup":                "powerup",
		"./powerup":              "./powerup",
		"/home/my tools/powerup": "'/home/my tools/powerup'",
	} {
		if got := startedBy(arg0); got != want {
			t.Errorf("started as %s: %q, want %q", arg0, got, want)
		}
	}
	if got := (world{}).command(); got != "powerup" {
		t.Errorf("started by nobody knows what: %q", got)
	}
}

// Hints name the program as the user started it.
func TestHintsNameTheProgramAsItWasStarted(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "key")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := (world{started: "./powerup"}).noKeyYet(path); err == nil || !strings.Contains(err.Error(), "hint: ./powerup key show") {
		t.Errorf("got %v", err)
	}
	if err := notResumed(transcriptlog.ErrClosed, "a", "./powerup"); !strings.Contains(err.Error(), "hint: ./powerup verify a; where it says not signed yet: ./powerup key sign a") {
		t.Errorf("got %v", err)
	}
	if err := notResumed(transcriptlog.ErrBroken, "a", "./powerup"); !strings.Contains(err.Error(), "./powerup verify a shows what is left, and ./powerup run begins anew") {
		t.Errorf("got %v", err)
	}
}
