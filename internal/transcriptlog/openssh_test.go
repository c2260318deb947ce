package transcriptlog

import (
	"bytes"
	"crypto/ed25519"
	"crypto/rand"
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

// These tests ask OpenSSH's own programs, which share no code with ours.

// keygen runs ssh-keygen with the input and says whether it was content.
func keygen(t testing.TB, input []byte, args ...string) (out string, ok bool) {
	t.Helper()
	c := exec.Command(program(t, "ssh-keygen"), args...)
	c.Stdin = bytes.NewReader(input)
	b, err := c.CombinedOutput()
	return string(b), err == nil
}

func TestOpenSSHTakesOurSignatures(t *testing.T) {
	key, other := testKey(t, 1), testKey(t, 2)
	path := writeTemp(t, "log.jsonl", encode(t, false, records()...))
	sig, err := SignFile(path, NamespaceReal, key)
	if err != nil {
		t.Fatal(err)
	}
	allowed := filepath.Join(t.TempDir(), "allowed_signers")
	for _, err := range []error{
		AppendSigner(allowed, "trainer", NamespaceReal, other.PublicKey()),
		AppendSigner(allowed, "j.smith", NamespaceRelease, key.PublicKey()),
		AppendSigner(allowed, "j.smith", NamespaceReal, key.PublicKey()),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	whole := readFile(t, path)
	for _, c := range []struct {
		why             string
		file            []byte
		name, namespace string
		want            bool
	}{
		{"as it is", whole, "j.smith", NamespaceReal, true},
		{"another namespace", whole, "j.smith", NamespaceRelease, false},
		{"a namespace for which the key is not listed", whole, "j.smith", NamespacePractice, false},
		{"somebody else's name", whole, "trainer", NamespaceReal, false},
		{"a changed byte", bytes.Replace(whole, []byte("4k7"), []byte("4k8"), 1), "j.smith", NamespaceReal, false},
		{"a byte less", whole[:len(whole)-1], "j.smith", NamespaceReal, false},
	} {
		out, ok := keygen(t, c.file, "-Y", "verify", "-f", allowed, "-I", c.name, "-n", c.namespace, "-s", sig)
		if ok != c.want {
			t.Errorf("%s: ssh-keygen says %v: %s", c.why, ok, out)
		}
	}
}

func TestWeTakeOpenSSHsSignatures(t *testing.T) {
	dir := t.TempDir()
	key := filepath.Join(dir, "id")
	if out, ok := keygen(t, nil, "-q", "-t", "ed25519", "-N", "", "-C", "bench", "-f", key); !ok {
		t.Fatal(out)
	}
	whole := encode(t, false, records()...)
	path := writeTemp(t, "log.jsonl", whole)
	known := signers(t, "j.smith "+string(readFile(t, key+".pub")))
	for _, hash := range []string{"sha512", "sha256"} {
		os.Remove(path + ".sig")
		if out, ok := keygen(t, nil, "-Y", "sign", "-f", key, "-n", NamespaceReal, "-O", "hashalg="+hash, path); !ok {
			t.Fatal(out)
		}
		armored := readFile(t, path+".sig")
		if who, err := VerifySignature(whole, armored, NamespaceReal, known); err != nil || who != "j.smith" {
			t.Errorf("%s: %q, %v", hash, who, err)
		}
		if _, err := VerifySignature(whole[1:], armored, NamespaceReal, known); err == nil {
			t.Errorf("%s: a changed file verifies", hash)
		}
		if _, err := VerifySignature(whole, armored, NamespacePractice, known); err == nil {
			t.Errorf("%s: another namespace verifies", hash)
		}
	}
	os.Remove(path + ".sig")
	if out, ok := keygen(t, nil, "-Y", "sign", "-f", key, "-n", "file", path); !ok {
		t.Fatal(out)
	}
	if _, err := VerifySignature(whole, readFile(t, path+".sig"), "file", known); err == nil {
		t.Error("a namespace that is not ours verifies")
	}
}

func TestKeysGoBothWays(t *testing.T) {
	for _, passphrase := range []string{"", "two valves"} {
		dir := t.TempDir()
		private, public, err := NewKey(rand.Reader, "bench", []byte(passphrase))
		if err != nil {
			t.Fatal(err)
		}
		ours := filepath.Join(dir, "ours")
		if err := WriteKey(ours, private, public); err != nil {
			t.Fatal(err)
		}
		out, ok := keygen(t, nil, "-y", "-P", passphrase, "-f", ours)
		if !ok || out != string(public) {
			t.Errorf("passphrase %q: ssh-keygen reads %q, want %q", passphrase, out, public)
		}
		theirs := filepath.Join(dir, "theirs")
		if out, ok := keygen(t, nil, "-q", "-t", "ed25519", "-N", passphrase, "-C", "bench", "-f", theirs); !ok {
			t.Fatal(out)
		}
		s, err := LoadSigner(readFile(t, theirs), []byte(passphrase))
		if err != nil {
			t.Fatal(err)
		}
		out, _ = keygen(t, nil, "-l", "-f", theirs+".pub")
		if !strings.Contains(out, Fingerprint(s.PublicKey())) {
			t.Errorf("passphrase %q: the fingerprint is %s, ssh-keygen says %s", passphrase, Fingerprint(s.PublicKey()), out)
		}
	}
}

// realAgent starts OpenSSH's agent with the keys of these numbers.
func realAgent(t *testing.T, numbers ...byte) agent.ExtendedAgent {
	t.Helper()
	socket := filepath.Join(t.TempDir(), "agent")
	c := exec.Command(program(t, "ssh-agent"), "-D", "-a", socket)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		c.Process.Kill()
		c.Wait()
	})
	var conn net.Conn
	for i := 0; conn == nil; i++ {
		var err error
		if conn, err = net.Dial("unix", socket); err != nil {
			if i == 500 {
				t.Fatal(err)
			}
			time.Sleep(10 * time.Millisecond)
		}
	}
	t.Cleanup(func() { conn.Close() })
	return filled(t, agent.NewClient(conn), numbers...)
}

