package console

import (
	"strings"
	"unicode/utf8"
)

// row lays out a label and its text in lines of at most 80 columns; a line feed
// in the text begins a new line.
func row(label, text string) []string {
	head := clean(label)
	head += strings.Repeat(" ", max(1, labelWidth-utf8.RuneCountInString(head)))
	var out []string
	for part := range strings.SplitSeq(text, "\n") {
		for _, line := range wrap(clean(part), width-labelWidth) {
			out = append(out, strings.TrimRight(head+line, " "))
			head = strings.Repeat(" ", labelWidth)
		}
	}
	return out
}

// wrap breaks text at spaces; a word longer than the room stands alone.
func wrap(text string, room int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) <= room:
			line += " " + w
		default:
			out = append(out, line)
			line = w
		}
	}
	return append(out, line)
}
