package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/transcriptlog"
)

type verifyOptions struct {
	signers                   string
	practice, passed, summary bool
	recompute                 bool
}

func newVerifyCommand() *cobra.Command {
	var o verifyOptions
	c := &cobra.Command{
		Use: "verify TRANSCRIPT...", Short: "check a record: chain, signature, and every reading judged again", Args: cobra.MinimumNArgs(1),
		Long: `Checks each record, or all in a folder: that every line follows the one before,
that it was signed by somebody in your file of known keys, and that each verdict
is what the rule gives for the reading and the window beside it. It says who,
what, in which order, and unchanged since. It does not say that a set is safe.`,
		RunE: func(c *cobra.Command, args []string) error { return runVerify(o, args, c.OutOrStdout()) },
	}
	c.Flags().StringVar(&o.signers, "signers", "", "`FILE` of keys that are believed (default: signers in the configuration folder)")
	c.Flags().BoolVar(&o.practice, "practice", false, "accept a practice record, which proves nothing about a set")
	c.Flags().BoolVar(&o.passed, "passed", false, "also demand that the set was tested with nothing open")
	c.Flags().BoolVar(&o.summary, "summary", false, "print what an owner can read")
	c.Flags().BoolVar(&o.recompute, "recompute", false, "also play the whole session again from the files in its first line: windows and all")
	return c
}

func runVerify(o verifyOptions, args []string, out io.Writer) error {
	var failed error
	for _, name := range args {
		files, folder, err := transcripts(name)
		if err != nil {
			return err
		}
		for _, file := range files {
			f, err := check(o, file)
			if err != nil {
				return err
			}
			f.print(out, file, folder, o.summary)
			if !f.accepted(o) {
				failed = errVerify
			}
		}
	}
	return failed
}

// transcripts are the files that a name stands for: itself, or those in a folder.
func transcripts(name string) (files []string, folder bool, err error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, false, usage(err)
	}
	if !info.IsDir() {
		return []string{name}, false, nil
	}
	files, err = filepath.Glob(filepath.Join(name, "*.transcript"))
	return files, true, err
}

// finding is what a check of one record came to.
type finding struct {
	record     transcriptlog.Transcript
	signed     string // principal; empty: not accepted
	why        string // why a signature was not accepted
	judged     int
	unfair     string // a reading whose verdict is not the rule's
	recomputed string // what came of playing it again; empty: not asked
}

func check(o verifyOptions, file string) (finding, error) {
	raw, err := os.ReadFile(file)
	if err != nil {
		return finding{}, err
	}
	f := finding{record: transcriptlog.Read(raw)}
	f.signed, f.why = o.signature(raw, file, f.record)
	f.judged, f.unfair = judgeAgain(f.record.Lines)
	if o.recompute && f.unfair == "" {
		f.recomputed, f.unfair = recompute(f.record.Lines, file)
	}
	return f, nil
}

// recompute plays the record's entries once more on a plan made from its own
// files: every window, verdict and line must come out the same. It can only be
// done by a program with the record's own rules and version.
func recompute(lines []transcriptlog.Line, file string) (done, why string) {
	if len(lines) == 0 || lines[0].Fields["program"] != version() || lines[0].Fields["rules"] != fmt.Sprint(checks.RulesVersion) {
		return "not done: the record was made by another version of the program", ""
	}
	if _, _, err := rebuild(lines, file); err != nil {
		return "", err.Error()
	}
	return fmt.Sprintf("all %d lines follow again from what was typed", len(lines)), ""
}

func (o verifyOptions) signature(raw []byte, file string, t transcriptlog.Transcript) (string, string) {
	if len(t.Lines) == 0 {
		return "", "there is nothing to sign"
	}
	practice := t.Lines[0].Practice
	if practice != o.practice {
		if practice {
			return "", "it is a practice record: it proves nothing about a set (--practice accepts it as practice)"
		}
		return "", "it is a real record, and --practice accepts practice only"
	}
	armored, err := os.ReadFile(file + ".sig")
	if errors.Is(err, os.ErrNotExist) {
		return "", "it is not signed: there is no " + filepath.Base(file) + ".sig"
	}
	if err != nil {
		return "", err.Error()
	}
	signers, err := o.known()
	if err != nil {
		return "", err.Error()
	}
	name, err := transcriptlog.VerifySignature(raw, armored, t.Namespace(), signers)
	if err != nil {
		return "", err.Error()
	}
	return name, ""
}

func (o verifyOptions) known() (transcriptlog.Signers, error) {
	path := o.signers
	if path == "" {
		path = signersPath()
		if o.practice {
			path = practiceSigners()
		}
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return transcriptlog.Signers{}, fmt.Errorf("no signers file: %w", err)
	}
	return transcriptlog.ParseSigners(text)
}

// judgeAgain judges every logged reading by its logged window, with the rule
// of the record's version.
func judgeAgain(lines []transcriptlog.Line) (int, string) {
	n := 0
	for _, l := range lines {
		if l.Kind != "reading" || l.Fields["rule"] == "" {
			continue
		}
		n++
		if why := unfair(l); why != "" {
			return n, fmt.Sprintf("line %d: %s: %s", l.Seq, l.Fields["slot"], why)
		}
	}
	return n, ""
}

func unfair(l transcriptlog.Line) string {
	if l.Fields["rule"] != fmt.Sprint(checks.RulesVersion) {
		return "judged by rule " + l.Fields["rule"] + ", which this program does not know"
	}
	w, err := checks.ParseWindow(under(l.Fields, "window "))
	if err != nil {
		return err.Error()
	}
	s, err := meter.ParseShown(under(l.Fields, "shown "))
	if err != nil {
		return err.Error()
	}
	got := w.Judge(s, critOf(l.Fields["class"])).Verdict
	escalated := got == engine.Query && l.Fields["verdict"] == "stop" // a second query on one path
	if got.String() != l.Fields["verdict"] && !escalated {
		return fmt.Sprintf("the record says %s, and the rule says %s", l.Fields["verdict"], got)
	}
	return ""
}

func under(fields map[string]string, prefix string) map[string]string {
	out := map[string]string{}
	for k, v := range fields {
		if rest, ok := strings.CutPrefix(k, prefix); ok {
			out[rest] = v
		}
	}
	return out
}

func critOf(letter string) engine.Crit {
	for _, c := range []engine.Crit{engine.G, engine.E} {
		if c.String() == letter {
			return c
		}
	}
	return engine.S
}
