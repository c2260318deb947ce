package transcriptlog

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/rand"
	"encoding/pem"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"
)

func TestAKeyIsMadeOfTheRandomBytesGiven(t *testing.T) {
	seed := bytes.Repeat([]byte{7}, 32)
	private, public, err := NewKey(bytes.NewReader(seed), "j.smith at the bench", nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := LoadSigner(private, nil)
	if err != nil {
		t.Fatal(err)
	}
	want, err := ssh.NewPublicKey(ed25519.NewKeyFromSeed(seed).Public()) // RFC 8032, by the Go library
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(s.PublicKey().Marshal(), want.Marshal()) || Fingerprint(s.PublicKey()) != ssh.FingerprintSHA256(want) {
		t.Error("another key")
	}
	got, comment, _, rest, err := ssh.ParseAuthorizedKey(public)
	if err != nil || !bytes.Equal(got.Marshal(), want.Marshal()) || comment != "j.smith at the bench" || len(rest) != 0 {
		t.Errorf("the public line is %q: %v", public, err)
	}
}

func TestAKeyIsNotMadeOfTooLittle(t *testing.T) {
	if _, _, err := NewKey(bytes.NewReader(make([]byte, 31)), "", nil); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("31 random bytes: %v", err)
	}
	for _, comment := range []string{"two\nlines", "\x1b[2J", "\xff", "nul\x00"} {
		if _, _, err := NewKey(rand.Reader, comment, nil); err == nil {
			t.Errorf("comment %q was taken", comment)
		}
	}
}

func TestALockedKeyNeedsItsPassphrase(t *testing.T) {
	private, _, err := NewKey(rand.Reader, "", []byte("valve"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		passphrase, want string
	}{
		{"", "the key is locked: it needs its passphrase"},
		{"vavle", "the key is locked: wrong passphrase"},
	} {
		if _, err := LoadSigner(private, []byte(c.passphrase)); !errors.Is(err, ErrPassphrase) || err.Error() != c.want {
			t.Errorf("passphrase %q: got %v, want %q", c.passphrase, err, c.want)
		}
	}
	if _, err := LoadSigner(private, []byte("valve")); err != nil {
		t.Error(err)
	}
	open, _, err := NewKey(rand.Reader, "", nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := LoadSigner(open, []byte("not needed")); err != nil {
		t.Error(err)
	}
}

// ecdsaKey is a good key of a kind that is not taken.
func ecdsaKey(t testing.TB) (private []byte, s ssh.Signer) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	block, err := ssh.MarshalPrivateKey(key, "")
	if err != nil {
		t.Fatal(err)
	}
	if s, err = ssh.NewSignerFromKey(key); err != nil {
		t.Fatal(err)
	}
	return pem.EncodeToMemory(block), s
}

func TestOnlyOneKindOfKeySigns(t *testing.T) {
	private, other := ecdsaKey(t)
	const want = "a key of kind ecdsa-sha2-nistp256; only ssh-ed25519 is taken"
	if _, err := LoadSigner(private, nil); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("to sign with: %v", err)
	}
	if _, err := AgentSigner(agent.NewKeyring(), other.PublicKey()); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("in an agent: %v", err)
	}
	armored := sign(t, keySigner{other}, NamespaceReal, []byte("message"))
	_, err := VerifySignature([]byte("message"), armored, NamespaceReal, Signers{})
	if !errors.Is(err, ErrSignature) || !strings.Contains(err.Error(), `a key of kind "ecdsa-sha2-nistp256"; only `) {
		t.Errorf("to verify: %v", err)
	}
	if _, err := LoadSigner([]byte("not a key"), nil); err == nil || errors.Is(err, ErrPassphrase) {
		t.Errorf("text that is no key: %v", err)
	}
}

