//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// Leaving a form at any of its pages writes nothing at all.
func TestLeavingAFormWritesNothing(t *testing.T) {
	t.Parallel()
	for name, leave := range map[string]func(*pane){
		"at the set": func(p *pane) { p.see("Which set?") },
		"at the bench": func(p *pane) {
			p.field("Set sheet", "Down", "Enter")
			p.field("1 of 7", "my bench, anna", "Enter")
			p.see("2 of 7")
		},
		"at the key": func(p *pane) {
			p.field("Set sheet", "Down", "Enter")
			p.answerBench()
			p.see("New passphrase:")
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := newHome(t)
			h.own(t)
			p := newPane(t, h, "run")
			leave(p)
			p.keys("C-c")
			p.ends(130)
			h.unbegun(t)
			for _, file := range []string{"bench.yaml", "key", "signers"} {
				_, err := os.Stat(filepath.Join(h.dir, "config/powerup", file))
				if bench := name == "at the key" && file == "bench.yaml"; (err == nil) != bench {
					t.Errorf("%s: %v", file, err)
				}
			}
		})
	}
}

// A terminal that cannot show a form is told what to type; a form is never
// answered by the end of its input.
func TestNoFormWithoutATerminalForIt(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	h.own(t)
	for _, c := range []struct {
		reason, want string
		args         []string
	}{
		{"no set sheet", "no set sheet was named", []string{"run"}},
		{"no bench file", "there is no bench file yet", []string{"run", "my-set.yaml"}},
	} {
		p := newPaneOf(t, h, append([]string{"env", "TERM=dumb"}, h.program(t, c.args...).Args...)...)
		p.ends(2)
		if text := p.history(); !strings.Contains(text, c.want) || !strings.Contains(text, "hint:") {
			t.Errorf("%s, dumb terminal:\n%s", c.reason, text)
		}
		out, err := h.program(t, c.args...).CombinedOutput()
		if err == nil || !strings.Contains(string(out), c.want) {
			t.Errorf("%s, no terminal: %v\n%s", c.reason, err, out)
		}
	}
	h.unbegun(t)
}

// A request to end, which the form's library takes for its proper end, leaves
// it too.
func TestRequestToEndLeavesAForm(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	h.own(t)
	p := newPane(t, h, "run")
	if err := syscall.Kill(p.see("Which set?").pid, syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	p.ends(130)
	h.unbegun(t)
}
