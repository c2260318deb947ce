package console

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// Row lays out a label and its text in lines of at most 80 columns; a line feed
// in the text begins a new line, and nothing in it reaches the terminal as a
// control character.
func Row(label, text string) []string { return row(label, text) }

func row(label, text string) []string {
	head := clean(label)
	head += strings.Repeat(" ", max(1, labelWidth-lipgloss.Width(head)))
	var out []string
	for part := range strings.SplitSeq(text, "\n") {
		for _, line := range wrap(clean(part), width-labelWidth) {
			out = append(out, strings.TrimRight(head+line, " "))
			head = strings.Repeat(" ", labelWidth)
		}
	}
	return out
}

// Paragraph lays out text without a label, neutralised likewise.
func Paragraph(text string) []string { return wrap(clean(text), width) }

// wrap breaks text at spaces, and a word that is wider than the room within
// itself. Room is in columns: some characters take two, some none.
func wrap(text string, room int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		if line != "" && lipgloss.Width(line)+1+lipgloss.Width(w) <= room {
			line += " " + w
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		line = w
		for lipgloss.Width(line) > room {
			head := fitting(line, room)
			out, line = append(out, head), line[len(head):]
		}
	}
	return append(out, line)
}

// fitting is the longest beginning of a text that takes at most so many columns.
func fitting(text string, columns int) string {
	end := 0
	for i, r := range text {
		next := i + len(string(r))
		if lipgloss.Width(text[:next]) > columns && end > 0 {
			break
		}
		end = next
	}
	return text[:end]
}

// Clean neutralises text that came from a file or an instrument.
func Clean(text string) string { return clean(text) }

// Cell is text in exactly so many columns, neutralised; what is too long ends in
// three dots.
func Cell(text string, columns int) string {
	text = clean(text)
	if lipgloss.Width(text) > columns {
		text = fitting(text, columns-3) + "..."
	}
	return text + strings.Repeat(" ", max(0, columns-lipgloss.Width(text)))
}
