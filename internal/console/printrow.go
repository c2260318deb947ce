package console

import (
	"fmt"
	"io"
)

// PrintRow prints a label and its text in lines of at most 80 columns.
func PrintRow(w io.Writer, label, text string) {
	for _, line := range row(label, text) {
		fmt.Fprintln(w, line)
	}
}
