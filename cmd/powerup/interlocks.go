package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.com/powerup/internal/interlocks"
)

// listInterlocks prints each interlock: what it refuses, where it is kept, what
// of it is not, and the tests that would fail without it.
func listInterlocks(out io.Writer) {
	for _, r := range interlocks.All() {
		interlockRow(out, r.ID, r.Says)
		interlockRow(out, string(r.Kind), keptIn(r.Kept))
		interlockRow(out, "refused", r.Refused)
		interlockRow(out, "not yet", r.NotYet)
		for _, name := range r.Tests {
			interlockRow(out, "test", name)
		}
		fmt.Fprintln(out)
	}
}

func keptIn(packages []string) string {
	if len(packages) == 0 {
		return "not enforced"
	}
	return "kept in " + strings.Join(packages, ", ")
}

// interlockRow prints a label and its text in 80 columns; nothing for no text.
func interlockRow(out io.Writer, label, text string) {
	const room, indent = 80, 9
	line := ""
	for word := range strings.FieldsSeq(text) {
		if line != "" && indent+utf8.RuneCountInString(line+" "+word) > room {
			fmt.Fprintf(out, "%-*s%s\n", indent, label, line)
			label, line = "", ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	if line != "" {
		fmt.Fprintf(out, "%-*s%s\n", indent, label, line)
	}
}
