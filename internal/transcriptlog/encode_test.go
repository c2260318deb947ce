package transcriptlog

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestOneSpellingOfEachString(t *testing.T) {
	for _, c := range []struct{ why, text, want string }{
		{"plain text stays", "4.7 kΩ <b>&/", "4.7 kΩ <b>&/"},
		{"quote and backslash", `"\`, `\"\\`},
		{"the three short ones", "\n\r\t", `\n\r\t`},
		{"other control characters", "\x00\b\f\x1b\x7f\u0085\u009b", `\u0000\u0008\u000c\u001b\u007f\u0085\u009b`},
		{"line separators", "\u2028\u2029", `\u2028\u2029`},
		{"what turns the reading order", "\u061c\u200e\u202a\u202e\u2066\u2069", `\u061c\u200e\u202a\u202e\u2066\u2069`},
		{"what is not seen", "\u200b\u200d\u2060\ufeff", `\u200b\u200d\u2060\ufeff`},
		{"the replacement character is a character", "\ufffd", "\ufffd"},
		{"beyond the first plane", "\U0001f4a1", "\U0001f4a1"},
		{"between the escaped", "a\nb\nc", `a\nb\nc`},
	} {
		if got := string(appendString(nil, c.text)); got != c.want {
			t.Errorf("%s: %q is written %s, want %s", c.why, c.text, got, c.want)
		}
	}
}

// anyLine draws every line the format can hold.
func anyLine(t *rapid.T) Line {
	text := rapid.StringOf(rapid.Rune().Filter(utf8.ValidRune))
	l := Line{
		Seq:      rapid.IntRange(1, MaxLines).Draw(t, "seq"),
		Practice: rapid.Bool().Draw(t, "practice"),
		Time:     time.UnixMilli(rapid.Int64Range(-62167219200000, 253402300799999).Draw(t, "time")).UTC(),
		Mono:     time.Duration(rapid.Int64Range(0, maxMono).Draw(t, "mono")) * time.Millisecond,
		Kind:     rapid.StringMatching(`[a-z0-9._-]{1,64}`).Draw(t, "kind"),
		Fields:   rapid.MapOfN(text.Filter(func(s string) bool { return s != "" }), text, 0, 40).Draw(t, "fields"),
	}
	copy(l.Prev[:], rapid.SliceOfN(rapid.Byte(), 32, 32).Draw(t, "prev"))
	return l
}

// What is written, read again, is the same.
func TestDecodeUndoesEncode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anyLine(t)
		got, _, err := decodeLine(string(appendLine(nil, want)), nil)
		if err != nil {
			t.Fatalf("%+v: %v", want, err)
		}
		if !sameLine(got, want) {
			t.Fatalf("got %+v, want %+v", got, want)
		}
	})
}

// The Go library's JSON reader, which shares no code with ours, finds the same
// values in a line: the format is JSON and not only like it (RFC 8259).
func TestLinesAreJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anyLine(t)
		var got struct {
			Prev     string
			Seq      int
			Practice bool
			Time     time.Time
			Mono     int64
			Kind     string
			Fields   map[string]string
		}
		d := json.NewDecoder(strings.NewReader(string(appendLine(nil, want))))
		d.DisallowUnknownFields()
		if err := d.Decode(&got); err != nil {
			t.Fatal(err)
		}
		back := Line{
			Prev: want.Prev, Seq: got.Seq, Practice: got.Practice, Time: got.Time,
			Mono: time.Duration(got.Mono) * time.Millisecond, Kind: got.Kind, Fields: got.Fields,
		}
		if !sameLine(back, want) || len(got.Prev) != 64 {
			t.Fatalf("got %+v, want %+v", got, want)
		}
	})
}

// No line is longer on a terminal than one line, whatever was typed.
func TestNoCharacterMovesTheCursor(t *testing.T) {
	for r := rune(0); r <= utf8.MaxRune; r++ {
		if !utf8.ValidRune(r) {
			continue
		}
		for _, w := range string(appendString(nil, string(r))) {
			if w < 0x20 || w >= 0x7f && w <= 0x9f || w == 0x2028 || w == 0x2029 || w >= 0x202a && w <= 0x202e {
				t.Fatalf("U+%04X is written with U+%04X", r, w)
			}
		}
	}
}

func FuzzDecodeLine(f *testing.F) {
	seeds := lines(encode(f, false, records()...))
	for _, v := range vectorFiles(f) { // fails if there are none
		if v.Level == "spelling" {
			seeds = append(seeds, lines(v.body)...)
		}
	}
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if l, _, err := decodeLine(s, nil); err == nil && string(appendLine(nil, l)) != s {
			t.Errorf("two spellings of one line: %q", s)
		}
	})
}

// lines are the lines of a file without their line feeds.
func lines(b []byte) []string {
	return strings.Split(strings.TrimSuffix(string(b), "\n"), "\n")
}
