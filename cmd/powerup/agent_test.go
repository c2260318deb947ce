//go:build unix

package main

import (
	"crypto/ed25519"
	"errors"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"
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

// An agent that is locked, without the key or gone is named at the start, with
// what to do; the file is unlocked instead.
func TestAgentThatCannotSignIsNamedAtTheStart(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	c := h.agent(t)
	begin := func(why, hint string) {
		t.Helper()
		p := newPane(t, h, "run", "my-set.yaml")
		p.see(askedFor)
		text := strings.Join(strings.Fields(p.history()), " ")
		if !strings.Contains(text, "No agent signs for you. ssh agent: "+why) || !strings.Contains(text, hint) {
			t.Errorf("no %q in\n%s", why, p.history())
		}
		p.typed(passphrase)
		p.prompt()
		p.close()
	}
	conn, err := net.Dial("unix", filepath.Join(h.dir, "agent"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	client := agent.NewClient(conn)
	if err := client.Lock([]byte("secret")); err != nil {
		t.Fatal(err)
	}
	begin("it shows no key at all: it is locked, or empty", "ssh-add -X unlocks an agent, ssh-add ")
	if err := client.Unlock([]byte("secret")); err != nil {
		t.Fatal(err)
	}
	if err := client.RemoveAll(); err != nil {
		t.Fatal(err)
	}
	if err := client.Add(agent.AddedKey{PrivateKey: ed25519.NewKeyFromSeed(make([]byte, 32))}); err != nil {
		t.Fatal(err)
	}
	begin("it does not hold the key SHA256:", "ssh-add -X unlocks an agent, ssh-add ")
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	begin("it cannot be reached", "start the agent anew, or unset SSH_AUTH_SOCK")
}

// An agent that takes the question and never answers is named too, and does not
// hold the session up.
func TestAgentThatDoesNotAnswerIsNamed(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	h.lock(t)
	socket := filepath.Join(h.dir, "agent")
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	h.env = append(h.env, "SSH_AUTH_SOCK="+socket)
	p := newPane(t, h, "run", "my-set.yaml")
	p.see(askedFor)
	text := strings.Join(strings.Fields(p.history()), " ")
	if !strings.Contains(text, "No agent signs for you. ssh agent: it does not answer") || !strings.Contains(text, "start the agent anew, or unset SSH_AUTH_SOCK") {
		t.Errorf("shown:\n%s", text)
	}
}

// With the private half in the agent alone, an agent that cannot sign begins no
// session.
func TestSessionNeedsTheAgentThatAloneHasTheKey(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	h.agent(t)
	if err := os.Remove(filepath.Join(h.dir, "config/powerup/key")); err != nil {
		t.Fatal(err)
	}
	p := newPane(t, h, "run", "my-set.yaml")
	p.prompt()
	p.close()
	if err := os.RemoveAll(filepath.Join(h.dir, "data")); err != nil {
		t.Fatal(err)
	}
	drop := exec.Command("ssh-add", "-q", "-D")
	drop.Env = h.env
	if out, err := drop.CombinedOutput(); err != nil {
		t.Fatalf("ssh-add -D: %v\n%s", err, out)
	}
	p = newPane(t, h, "run", "my-set.yaml")
	p.ends(2)
	if text := p.history(); !strings.Contains(text, "its private half is not; ssh agent: it shows no key at all") {
		t.Errorf("shown:\n%s", text)
	}
	h.unbegun(t)
}

// hanging is an agent that answers everything but the wish for a signature.
type hanging struct {
	agent.Agent
	until chan struct{}
}

func (h hanging) Sign(ssh.PublicKey, []byte) (*ssh.Signature, error) {
	<-h.until
	return nil, errors.New("too late")
}

// hang runs such an agent with the key of the home.
func (h *home) hang(t *testing.T) {
	t.Helper()
	pem, err := os.ReadFile(filepath.Join(h.dir, "config/powerup/key"))
	if err != nil {
		t.Fatal(err)
	}
	key, err := ssh.ParseRawPrivateKey(pem)
	if err != nil {
		t.Fatal(err)
	}
	a := hanging{agent.NewKeyring(), make(chan struct{})}
	if err := a.Add(agent.AddedKey{PrivateKey: key}); err != nil {
		t.Fatal(err)
	}
	socket := filepath.Join(h.dir, "agent")
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close(); close(a.until) })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			go func() { _ = agent.ServeAgent(a, conn) }()
		}
	}()
	h.env = append(h.env, "SSH_AUTH_SOCK="+socket)
}

// An agent that hangs at the signature does not hold the program up: the record
// is whole, and is signed later.
func TestAgentThatHangsAtTheSignature(t *testing.T) {
	t.Parallel()
	h := equipped(t, envSigning+"=300ms")
	h.hang(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("")
	p.ends(1)
	if text := strings.Join(strings.Fields(p.history()), " "); !strings.Contains(text, "ssh agent: no signature came within 300ms") || !strings.Contains(text, "hint: the record is closed and whole, but not signed yet: ") {
		t.Errorf("shown:\n%s", p.history())
	}
	h.env = append(h.env, "SSH_AUTH_SOCK=")
	if out, err := h.program(t, "key", "sign", h.record()).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	h.verifies(t)
}

// An agent that goes away during the session leaves a whole record, which the
// key signs when it is there again, and no other key.
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
	p.see("hint: the record is closed and whole, but not signed yet: ")
	out, err := h.program(t, "verify", h.record()).Output()
	if words := strings.Join(strings.Fields(string(out)), " "); code(err) != 5 || !strings.HasPrefix(words, "COMPLETE, NOT ACCEPTED (unsigned): ") || !strings.Contains(words, "not accepted: it is not signed yet: ") {
		t.Errorf("%v\n%s", err, out)
	}
	out, err = h.program(t, "key", "sign", h.record()).CombinedOutput()
	if code(err) != 2 || !strings.Contains(string(out), "its passphrase is typed at a terminal only") {
		t.Errorf("without a terminal: %v\n%s", err, out)
	}
	sign := newPane(t, h, "key", "sign", h.record())
	sign.see(askedFor)
	sign.typed("wrong")
	sign.see("That is not its passphrase.")
	sign.typed(passphrase)
	sign.ends(0)
	h.verifies(t)
	if err := os.Remove(h.record() + ".sig"); err != nil {
		t.Fatal(err)
	}
	h.lock(t) // another key in its place
	sign = newPane(t, h, "key", "sign", h.record())
	sign.see(askedFor)
	sign.typed(passphrase)
	sign.ends(2)
	if text := sign.history(); !strings.Contains(text, "was made with another key") {
		t.Errorf("shown:\n%s", text)
	}
	if _, err := os.Stat(h.record() + ".sig"); err == nil {
		t.Error("signed by another key")
	}
}
