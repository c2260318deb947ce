package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.com/powerup/internal/transcriptlog"
)

// attested is who signed a record, and who in it released a hold.
type attested struct {
	by       transcriptlog.Signed
	releases []string
}

func (a attested) signed() bool { return a.by.Name != "" }

// signature gives the signer, or why there is none to be believed.
func (o verifyOptions) signature(raw []byte, file string, t transcriptlog.Transcript) (attested, doubt) {
	if len(t.Lines) == 0 {
		return attested{}, doubt{"refused", "there is nothing to sign"}
	}
	practice := t.Lines[0].Practice
	if practice != o.practice {
		if practice {
			return attested{}, doubt{"practice", "it is a practice record: it proves nothing about a set (--practice accepts it as practice)"}
		}
		return attested{}, doubt{"real", "it is a real record, and --practice accepts practice only"}
	}
	armored, err := plainFile(file+".sig", transcriptlog.MaxLine)
	switch {
	case errors.Is(err, os.ErrNotExist) && t.Ending != transcriptlog.Complete:
		return attested{}, doubt{"unsigned", "it is not signed: there is no " + filepath.Base(file) + ".sig"}
	case errors.Is(err, os.ErrNotExist):
		return attested{}, doubt{"unsigned", fmt.Sprintf("it is not signed yet: there is no %s.sig. Who closed it signs it by: powerup key sign %s", filepath.Base(file), shell(file))}
	case err != nil:
		return attested{}, doubt{"refused", err.Error()}
	case t.Ending != transcriptlog.Complete:
		return attested{}, doubt{"refused", "only a closed record is signed, and this is not one: it was cut back or changed, or " + filepath.Base(file) + ".sig is another's"}
	}
	known, err := o.known()
	if err != nil {
		return attested{}, doubt{"refused", err.Error()}
	}
	known = known.At(t.Lines[len(t.Lines)-1].Time).Named(t.Lines[0].Fields["operator"])
	by, err := transcriptlog.CheckSignature(raw, armored, t.Namespace(), known)
	if err != nil {
		return attested{}, disbelieved(err)
	}
	releases, no := released(t.Lines, by, known)
	if no.why != "" {
		return attested{}, no
	}
	return attested{by, releases}, doubt{}
}

// released checks each release that somebody signed. One by the key that signed
// the record is no second person's.
func released(lines []transcriptlog.Line, by transcriptlog.Signed, known transcriptlog.Signers) (names []string, no doubt) {
	for _, l := range lines {
		if !transcriptlog.SignedRelease(l) {
			continue
		}
		who, err := transcriptlog.CheckRelease(l, known)
		at := fmt.Sprintf("line %d: a hold was released", l.Seq)
		switch {
		case err != nil:
			return nil, doubt{"release", at + ": " + disbelieved(err).why}
		case bytes.Equal(who.Key.Marshal(), by.Key.Marshal()) || who.Name == by.Name:
			return nil, doubt{"release", at + ": signed by who signed the record, and that is no second person"}
		}
		names = append(names, fmt.Sprintf("line %d by %s", l.Seq, who.Name))
	}
	return names, doubt{}
}

// disbelieved words why a signature is not accepted.
func disbelieved(err error) doubt {
	for _, d := range []struct {
		is         error
		short, why string
	}{
		{transcriptlog.ErrUnlisted, "unlisted", "a key that you have not listed, and anybody can make one"},
		{transcriptlog.ErrRevoked, "revoked", "a key that is revoked, and never believed again"},
		{transcriptlog.ErrNotValid, "out of date", "a key that was not good at the record's own close, by the clock of its computer"},
		{transcriptlog.ErrNoName, "no one name", "a key that is listed, but not for one name"},
	} {
		if errors.Is(err, d.is) {
			rest := strings.TrimPrefix(err.Error(), d.is.Error()+": ")
			return doubt{d.short, "signed by " + d.why + ": " + rest}
		}
	}
	return doubt{"refused", err.Error()}
}

// signersFile is the file of keys that are believed.
func (o verifyOptions) signersFile() string {
	switch {
	case o.signers != "":
		return o.signers
	case o.practice:
		return practiceSigners()
	}
	return signersPath()
}

// revokedFile is the file of keys that are not believed any more; empty: there
// is none. One that is there in whatever way must be read.
func (o verifyOptions) revokedFile() string {
	if _, err := os.Lstat(revokedPath()); o.revoked == "" && errors.Is(err, os.ErrNotExist) {
		return ""
	}
	return cmp.Or(o.revoked, revokedPath())
}

// known are the keys that are believed.
func (o verifyOptions) known() (transcriptlog.Signers, error) {
	text, err := plainFile(o.signersFile(), transcriptlog.MaxKeys)
	if err != nil {
		return transcriptlog.Signers{}, fmt.Errorf("no signers file: %w", err)
	}
	known, err := transcriptlog.ParseSigners(text)
	if err != nil {
		return transcriptlog.Signers{}, fmt.Errorf("%s: %w", o.signersFile(), err)
	}
	revoked, err := o.notBelieved()
	if err != nil {
		return transcriptlog.Signers{}, err
	}
	return known.Without(revoked), nil
}

// notBelieved are the revoked keys.
func (o verifyOptions) notBelieved() (transcriptlog.Revoked, error) {
	file := o.revokedFile()
	if file == "" {
		return transcriptlog.Revoked{}, nil
	}
	text, err := plainFile(file, transcriptlog.MaxKeys)
	if err != nil {
		return transcriptlog.Revoked{}, fmt.Errorf("which keys are revoked is not known: %w", err)
	}
	revoked, err := transcriptlog.ParseRevoked(text)
	if err != nil {
		return transcriptlog.Revoked{}, fmt.Errorf("%s: %w", file, err)
	}
	return revoked, nil
}
