package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"os"

	"golang.org/x/crypto/ssh"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/transcriptlog"
)

// signerFor gives the key that will sign at the close: an agent's, or that of
// the file. It is unlocked before anything is measured, so that an evening's
// work is never left unsigned for a forgotten passphrase.
func signerFor(ctx context.Context, w world, practice bool, b *sheet.Bench) (transcriptlog.Signer, error) {
	if practice {
		return practiceSigner()
	}
	path := operatorKey(b)
	if s, err := agentSigner(path); err == nil {
		return s, nil
	}
	pem, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return offerKey(ctx, w, path, b.Operator)
	}
	if err != nil {
		return nil, err
	}
	s, err := transcriptlog.LoadSigner(pem, nil)
	if errors.Is(err, transcriptlog.ErrPassphrase) {
		return unlock(ctx, w, path, pem)
	}
	return s, err
}

// operatorKey is where the private key of a bench's operator lies.
func operatorKey(b *sheet.Bench) string {
	if b.Key != "" {
		return b.Key
	}
	return keyPath()
}

// practiceSigner gives the one practice key, made at its first use. It has no
// passphrase and proves nothing.
func practiceSigner() (transcriptlog.Signer, error) {
	path := practiceKeyPath()
	pem, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return makeKey(path, "practice", practiceSigners(), transcriptlog.NamespacePractice, nil)
	}
	if err != nil {
		return nil, err
	}
	return transcriptlog.LoadSigner(pem, nil)
}

func makeKey(path, principal, signers, namespace string, passphrase []byte) (transcriptlog.Signer, error) {
	private, public, err := transcriptlog.NewKey(rand.Reader, principal, passphrase)
	if err != nil {
		return nil, err
	}
	if err := transcriptlog.WriteKey(path, private, public); err != nil {
		return nil, err
	}
	s, err := transcriptlog.LoadSigner(private, passphrase)
	if err != nil {
		return nil, err
	}
	return s, transcriptlog.AppendSigner(signers, principal, namespace, s.PublicKey())
}

// offerKey makes the operator's key at the first run at a terminal.
func offerKey(ctx context.Context, w world, path, operator string) (transcriptlog.Signer, error) {
	if err := listable(operator); err != nil {
		return nil, err
	}
	fmt.Fprintf(w.out, "There is no signing key yet. One will be made for %s:\n  %s (readable by you alone)\n  %s.pub\nA passphrase keeps others from signing in your name; an empty one is allowed.\n", operator, path, path)
	pass, err := askPassphrase(ctx, w, "New passphrase: ")
	if err != nil {
		return nil, err
	}
	again, err := askPassphrase(ctx, w, "Once more: ")
	if err != nil {
		return nil, err
	}
	if string(pass) != string(again) {
		return nil, usage(errors.New("the two passphrases differ; no key was made"))
	}
	return makeKey(path, operator, signersPath(), transcriptlog.NamespaceReal, pass)
}

// listable refuses, before a key is made for it, a name that a signers file
// cannot hold.
func listable(name string) error {
	_, public, err := transcriptlog.NewKey(rand.Reader, "", nil)
	if err != nil {
		return err
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(public)
	if err != nil {
		return err
	}
	line := fmt.Appendf(nil, "%s namespaces=%q %s", name, transcriptlog.NamespaceReal, ssh.MarshalAuthorizedKey(pub))
	if s, err := transcriptlog.ParseSigners(line); err == nil {
		if got, ok := s.Principal(pub, transcriptlog.NamespaceReal); ok && got == name {
			return nil
		}
	}
	return usage(fmt.Errorf("%q cannot stand in a signers file\nhint: one word of letters, digits, '.', '_', '@', '+' and '-'", name))
}
