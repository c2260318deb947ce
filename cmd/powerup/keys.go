package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"net"
	"os"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"
	"golang.org/x/term"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/transcriptlog"
)

// signerFor gives the key that will sign at the close. It is unlocked before
// anything is measured, so that an evening's work is never left unsigned for a
// forgotten passphrase.
func signerFor(w world, practice bool, b *sheet.Bench) (transcriptlog.Signer, error) {
	if practice {
		return practiceSigner()
	}
	path := b.Key
	if path == "" {
		path = keyPath()
	}
	pem, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return offerKey(w, path, b.Operator)
	}
	if err != nil {
		return nil, err
	}
	if s, err := agentSigner(path); err == nil {
		return s, nil
	}
	s, err := transcriptlog.LoadSigner(pem, nil)
	if errors.Is(err, transcriptlog.ErrPassphrase) {
		return unlock(w, pem)
	}
	return s, err
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
func offerKey(w world, path, operator string) (transcriptlog.Signer, error) {
	fmt.Fprintf(w.out, "There is no signing key yet. One will be made for %s:\n  %s (readable by you alone) and %s.pub\nA passphrase keeps others from signing in your name; an empty one is allowed.\n", operator, path, path)
	pass, err := askPassphrase(w, "New passphrase: ")
	if err != nil {
		return nil, err
	}
	again, err := askPassphrase(w, "Once more: ")
	if err != nil {
		return nil, err
	}
	if string(pass) != string(again) {
		return nil, errors.New("the two passphrases differ; no key was made")
	}
	return makeKey(path, operator, signersPath(), transcriptlog.NamespaceReal, pass)
}

func unlock(w world, pem []byte) (transcriptlog.Signer, error) {
	pass, err := askPassphrase(w, "Passphrase of your key: ")
	if err != nil {
		return nil, err
	}
	return transcriptlog.LoadSigner(pem, pass)
}

// askPassphrase reads without echo from a terminal.
func askPassphrase(w world, prompt string) ([]byte, error) {
	fmt.Fprint(w.out, prompt)
	defer fmt.Fprintln(w.out)
	f, ok := w.in.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil, errors.New("a passphrase is typed at a terminal only")
	}
	return term.ReadPassword(int(f.Fd()))
}

// agentSigner asks a running agent for the key whose public half lies beside
// path.
func agentSigner(path string) (transcriptlog.Signer, error) {
	socket := os.Getenv("SSH_AUTH_SOCK")
	if socket == "" {
		return nil, errors.New("no agent")
	}
	text, err := os.ReadFile(path + ".pub")
	if err != nil {
		return nil, err
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(text)
	if err != nil {
		return nil, err
	}
	conn, err := net.Dial("unix", socket)
	if err != nil {
		return nil, err
	}
	return transcriptlog.AgentSigner(agent.NewClient(conn), pub)
}
