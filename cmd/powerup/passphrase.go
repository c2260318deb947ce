package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/transcriptlog"
)

const passphraseTries = 3

// unlock asks for the passphrase of a key, a few times.
func unlock(ctx context.Context, w world, path string, pem []byte) (transcriptlog.Signer, error) {
	for range passphraseTries {
		pass, err := askPassphrase(ctx, w, "Passphrase of your key: ")
		if err != nil {
			return nil, err
		}
		s, err := transcriptlog.LoadSigner(pem, pass)
		if !errors.Is(err, transcriptlog.ErrPassphrase) {
			return s, err
		}
		fmt.Fprintln(w.out, "That is not its passphrase.")
	}
	return nil, usage(fmt.Errorf("the key stays locked: %d wrong passphrases for %s\nhint: nothing was begun; no session starts that could not be signed", passphraseTries, path))
}

// askPassphrase reads without echo from a terminal. The stop key gives the
// terminal back as it was.
func askPassphrase(ctx context.Context, w world, prompt string) ([]byte, error) {
	f, ok := w.in.(*os.File)
	if !ok || !isTerminal(f) {
		return nil, usage(errors.New("a passphrase is typed at a terminal only"))
	}
	fd := int(f.Fd())
	before, err := term.GetState(fd)
	if err != nil {
		return nil, err
	}
	if err := dropTyped(f); err != nil {
		return nil, err
	}
	fmt.Fprint(w.out, prompt)
	defer fmt.Fprintln(w.out)
	type answer struct {
		pass []byte
		err  error
	}
	got := make(chan answer, 1)
	go func() {
		pass, err := term.ReadPassword(fd)
		got <- answer{pass, err}
	}()
	select {
	case <-ctx.Done():
		return nil, left(errors.Join(context.Cause(ctx), giveBack(fd, before)))
	case a := <-got:
		if errors.Is(a.err, io.EOF) {
			return nil, left(console.ErrEnd)
		}
		return a.pass, a.err
	}
}

// giveBack restores the terminal twice: the reader may be about to take the
// echo away when the stop key comes.
func giveBack(fd int, before *term.State) error {
	if err := term.Restore(fd, before); err != nil {
		return err
	}
	time.Sleep(settle)
	return term.Restore(fd, before)
}
