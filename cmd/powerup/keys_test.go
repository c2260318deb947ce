//go:build unix

package main

import (
	"errors"
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
	if out, err := h.program(t, "key", "show").CombinedOutput(); code(err) != 2 || !strings.Contains(string(out), "does not list it for records") {
		t.Errorf("exit %d\n%s", code(err), out)
	}
}

// Where the key cannot be shown to others, key show says why, and prints no line.
func TestKeyShowSaysWhyThereIsNoLine(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	dir := filepath.Join(h.dir, "config/powerup")
	pub, err := os.ReadFile(filepath.Join(dir, "key.pub"))
	if err != nil {
		t.Fatal(err)
	}
	key := strings.Join(strings.Fields(string(pub))[:2], " ")
	for name, c := range map[string]struct{ signers, revoked, says, line string }{
		"revoked":       {"anna " + key, key, "is revoked in ", ""},
		"revoked-what":  {"anna " + key, "?", "revoked: line 1: want KIND KEY", ""},
		"no-signers":    {"", "", "no signers file: ", ""},
		"bad-signers":   {"?", "", "signers: line 1: want NAMES", ""},
		"other-name":    {"anna,bert " + key, "", "lists it, but not for one name", ""},
		"other-purpose": {`anna namespaces="powerup-release" ` + key, "", "does not list it for records", ""},
		"out-of-date":   {`anna valid-before="20300101Z" ` + key, "", "lists it for other dates than now", ""},
		"dated": {
			`anna valid-after="20290101Z",valid-before="20310101Z" ` + key, "", "For whoever checks",
			`anna namespaces="powerup-transcript",valid-after="20290101000000Z",valid-before="20310101000000Z" ` + key,
		},
		"renewed": {`anna valid-before="20310101Z" ` + key + "\nanna " + key, "", "For whoever checks", `anna namespaces="powerup-transcript" ` + key},
	} {
		for file, text := range map[string]string{"signers": c.signers, "revoked": c.revoked} {
			path := filepath.Join(dir, file)
			if err := os.RemoveAll(path); err != nil {
				t.Fatal(err)
			}
			if text == "" {
				continue
			}
			if err := os.WriteFile(path, []byte(text+"\n"), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		out, err := h.program(t, "key", "show").CombinedOutput()
		rows := strings.Split(strings.TrimSpace(string(out)), "\n")
		line, want := strings.HasPrefix(rows[len(rows)-1], "anna "), 2
		if c.line != "" {
			want = 0
		}
		if code(err) != want || !strings.Contains(string(out), c.says) || line != (c.line != "") || line && rows[len(rows)-1] != c.line {
			t.Errorf("%s: exit %d\n%s", name, code(err), out)
		}
		if hint := name != "revoked-what" && c.line == ""; strings.Contains(string(out), "hint: ") != hint {
			t.Errorf("%s: hint %v in\n%s", name, hint, out)
		}
	}
}

// A key that has another name than the bench's operator is told before the
// session, and the command for checking that is printed at its end is content.
func TestKeyOfAnotherNameThanTheOperators(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	path := filepath.Join(h.dir, "config/powerup/signers")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), "anna ", "bert ", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("")
	p.ends(0)
	shown := p.history()
	if words := strings.Join(strings.Fields(shown), " "); !strings.Contains(words, "Your key is listed as bert, and the bench file's operator is anna: the record will count as signed by bert.") {
		t.Errorf("shown:\n%s", shown)
	}
	_, command, _ := strings.Cut(shown, "without powerup:\n")
	command, _, ok := strings.Cut(command, "\nSays ")
	if !ok || !strings.Contains(command, " -I bert ") {
		t.Errorf("no command in\n%s", shown)
	}
	h.shell(t, command)
	if out, err := h.program(t, "verify", "--passed", h.record()).CombinedOutput(); err != nil || !strings.Contains(string(out), "by bert") {
		t.Errorf("%v\n%s", err, out)
	}
}

// A key that the signers file does not list signs nothing that would be accepted:
// that is told before the session.
func TestKeyThatIsNotListedIsToldAtTheStart(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	if err := os.WriteFile(filepath.Join(h.dir, "config/powerup/signers"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	p := newPane(t, h, "run", "my-set.yaml")
	p.prompt()
	if words := strings.Join(strings.Fields(p.history()), " "); !strings.Contains(words, "verify will not accept the record: signed by a key that you have not listed") {
		t.Errorf("shown:\n%s", p.history())
	}
}

// No key is made that nobody would list, nor where one half lies already; neither
// costs a passphrase.
func TestKeyNewFailsBeforeThePassphrase(t *testing.T) {
	t.Parallel()
	for says, prepare := range map[string]func(dir string) error{
		"no key was made: ": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "signers"), []byte("what\n"), 0o600)
		},
		"key.pub is here and its private half is not; no agent runs": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "key.pub"), nil, 0o600)
		},
	} {
		h := newHome(t)
		dir := filepath.Join(h.dir, "config/powerup")
		if err := errors.Join(os.MkdirAll(dir, 0o700), prepare(dir)); err != nil {
			t.Fatal(err)
		}
		p := newPane(t, h, "key", "new", "anna")
		p.ends(2)
		if text := p.history(); !strings.Contains(text, says) || !strings.Contains(text, "hint: ") || strings.Contains(text, "passphrase:") {
			t.Errorf("shown:\n%s", text)
		}
		if _, err := os.Stat(filepath.Join(dir, "key")); err == nil {
			t.Errorf("%s: a key was made", says)
		}
	}
}
