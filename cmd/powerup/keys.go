package main

import (
	"cmp"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"time"

	"golang.org/x/crypto/ssh"

	"example.com/powerup/internal/console"
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
	s, err := ownKey(ctx, w, path)
	if errors.Is(err, errNoKey) {
		return offerKey(ctx, w, path, b.Operator)
	}
	if err != nil {
		return nil, err
	}
	sayName(w, s.PublicKey(), b.Operator)
	return s, nil
}

// errNoKey: there is neither a private nor a public half.
var errNoKey = errors.New("there is no key yet")

// ownKey gives the real key of a path. Errors: errNoKey.
// A key that is revoked here could sign nothing that would be believed.
func ownKey(ctx context.Context, w world, path string) (transcriptlog.Signer, error) {
	s, cannot := agentSigner(path, cmp.Or(w.signing, signPatience))
	if s == nil {
		var err error
		if s, err = fileSigner(ctx, w, path, cannot); err != nil {
			return nil, err
		}
	}
	if err := unrevoked(s.PublicKey()); err != nil {
		return nil, usage(err)
	}
	return s, nil
}

// unrevoked refuses a key that is revoked here, or may be.
func unrevoked(pub ssh.PublicKey) error {
	revoked, err := verifyOptions{}.notBelieved()
	if err != nil {
		return err
	}
	if revoked.Has(pub) {
		return fmt.Errorf("the key %s is revoked in %s: what it signs is not believed\nhint: make a new key under another name: key: FILE in the bench file", transcriptlog.Fingerprint(pub), revokedPath())
	}
	return nil
}

// nameOf is the name by which the signers file here has a key, for a record of
// that operator and time.
func nameOf(pub ssh.PublicKey, operator string, at time.Time) (string, error) {
	known, err := verifyOptions{}.known()
	if err != nil {
		return "", err
	}
	who, err := known.At(at).Named(operator).Owner(pub, transcriptlog.NamespaceReal)
	return who.Name, err
}

// sayName tells, before the session, in whose name it will count where that is
// not the operator's, or nobody's.
func sayName(w world, pub ssh.PublicKey, operator string) {
	name, err := nameOf(pub, operator, w.clock.now().Wall)
	switch {
	case err != nil:
		sayParagraph(w.out, fmt.Sprintf("As it is now, %s verify will not accept the record: %s.", w.command(), console.Clean(disbelieved(err).why)))
	case name != operator:
		sayParagraph(w.out, fmt.Sprintf("Your key is listed as %s, and the bench file's operator is %s: the record will count as signed by %s.", name, console.Clean(operator), name))
	}
}

// fileSigner reads the key from its file, which has to be its owner's alone. Why
// no agent signs is told where that costs a passphrase, or the session.
func fileSigner(ctx context.Context, w world, path string, cannot error) (transcriptlog.Signer, error) {
	pem, err := readPrivate(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, noPrivate(path, cannot)
	}
	if err != nil {
		return nil, err
	}
	s, err := transcriptlog.LoadSigner(pem, nil)
	if !errors.Is(err, transcriptlog.ErrPassphrase) {
		return s, err
	}
	if cannot != nil {
		sayParagraph(w.out, fmt.Sprintf("No agent signs for you. %v. %s.", cannot, agentHint(path, cannot)))
	}
	if !w.interactive() {
		return nil, usage(fmt.Errorf("%s is locked, and its passphrase is typed at a terminal only\nhint: %s", path, agentHint(path, cannot)))
	}
	return unlock(ctx, w, path, pem)
}

func sayParagraph(out io.Writer, text string) {
	for _, line := range console.Paragraph(text) {
		fmt.Fprintln(out, line)
	}
}

// readPrivate reads a private key that nobody but its owner can read or change.
func readPrivate(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return nil, usage(fmt.Errorf("%s is open to others (%v): whoever read it can sign in your name\nhint: chmod 600 %s", path, info.Mode().Perm(), shell(path)))
	}
	return io.ReadAll(io.LimitReader(f, 1<<20))
}

// noPrivate is that there is no key yet; or, where its public half lies there,
// that the other half is somewhere else and must not be made anew.
func noPrivate(path string, cannot error) error {
	if _, err := os.Lstat(path + ".pub"); errors.Is(err, os.ErrNotExist) {
		return errNoKey
	}
	why, hint := "no agent runs", "start the agent that holds it, and let SSH_AUTH_SOCK name it; or put the private half back"
	if cannot != nil {
		why = cannot.Error()
	}
	if cannot != nil && !gone(cannot) {
		hint = agentHint(path, cannot)
	}
	return usage(fmt.Errorf("%s.pub is here and its private half is not; %s\nhint: %s", path, why, hint))
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
	if err := canList(signers); err != nil {
		return nil, err
	}
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
	if err := canList(signersPath()); err != nil {
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

// canList refuses, before a key is made that nobody would list, a signers file
// that cannot be read. One that is not there will be made.
func canList(signers string) error {
	text, err := plainFile(signers, transcriptlog.MaxKeys)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return usage(fmt.Errorf("no key was made: %w", err))
	}
	if _, err := transcriptlog.ParseSigners(text); err != nil {
		return usage(fmt.Errorf("no key was made: %s: %w\nhint: mend that line, or move the file away", signers, err))
	}
	return nil
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
