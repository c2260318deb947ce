package transcriptlog

import (
	"bytes"
	"crypto"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/sha256"
	"encoding/asn1"
	"encoding/binary"
	"encoding/pem"
	"errors"
	"io"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
)

// token is a security key made of software. What it signs is laid out as
// PROTOCOL.u2f in the OpenSSH sources has it: SHA-256 of the application, one
// byte of flags, four of a counter, SHA-256 of the message.
type token struct {
	kind  string
	flags byte
	pub   ssh.PublicKey
	sign  func(data []byte) (blob []byte)
}

const (
	application = "ssh:"
	counter     = 7
)

func (k token) PublicKey() ssh.PublicKey { return k.pub }

func (k token) Sign(_ io.Reader, message []byte) (*ssh.Signature, error) {
	app, msg := sha256.Sum256([]byte(application)), sha256.Sum256(message)
	rest := binary.BigEndian.AppendUint32([]byte{k.flags}, counter)
	data := append(append(app[:], rest...), msg[:]...)
	return &ssh.Signature{Format: k.kind, Blob: k.sign(data), Rest: rest}, nil
}

func parsePublic(t testing.TB, fields any) ssh.PublicKey {
	t.Helper()
	pub, err := ssh.ParsePublicKey(ssh.Marshal(fields))
	if err != nil {
		t.Fatal(err)
	}
	return pub
}

func ed25519Token(t testing.TB, flags byte) token {
	t.Helper()
	key := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{5}, 32))
	return token{
		kind: ssh.KeyAlgoSKED25519, flags: flags,
		pub: parsePublic(t, struct {
			Kind        string
			Key         []byte
			Application string
		}{ssh.KeyAlgoSKED25519, key.Public().(ed25519.PublicKey), application}),
		sign: func(data []byte) []byte { return ed25519.Sign(key, data) },
	}
}

func ecdsaToken(t testing.TB, flags byte) token {
	t.Helper()
	key, err := ecdsa.ParseRawPrivateKey(elliptic.P256(), bytes.Repeat([]byte{6}, 32))
	if err != nil {
		t.Fatal(err)
	}
	point, err := key.PublicKey.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return token{
		kind: ssh.KeyAlgoSKECDSA256, flags: flags,
		pub: parsePublic(t, struct {
			Kind, Curve string
			Point       []byte
			Application string
		}{ssh.KeyAlgoSKECDSA256, "nistp256", point, application}),
		sign: func(data []byte) []byte {
			sum := sha256.Sum256(data)
			signed, err := key.Sign(nil, sum[:], crypto.SHA256) // nil: the same each time (RFC 6979)
			var pair struct{ R, S *big.Int }
			if rest, no := asn1.Unmarshal(signed, &pair); err != nil || no != nil || len(rest) > 0 {
				t.Fatal(err, no)
			}
			return ssh.Marshal(pair)
		},
	}
}

// tokenArmour signs with a token, without the look that keySigner has at its work.
func tokenArmour(t testing.TB, k token, message []byte, change func(*sshsig.Signature)) []byte {
	t.Helper()
	sig, err := sshsig.Sign(bytes.NewReader(message), k, sshsig.HashSHA512, NamespaceReal)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(sig)
	}
	return sshsig.Armor(sig)
}

// A token's signature is taken when it was touched; ssh-keygen, which verifies
// the same signatures, does not ask for the touch.
func TestTokensAreTakenWhenTheyWereTouched(t *testing.T) {
	message := []byte("message")
	path := writeTemp(t, "message", message)
	for _, c := range []struct {
		flags byte
		ours  bool
	}{{0x01, true}, {0x05, true}, {0x00, false}, {0x04, false}, {0xfe, false}} {
		for _, k := range []token{ed25519Token(t, c.flags), ecdsaToken(t, c.flags)} {
			text := "anna " + string(ssh.MarshalAuthorizedKey(k.pub))
			armored := tokenArmour(t, k, message, nil)
			who, err := VerifySignature(message, armored, NamespaceReal, signers(t, text))
			if (err == nil) != c.ours || c.ours && who != "anna" {
				t.Errorf("%s, flags %#x: %q, %v", k.kind, c.flags, who, err)
			}
			if !c.ours && (!errors.Is(err, ErrSignature) || !strings.Contains(err.Error(), "was not touched")) {
				t.Errorf("%s, flags %#x: %v", k.kind, c.flags, err)
			}
			if err := os.WriteFile(path+".sig", armored, 0o600); err != nil {
				t.Fatal(err)
			}
			out, ok := keygen(t, message, "-Y", "verify", "-f", writeTemp(t, "allowed_signers", []byte(text)), "-I", "anna", "-n", NamespaceReal, "-s", path+".sig")
			if !ok {
				t.Errorf("%s, flags %#x: ssh-keygen says %s", k.kind, c.flags, out)
			}
		}
	}
}

