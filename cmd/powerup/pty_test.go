//go:build unix

package main

import (
	"bytes"
	"io"
	"testing"
	"time"

	"github.com/creack/pty"
)

// firstByte is how soon a command must begin to speak, the terminal being one
// that answers no question.
const firstByte = 200 * time.Millisecond

func TestHelpAsksTheTerminalNothing(t *testing.T) {
	best := time.Hour
	for range 5 { // the machine may be busy with other tests
		took, shown := helpOnTerminal(t)
		if bytes.ContainsRune(shown, '\x1b') {
			t.Fatalf("an escape was printed: %q", shown)
		}
		if !bytes.Contains(shown, []byte("Exit codes:")) {
			t.Fatalf("no help: %q", shown)
		}
		best = min(best, took)
	}
	if !(best <= firstByte) {
		t.Errorf("the first byte came after %v, at most %v is allowed", best, firstByte)
	}
}

// helpOnTerminal runs the help on a terminal of its own.
func helpOnTerminal(t *testing.T) (first time.Duration, shown []byte) {
	t.Helper()
	c := newHome(t).program(t, "--help")
	start := time.Now()
	terminal, err := pty.Start(c)
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	one := make([]byte, 1)
	if _, err := io.ReadFull(terminal, one); err != nil {
		t.Fatal(err)
	}
	first = time.Since(start)
	rest, _ := io.ReadAll(terminal) // ends in an error where the other end closes
	if err := c.Wait(); err != nil {
		t.Fatal(err)
	}
	return first, append(one, rest...)
}
