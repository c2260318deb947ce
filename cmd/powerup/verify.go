package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/console"
)

type verifyOptions struct {
	signers, revoked          string
	practice, passed, summary bool
	recompute                 bool
}

func newVerifyCommand(w world) *cobra.Command {
	var o verifyOptions
	c := &cobra.Command{
		Use: "verify TRANSCRIPT|FOLDER...", Short: "check a record: chain, signature, and every reading judged again", Args: cobra.MinimumNArgs(1),
		Long: `Checks each record: that every line follows the one before, that it was signed
by somebody in your file of known keys, and that each verdict is what the rule
gives for the reading and the window beside it. It says who, what, in which
order, and unchanged since. It does not say that a set is safe.

Where the file of known keys says from when or until when a key is good, that is
held against the record's own close, as the clock of its computer had it. A key
that is revoked is never believed, whenever it signed. A key with several names
is believed for the operator that the record names.

Of a folder it checks all records, those in its sub-folders left out, and prints
one line a set: what became of it, who signed, and when to look at it again.`,
		RunE: func(c *cobra.Command, args []string) error { return runVerify(w, o, args) },
	}
	c.Flags().StringVar(&o.signers, "signers", "", "`FILE` of keys that are believed (default: signers in the configuration folder)")
	c.Flags().StringVar(&o.revoked, "revoked", "", "`FILE` of keys that are not believed any more (default: revoked in the configuration folder, if it is there)")
	c.Flags().BoolVar(&o.practice, "practice", false, "accept a practice record, which proves nothing about a set")
	c.Flags().BoolVar(&o.passed, "passed", false, "also demand that the set was tested with nothing open, and that the counts at the close are those of the lines")
	c.Flags().BoolVar(&o.summary, "summary", false, "print what an owner can read, in at most 25 lines")
	c.Flags().BoolVar(&o.recompute, "recompute", false, "also play the whole session again from the files in its first line, windows and all; a record that cannot be played is not accepted")
	return c
}

// runVerify checks one file or folder, or several, each under its name. What
// cannot be read hides nothing of the others; only the stop key ends it all.
func runVerify(w world, o verifyOptions, names []string) error {
	if len(names) == 1 {
		return verifyName(w, o, names[0])
	}
	var worst error
	for _, name := range names {
		fmt.Fprintln(w.out, console.Clean(name))
		err := verifyName(w, o, name)
		if errors.Is(err, errAborted) {
			return err
		}
		if err != nil && !errors.Is(err, errVerify) {
			complain(w.err, err)
		}
		worst = graver(worst, err)
	}
	return worst
}

// graver is how the graver of two errors ends the program. A record that is not
// accepted is graver than one that could not be read: the words of that were said.
func graver(a, b error) error {
	switch {
	case errors.Is(a, errVerify) || errors.Is(b, errVerify):
		return errVerify
	case exitCode(b) == errUsage.code || exitCode(a) == errUsage.code:
		return quiet{errUsage}
	case a != nil || b != nil:
		return quiet{errInternal}
	}
	return nil
}

func verifyName(w world, o verifyOptions, name string) error {
	info, err := os.Stat(name)
	if err != nil {
		return usage(err)
	}
	if info.IsDir() {
		return verifyFolder(w, o, name)
	}
	return verifyFile(w, o, name)
}

// verifyFile checks one record and prints what came of it.
func verifyFile(w world, o verifyOptions, file string) error {
	f, err := check(o, file)
	if err != nil {
		return err
	}
	if o.summary {
		f.summary(w, o, file)
	} else {
		f.print(w.out)
	}
	if !f.accepted() {
		return errVerify
	}
	return nil
}
