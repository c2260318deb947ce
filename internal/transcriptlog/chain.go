package transcriptlog

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sync"
)

// places is what stands at the fixed places of a line.
type places struct {
	prev     []byte // 64 hexadecimal digits, not yet checked
	seq      int
	practice bool
}

// fixedPlaces reads the beginning of a line without a JSON parser.
func fixedPlaces(line []byte) (places, bool) {
	const at = len(partPrev) + 64
	if len(line) < at || string(line[:len(partPrev)]) != partPrev {
		return places{}, false
	}
	p := places{prev: line[len(partPrev):at]}
	rest, ok := bytes.CutPrefix(line[at:], []byte(partSeq))
	digits := 0
	for ok && digits < len(rest) && rest[digits] >= '0' && rest[digits] <= '9' && p.seq <= MaxLines {
		p.seq = p.seq*10 + int(rest[digits]-'0')
		digits++
	}
	if !ok || digits == 0 || rest[0] == '0' || p.seq > MaxLines {
		return places{}, false
	}
	rest, ok = bytes.CutPrefix(rest[digits:], []byte(partPractice))
	p.practice = ok && bytes.HasPrefix(rest, []byte("true"))
	rest, isWord := bytes.CutPrefix(rest, []byte(word(p.practice)))
	return p, ok && isWord && bytes.HasPrefix(rest, []byte(partTime))
}

func word(practice bool) string {
	if practice {
		return "true"
	}
	return "false"
}

// follows tells whether the 64 digits are the SHA-256 in its one spelling.
func follows(digits []byte, sum [32]byte) bool {
	var want [64]byte
	hex.Encode(want[:], sum[:])
	return string(want[:]) == string(digits)
}

// CheckChain checks that every line carries the SHA-256 of the line before, the
// next number and the practice mark of line 1, looking only at the fixed places;
// that the last line has its line feed; and the bounds of the format. It does
// not read the rest of a line, nor judge the last one, which none follows (Read
// does), and does not ask for a close line.
// The work is shared by so many goroutines; fewer than 1 count as 1. The error
// wraps ErrBroken and names the first bad line.
func CheckChain(b []byte, workers int) error {
	if len(b) > MaxFile {
		return fmt.Errorf("%w: %s", ErrBroken, tooLarge)
	}
	if len(b) == 0 {
		return fmt.Errorf("%w: no whole line", ErrBroken)
	}
	pieces := splitLines(b, max(workers, 1))
	links := make([]link, len(pieces))
	var wg sync.WaitGroup
	for i := range pieces[1:] {
		wg.Go(func() { links[i+1] = checkPiece(pieces[i+1]) })
	}
	links[0] = checkPiece(pieces[0])
	wg.Wait()
	return join(b, pieces, links)
}

// splitLines cuts b into at most n pieces of about one size, each whole lines.
func splitLines(b []byte, n int) [][]byte {
	var pieces [][]byte
	size := len(b)/n + 1
	for len(b) > size {
		lf := bytes.IndexByte(b[size-1:], '\n')
		if lf < 0 || size+lf == len(b) {
			break
		}
		pieces = append(pieces, b[:size+lf])
		b = b[size+lf:]
	}
	return append(pieces, b)
}

// link is what one piece says to its neighbours.
type link struct {
	first places
	last  int      // number of its last line
	sum   [32]byte // SHA-256 of its last line
	fault string   // what is wrong in it, "" if nothing
	at    int      // how far it was read; where the faulty line begins
}

func checkPiece(b []byte) (l link) {
	for l.at < len(b) {
		n := bytes.IndexByte(b[l.at:], '\n')
		if n < 0 {
			l.fault = "no line feed at its end"
			return l
		}
		line := b[l.at : l.at+n]
		p, ok := fixedPlaces(line)
		switch {
		case n > MaxLine:
			l.fault = tooLong
		case !ok:
			l.fault = "not the beginning of a line"
		case l.at == 0:
			l.first = p
		case p.seq != l.last+1 || !follows(p.prev, l.sum):
			l.fault = notNext
		case p.practice != l.first.practice:
			l.fault = otherMark
		}
		if l.fault != "" {
			return l
		}
		l.last, l.sum = p.seq, sha256.Sum256(line)
		l.at += n + 1
	}
	return l
}

// join checks the seams between the pieces. The first fault in the file counts,
// so a seam comes before what is wrong inside the piece after it.
func join(b []byte, pieces [][]byte, links []link) error {
	before := link{first: links[0].first}
	offset := 0
	for i, l := range links {
		switch {
		case l.fault != "" && l.at == 0:
			return brokenAt(b, offset, l.fault)
		case l.first.seq != before.last+1 || !follows(l.first.prev, before.sum):
			return brokenAt(b, offset, notNext)
		case l.first.practice != before.first.practice:
			return brokenAt(b, offset, otherMark)
		case l.fault != "":
			return brokenAt(b, offset+l.at, l.fault)
		}
		before, offset = l, offset+len(pieces[i])
	}
	return nil
}

// brokenAt names the line that begins at the offset by its place in the file.
func brokenAt(b []byte, offset int, fault string) error {
	n := 1 + bytes.Count(b[:offset], []byte("\n"))
	if fault == notNext {
		return fmt.Errorf("%w: %s", ErrBroken, doesNotFollow(n))
	}
	return fmt.Errorf("%w: line %d: %s", ErrBroken, n, fault)
}

// Faults that Read and CheckChain both find.
const (
	notNext   = "does not follow"
	otherMark = "its practice mark is not that of line 1"
	tooLong   = "longer than 1 MiB"
	tooLarge  = "the file is longer than 256 MiB"
)

func doesNotFollow(n int) string {
	if n == 1 {
		return "1 is not a first line"
	}
	return fmt.Sprintf("%d does not follow %d", n, n-1)
}
