package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"example.com/powerup/internal/console"
)

// stopped is a signal that ends a session, in the words of the record.
type stopped struct{ signal os.Signal }

func (s stopped) Error() string {
	switch s.signal {
	case syscall.SIGHUP:
		return "a hang-up"
	case syscall.SIGTERM:
		return "a request to end"
	}
	return console.ErrAbort.Error()
}

// Is makes every such signal the stop key.
func (stopped) Is(target error) bool { return target == console.ErrAbort }

// onStop gives a context that ends with the stop key, a request to end or a
// hang-up. The signals stay caught until the program ends: a second one must
// not kill it while the record of the first is written.
func onStop(ctx context.Context) context.Context {
	ctx, cancel := context.WithCancelCause(ctx)
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	go func() { cancel(stopped{<-signals}) }()
	return ctx
}

// left is how a program ends that was stopped before a session began.
func left(err error) error {
	if errors.Is(err, console.ErrAbort) || errors.Is(err, console.ErrEnd) {
		return fmt.Errorf("ended by %w before a session began%w", err, quiet{errAborted})
	}
	return err
}
