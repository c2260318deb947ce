package console

import (
	"context"
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/huh"
)

func pages() []Page {
	even := func(answer string) error {
		if len(answer)%2 == 1 {
			return errors.New("an odd number of letters")
		}
		return nil
	}
	return []Page{
		{"One", []Question{
			{Key: "rcd", Title: "An RCD?", Options: []Option{{"yes", "true"}, {"no", "false"}}},
			{Key: "word", Title: "A word", Help: "even", Check: even},
		}},
		{"Two", []Question{{Key: "last", Title: "The last"}}},
	}
}

// pressed is a form after keys, with all that follows from each of them.
type pressed struct {
	t     *testing.T
	f     *huh.Form
	typed map[string]*string
}

func press(t *testing.T, keys ...string) pressed {
	t.Helper()
	p := pressed{t: t}
	p.f, p.typed = build(pages())
	p.f.SubmitCmd, p.f.CancelCmd = tea.Quit, tea.Interrupt
	p.do(p.f.Init(), 0)
	p.send(tea.WindowSizeMsg{Width: 80, Height: 24}, 0)
	for _, k := range keys {
		p.send(keyMsg(k), 0)
	}
	return p
}

func keyMsg(k string) tea.KeyMsg {
	switch k {
	case "enter":
		return tea.KeyMsg{Type: tea.KeyEnter}
	case "down":
		return tea.KeyMsg{Type: tea.KeyDown}
	case "ctrl+c":
		return tea.KeyMsg{Type: tea.KeyCtrlC}
	case "esc":
		return tea.KeyMsg{Type: tea.KeyEsc}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
}

func (p pressed) send(msg tea.Msg, depth int) {
	if msg == nil || depth > 20 {
		return
	}
	_, cmd := p.f.Update(msg)
	p.do(cmd, depth+1)
}

// do runs a command for its message; one that takes its time is a cursor's
// blinking.
func (p pressed) do(cmd tea.Cmd, depth int) {
	if cmd == nil {
		return
	}
	got := make(chan tea.Msg, 1)
	go func() { got <- cmd() }()
	select {
	case msg := <-got:
		for _, c := range batch(msg) {
			p.do(c, depth)
		}
		if batch(msg) == nil {
			p.send(msg, depth)
		}
	case <-time.After(20 * time.Millisecond):
	}
}

// batch gives the commands in a message of several, at once or in sequence; the
// type of the second has no name outside its package.
func batch(msg tea.Msg) []tea.Cmd {
	if v := reflect.ValueOf(msg); v.IsValid() && v.CanConvert(reflect.TypeFor[[]tea.Cmd]()) {
		return v.Convert(reflect.TypeFor[[]tea.Cmd]()).Interface().([]tea.Cmd)
	}
	return nil
}

func TestFormGivesTheAnswersOfItsEnd(t *testing.T) {
	p := press(t, "down", "down", "enter", "four", "enter", " x ", "enter")
	got, err := finish(p.f, p.typed, nil)
	if err != nil || got["rcd"] != "false" || got["word"] != "four" || got["last"] != "x" {
		t.Errorf("%v %v\n%s", got, err, p.f.View())
	}
}

// Everything short of the end of the form gives no answers, though all that was
// typed is bound already.
func TestFormThatWasLeftHasNoAnswers(t *testing.T) {
	all := []string{"down", "enter", "four", "enter", "x"}
	for n := range len(all) + 1 {
		for _, err := range []error{nil, huh.ErrUserAborted} {
			p := press(t, all[:n]...)
			if got, err := finish(p.f, p.typed, err); !errors.Is(err, ErrAbort) || got != nil {
				t.Errorf("after %v: %v %v", all[:n], got, err)
			}
		}
	}
	p := press(t, append(all, "ctrl+c", "enter")...)
	if got, err := finish(p.f, p.typed, nil); !errors.Is(err, ErrAbort) || got != nil {
		t.Errorf("after Ctrl+C: %v %v", got, err)
	}
	p = press(t, append(all, "enter")...)
	if got, err := finish(p.f, p.typed, io.ErrUnexpectedEOF); err == nil || got != nil {
		t.Errorf("after a fault: %v %v", got, err)
	}
}

// Enter alone, or any key that is not a choice, answers nothing.
func TestNothingIsAnsweredByDefault(t *testing.T) {
	for _, keys := range [][]string{
		{"enter", "enter", "enter"},
		{"y", "enter"},
		{"/", "y", "enter", "enter"},
		{"esc", "enter"},
		{"down", "enter", "odd", "enter", "enter"},
		{"down", "enter", "enter", "enter"},
		{"down", "enter", "  ", "enter", "enter"},
	} {
		p := press(t, keys...)
		if got, err := finish(p.f, p.typed, nil); err == nil {
			t.Errorf("%v: %v", keys, got)
		}
		if view := p.f.View(); !strings.Contains(view, "One") || strings.Contains(view, "The last") {
			t.Errorf("%v left the first page:\n%s", keys, view)
		}
	}
}

// A dumb terminal turns on the library's accessible mode, in which a refused
// text is accepted at the end of the input.
func TestFormIsNeverAccessible(t *testing.T) {
	t.Setenv("TERM", "dumb")
	ctx, cancel := context.WithTimeoutCause(t.Context(), 300*time.Millisecond, ErrEnd)
	defer cancel()
	got, err := Form(ctx, strings.NewReader("2\nodd\nx\n"), io.Discard, pages()...)
	if err == nil || got != nil {
		t.Errorf("%v %v", got, err)
	}
}

func TestFormFitsTheScreen(t *testing.T) {
	p := press(t)
	for line := range strings.Lines(p.f.View()) {
		if n := len([]rune(strings.TrimRight(line, "\n"))); n > width {
			t.Errorf("%d columns: %q", n, line)
		}
	}
	if n := strings.Count(p.f.View(), "\n"); n >= 24 {
		t.Errorf("%d lines", n)
	}
	f, _ := build([]Page{{"\x1b[2J", []Question{{Key: "a", Title: "\x1b[31mred", Help: "\a", Options: []Option{{"\x1b]0;x", "1"}}}}}})
	f.Init()
	if strings.ContainsAny(f.View(), "\x1b\a") {
		t.Errorf("a file's text reaches the terminal as it is: %q", f.View())
	}
}
