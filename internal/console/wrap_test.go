package console

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
)

func TestRowsFitWhateverTheWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ reason, text string }{
		{"words", strings.Repeat("nine nine ", 30)},
		{"one word without end", strings.Repeat("x", 500)},
		{"characters of two columns", strings.Repeat("界", 120)},
		{"words of them", strings.Repeat("真空管 ", 60)},
		{"characters of no column", strings.Repeat("e\u0301", 200)},
	} {
		lines := Row("label", c.text)
		for _, line := range lines {
			if w := lipgloss.Width(line); w > width || w == 0 {
				t.Errorf("%s: %d columns: %q", c.reason, w, line)
			}
		}
		got := strings.ReplaceAll(strings.TrimPrefix(strings.Join(lines, ""), "label"), " ", "")
		if want := strings.ReplaceAll(c.text, " ", ""); got != want {
			t.Errorf("%s: something was lost: %q", c.reason, got)
		}
	}
}

func TestCellHasItsWidth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"", "        "},
		{"4711", "4711    "},
		{"12345678", "12345678"},
		{"123456789", "12345..."},
		{"真空管真空", "真空... "}, // five columns for two of two each
		{"真空管真", "真空管真"},
		{"a\x1b[2Jb", "a?[2Jb  "},
	} {
		if got := Cell(c.text, 8); got != c.want || lipgloss.Width(got) != 8 {
			t.Errorf("%q: %q, %d columns; want %q", c.text, got, lipgloss.Width(got), c.want)
		}
	}
}

// What moves a cursor, or turns, joins or hides text, is shown as a question
// mark; letters of any alphabet are left.
func TestForeignTextIsNeutralised(t *testing.T) {
	t.Parallel()
	for _, r := range []rune{0, '\a', '\b', '\n', '\r', 0x1b, 0x7f, 0x85, 0x9b, 0xad, 0x61c, 0x200b, 0x200d, 0x200f, 0x2028, 0x202e, 0x2060, 0x2066, 0x2069, 0xfeff, 0xe0041} {
		if got := clean("a" + string(r) + "b"); got != "a?b" {
			t.Errorf("%U: %q", r, got)
		}
	}
	if plain := "4k7 Ω µF ² 真空管 é — «x»"; clean(plain) != plain {
		t.Errorf("%q became %q", plain, clean(plain))
	}
	if got := Paragraph("\x1b]0;x\a ok"); !slices.Equal(got, []string{"?]0;x? ok"}) {
		t.Errorf("%q", got)
	}
}
