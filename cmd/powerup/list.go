package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/limits"
	"example.com/powerup/procedures"
)

// lists are the things that can be listed, in the order of the help.
var lists = []struct {
	name, help string
	print      func(io.Writer)
}{
	{"checks", "what can be measured, and how dangerous a wrong value is", listChecks},
	{"limits", "every number that guards a person or a set, with its source", listLimits},
	{"interlocks", "what the program refuses, by id, and what it does not refuse yet", listInterlocks},
	{"procedures", "the procedures that come with the program", named(procedures.Procedures)},
	{"sheets", "example set sheets", named(procedures.Sheets)},
	{"meters", "example meter sheets", named(procedures.Meters)},
	{"benches", "example bench files", named(procedures.Benches)},
}

func newListCommand(w world) *cobra.Command {
	c := &cobra.Command{
		Use: "list", Short: "show checks, limits, interlocks, files that come along, records", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	for _, l := range lists {
		c.AddCommand(&cobra.Command{
			Use: l.name, Short: l.help, Args: cobra.NoArgs,
			RunE: func(c *cobra.Command, _ []string) error { l.print(c.OutOrStdout()); return nil },
		})
	}
	show := &cobra.Command{
		Use: "file NAME", Short: "print one of the files that come with the program", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return printFile(c.OutOrStdout(), args[0]) },
	}
	c.AddCommand(show, &cobra.Command{
		Use: "transcripts", Short: "your records, newest last: set, when begun, how ended", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return listTranscripts(w, c.OutOrStdout()) },
	})
	return c
}

func printFile(out io.Writer, name string) error {
	for _, among := range [][]procedures.Named{procedures.Sheets(), procedures.Benches(), procedures.Meters(), procedures.Procedures()} {
		if text, ok := procedures.Find(among, name); ok {
			_, err := out.Write(text)
			return err
		}
	}
	return usage(fmt.Errorf("no file %q comes with the program\nhint: powerup list sheets, benches, meters or procedures", name))
}

func named(all func() []procedures.Named) func(io.Writer) {
	return func(out io.Writer) {
		for _, n := range all() {
			fmt.Fprintln(out, n.Name)
		}
	}
}

func listChecks(out io.Writer) {
	for _, c := range checks.All() {
		fmt.Fprintf(out, "%-22s %s  %-8s %s\n", c.ID, c.Crit, c.Supply, c.Title)
	}
}

func listLimits(out io.Writer) {
	for _, p := range limits.Profiles() {
		fmt.Fprintf(out, "profile %s of %s: mains %s to %s, %s\n", p.ID, p.Dated, p.MainsLow, p.MainsTop, p.Frequency)
	}
	for _, f := range limits.All() {
		what := f.What
		if f.Why != "" {
			what += ": " + f.Why
		}
		fmt.Fprintf(out, "%-24s %-12s %s [%s]\n", f.ID, f.Value, what, f.Cite())
	}
	for _, b := range limits.Bands() {
		fmt.Fprintf(out, "%-24s pass %g..%g query %g..%g  %s [%s]\n", b.ID, b.PassLo, b.PassHi, b.QueryLo, b.QueryHi, b.What, b.Cite())
	}
}
