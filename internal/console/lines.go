package console

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/powerup/internal/session"
)

// Lines is line mode: append-only text that reads well over a slow line, in a
// pipe and through a screen reader. A line counts only with its line feed.
type Lines struct {
	w     io.Writer
	next  func() (string, error)
	block string
	bar   string
}

// NewLines shows on w and takes lines from next.
func NewLines(w io.Writer, next func() (string, error)) *Lines {
	return &Lines{w: w, next: next}
}

// ReadLines gives the lines of r one by one; ErrEnd when there is none left. A
// last line without a line feed is not a line.
func ReadLines(r io.Reader) func() (string, error) {
	b := bufio.NewReader(r)
	return func() (string, error) {
		line, err := b.ReadString('\n')
		if errors.Is(err, io.EOF) {
			return "", ErrEnd
		}
		if err != nil {
			return "", fmt.Errorf("reading what is typed: %w", err)
		}
		return strings.TrimRight(line, "\r\n"), nil
	}
}

// Ask implements Prompter.
func (l *Lines) Ask(standing []string, p session.Prompt) (string, error) {
	l.open(standing, p.Block)
	for _, r := range p.Rows {
		l.rows(r.Label, r.Text)
	}
	l.print(standing[len(standing)-1])
	fmt.Fprint(l.w, "> ")
	line, err := l.next()
	if err != nil {
		l.print("")
	}
	return line, err
}

// open begins a block with the state bar: whenever the state of the supply or
// the leads change.
func (l *Lines) open(standing []string, block string) {
	bar := strings.Join(standing, "\n")
	if bar == l.bar && block == l.block {
		return
	}
	l.bar, l.block = bar, block
	rule := strings.Repeat(ruleOf(standing[0]), width)
	l.print(rule)
	for _, s := range standing {
		for _, line := range wrap(clean(s), width) {
			l.print(line)
		}
	}
	l.print(rule)
}

func ruleOf(caution string) string {
	if strings.HasPrefix(caution, "PROVED DEAD") {
		return "-"
	}
	return "="
}

// Tell implements Prompter.
func (l *Lines) Tell(_ []string, a session.Answered) {
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
	if what == "" {
		what = "watch the set, not the screen"
	}
	l.rows("Wait", fmt.Sprintf("%.0f s: %s", d.Seconds(), what))
}

func (l *Lines) rows(label, text string) {
	for _, line := range row(label, text) {
		l.print(line)
	}
}

func (l *Lines) print(line string) { fmt.Fprintln(l.w, line) }

// Next changes where lines come from.
func (l *Lines) Next(next func() (string, error)) { l.next = next }
