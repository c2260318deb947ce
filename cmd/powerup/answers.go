package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/spec"
)

// scriptable is a Prompter whose lines come from elsewhere.
type scriptable interface {
	console.Prompter
	Next(line func() (string, error))
}

// answered is a Prompter that takes its lines from an answers file and shows
// everything on another. A prompt whose id is not the next one in the file ends
// the run: a script must never answer a question it was not written for.
type answered struct {
	show  scriptable
	lines []spec.AnswerLine
	next  int
	clock *benchClock
	label string // stands for {label} in an answer: the day is not known when a file is written
	said  int    // lines typed, for the budget
	lost  error
}

// line gives what is said at the prompt p.
func (a *answered) line(p session.Prompt) (string, error) {
	for a.next < len(a.lines) {
		l := a.lines[a.next]
		if d, _ := l.Duration(); d > 0 {
			_ = a.clock.wait(context.Background(), d)
			a.next++
			continue
		}
		if l.At != p.ID {
			a.lost = fmt.Errorf("the answers say %q at %s, and the prompt is %s (line %d of the file)", l.Say, l.At, p.ID, l.Line)
			return "", console.ErrEnd
		}
		a.next++
		switch l.Key {
		case "abort":
			return "", console.ErrAbort
		case "eof":
			return "", console.ErrEnd
		}
		a.said++
		return strings.ReplaceAll(l.Say, "{label}", a.label), nil
	}
	a.lost = fmt.Errorf("the answers end before the prompt %s", p.ID)
	return "", console.ErrEnd
}

// Ask implements console.Prompter.
func (a *answered) Ask(standing []string, p session.Prompt) (string, error) {
	a.show.Next(func() (string, error) { return a.line(p) })
	return a.show.Ask(standing, p)
}

// Tell implements console.Prompter.
func (a *answered) Tell(standing []string, x session.Answered) { a.show.Tell(standing, x) }

// Wait implements console.Prompter.
func (a *answered) Wait(d time.Duration, what string) { a.show.Wait(d, what) }
