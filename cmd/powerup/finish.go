package main

import (
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// finish signs a closed record and says where it is.
func (j *job) finish(d *driver, driven error, log *transcriptlog.Log, out io.Writer) error {
	if a, ok := j.console.(*answered); ok && a.lost != nil {
		driven = errors.Join(a.lost, quiet{errUsage})
	}
	if errors.Is(driven, transcriptlog.ErrDurability) { // a close line, too, may not be there
		fmt.Fprintf(out, "Record      %s\n            what was typed last may not be in it; nothing was added after it\nTo go on    %s resume %s\n", j.path, j.command, shell(j.path))
		return driven
	}
	if d.session.Result() != session.Tested {
		fmt.Fprintf(out, "Record      %s\n            open, not signed\nTo go on    %s resume %s\n", j.path, j.command, shell(j.path))
		return driven
	}
	if err := log.Close(); err != nil {
		return err
	}
	p := closed{path: j.path, practice: j.practice, command: j.command}
	p.signer = signedAs(j.signer, j.plan.Bench.Operator, j.clock.now().Wall)
	if _, err := transcriptlog.SignFile(j.path, p.namespace(), j.signer); err != nil {
		return fmt.Errorf("%w\nhint: the record is closed and whole, but not signed yet: %s key sign %s", err, j.command, shell(j.path))
	}
	p.print(out)
	return driven
}

// closed is a record that is whole, to be signed and checked.
type closed struct {
	path, command string
	signer        string // the name by which its key is listed
	practice      bool
}

// signedAs is the name by which a record can be checked: that of the key in the
// signers file, or the operator's where it has none.
func signedAs(s transcriptlog.Signer, operator string, at time.Time) string {
	if name, err := nameOf(s.PublicKey(), operator, at); err == nil {
		return name
	}
	return operator
}

func (p closed) namespace() string {
	if p.practice {
		return transcriptlog.NamespacePractice
	}
	return transcriptlog.NamespaceReal
}

func (p closed) print(out io.Writer) {
	signers, principal, flag := signersPath(), p.signer, ""
	if p.practice {
		signers, principal, flag = practiceSigners(), "practice", " --practice"
	}
	file := shell(p.path)
	fmt.Fprintf(out, "Record      %s\nCheck it    %s verify%s %s\n", p.path, p.command, flag, file)
	fmt.Fprintf(out, "            or, without powerup:\n            ssh-keygen -Y verify -f %s -I %s \\\n              -n %s -s %s < %s\n", shell(signers), shell(principal), p.namespace(), shell(p.path+".sig"), file)
	fmt.Fprintln(out, "Says        who, what file, what order, unchanged since. Not that it is safe.")
}

// shell writes a word so that a command line which is copied takes it whole.
func shell(word string) string {
	odd := func(r rune) bool { return strings.ContainsRune(" \t'\"\\$`&;|<>()*?[]{}#!~%^", r) }
	switch {
	case runtime.GOOS == "windows" && strings.Contains(word, " "):
		return `"` + word + `"`
	case runtime.GOOS == "windows" || !strings.ContainsFunc(word, odd):
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
