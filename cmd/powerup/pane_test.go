//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// pane is a terminal of 80 by 24 under tmux, with the program in it.
type pane struct {
	t      *testing.T
	socket string
	code   string // file of the exit code
	last   int    // the line, counted from the first, of the prompt answered last
}

const paneConf = `set -g history-limit 50000
set -g remain-on-exit on
set -g status off
set -s escape-time 0
`

// newPane starts the program in a terminal.
func newPane(t *testing.T, h home, args ...string) *pane {
	t.Helper()
	return newPaneOf(t, h, h.program(t, args...).Args...)
}

// newPaneOf starts a command in a terminal.
func newPaneOf(t *testing.T, h home, command ...string) *pane {
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
	p := &pane{t: t, socket: filepath.Join(n, "s"), code: filepath.Join(n, "code"), last: -1}
	start := exec.Command("tmux", append([]string{"-S", p.socket, "-u", "-f", conf, "new-session", "-d", "-x", "80", "-y", "24", "-c", h.dir}, command...)...)
	start.Env = append(slices.Clone(h.env), envCode+"="+p.code)
	if out, err := start.CombinedOutput(); err != nil {
		t.Fatalf("tmux: %v\n%s", err, out)
	}
	t.Cleanup(p.close)
	return p
}

// close ends the program where it stands: a hang-up would make it write a last
// record into a folder that is being removed.
func (p *pane) close() {
	out, _ := exec.Command("tmux", "-S", p.socket, "display-message", "-p", "#{pane_dead} #{pane_pid}").Output()
	var dead, pid int
	if _, err := fmt.Sscan(string(out), &dead, &pid); err == nil && dead == 0 && pid > 1 {
		_ = syscall.Kill(pid, syscall.SIGKILL)
	}
	_ = exec.Command("tmux", "-S", p.socket, "kill-server").Run()
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
	pid          int
	dead         bool
}

func (p *pane) screen() screen {
	p.t.Helper()
	out := p.tmux("display-message", "-p", "#{history_size} #{cursor_y} #{cursor_x} #{pane_pid} #{pane_dead}", ";", "capture-pane", "-p")
	head, body, _ := strings.Cut(out, "\n")
	var s screen
	var history, dead int
	if _, err := fmt.Sscan(head, &history, &s.y, &s.column, &s.pid, &dead); err != nil {
		p.t.Fatalf("tmux says %q: %v", head, err)
	}
	s.line, s.dead, s.lines = history+s.y, dead == 1, strings.Split(body, "\n")
	return s
}

// until waits for a screen.
func (p *pane) until(what string, ok func(screen) bool) screen {
	p.t.Helper()
	for end := time.Now().Add(30 * time.Second); ; {
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

// field waits until a form stands at a field, and presses keys there.
func (p *pane) field(title string, keys ...string) {
	p.t.Helper()
	p.see("┃ " + title)
	p.keys(keys...)
}

func (p *pane) typed(text string) {
	p.t.Helper()
	p.tmux("send-keys", "-l", "--", text, ";", "send-keys", "Enter")
}

// ends waits for the end of the program, which must have the exit code. Tmux
// itself does not always know it of a program that ends at once.
func (p *pane) ends(code int) {
	p.t.Helper()
	p.until("the end of the program", func(s screen) bool { return s.dead })
	text, err := os.ReadFile(p.code)
	if err != nil {
		p.t.Fatalf("%v\n%s", err, p.history())
	}
	if want := strconv.Itoa(code); string(text) != want {
		p.t.Errorf("ended with %s, want %s\n%s", text, want, p.history())
	}
}

// history is all that was ever shown, without line breaks of the terminal's.
func (p *pane) history() string {
	p.t.Helper()
	return p.tmux("capture-pane", "-p", "-J", "-S", "-")
}
