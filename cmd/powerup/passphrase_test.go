//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/powerup/internal/transcriptlog"
)

// locked puts a passphrase on the key of an equipped home.
func (h home) lock(t *testing.T) {
	t.Helper()
	dir := filepath.Join(h.dir, "config/powerup")
	for _, name := range []string{"key", "key.pub", "signers"} {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := makeKey(filepath.Join(dir, "key"), "anna", filepath.Join(dir, "signers"), transcriptlog.NamespaceReal, []byte(passphrase)); err != nil {
		t.Fatal(err)
	}
}

// unbegun tells that no session was begun.
func (h home) unbegun(t *testing.T) {
	t.Helper()
	if found, _ := filepath.Glob(filepath.Join(h.dir, "data/powerup/*")); len(found) > 0 {
		t.Errorf("a session was begun: %v", found)
	}
}

const askedFor = "Passphrase of your key:"

func TestPassphraseIsAskedThreeTimesAtMost(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	h.lock(t)
	p := newPane(t, h, "run", "my-set.yaml")
	for n := range 3 {
		p.until("the passphrase", func(s screen) bool { return strings.Count(strings.Join(s.lines, "\n"), askedFor) == n+1 })
		p.typed([]string{"wrong", "", "wrong again"}[n])
	}
	p.ends(2)
	if text := p.history(); !strings.Contains(text, "the key stays locked") || strings.Contains(text, "wrong again") {
		t.Errorf("shown:\n%s", text)
	}
	h.unbegun(t)
}

func TestPassphraseAtTheSecondTryUnlocks(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	h.lock(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.see(askedFor)
	p.typed("wrong")
	p.see("That is not its passphrase.")
	p.until("the passphrase", func(s screen) bool { return strings.Count(strings.Join(s.lines, "\n"), askedFor) == 2 })
	p.typed(passphrase)
	p.say("same")
	p.see("Plug out of the wall")
	if n := strings.Count(p.history(), askedFor); n != 2 {
		t.Errorf("asked %d times", n)
	}
}

// The stop key at the passphrase leaves the terminal as it was found.
func TestStopKeyAtThePassphrase(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	h.lock(t)
	self := h.program(t).Path
	p := newPaneOf(t, h, "sh", "-c", `trap : INT; "$0" run my-set.yaml; stty -a | tr ' ;' '\n\n' | grep -x -e echo -e -echo`, self)
	p.see(askedFor)
	p.keys("C-c")
	p.ends(130)
	text := p.history()
	if !strings.Contains(text, "ended by the stop key before a session began") {
		t.Errorf("shown:\n%s", text)
	}
	if strings.Contains(text, "-echo") || !strings.Contains(text, "\necho") {
		t.Errorf("the terminal no longer echoes:\n%s", text)
	}
	h.unbegun(t)
}

// Where the record may not be written, no key is made and no passphrase asked for.
func TestATakenNameIsToldBeforeThePassphrase(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	for _, half := range []string{"key", "key.pub"} {
		if err := os.Remove(filepath.Join(h.dir, "config/powerup", half)); err != nil {
			t.Fatal(err)
		}
	}
	p := newPane(t, h, "run", "my-set.yaml", "-o", "my-set.yaml")
	p.ends(1)
	if text := p.history(); !strings.Contains(text, "file already exists") || strings.Contains(text, "passphrase") {
		t.Errorf("shown:\n%s", text)
	}
}
