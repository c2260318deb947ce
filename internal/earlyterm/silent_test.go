//go:build unix

package earlyterm_test

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/creack/pty"
)

// A terminal that answers nothing is asked nothing: this test's own binary,
// which imports bubbletea, starts on one, prints no escape and ends at once.
// Without the package it prints the question and waits five seconds.
func TestSilentTerminalIsNotAsked(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	cmd := exec.CommandContext(ctx, os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), "TERM=xterm-256color")
	terminal, err := pty.Start(cmd)
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	start := time.Now()
	var shown bytes.Buffer
	_, _ = shown.ReadFrom(terminal) // ends in an error where the other end closes
	if err := cmd.Wait(); err != nil {
		t.Fatalf("%v\n%s", err, shown.Bytes())
	}
	if took := time.Since(start); took > 4*time.Second {
		t.Errorf("took %v: something waited for the terminal", took)
	}
	if bytes.ContainsRune(shown.Bytes(), '\x1b') {
		t.Errorf("an escape was printed: %q", shown.Bytes())
	}
	if !bytes.Contains(shown.Bytes(), []byte("PASS")) {
		t.Errorf("the binary did not run: %q", shown.Bytes())
	}
}
