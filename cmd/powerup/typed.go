package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
)

// typed is a person at a terminal. What was typed or pasted before a prompt
// stood is never an answer to it.
type typed struct {
	show  *console.Lines
	lines chan entry
	stop  chan os.Signal
}

type entry struct {
	text string
	err  error
}

func newTyped(_ context.Context, w world) *typed {
	t := &typed{lines: make(chan entry), stop: make(chan os.Signal, 1)}
	signal.Notify(t.stop, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	next := console.ReadLines(w.in)
	go func() {
		for {
			text, err := next()
			t.lines <- entry{text, err}
			if err != nil {
				return
			}
		}
	}()
	t.show = console.NewLines(w.out, t.line)
	return t
}

// line waits for one whole line or the stop key.
func (t *typed) line() (string, error) {
	t.drop()
	select {
	case e := <-t.lines:
		return e.text, e.err
	case <-t.stop:
		return "", console.ErrAbort
	}
}

// drop discards lines that were there before the prompt. The reader holds at
// most one; what the terminal still holds comes within a few milliseconds.
func (t *typed) drop() {
	for {
		select {
		case e := <-t.lines:
			if e.err != nil {
				go func() { t.lines <- e }()
				return
			}
		case <-time.After(settle):
			return
		}
	}
}

const settle = 20 * time.Millisecond

// Ask implements console.Prompter.
func (t *typed) Ask(standing []string, p session.Prompt) (string, error) {
	return t.show.Ask(standing, p)
}

// Tell implements console.Prompter.
func (t *typed) Tell(standing []string, a session.Answered) { t.show.Tell(standing, a) }

// Wait implements console.Prompter.
func (t *typed) Wait(d time.Duration, what string) { t.show.Wait(d, what) }
