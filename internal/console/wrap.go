package console

import (
	"strings"
	"unicode/utf8"
)

// row lays out a label and its text in lines of at most 80 columns.
func row(label, text string) []string {
	label, text = clean(label), clean(text)
	room := width - labelWidth
	head := label + strings.Repeat(" ", max(1, labelWidth-utf8.RuneCountInString(label)))
	var out []string
	for i, line := range wrap(text, room) {
		if i > 0 {
			head = strings.Repeat(" ", labelWidth)
		}
		out = append(out, strings.TrimRight(head+line, " "))
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