// goAgent is an agent in Go, asked by the agent protocol.
func goAgent(t *testing.T, numbers ...byte) agent.ExtendedAgent {
	t.Helper()
	ours, theirs := net.Pipe()
	t.Cleanup(func() { ours.Close(); theirs.Close() })
	go agent.ServeAgent(agent.NewKeyring(), theirs)
	return filled(t, agent.NewClient(ours), numbers...)
}

func filled(t *testing.T, client agent.ExtendedAgent, numbers ...byte) agent.ExtendedAgent {
	t.Helper()
	for _, n := range numbers {
		if err := client.Add(agent.AddedKey{PrivateKey: ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32))}); err != nil {
			t.Fatal(err)
		}
	}
	return client
}

var agents = map[string]func(*testing.T, ...byte) agent.ExtendedAgent{"ssh-agent": realAgent, "an agent in Go": goAgent}

// An agent that is locked, empty or without the key is found when it is asked
// for the key, before anything is to be signed.
func TestAnAgentThatCannotSignIsFoundAtOnce(t *testing.T) {
	want := testKey(t, 1).PublicKey()
	for name, start := range agents {
		t.Run(name, func(t *testing.T) {
			client := start(t, 1)
			if err := client.Lock([]byte("secret")); err != nil {
				t.Fatal(err)
			}
			const nothing = "ssh agent: it shows no key at all: it is locked, or empty"
			if _, err := AgentSigner(client, want); err == nil || err.Error() != nothing {
				t.Errorf("locked: %v", err)
			}
			if err := client.Unlock([]byte("secret")); err != nil {
				t.Fatal(err)
			}
			s, err := AgentSigner(client, want)
			if err != nil {
				t.Fatalf("unlocked: %v", err)
			}
			if err := client.Lock([]byte("secret")); err != nil {
				t.Fatal(err)
			}
			if _, err := s.Sign(NamespaceReal, nil); err == nil {
				t.Error("locked meanwhile, and it signs")
			}
			if _, err := AgentSigner(start(t), want); err == nil || err.Error() != nothing {
				t.Errorf("empty: %v", err)
			}
			if _, err := AgentSigner(start(t, 2), want); err == nil || !strings.Contains(err.Error(), "it does not hold the key "+Fingerprint(want)) {
				t.Errorf("without the key: %v", err)
			}
		})
	}
}

func TestARealAgentSigns(t *testing.T) {
	client := realAgent(t, 1)
	want := testKey(t, 1)
	s, err := AgentSigner(client, want.PublicKey())
	if err != nil {
		t.Fatal(err)
	}
	// Ed25519 signatures are deterministic (RFC 8032, 5.1.6): agent and key agree.
	if got := sign(t, s, NamespaceReal, []byte("message")); !bytes.Equal(got, sign(t, want, NamespaceReal, []byte("message"))) {
		t.Errorf("the agent signs otherwise:\n%s", got)
	}
	if _, err := AgentSigner(client, testKey(t, 2).PublicKey()); err == nil {
		t.Error("a key that the agent does not hold")
	}
	if err := client.RemoveAll(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Sign(NamespaceReal, nil); err == nil {
		t.Error("the key was taken out of the agent, and it signs")
	}
}

// A signature that OpenSSH 9.2 made is kept under testdata, so that it is
// verified where OpenSSH is not installed too. It is made anew with -update.
func TestAKeptOpenSSHSignature(t *testing.T) {
	dir := filepath.Join("testdata", "openssh")
	path := filepath.Join(dir, "transcript.jsonl")
	if *update {
		keepOpenSSHSignature(t, dir, path)
	}
	whole := readFile(t, path)
	known, err := ParseSigners(readFile(t, filepath.Join(dir, "allowed_signers")))
	if err != nil {
		t.Fatal(err)
	}
	got := Read(whole)
	who, err := VerifySignature(whole, readFile(t, path+".sig"), got.Namespace(), known)
	if err != nil || who != "j.smith" || got.Ending != Complete {
		t.Errorf("%v, %q, %v", got.Ending, who, err)
	}
}

func keepOpenSSHSignature(t *testing.T, dir, path string) {
	t.Helper()
	key := filepath.Join(t.TempDir(), "id")
	if out, ok := keygen(t, nil, "-q", "-t", "ed25519", "-N", "", "-C", "for this test alone", "-f", key); !ok {
		t.Fatal(out)
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(readFile(t, key+".pub"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []string{path + ".sig", filepath.Join(dir, "allowed_signers")} {
		os.Remove(f)
	}
	if err := replaceFile(path, encode(t, false, records()...), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := AppendSigner(filepath.Join(dir, "allowed_signers"), "j.smith", NamespaceReal, pub); err != nil {
		t.Fatal(err)
	}
	if out, ok := keygen(t, nil, "-Y", "sign", "-f", key, "-n", NamespaceReal, path); !ok {
		t.Fatal(out)
	}
}
