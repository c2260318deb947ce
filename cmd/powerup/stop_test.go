//go:build unix

package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"syscall"
	"testing"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// A second signal, of any kind, does not end the program that is still at work
// on the first. The test starts itself again, because it lives with the signals.
func TestSignalsStayCaughtAfterTheFirst(t *testing.T) {
	const child, survived = "POWERUP_TEST_SIGNALS", 7
	if os.Getenv(child) == "" {
		c := exec.Command(os.Args[0], "-test.run=^TestSignalsStayCaughtAfterTheFirst$")
		c.Env = append(os.Environ(), child+"=1")
		var exit *exec.ExitError
		if err := c.Run(); !errors.As(err, &exit) || exit.ExitCode() != survived {
			t.Errorf("the program ended by itself: %v", err)
		}
		return
	}
	ctx := onStop(context.Background())
	send := func(s syscall.Signal) {
		if err := syscall.Kill(os.Getpid(), s); err != nil {
			t.Fatal(err)
		}
	}
	send(syscall.SIGHUP)
	<-ctx.Done()
	if !errors.Is(context.Cause(ctx), console.ErrAbort) || context.Cause(ctx).Error() != "a hang-up" {
		t.Fatal(context.Cause(ctx))
	}
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT, syscall.SIGINT} {
		send(s)
		time.Sleep(5 * time.Millisecond)
	}
	os.Exit(survived)
}

// ledger is a recorder that notes the order of what happens.
type ledger struct {
	order *[]string
	fails bool
}

func (l ledger) Append(_ transcriptlog.Stamp, recs ...transcriptlog.Record) error {
	if l.fails {
		return transcriptlog.ErrDurability
	}
	for _, r := range recs {
		*l.order = append(*l.order, "record "+r.Kind)
	}
	return nil
}

// mute is a Prompter that always says the same.
type mute struct {
	order *[]string
	err   error
}

func (m mute) Ask([]string, session.Prompt) (string, error) { return "", m.err }
func (m mute) Wait(time.Duration, string)                   {}
func (m mute) Tell([]string, session.Answered)              { *m.order = append(*m.order, "screen") }

func newDriver(t *testing.T, ask error, fails bool) (*driver, *[]string) {
	t.Helper()
	_, p, err := gather("table-radio", "double-wound", "two-meters")
	if err != nil {
		t.Fatal(err)
	}
	order := new([]string)
	c := newBenchClock(time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC))
	return &driver{session: session.New(p, "x", c.now()), record: ledger{order, fails}, console: mute{order, ask}, clock: c, free: func() uint64 { return 1 << 30 }}, order
}

func TestWhatEndsASessionIsOnDiskBeforeItIsShown(t *testing.T) {
	for _, c := range []struct {
		reason string
		ask    error
	}{
		{"the stop key", console.ErrAbort},
		{"a hang-up", stopped{syscall.SIGHUP}},
		{"the end of the input", console.ErrEnd},
		{"a fault of the input", errors.New("input/output error")},
	} {
		d, order := newDriver(t, c.ask, false)
		if err := d.drive(t.Context()); !errors.Is(err, errAborted) && c.reason != "a fault of the input" || err == nil {
			t.Errorf("%s: %v", c.reason, err)
		}
		if got := fmt.Sprint(*order); got != "[record abort screen]" {
			t.Errorf("%s: %s", c.reason, got)
		}
	}
}

// A record that cannot be kept ends the session with nothing more shown.
func TestNothingIsShownThatIsNotOnDisk(t *testing.T) {
	d, order := newDriver(t, console.ErrAbort, true)
	err := d.drive(t.Context())
	if exitCode(err) != errDurable.code {
		t.Errorf("exit %d: %v", exitCode(err), err)
	}
	if len(*order) > 0 {
		t.Errorf("after the failed write: %v", *order)
	}
}
