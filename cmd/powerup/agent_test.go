//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// agent starts a real ssh agent for a home, gives it the key, and leaves only a
// locked copy in the home.
func (h *home) agent(t *testing.T) *exec.Cmd {
	t.Helper()
	needs(t, "ssh-agent")
	needs(t, "ssh-add")
	socket := filepath.Join(h.dir, "agent")
	c := exec.Command("ssh-agent", "-D", "-a", socket)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Process.Kill(); _ = c.Wait() })
	h.env = append(h.env, "SSH_AUTH_SOCK="+socket)
	key := filepath.Join(h.dir, "config/powerup/key")
	var out []byte
	var err error
	for range 100 {
		add := exec.Command("ssh-add", "-q", key)
		add.Env = h.env
		if out, err = add.CombinedOutput(); err == nil {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if err != nil {
		t.Fatalf("ssh-add: %v\n%s", err, out)
	}
	lock := exec.Command("ssh-keygen", "-q", "-p", "-P", "", "-N", passphrase, "-f", key)
	if out, err := lock.CombinedOutput(); err != nil {
		t.Fatalf("ssh-keygen: %v\n%s", err, out)
	}
	return c
}

// A key that an agent holds signs by the agent: no passphrase is asked, and the
// record verifies like any other.
func TestAgentSigns(t *testing.T) {
	t.Parallel()
	needs(t, "ssh-keygen")
	h := equipped(t)
	h.agent(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("")
	p.ends(0)
	h.verifies(t)
}

// An agent that does not hold the key, or is gone, is no obstacle: the file is
// unlocked instead.
func TestAgentWithoutTheKeyIsPassedOver(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	c := h.agent(t)
	drop := exec.Command("ssh-add", "-q", "-D")
	drop.Env = h.env
	if out, err := drop.CombinedOutput(); err != nil {
		t.Fatalf("ssh-add -D: %v\n%s", err, out)
	}
	newPane(t, h, "run", "my-set.yaml").see(askedFor)
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	newPane(t, h, "run", "my-set.yaml").see(askedFor)
}

// An agent that goes away during the session leaves a whole record and the
// command that signs it.
func TestAgentThatIsGoneAtTheClose(t *testing.T) {
	t.Parallel()
	needs(t, "ssh-keygen")
	h := equipped(t)
	c := h.agent(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("close/close")
	p.prompt()
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	p.say("close")
	p.ends(1)
	p.see("hint: the record is closed and whole, but not signed")
	key := filepath.Join(h.dir, "config/powerup/key")
	sign := exec.Command("ssh-keygen", "-q", "-Y", "sign", "-P", passphrase, "-f", key, "-n", transcriptlog.NamespaceReal, h.record())
	if out, err := sign.CombinedOutput(); err != nil {
		t.Fatal(fmt.Errorf("ssh-keygen: %w\n%s", err, out))
	}
	if _, err := os.Stat(h.record() + ".sig"); err != nil {
		t.Fatal(err)
	}
	h.verifies(t)
}
