package transcriptlog

import (
	"bytes"
	"encoding/pem"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
)

// testKey is the key whose 32 secret bytes are all n: for tests alone.
func testKey(t testing.TB, n byte) Signer {
	t.Helper()
	private, _, err := NewKey(bytes.NewReader(bytes.Repeat([]byte{n}, 32)), "test", nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := LoadSigner(private, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func signers(t testing.TB, rows ...string) Signers {
	t.Helper()
	s, err := ParseSigners([]byte(strings.Join(rows, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// row is a row of a signers file.
func row(name, namespaces string, s Signer) string {
	if namespaces != "" {
		namespaces = `namespaces="` + namespaces + `" `
	}
	return name + " " + namespaces + strings.TrimSpace(string(ssh.MarshalAuthorizedKey(s.PublicKey())))
}

func sign(t testing.TB, s Signer, namespace string, message []byte) []byte {
	t.Helper()
	armored, err := s.Sign(namespace, message)
	if err != nil {
		t.Fatal(err)
	}
	return armored
}

func TestASignatureSaysWho(t *testing.T) {
	key, other := testKey(t, 1), testKey(t, 2)
	whole := encode(t, false, records()...)
	armored := sign(t, key, NamespaceReal, whole)
	known := signers(t, row("j.smith", NamespaceReal, key), row("trainer", "", other))
	if who, err := VerifySignature(whole, armored, NamespaceReal, known); err != nil || who != "j.smith" {
		t.Fatalf("got %q, %v", who, err)
	}
	for _, c := range []struct {
		why       string
		message   []byte
		armored   []byte
		namespace string
		known     Signers
		want      error
	}{
		{"a byte more", append(bytes.Clone(whole), '\n'), armored, NamespaceReal, known, ErrSignature},
		{"a byte less", whole[:len(whole)-1], armored, NamespaceReal, known, ErrSignature},
		{"nothing", nil, armored, NamespaceReal, known, ErrSignature},
		{"asked for as practice", whole, armored, NamespacePractice, known, ErrSignature},
		{"asked for as a release", whole, armored, NamespaceRelease, known, ErrSignature},
		{"asked for in no namespace", whole, armored, "", known, ErrSignature},
		{"nobody is known", whole, armored, NamespaceReal, Signers{}, ErrUnlisted},
		{"the key is known for practice alone", whole, armored, NamespaceReal, signers(t, row("j.smith", NamespacePractice, key)), ErrUnlisted},
		{"another key is known", whole, armored, NamespaceReal, signers(t, row("j.smith", "", other)), ErrUnlisted},
		{"no signature", whole, nil, NamespaceReal, known, ErrSignature},
		{"text before the signature", whole, append([]byte("x\n"), armored...), NamespaceReal, known, ErrSignature},
		{"text after the signature", whole, append(bytes.Clone(armored), "x\n"...), NamespaceReal, known, ErrSignature},
		{"two signatures", whole, append(bytes.Clone(armored), armored...), NamespaceReal, known, ErrSignature},
		{"a very long one", whole, append(bytes.Clone(armored), make([]byte, 1<<14)...), NamespaceReal, known, ErrSignature},
		{"a header in the armour", whole, bytes.Replace(armored, []byte("-----\n"), []byte("-----\nA: b\n\n"), 1), NamespaceReal, known, ErrSignature},
		{"another armour", whole, bytes.ReplaceAll(armored, []byte("SSH SIGNATURE"), []byte("PGP SIGNATURE")), NamespaceReal, known, ErrSignature},
	} {
		if who, err := VerifySignature(c.message, c.armored, c.namespace, c.known); !errors.Is(err, c.want) || who != "" {
			t.Errorf("%s: got %q, %v, want %v", c.why, who, err, c.want)
		}
	}
	_, err := VerifySignature(whole, armored, NamespacePractice, known)
	if want := `made in namespace "powerup-transcript", not "powerup-practice"`; !strings.Contains(err.Error(), want) {
		t.Errorf("the namespaces are not named: %v", err)
	}
}

// No single changed byte of a signed file verifies.
func TestEveryByteOfASignedFileIsCovered(t *testing.T) {
	key := testKey(t, 1)
	known := signers(t, row("j.smith", "", key))
	signed := encode(t, false, records()...)
	armored := sign(t, key, NamespaceReal, signed)
	for i := range signed {
		for _, mask := range []byte{0x01, 0x20, 0x80} {
			signed[i] ^= mask
			if _, err := VerifySignature(signed, armored, NamespaceReal, known); !errors.Is(err, ErrSignature) {
				t.Errorf("byte %d ^ %#x is not covered: %v", i, mask, err)
			}
			signed[i] ^= mask
		}
		if _, err := VerifySignature(signed[:i], armored, NamespaceReal, known); !errors.Is(err, ErrSignature) {
			t.Errorf("cut to %d bytes it verifies: %v", i, err)
		}
	}
	if _, err := VerifySignature(signed, armored, NamespaceReal, known); err != nil {
		t.Errorf("unchanged it does not verify: %v", err)
	}
}

// Nor is there a second spelling of a signature: no changed bit of it verifies.
func TestEveryBitOfASignatureMatters(t *testing.T) {
	key := testKey(t, 1)
	known := signers(t, row("j.smith", "", key))
	armored := sign(t, key, NamespaceReal, []byte("message"))
	block, _ := pem.Decode(armored)
	for i := range block.Bytes {
		for bit := range 8 {
			block.Bytes[i] ^= 1 << bit
			if _, err := VerifySignature([]byte("message"), pem.EncodeToMemory(block), NamespaceReal, known); err == nil {
				t.Errorf("bit %d of byte %d does not matter", bit, i)
			}
			block.Bytes[i] ^= 1 << bit
		}
	}
}

// The reserved part and the rest of a signature are not covered by it; bytes
// hidden there are refused.
func TestBytesHiddenInASignature(t *testing.T) {
	key := testKey(t, 1)
	known := signers(t, row("j.smith", "", key))
	sig, err := sshsig.Unarmor(sign(t, key, NamespaceReal, nil))
	if err != nil {
		t.Fatal(err)
	}
	sig.Signature.Rest = []byte("hidden")
	if _, err := VerifySignature(nil, sshsig.Armor(sig), NamespaceReal, known); !errors.Is(err, ErrSignature) {
		t.Errorf("in the rest: %v", err)
	}
	sig.Signature.Rest = nil
	blob := sig.Marshal()
	mark := append([]byte(NamespaceReal), 0, 0, 0, 0) // the reserved string is empty: its length
	at := bytes.Index(blob, mark) + len(mark)
	hidden := append(bytes.Clone(blob[:at]), append([]byte("hidden"), blob[at:]...)...)
	hidden[at-1] = byte(len("hidden"))
	if _, err := sshsig.ParseSignature(hidden); err != nil {
		t.Fatalf("this would test nothing: %v", err)
	}
	armored := pem.EncodeToMemory(&pem.Block{Type: sshsig.PEMType, Bytes: hidden})
	if _, err := VerifySignature(nil, armored, NamespaceReal, known); !errors.Is(err, ErrSignature) {
		t.Errorf("in the reserved part: %v", err)
	}
}

func TestSignFileSignsTheWholeFile(t *testing.T) {
	key := testKey(t, 1)
	known := signers(t, row("j.smith", "", key))
	for practice, namespace := range map[bool]string{false: NamespaceReal, true: NamespacePractice} {
		path := writeTemp(t, "log.jsonl", encode(t, practice, records()...))
		for range 2 { // a second time over the first
			sig, err := SignFile(path, namespace, key)
			if err != nil || sig != path+".sig" {
				t.Fatalf("%q, %v", sig, err)
			}
			if _, err := VerifySignature(readFile(t, path), readFile(t, sig), namespace, known); err != nil {
				t.Error(err)
			}
		}
	}
}

// badSigner cannot sign.
type badSigner struct{ Signer }

func (badSigner) Sign(string, []byte) ([]byte, error) { return nil, errDisk }

func TestSignFileRefuses(t *testing.T) {
	key := testKey(t, 1)
	whole, practice := encode(t, false, records()...), encode(t, true, records()...)
	for _, c := range []struct {
		why       string
		file      []byte
		namespace string
		signer    Signer
		want      string
	}{
		{"practice as proof", practice, NamespaceReal, key, "signed in namespace powerup-practice or not at all"},
		{"a real session as practice", whole, NamespacePractice, key, "signed in namespace powerup-transcript or not at all"},
		{"a transcript as a release", whole, NamespaceRelease, key, "or not at all"},
		{"no namespace", whole, "", key, "or not at all"},
		{"an open transcript", whole[:lineEnds(whole)[2]], NamespaceReal, key, "not closed"},
		{"a torn transcript", whole[:len(whole)-1], NamespaceReal, key, "not closed"},
		{"a broken transcript", whole[1:], NamespaceReal, key, "the transcript is broken: line 1"},
		{"a key that cannot sign", whole, NamespaceReal, badSigner{key}, errDisk.Error()},
	} {
		path := writeTemp(t, "log.jsonl", c.file)
		if _, err := SignFile(path, c.namespace, c.signer); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v", c.why, err)
		}
		if _, err := os.Stat(path + ".sig"); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: there is a signature", c.why)
		}
	}
	if _, err := SignFile(filepath.Join(t.TempDir(), "none"), NamespaceReal, key); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
	if _, err := SignFile(t.TempDir(), NamespaceReal, key); err == nil {
		t.Error("a folder was signed")
	}
	path := writeTemp(t, "log.jsonl", whole)
	if err := os.Mkdir(path+".sig", 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := SignFile(path, NamespaceReal, key); err == nil {
		t.Error("a folder stood where the signature goes, and nothing was said")
	}
}
