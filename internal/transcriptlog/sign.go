package transcriptlog

import (
	"bytes"
	"encoding/pem"
	"errors"
	"fmt"
	"os"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
)

// SignFile signs all bytes of a closed transcript and puts the signature beside
// it, in FILE.sig, over an older one if there is one. The namespace must be the
// transcript's own (Transcript.Namespace): what is not closed is not signed, and
// practice is never signed as proof.
func SignFile(path, namespace string, s Signer) (sigPath string, err error) {
	f, err := os.Open(path)
	if err != nil {
		return "", fmt.Errorf("transcript: %w", err)
	}
	b, err := readAll(f)
	if err := errors.Join(err, f.Close()); err != nil {
		return "", fmt.Errorf("transcript: %w", err)
	}
	t := Read(b)
	switch {
	case t.Ending == Broken:
		return "", fmt.Errorf("transcript %s: %w: line %d: %s", path, ErrBroken, t.BadLine, t.Reason)
	case t.Ending != Complete:
		return "", fmt.Errorf("transcript %s: not closed, so not signed", path)
	case t.Namespace() != namespace:
		return "", fmt.Errorf("transcript %s: signed in namespace %s or not at all, not in %q", path, t.Namespace(), namespace)
	}
	armored, err := s.Sign(namespace, b)
	if err != nil {
		return "", fmt.Errorf("transcript %s: %w", path, err)
	}
	sigPath = path + ".sig"
	if err := replaceFile(sigPath, armored, 0o600); err != nil {
		return "", fmt.Errorf("signature %s: %w", sigPath, err)
	}
	return sigPath, nil
}

// Signed is whose signature one is.
type Signed struct {
	Name  string
	Key   ssh.PublicKey
	Dated bool // a date in the signers file had to hold
}

// VerifySignature checks an OpenSSH signature over the message in a namespace
// and says who the signers file says the signer is. Errors: ErrSignature; and
// where the signature is good, ErrUnlisted, ErrRevoked, ErrNotValid, ErrNoName.
func VerifySignature(message, armored []byte, namespace string, s Signers) (principal string, err error) {
	who, err := CheckSignature(message, armored, namespace, s)
	return who.Name, err
}

// CheckSignature is VerifySignature with all that is known of the signer.
func CheckSignature(message, armored []byte, namespace string, s Signers) (Signed, error) {
	sig, err := unarmor(armored)
	if err != nil {
		return Signed{}, fmt.Errorf("%w: %w", ErrSignature, err)
	}
	if sig.Namespace != namespace {
		return Signed{}, fmt.Errorf("%w: made in namespace %.40q, not %q", ErrSignature, sig.Namespace, namespace)
	}
	err = sshsig.Verify(bytes.NewReader(message), sig, sig.PublicKey, sig.HashAlgorithm, namespace)
	if err != nil {
		return Signed{}, fmt.Errorf("%w: %w", ErrSignature, err)
	}
	return s.Owner(sig.PublicKey, namespace)
}

// unarmor takes an armoured signature with nothing before, after or beside it.
func unarmor(armored []byte) (*sshsig.Signature, error) {
	const begin = "-----BEGIN " + sshsig.PEMType + "-----\n"
	if len(armored) > 1<<14 || !bytes.HasPrefix(armored, []byte(begin)) {
		return nil, errors.New("not an OpenSSH signature")
	}
	block, rest := pem.Decode(armored)
	if block == nil || len(rest) > 0 || len(block.Headers) > 0 || block.Type != sshsig.PEMType {
		return nil, errors.New("not one OpenSSH signature and nothing else")
	}
	sig, err := sshsig.ParseSignature(block.Bytes)
	if err != nil {
		return nil, err
	}
	if err := checkKind(sig.PublicKey.Type()); err != nil {
		return nil, err
	}
	if !bytes.Equal(sig.Marshal(), block.Bytes) {
		return nil, errMeaningless
	}
	return sig, checkForm(sig)
}

func checkNamespace(namespace string) error {
	switch namespace {
	case NamespaceReal, NamespacePractice, NamespaceRelease:
		return nil
	}
	return fmt.Errorf("namespace %.40q is not one of ours", namespace)
}
