package main

import (
	"fmt"
	"io"
	"os"
)

// dropTyped empties a terminal's input queue, the unfinished line too. What is
// no terminal has none.
func dropTyped(in io.Reader) error {
	if !isTerminal(in) {
		return nil
	}
	if err := flushInput(in.(*os.File).Fd()); err != nil {
		return fmt.Errorf("what was typed ahead cannot be discarded: %w", err)
	}
	return nil
}
