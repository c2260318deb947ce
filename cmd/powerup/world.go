package main

import (
	"cmp"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/mattn/go-isatty"

	"example.com/powerup/internal/transcriptlog"
)

// world is what main hands to the commands: nothing else in the program opens a
// terminal or reads a clock.
type world struct {
	in       io.Reader
	out, err io.Writer
	args     []string
	started  string // how the user started the program; empty: powerup
	clock    clock
	terminal *bool                            // nil: asked of the operating system
	disk     transcriptlog.Disk               // where records are kept; nil: the operating system's
	signing  time.Duration                    // how long an agent may take to sign; 0: as long as a person needs
	free     func(dir string) (uint64, error) // bytes free there; nil: asked of the operating system
}

// freeAt asks for the bytes that are free where a record is kept. What cannot be
// asked counts as none.
func (w world) freeAt(path string) func() uint64 {
	ask := freeBytes
	if w.free != nil {
		ask = w.free
	}
	return func() uint64 {
		n, err := ask(filepath.Dir(path))
		if err != nil {
			return 0
		}
		return n
	}
}

func (w world) files() transcriptlog.Disk {
	if w.disk != nil {
		return w.disk
	}
	return transcriptlog.System
}

// interactive tells whether a person sits at both ends.
func (w world) interactive() bool {
	if w.terminal != nil {
		return *w.terminal
	}
	return isTerminal(w.in) && isTerminal(w.out)
}

func isTerminal(x any) bool {
	f, ok := x.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// startedBy is the command that a user types to start this program again, as
// this one was started.
func startedBy(arg0 string) string {
	dir := filepath.Dir(arg0)
	switch {
	case filepath.Base(dir) == "exe" && strings.Contains(dir, "go-build"):
		return "go run ./cmd/powerup" // from a clone
	case runtime.GOOS == "windows" && filepath.Base(arg0) == arg0:
		return strings.TrimSuffix(arg0, ".exe")
	}
	return shell(arg0)
}

// command is what a command line for the user begins with.
func (w world) command() string { return cmp.Or(w.started, "powerup") }
