package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/crypto/ssh"

	"example.com/powerup/internal/transcriptlog"
)

func newKeyCommand(w world) *cobra.Command {
	c := &cobra.Command{
		Use: "key", Short: "make or show the key that signs your records; sign one", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(
		&cobra.Command{
			Use: "new NAME", Short: "make a signing key and list it in the signers file", Args: cobra.ExactArgs(1),
			Long: `Makes the key that signs your records, behind a passphrase that you type twice,
and lists it in the signers file under NAME: one word, the operator of your
bench file. There is one such key; it is never written over.`,
			RunE: func(c *cobra.Command, args []string) error { return runKeyNew(c.Context(), w, args[0]) },
		},
		&cobra.Command{
			Use: "show", Short: "print the public half, its fingerprint and its line for others", Args: cobra.NoArgs,
			RunE: func(c *cobra.Command, _ []string) error { return runKeyShow(w) },
		},
		&cobra.Command{
			Use: "sign RECORD", Short: "sign a record that was closed and could not be signed", Args: cobra.ExactArgs(1),
			Long: `Signs a record whose session was closed and whose key was not there to sign it:
an agent that had gone, a disk that was full, a computer that went down between
the two. It takes the key that the record names in its first line, and no other;
a practice record is signed by the practice key.`,
			RunE: func(c *cobra.Command, args []string) error { return runKeySign(c.Context(), w, args[0]) },
		},
	)
	return c
}

func runKeyNew(ctx context.Context, w world, name string) error {
	if err := w.noKeyYet(keyPath()); err != nil {
		return err
	}
	if !w.interactive() {
		return usage(errors.New("a key is made at a terminal, where its passphrase can be typed"))
	}
	s, err := offerKey(onStop(ctx), w, keyPath(), name)
	if err != nil {
		return err
	}
	fmt.Fprintf(w.out, "made %s\nlisted as %s in %s\n%s\n", keyPath(), name, signersPath(), transcriptlog.Fingerprint(s.PublicKey()))
	return nil
}

// noKeyYet refuses where there is a key, or one half of it: the other may be an
// agent's, or lie elsewhere.
func (w world) noKeyYet(path string) error {
	if _, err := os.Stat(path); err == nil {
		return usage(fmt.Errorf("there is a key already: %s\nhint: %s key show", path, w.command()))
	}
	held, cannot := agentSigner(path, signPatience)
	if held != nil {
		return usage(fmt.Errorf("there is a key already: an agent holds that of %s.pub\nhint: %s key show", path, w.command()))
	}
	if err := noPrivate(path, cannot); !errors.Is(err, errNoKey) {
		return err
	}
	return nil
}

func runKeyShow(w world) error {
	text, err := os.ReadFile(keyPath() + ".pub")
	if errors.Is(err, os.ErrNotExist) {
		return usage(fmt.Errorf("%w\nhint: %s key new NAME", errNoKey, w.command()))
	}
	if err != nil {
		return err
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(text)
	if err != nil {
		return err
	}
	fmt.Fprintf(w.out, "%s%s\n", text, transcriptlog.Fingerprint(pub))
	line, err := lineForOthers(pub, w.clock.now().Wall)
	if err != nil {
		return usage(err)
	}
	fmt.Fprintf(w.out, "For whoever checks your records, as a line of their signers file:\n%s", line)
	return nil
}

// lineForOthers is what the signers file says of a key, or why nobody should be
// told so.
func lineForOthers(pub ssh.PublicKey, now time.Time) ([]byte, error) {
	if err := unrevoked(pub); err != nil {
		return nil, err
	}
	byHand := fmt.Sprintf("hint: for a third party: NAME namespaces=%q and the first line above", transcriptlog.NamespaceReal)
	known, err := verifyOptions{}.known()
	if err != nil {
		return nil, fmt.Errorf("%w\n%s", err, byHand)
	}
	line, err := known.At(now).Line(pub, transcriptlog.NamespaceReal)
	switch {
	case errors.Is(err, transcriptlog.ErrNotValid):
		return nil, fmt.Errorf("%s lists it for other dates than now: what it signs now is not believed\nhint: a key whose dates are over is replaced: key: FILE in the bench file", signersPath())
	case errors.Is(err, transcriptlog.ErrNoName):
		return nil, fmt.Errorf("%s lists it, but not for one name\n%s", signersPath(), byHand)
	case err != nil:
		return nil, fmt.Errorf("%s does not list it for records\n%s", signersPath(), byHand)
	}
	return line, nil
}
