//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/crypto/ssh"

	"example.com/powerup/internal/transcriptlog"
)

// shell runs a command line as a user would, and demands that it is content.
func (h home) shell(t *testing.T, command string) {
	t.Helper()
	needs(t, "ssh-keygen")
	c := exec.Command("sh", "-c", command)
	c.Dir, c.Env = h.dir, h.env
	if out, err := c.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s\n%s", err, out, command)
	}
}

// A key that others can read may have signed for them: it is refused before a
// session begins.
func TestKeyThatOthersCanReadIsRefused(t *testing.T) {
	t.Parallel()
	for _, mode := range []os.FileMode{0o640, 0o604, 0o644, 0o620, 0o602, 0o610} {
		h := equipped(t)
		key := filepath.Join(h.dir, "config/powerup/key")
		if err := os.Chmod(key, mode); err != nil {
			t.Fatal(err)
		}
		p := newPane(t, h, "run", "my-set.yaml")
		p.ends(2)
		text := p.history()
		if !strings.Contains(text, "key is open to others ("+mode.String()+")") || !strings.Contains(text, "hint: chmod 600 "+key) {
			t.Errorf("%v: shown:\n%s", mode, text)
		}
		h.unbegun(t)
	}
}

func TestRevokedKeyBeginsNoSession(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{"": "is revoked in ", "?\n": "revoked: line 2: want KIND KEY"} {
		h := equipped(t)
		dir := filepath.Join(h.dir, "config/powerup")
		pub, err := os.ReadFile(filepath.Join(dir, "key.pub"))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "revoked"), append(pub, text...), 0o600); err != nil {
			t.Fatal(err)
		}
		p := newPane(t, h, "run", "my-set.yaml")
		p.ends(2)
		if !strings.Contains(p.history(), want) {
			t.Errorf("no %q in\n%s", want, p.history())
		}
		h.unbegun(t)
	}
}

// A public half alone is a key whose private half is elsewhere: none is made in
// its place.
func TestPublicHalfAloneMakesNoKey(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	if err := os.Remove(filepath.Join(h.dir, "config/powerup/key")); err != nil {
		t.Fatal(err)
	}
	p := newPane(t, h, "run", "my-set.yaml")
	p.ends(2)
	if text := p.history(); !strings.Contains(text, "key.pub is here and its private half is not; no agent runs") || !strings.Contains(text, "hint: start the agent that holds it") {
		t.Errorf("shown:\n%s", text)
	}
	h.unbegun(t)
}

// What key show prints for others is a signers file of one line, and says whose
// key it is.
func TestKeyShowEndsInALineForOthers(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	out, err := h.program(t, "key", "show").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	rows := strings.Split(strings.TrimSpace(string(out)), "\n")
	known, err := transcriptlog.ParseSigners([]byte(rows[len(rows)-1]))
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(out)
	if name, ok := known.Principal(pub, transcriptlog.NamespaceReal); err != nil || !ok || name == "" {
		t.Errorf("%q, %v:\n%s", name, err, out)
	}
	if err := os.WriteFile(filepath.Join(h.dir, "config/powerup/signers"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := h.program(t, "key", "show").CombinedOutput(); code(err) != 2 || !strings.Contains(string(out), "does not list it for one name") {
		t.Errorf("exit %d\n%s", code(err), out)
	}
}
