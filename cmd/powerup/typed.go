package main

import (
	"context"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
)

// typed is a person at a terminal. What was typed or pasted before a prompt
// stood is never an answer to it, and the stop key is live at every moment.
type typed struct {
	show  *console.Lines
	w     world
	input *console.Reader
	stop  context.Context // ends with the stop key, and says why
}

func newTyped(stop context.Context, w world) *typed {
	t := &typed{w: w, input: console.NewReader(w.in), stop: stop}
	t.show = console.NewLines(w.out, t.line)
	t.show.Drop(t.drop)
	return t
}

// settle is how long a paste may still be on its way from the terminal.
const settle = 20 * time.Millisecond

// drop discards what was typed before the prompt. Nothing reads between two
// prompts, so all of it is with the terminal or in the reader.
func (t *typed) drop() error {
	time.Sleep(settle)
	t.input.Drop()
	return dropTyped(t.w.in)
}

// line waits for one whole line or the stop key, which goes first.
func (t *typed) line() (string, error) {
	return stoppable(t.stop, t.input.Line)
}

// stoppable reads one line, or ends with the context and says why.
func stoppable(ctx context.Context, read func() (string, error)) (string, error) {
	type entry struct {
		text string
		err  error
	}
	got := make(chan entry, 1)
	go func() {
		text, err := read()
		got <- entry{text, err}
	}()
	select {
	case <-ctx.Done():
		return "", context.Cause(ctx)
	case e := <-got:
		if ctx.Err() != nil {
			return "", context.Cause(ctx)
		}
		return e.text, e.err
	}
}

// Ask implements console.Prompter.
func (t *typed) Ask(standing []string, p session.Prompt) (string, error) {
	return t.show.Ask(standing, p)
}

// Tell implements console.Prompter.
func (t *typed) Tell(standing []string, a session.Answered) { t.show.Tell(standing, a) }

// Wait implements console.Prompter.
func (t *typed) Wait(d time.Duration, what string) {
	t.show.WaitUntil(d, t.w.clock.now().Wall.Add(d), what)
}
