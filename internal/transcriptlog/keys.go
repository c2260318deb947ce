package transcriptlog

import (
	"bytes"
	"crypto/ed25519"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"unicode"
	"unicode/utf8"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
)

// Signer signs in the name of one key, held in memory or by an agent. Sign
// takes one of our namespaces and gives an OpenSSH signature, armoured.
type Signer interface {
	PublicKey() ssh.PublicKey
	Sign(namespace string, message []byte) (armored []byte, err error)
}

// NewKey makes an Ed25519 key from 32 bytes of rand: the private key in
// OpenSSH's PEM form, locked if there is a passphrase, and the public key as one
// line with the comment.
func NewKey(rand io.Reader, comment string, passphrase []byte) (private, public []byte, err error) {
	if !utf8.ValidString(comment) || bytes.ContainsFunc([]byte(comment), unicode.IsControl) {
		return nil, nil, fmt.Errorf("comment %q is not one line of text", comment)
	}
	seed := make([]byte, ed25519.SeedSize)
	if _, err := io.ReadFull(rand, seed); err != nil {
		return nil, nil, fmt.Errorf("no random bytes: %w", err)
	}
	key := ed25519.NewKeyFromSeed(seed)
	block, err := marshalKey(key, comment, passphrase)
	if err != nil {
		return nil, nil, err
	}
	pub, err := ssh.NewPublicKey(key.Public())
	if err != nil {
		return nil, nil, err
	}
	return pem.EncodeToMemory(block), publicLine("", pub, comment), nil
}

func marshalKey(key ed25519.PrivateKey, comment string, passphrase []byte) (*pem.Block, error) {
	if len(passphrase) == 0 {
		return ssh.MarshalPrivateKey(key, comment)
	}
	return ssh.MarshalPrivateKeyWithPassphrase(key, comment, passphrase)
}

// publicLine is a public key as a line of text, after what leads the line.
func publicLine(lead string, pub ssh.PublicKey, comment string) []byte {
	line := append([]byte(lead), bytes.TrimSpace(ssh.MarshalAuthorizedKey(pub))...)
	if comment != "" {
		line = append(append(line, ' '), comment...)
	}
	return append(line, '\n')
}

// LoadSigner reads an Ed25519 private key. A passphrase given for a key that is
// not locked is not looked at. Errors: ErrPassphrase.
func LoadSigner(pemBytes []byte, passphrase []byte) (Signer, error) {
	key, err := ssh.ParsePrivateKey(pemBytes)
	var missing *ssh.PassphraseMissingError
	if errors.As(err, &missing) {
		if len(passphrase) == 0 {
			return nil, fmt.Errorf("%w: it needs its passphrase", ErrPassphrase)
		}
		key, err = ssh.ParsePrivateKeyWithPassphrase(pemBytes, passphrase)
	}
	if errors.Is(err, x509.IncorrectPasswordError) {
		return nil, fmt.Errorf("%w: wrong passphrase", ErrPassphrase)
	}
	if err != nil {
		return nil, fmt.Errorf("private key: %w", err)
	}
	if err := checkSigningKey(key.PublicKey()); err != nil {
		return nil, fmt.Errorf("private key: %w", err)
	}
	return keySigner{key}, nil
}

// keySigner makes signatures with any key the ssh library can use.
type keySigner struct{ key ssh.Signer }

func (s keySigner) PublicKey() ssh.PublicKey { return s.key.PublicKey() }

// Sign checks its own work: an agent may answer anything, and a private key
// file may hold two halves that do not belong together.
func (s keySigner) Sign(namespace string, message []byte) ([]byte, error) {
	if err := checkNamespace(namespace); err != nil {
		return nil, err
	}
	sig, err := sshsig.Sign(bytes.NewReader(message), s.key, sshsig.HashSHA512, namespace)
	if err != nil {
		return nil, fmt.Errorf("cannot sign: %w", err)
	}
	if err := sshsig.Verify(bytes.NewReader(message), sig, s.key.PublicKey(), sig.HashAlgorithm, namespace); err != nil {
		return nil, fmt.Errorf("the key made a signature that does not verify: %w", err)
	}
	return sshsig.Armor(sig), nil
}

// Fingerprint names a key as OpenSSH does: SHA256: and 43 characters.
func Fingerprint(pub ssh.PublicKey) string { return ssh.FingerprintSHA256(pub) }

// WriteKey writes the private key to path, readable by its owner alone, and the
// public key to path.pub, never over a file that exists. On an error neither is
// left.
func WriteKey(path string, private, public []byte) error {
	dir := filepath.Dir(path)
	if err := makeFolder(dir); err != nil {
		return fmt.Errorf("key: %w", err)
	}
	if err := createFile(path, private, 0o600); err != nil {
		return fmt.Errorf("key: %w", err)
	}
	if err := createFile(path+".pub", public, 0o644); err != nil {
		return fmt.Errorf("key: %w", errors.Join(err, os.Remove(path)))
	}
	if err := syncFolder(dir); err != nil {
		return fmt.Errorf("key: %w", err)
	}
	return nil
}