func TestTokensSignaturesThatAreRefused(t *testing.T) {
	message := []byte("message")
	known := func(k token) Signers { return signers(t, "anna "+string(ssh.MarshalAuthorizedKey(k.pub))) }
	for _, k := range []token{ed25519Token(t, 1), ecdsaToken(t, 1)} {
		if _, err := VerifySignature([]byte("other"), tokenArmour(t, k, message, nil), NamespaceReal, known(k)); !errors.Is(err, ErrSignature) {
			t.Errorf("%s: of another message: %v", k.kind, err)
		}
		for why, change := range map[string]func(*sshsig.Signature){
			"the touch written in afterwards": func(s *sshsig.Signature) { s.Signature.Rest[0] ^= 0x04 },
			"another counter":                 func(s *sshsig.Signature) { s.Signature.Rest[4]++ },
			"no flags":                        func(s *sshsig.Signature) { s.Signature.Rest = nil },
			"a byte too few":                  func(s *sshsig.Signature) { s.Signature.Rest = s.Signature.Rest[:4] },
			"bytes hidden behind":             func(s *sshsig.Signature) { s.Signature.Rest = append(s.Signature.Rest, 0) },
			"bytes hidden within":             func(s *sshsig.Signature) { s.Signature.Blob = append(s.Signature.Blob, 0) },
			"another kind of signature":       func(s *sshsig.Signature) { s.Signature.Format = ssh.KeyAlgoED25519 },
			"a signature of a web page":       func(s *sshsig.Signature) { s.Signature.Format = "webauthn-sk-ecdsa-sha2-nistp256@openssh.com" },
		} {
			if _, err := VerifySignature(message, tokenArmour(t, k, message, change), NamespaceReal, known(k)); !errors.Is(err, ErrSignature) {
				t.Errorf("%s: %s: %v", k.kind, why, err)
			}
		}
		if _, err := AgentSigner(nil, k.pub); err == nil || !strings.Contains(err.Error(), "only ssh-ed25519") {
			t.Errorf("%s: to sign with: %v", k.kind, err)
		}
	}
}

// zeroBefore writes the first number of an ECDSA signature with a zero more.
func zeroBefore(s *sshsig.Signature) {
	n := binary.BigEndian.Uint32(s.Signature.Blob)
	longer := binary.BigEndian.AppendUint32(nil, n+1)
	s.Signature.Blob = append(append(longer, 0), s.Signature.Blob[4:]...)
}

// A number with zeros before it is the same number, and another spelling.
func TestZerosBeforeANumberOfASignature(t *testing.T) {
	k := ecdsaToken(t, 1)
	known := signers(t, "anna "+string(ssh.MarshalAuthorizedKey(k.pub)))
	armored := tokenArmour(t, k, nil, zeroBefore)
	if _, err := VerifySignature(nil, armored, NamespaceReal, known); !errors.Is(err, ErrSignature) || !strings.Contains(err.Error(), errMeaningless.Error()) {
		t.Errorf("got %v", err)
	}
}

// The Ed25519 token's signature is kept under testdata: a vector for whoever
// writes another reader. It is made anew with -update.
func TestAKeptTokensSignature(t *testing.T) {
	dir := filepath.Join("testdata", "token")
	k := ed25519Token(t, 1)
	file := encode(t, false, records()...)
	made := map[string][]byte{
		"transcript.jsonl":     file,
		"transcript.jsonl.sig": tokenArmour(t, k, file, nil),
		"untouched.sig":        tokenArmour(t, ed25519Token(t, 0), file, nil),
		"allowed_signers":      publicLine("j.smith ", k.pub, ""),
	}
	for name, want := range made {
		path := filepath.Join(dir, name)
		if *update {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got := readFile(t, path); !bytes.Equal(got, want) {
			t.Errorf("%s is not what is made here: see -update", path)
		}
	}
	known, err := ParseSigners(made["allowed_signers"])
	if err != nil {
		t.Fatal(err)
	}
	if who, err := VerifySignature(file, made["transcript.jsonl.sig"], NamespaceReal, known); err != nil || who != "j.smith" {
		t.Errorf("%q, %v", who, err)
	}
	if _, err := VerifySignature(file, made["untouched.sig"], NamespaceReal, known); !errors.Is(err, ErrSignature) {
		t.Errorf("untouched: %v", err)
	}
}

// No changed bit of a token's signature verifies. (Of an ECDSA signature there is
// a second one of the same message, r and -s, which nobody makes by changing a bit.)
func TestEveryBitOfATokensSignatureMatters(t *testing.T) {
	for _, k := range []token{ed25519Token(t, 1), ecdsaToken(t, 1)} {
		known := signers(t, "anna "+string(ssh.MarshalAuthorizedKey(k.pub)))
		block, _ := pem.Decode(tokenArmour(t, k, []byte("message"), nil))
		for i := range block.Bytes {
			for bit := range 8 {
				block.Bytes[i] ^= 1 << bit
				if _, err := VerifySignature([]byte("message"), pem.EncodeToMemory(block), NamespaceReal, known); err == nil {
					t.Errorf("%s: bit %d of byte %d does not matter", k.kind, bit, i)
				}
				block.Bytes[i] ^= 1 << bit
			}
		}
	}
}
