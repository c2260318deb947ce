package main

import "testing"

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
