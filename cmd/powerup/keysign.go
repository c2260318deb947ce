package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/transcriptlog"
)

// runKeySign signs a closed record that has no signature yet.
func runKeySign(ctx context.Context, w world, path string) error {
	if w.interactive() {
		ctx = onStop(ctx)
	}
	lines, err := unsigned(path, w.command())
	if err != nil {
		return err
	}
	first, last := lines[0], lines[len(lines)-1]
	src, err := sourcesOf(first)
	if err != nil {
		return usage(fmt.Errorf("%s: %w", path, err))
	}
	bench, err := spec.LoadBench(src.bench.name, src.bench.text)
	if err != nil {
		return usage(err)
	}
	signer, err := signerOf(ctx, w, first.Practice, bench)
	if err != nil {
		return err
	}
	if made, here := first.Fields["key"], transcriptlog.Fingerprint(signer.PublicKey()); made != here {
		return usage(fmt.Errorf("%s was made with another key\nthe record's  %s\nhere          %s\nhint: who closed it signs it, with the key that its first line names", path, console.Clean(inShort(made)), here))
	}
	p := closed{path: path, practice: first.Practice, command: w.command()}
	p.signer = signedAs(signer, bench.Operator, last.Time)
	if _, err := transcriptlog.SignFile(path, p.namespace(), signer); err != nil {
		return err
	}
	p.print(w.out)
	return nil
}

// unsigned gives the lines of a record that is closed, whole, and not signed.
func unsigned(path, command string) ([]transcriptlog.Line, error) {
	raw, err := readRecord(path)
	if err != nil {
		return nil, usage(err)
	}
	t := transcriptlog.Read(raw)
	switch _, err := os.Lstat(path + ".sig"); {
	case t.Ending == transcriptlog.Broken:
		return nil, usage(fmt.Errorf("%s is broken, and never signed: %s", path, brokenAt(t)))
	case t.Ending != transcriptlog.Complete:
		return nil, usage(fmt.Errorf("%s is not closed, so not signed\nhint: %s resume %s", path, command, shell(path)))
	case err == nil:
		return nil, usage(fmt.Errorf("%s.sig is there: a record is signed once\nhint: %s verify %s", path, command, shell(path)))
	case !errors.Is(err, os.ErrNotExist):
		return nil, err
	}
	return t.Lines, nil
}

// signerOf gives the key that signs what was closed already: none is made for it.
func signerOf(ctx context.Context, w world, practice bool, b *sheet.Bench) (transcriptlog.Signer, error) {
	if !practice {
		return ownKey(ctx, w, operatorKey(b))
	}
	pem, err := os.ReadFile(practiceKeyPath())
	if err != nil {
		return nil, usage(fmt.Errorf("the practice key is not here: %w", err))
	}
	return transcriptlog.LoadSigner(pem, nil)
}
