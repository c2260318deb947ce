package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/powerup/internal/transcriptlog"
)

// ending is an error with an exit code of its own.
type ending struct {
	code int
	help string
}

func (e *ending) Error() string { return e.help }

// The ways to end, in the one table that help and exit share.
var (
	errUsage    = &ending{2, "usage, or a bad file"}
	errOpen     = &ending{3, "ended or parked with something open"}
	errStopped  = &ending{4, "stopped by a dangerous reading"}
	errVerify   = &ending{5, "verification failed"}
	errDurable  = &ending{6, "durability unknown: what was typed last may not be on disk"}
	errAborted  = &ending{130, "aborted, end of input or hang-up"}
	errInternal = &ending{1, "input, output or an error of the program"}
)

var endings = []*ending{{0, "finished and nothing open"}, errInternal, errUsage, errOpen, errStopped, errVerify, errDurable, errAborted}

func exitCode(err error) int {
	if err == nil {
		return 0
	}
	if errors.Is(err, transcriptlog.ErrDurability) {
		return errDurable.code
	}
	var e *ending
	if errors.As(err, &e) {
		return e.code
	}
	return errInternal.code
}

// usage marks an error as the caller's.
func usage(err error) error { return fmt.Errorf("%w%w", err, quiet{errUsage}) }

// quiet carries an ending without adding to the text.
type quiet struct{ *ending }

func (quiet) Error() string   { return "" }
func (q quiet) Unwrap() error { return q.ending }

// complain prints an error in the program's voice: what happened first, every
// hint on a line of its own.
func complain(w io.Writer, err error) {
	if err.Error() == "" {
		return // said already
	}
	for line := range strings.SplitSeq(strings.TrimSpace(err.Error()), "\n") {
		fmt.Fprintln(w, "powerup: "+line)
	}
	if errors.Is(err, transcriptlog.ErrDurability) { // the last thing on the screen
		fmt.Fprintln(w, "TREAT AS LIVE AND CHARGED: switch off, plug out, discharge, prove dead.")
	}
}

func exitHelp() string {
	var b strings.Builder
	b.WriteString("Exit codes:\n")
	for _, e := range endings {
		fmt.Fprintf(&b, "  %-4d %s\n", e.code, e.help)
	}
	return b.String()
}
