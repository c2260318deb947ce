package main

import (
	"errors"
	"os"

	"github.com/spf13/cobra"
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
	c.Flags().BoolVar(&o.passed, "passed", false, "also demand that the set was tested with nothing open")
	c.Flags().BoolVar(&o.summary, "summary", false, "print what an owner can read, in at most 25 lines")
	c.Flags().BoolVar(&o.recompute, "recompute", false, "also play the whole session again from the files in its first line, windows and all; a record that cannot be played is not accepted")
	return c
}

func runVerify(w world, o verifyOptions, names []string) error {
	var failed error
	for _, name := range names {
		info, err := os.Stat(name)
		if err != nil {
			return usage(err)
		}
		one := verifyFile
		if info.IsDir() {
			one = verifyFolder
		}
		if err := one(w, o, name); errors.Is(err, errVerify) {
			failed = errVerify
		} else if err != nil {
			return err
		}
	}
	return failed
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
	if !f.accepted(o) {
		return errVerify
	}
	return nil
}
