//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// pane is a terminal of 80 by 24 under tmux, with the program in it.
type pane struct {
	t      *testing.T
	socket string
	last   int // the line, counted from the first, of the prompt answered last
}

const paneConf = `set -g history-limit 50000
set -g remain-on-exit on
set -g status off
set -s escape-time 0
`

// newPane starts the program in a terminal.
func newPane(t *testing.T, h home, args ...string) *pane {
	t.Helper()
	needs(t, "tmux")
	n, err := os.MkdirTemp(h.dir, "t")
	if err != nil {
		t.Fatal(err)
	}
	conf := filepath.Join(n, "conf")
	if err := os.WriteFile(conf, []byte(paneConf), 0o600); err != nil {
		t.Fatal(err)
	}
	c := h.program(t, args...)
	p := &pane{t: t, socket: filepath.Join(n, "s"), last: -1}
	start := exec.Command("tmux", append([]string{"-S", p.socket, "-u", "-f", conf, "new-session", "-d", "-x", "80", "-y", "24", "-c", h.dir}, c.Args...)...)
	start.Env = h.env
	if out, err := start.CombinedOutput(); err != nil {
		t.Fatalf("tmux: %v\n%s", err, out)
	}
	t.Cleanup(func() { _ = exec.Command("tmux", "-S", p.socket, "kill-server").Run() })
	return p
}

func (p *pane) tmux(args ...string) string {
	p.t.Helper()
	out, err := exec.Command("tmux", append([]string{"-S", p.socket}, args...)...).Output()
	if err != nil {
		p.t.Fatalf("tmux %v: %v", args, err)
	}
	return string(out)
}

// screen is what a terminal shows at one moment.
type screen struct {
	lines        []string
	line, column int // of the cursor; lines count from the first ever printed
	y            int
	dead         bool
	status, pid  int
}

func (p *pane) screen() screen {
	p.t.Helper()
	out := p.tmux("display-message", "-p", "#{history_size} #{cursor_y} #{cursor_x} #{pane_dead} 0#{pane_dead_status} #{pane_pid}", ";", "capture-pane", "-p")
	head, body, _ := strings.Cut(out, "\n")
	var s screen
	var history, dead int
	if _, err := fmt.Sscan(head, &history, &s.y, &s.column, &dead, &s.status, &s.pid); err != nil {
		p.t.Fatalf("tmux says %q: %v", head, err)
	}
	s.line, s.dead, s.lines = history+s.y, dead == 1, strings.Split(body, "\n")
	return s
}

// until waits for a screen.
func (p *pane) until(what string, ok func(screen) bool) screen {
	p.t.Helper()
	for end := time.Now().Add(10 * time.Second); ; {
		s := p.screen()
		if ok(s) {
			return s
		}
		if time.Now().After(end) {
			p.t.Fatalf("waited in vain for %s\n%s", what, strings.Join(s.lines, "\n"))
		}
		time.Sleep(2 * time.Millisecond)
	}
}

// prompt waits until the program stands at a prompt that was not answered yet.
func (p *pane) prompt() screen {
	p.t.Helper()
	return p.until("a prompt", func(s screen) bool {
		return s.line > p.last && s.column == 2 && strings.TrimSpace(s.lines[s.y]) == ">"
	})
}

// say types a line at a prompt.
func (p *pane) say(line string) {
	p.t.Helper()
	p.last = p.prompt().line
	p.tmux("send-keys", "-l", "--", line, ";", "send-keys", "Enter")
}

// see waits for text on the screen.
func (p *pane) see(text string) screen {
	p.t.Helper()
	return p.until(fmt.Sprintf("%q", text), func(s screen) bool { return strings.Contains(strings.Join(s.lines, "\n"), text) })
}

// keys presses keys by tmux's names; others are typed as they are.
func (p *pane) keys(keys ...string) {
	p.t.Helper()
	for _, k := range keys {
		p.tmux("send-keys", k)
	}
}

func (p *pane) typed(text string) {
	p.t.Helper()
	p.tmux("send-keys", "-l", "--", text, ";", "send-keys", "Enter")
}

// ended waits for the end of the program and gives its exit code.
func (p *pane) ended() int {
	p.t.Helper()
	return p.until("the end of the program", func(s screen) bool { return s.dead }).status
}

// history is all that was ever shown, without line breaks of the terminal's.
func (p *pane) history() string {
	p.t.Helper()
	return p.tmux("capture-pane", "-p", "-J", "-S", "-")
}
