package transcriptlog

import (
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// decodeLine reads one line, without its line feed, and takes it only in its
// one spelling: what it read, encoded again, must give the same bytes. That
// comparison, not the parser, refuses keys out of order or given twice, odd
// escapes, leading zeros and invalid UTF-8. The buffer is room for it, handed
// back for the next line. The strings of the Line are parts of s.
func decodeLine(s string, buffer []byte) (Line, []byte, error) {
	p := parser{s: s}
	l := p.line()
	if p.fault != "" {
		return Line{}, buffer, fmt.Errorf("byte %d: %s", p.i+1, p.fault)
	}
	buffer = appendLine(buffer[:0], l)
	if string(buffer) != s {
		return Line{}, buffer, fmt.Errorf("byte %d: not the one spelling of what it says", differ(buffer, s)+1)
	}
	if !validKind(l.Kind) {
		return Line{}, buffer, fmt.Errorf("kind %.80q is not 1 to 64 of a-z, 0-9, '.', '_' and '-'", l.Kind)
	}
	if _, ok := l.Fields[""]; ok {
		return Line{}, buffer, fmt.Errorf("a field has no name")
	}
	return l, buffer, nil
}

// differ is the first place where a and s are not the same.
func differ(a []byte, s string) int {
	for i := range min(len(a), len(s)) {
		if a[i] != s[i] {
			return i
		}
	}
	return min(len(a), len(s))
}

// parser walks over one line. After a fault it stands still.
type parser struct {
	s     string
	i     int
	fault string
}

func (p *parser) line() (l Line) {
	p.expect(partPrev)
	l.Prev = p.sum()
	p.expect(partSeq)
	l.Seq = int(p.integer(MaxLines))
	p.expect(partPractice)
	if l.Practice = p.try("true"); !l.Practice {
		p.expect("false")
	}
	p.expect(partTime)
	l.Time = p.instant()
	p.expect(partMono)
	l.Mono = time.Duration(p.integer(maxMono)) * time.Millisecond
	p.expect(partKind)
	l.Kind = p.rest()
	p.expect(partFields)
	l.Fields = p.fields()
	p.expect(partEnd)
	if p.i != len(p.s) {
		p.fail(p.i, "bytes after the end of the object")
	}
	return l
}

func (p *parser) fields() map[string]string {
	if p.fault != "" || strings.HasPrefix(p.s[p.i:], "}") {
		return map[string]string{}
	}
	// Every field has one `":"` at least, so this is room enough.
	m := make(map[string]string, min(strings.Count(p.s[p.i:], `":"`), 1024))
	for {
		p.expect(`"`)
		k := p.rest()
		p.expect(`":"`)
		m[k] = p.rest()
		p.expect(`"`)
		if !p.try(",") {
			return m
		}
	}
}

// rest is the inside of a string up to its closing quote, which it leaves.
func (p *parser) rest() string {
	if p.fault != "" {
		return ""
	}
	start := p.i
	for ; p.i < len(p.s); p.i++ {
		switch p.s[p.i] {
		case '"':
			return p.s[start:p.i]
		case '\\':
			return p.unescape(start)
		}
	}
	p.fail(start, "a string without its closing quote")
	return ""
}

// unescape is rest for a string that has an escape at p.i.
func (p *parser) unescape(start int) string {
	b := append(make([]byte, 0, 2*(p.i-start)+32), p.s[start:p.i]...)
	for p.fault == "" && p.i < len(p.s) {
		switch c := p.s[p.i]; c {
		case '"':
			return string(b)
		case '\\':
			b = p.escape(b)
		default:
			b = append(b, c)
			p.i++
		}
	}
	p.fail(start, "a string without its closing quote")
	return ""
}

func (p *parser) escape(b []byte) []byte {
	start := p.i
	switch c := p.take(2); c {
	case `\"`, `\\`:
		return append(b, c[1])
	case `\n`:
		return append(b, '\n')
	case `\r`:
		return append(b, '\r')
	case `\t`:
		return append(b, '\t')
	case `\u`:
		r, err := strconv.ParseUint(p.take(4), 16, 16)
		if err == nil && escaped(rune(r)) {
			return utf8.AppendRune(b, rune(r))
		}
	}
	p.fail(start, "an escape that is not used here")
	return b
}

func (p *parser) sum() (sum [32]byte) {
	start := p.i
	if n, err := hex.Decode(sum[:], []byte(p.take(64))); n != len(sum) || err != nil {
		p.fail(start, "prev is not 64 hexadecimal digits")
	}
	return sum
}

// instant is 24 bytes; what time.Parse takes beyond our spelling is found when
// the line is encoded again.
func (p *parser) instant() time.Time {
	start := p.i
	t, err := time.Parse(time.RFC3339, p.take(len(timeLayout)))
	if err != nil {
		p.fail(start, "time is not as 2030-01-01T10:00:00.000Z")
	}
	return t.UTC()
}

func (p *parser) integer(limit int64) int64 {
	if p.fault != "" {
		return 0
	}
	start := p.i
	for p.i < len(p.s) && p.s[p.i] >= '0' && p.s[p.i] <= '9' {
		p.i++
	}
	n, err := strconv.ParseInt(p.s[start:p.i], 10, 64)
	if err != nil || n > limit {
		p.fail(start, "not an integer from 0 to "+strconv.FormatInt(limit, 10))
	}
	return n
}

func (p *parser) try(part string) bool {
	if p.fault != "" || !strings.HasPrefix(p.s[p.i:], part) {
		return false
	}
	p.i += len(part)
	return true
}

func (p *parser) expect(part string) {
	if !p.try(part) {
		p.fail(p.i, "want "+part)
	}
}

// take is the next n bytes, or fewer at the end.
func (p *parser) take(n int) string {
	if p.fault != "" {
		return ""
	}
	part := p.s[p.i:min(p.i+n, len(p.s))]
	p.i += len(part)
	return part
}

// fail keeps the first fault and the place where what is wrong begins.
func (p *parser) fail(at int, what string) {
	if p.fault == "" {
		p.i, p.fault = at, what
	}
}
