package transcriptlog

import (
	"encoding/hex"
	"slices"
	"strconv"
	"time"
	"unicode/utf8"
)

// The fixed parts of a line, in their order.
const (
	partPrev     = `{"prev":"`
	partSeq      = `","seq":`
	partPractice = `,"practice":`
	partTime     = `,"time":"`
	partMono     = `","mono":`
	partKind     = `,"kind":"`
	partFields   = `","fields":{`
	partEnd      = `}}`

	timeLayout = "2006-01-02T15:04:05.000Z"
)

// appendLine appends l in its one spelling, without a line feed. It is total:
// whatever the strings hold, what it writes is one line of JSON.
func appendLine(dst []byte, l Line) []byte {
	dst = append(dst, partPrev...)
	dst = hex.AppendEncode(dst, l.Prev[:])
	dst = append(dst, partSeq...)
	dst = strconv.AppendInt(dst, int64(l.Seq), 10)
	dst = append(dst, partPractice...)
	dst = strconv.AppendBool(dst, l.Practice)
	dst = append(dst, partTime...)
	dst = l.Time.UTC().AppendFormat(dst, timeLayout)
	dst = append(dst, partMono...)
	dst = strconv.AppendInt(dst, int64(l.Mono/time.Millisecond), 10)
	dst = append(dst, partKind...)
	dst = appendString(dst, l.Kind)
	dst = append(dst, partFields...)
	dst = appendFields(dst, l.Fields)
	return append(dst, partEnd...)
}

func appendFields(dst []byte, fields map[string]string) []byte {
	var room [32]string // most lines have fewer fields: no allocation
	keys := room[:0]
	for k := range fields {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for i, k := range keys {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = append(dst, '"')
		dst = appendString(dst, k)
		dst = append(dst, `":"`...)
		dst = appendString(dst, fields[k])
		dst = append(dst, '"')
	}
	return dst
}

// appendString appends the inside of a string: everything as it is, but for
// the quote, the backslash, and what would move or turn the text on a terminal.
func appendString(dst []byte, s string) []byte {
	plain := 0 // s[plain:i] is to be copied as it is
	for i := 0; i < len(s); {
		if c := s[i]; c < utf8.RuneSelf && !escapedASCII[c] {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		if !escaped(r) && !(r == utf8.RuneError && size == 1) {
			i += size
			continue
		}
		dst = append(dst, s[plain:i]...)
		dst = appendEscape(dst, r)
		i += size
		plain = i
	}
	return append(dst, s[plain:]...)
}

func appendEscape(dst []byte, r rune) []byte {
	switch r {
	case '"', '\\':
		return append(dst, '\\', byte(r))
	case '\n':
		return append(dst, `\n`...)
	case '\r':
		return append(dst, `\r`...)
	case '\t':
		return append(dst, `\t`...)
	}
	const digits = "0123456789abcdef"
	return append(dst, '\\', 'u', digits[r>>12&15], digits[r>>8&15], digits[r>>4&15], digits[r&15])
}

// escapedASCII is escaped for the characters of one byte.
var escapedASCII = func() (t [utf8.RuneSelf]bool) {
	for r := range rune(utf8.RuneSelf) {
		t[r] = escaped(r)
	}
	return t
}()

// escaped tells the characters that are never written as themselves: the quote
// and backslash, control characters, and those that hide text or turn its
// reading order. All lie below U+10000, so four hexadecimal digits do.
func escaped(r rune) bool {
	switch {
	case r == '"', r == '\\',
		r < 0x20, r >= 0x7f && r <= 0x9f,
		r == 0x61c, r >= 0x200b && r <= 0x200f,
		r >= 0x2028 && r <= 0x202e, r >= 0x2060 && r <= 0x2069, r == 0xfeff:
		return true
	}
	return false
}