// A private key file whose two halves do not belong together makes signatures
// that nobody can verify: found when signing, not years later.
func TestAKeyOfTwoHalves(t *testing.T) {
	a, b := ed25519.NewKeyFromSeed(make([]byte, 32)), ed25519.NewKeyFromSeed(bytes.Repeat([]byte{1}, 32))
	s, err := ssh.NewSignerFromKey(ed25519.PrivateKey(append(bytes.Clone(a[:32]), b[32:]...)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := (keySigner{s}).Sign(NamespaceReal, nil); err == nil || !strings.Contains(err.Error(), "does not verify") {
		t.Errorf("got %v", err)
	}
}

func TestOnlyOurNamespacesAreSigned(t *testing.T) {
	for _, n := range []string{"", "file", "git", "powerup", "powerup-transcript "} {
		if _, err := testKey(t, 1).Sign(n, nil); err == nil {
			t.Errorf("namespace %q was signed", n)
		}
	}
}

func TestWriteKeyNeverWritesOverAKey(t *testing.T) {
	path := filepath.Join(t.TempDir(), "keys", "id")
	if err := WriteKey(path, []byte("private"), []byte("public")); err != nil {
		t.Fatal(err)
	}
	for p, want := range map[string]struct {
		text string
		mode fs.FileMode
	}{path: {"private", 0o600}, path + ".pub": {"public", 0o644}} {
		info, err := os.Stat(p)
		if err != nil {
			t.Fatal(err)
		}
		if got := readFile(t, p); string(got) != want.text || runtime.GOOS != "windows" && info.Mode() != want.mode {
			t.Errorf("%s: %q, mode %v", p, got, info.Mode())
		}
	}
	if err := WriteKey(path, []byte("other"), []byte("other")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second time: %v", err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := WriteKey(path, []byte("other"), []byte("other")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over a public key: %v", err)
	}
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Error("half a key is left")
	}
	if got := readFile(t, path+".pub"); string(got) != "public" {
		t.Errorf("the public key is %q now", got)
	}
	if err := WriteKey(filepath.Join(path+".pub", "id"), nil, nil); err == nil {
		t.Error("a key under a file")
	}
}

// brokenAgent answers with a signature over something else, or not at all.
type brokenAgent struct {
	agent.Agent
	fail error
}

func (a brokenAgent) Signers() ([]ssh.Signer, error) {
	if a.fail != nil {
		return nil, a.fail
	}
	all, err := a.Agent.Signers()
	for i := range all {
		all[i] = liar{all[i]}
	}
	return all, err
}

type liar struct{ ssh.Signer }

func (l liar) Sign(r io.Reader, data []byte) (*ssh.Signature, error) {
	return l.Signer.Sign(r, []byte("something else"))
}

func TestAnAgentSigns(t *testing.T) {
	keyring := agent.NewKeyring()
	for n := range byte(3) {
		key := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32))
		if err := keyring.Add(agent.AddedKey{PrivateKey: key}); err != nil {
			t.Fatal(err)
		}
	}
	want := testKey(t, 1)
	s, err := AgentSigner(keyring, want.PublicKey())
	if err != nil {
		t.Fatal(err)
	}
	if Fingerprint(s.PublicKey()) != Fingerprint(want.PublicKey()) {
		t.Error("another key")
	}
	armored := sign(t, s, NamespaceReal, []byte("message"))
	if who, err := VerifySignature([]byte("message"), armored, NamespaceReal, signers(t, row("j.smith", "", want))); err != nil || who != "j.smith" {
		t.Errorf("%q, %v", who, err)
	}
	absent := testKey(t, 9).PublicKey()
	if _, err := AgentSigner(keyring, absent); err == nil || !strings.Contains(err.Error(), Fingerprint(absent)) {
		t.Errorf("a key that the agent does not hold: %v", err)
	}
}

func TestAnAgentThatCannotBeTrusted(t *testing.T) {
	keyring := agent.NewKeyring()
	if err := keyring.Add(agent.AddedKey{PrivateKey: ed25519.NewKeyFromSeed(bytes.Repeat([]byte{1}, 32))}); err != nil {
		t.Fatal(err)
	}
	pub := testKey(t, 1).PublicKey()
	if _, err := AgentSigner(brokenAgent{keyring, errDisk}, pub); !errors.Is(err, errDisk) {
		t.Errorf("an agent that does not answer: %v", err)
	}
	s, err := AgentSigner(brokenAgent{keyring, nil}, pub)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Sign(NamespaceReal, []byte("message")); err == nil || !strings.Contains(err.Error(), "does not verify") {
		t.Errorf("an agent that lies: %v", err)
	}
}
