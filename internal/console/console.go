// Package console shows a session and takes what is typed: line mode, the
// reference interface. It decides no verdict, hides no step and never answers
// by itself.
package console

import (
	"errors"
	"strings"
	"time"
	"unicode"

	"example.com/powerup/internal/session"
)

// What Ask returns beside a line.
var (
	ErrAbort = errors.New("the stop key")
	ErrEnd   = errors.New("end of input")
)

// Prompter shows a session's prompts and takes the answers.
type Prompter interface {
	// Ask shows the prompt between the standing cautions and returns one line
	// without its line feed, or ErrAbort, or ErrEnd, or the reader's error.
	Ask(standing []string, p session.Prompt) (string, error)
	// Tell shows what came of an entry.
	Tell(standing []string, a session.Answered)
	// Wait says that a wait has begun; the caller does the waiting.
	Wait(d time.Duration, what string)
}

const width = 80

// labelWidth is the column where a row's text begins.
const labelWidth = 12

// clean neutralises what came from a file or an instrument: no character reaches
// the terminal that moves its cursor, or turns, joins or hides text.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) {
			return '?'
		}
		return r
	}, text)
}
