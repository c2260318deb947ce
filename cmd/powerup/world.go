package main

import (
	"io"
	"os"

	"github.com/mattn/go-isatty"
)

// world is what main hands to the commands: nothing else in the program opens a
// terminal or reads a clock.
type world struct {
	in       io.Reader
	out, err io.Writer
	args     []string
	clock    clock
	terminal *bool // nil: asked of the operating system
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
