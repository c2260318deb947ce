package console

import (
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/powerup/internal/session"
)

// Lines is line mode: append-only text that reads well over a slow line, in a
// pipe and through a screen reader.
type Lines struct {
	w        io.Writer
	next     func() (string, error)
	drop     func() error
	standing []string
	block    string
	bar      string
	waited   bool // the bell is owed
	echo     bool
}

// NewLines shows on w and takes lines from next.
func NewLines(w io.Writer, next func() (string, error)) *Lines {
	return &Lines{w: w, next: next}
}

// Next changes where lines come from.
func (l *Lines) Next(next func() (string, error)) { l.next = next }

// Drop sets what is called when a prompt is shown but for its mark: there is
// the place to discard what was typed ahead.
func (l *Lines) Drop(drop func() error) { l.drop = drop }

// Echo shows each entry behind the mark, where no terminal does.
func (l *Lines) Echo() { l.echo = true }

// Ask implements Prompter.
func (l *Lines) Ask(standing []string, p session.Prompt) (string, error) {
	if l.waited {
		fmt.Fprint(l.w, "\a")
		l.waited = false
	}
	l.open(standing, p.Block)
	for _, r := range p.Rows {
		l.rows(r.Label, r.Text)
	}
	l.caution()
	if l.drop != nil {
		if err := l.drop(); err != nil {
			return "", err
		}
	}
	fmt.Fprint(l.w, "> ")
	line, err := l.next()
	switch {
	case err != nil:
		l.print("")
	case l.echo:
		l.print(clean(line))
	}
	return line, err
}

// open begins a block with the state bar: whenever the state of the supply or
// the leads change.
func (l *Lines) open(standing []string, block string) {
	l.standing = standing
	bar := strings.Join(standing, "\n")
	if bar == l.bar && block == l.block {
		return
	}
	l.bar, l.block = bar, block
	rule := strings.Repeat(ruleOf(standing[0]), width)
	l.print(rule)
	for _, s := range standing {
		l.wrapped(s)
	}
	l.print(rule)
}

// caution puts what stands last on the screen.
func (l *Lines) caution() {
	if n := len(l.standing); n > 0 {
		l.wrapped(l.standing[n-1])
	}
}

func ruleOf(caution string) string {
	if strings.HasPrefix(caution, "PROVED DEAD") {
		return "-"
	}
	return "="
}

// Tell implements Prompter.
func (l *Lines) Tell(standing []string, a session.Answered) {
	l.standing = standing
	if a.Bell {
		fmt.Fprint(l.w, "\a")
		l.print(strings.Repeat("#", width))
	}
	for _, r := range a.Rows {
		l.rows(r.Label, r.Text)
	}
}

// Wait implements Prompter.
func (l *Lines) Wait(d time.Duration, what string) {
	l.rows("Wait", fmt.Sprintf("%.0f s: %s", d.Seconds(), watched(what)))
}

// WaitUntil is Wait for a person who looks at a clock: a long wait says when it
// ends, because seconds go stale on the screen, and the bell sounds there.
func (l *Lines) WaitUntil(d time.Duration, end time.Time, what string) {
	text := fmt.Sprintf("%.0f s", d.Seconds())
	if d >= longWait {
		text += ", until " + end.Format("15:04:05")
		l.waited = true
	}
	l.rows("Wait", text+": "+watched(what))
	l.caution()
}

const longWait = 30 * time.Second

func watched(what string) string {
	if what == "" {
		return "watch the set, not the screen"
	}
	return what
}

func (l *Lines) rows(label, text string) {
	for _, line := range row(label, text) {
		l.print(line)
	}
}

func (l *Lines) wrapped(text string) {
	for _, line := range wrap(clean(text), width) {
		l.print(line)
	}
}

func (l *Lines) print(line string) { fmt.Fprintln(l.w, line) }
