package transcriptlog

import (
	"errors"
	"fmt"
	"math"
	"time"
	"unicode/utf8"
)

// Record is what a caller appends: what happened, and its details in words.
type Record struct {
	Kind   string
	Fields map[string]string
}

// Stamp is the instant of an append. Wall is the wall clock; Mono counts from
// the start of the program on a clock that cannot be set.
type Stamp struct {
	Wall time.Time
	Mono time.Duration
}

// Line is one line of a transcript. Time is UTC and, like Mono, in whole
// milliseconds.
type Line struct {
	Prev     [32]byte
	Seq      int
	Practice bool
	Time     time.Time
	Mono     time.Duration
	Kind     string
	Fields   map[string]string
}

// maxMono is the largest Mono in milliseconds: what a time.Duration can hold.
const maxMono = math.MaxInt64 / int64(time.Millisecond)

// check refuses an instant that the format cannot hold, or a forgotten one.
func (s Stamp) check() error {
	if s.Wall.IsZero() {
		return errors.New("the wall clock was not given")
	}
	if y := s.Wall.UTC().Year(); y < 0 || y > 9999 {
		return fmt.Errorf("the wall clock's year %d cannot be written", y)
	}
	if s.Mono < 0 {
		return fmt.Errorf("the monotonic clock is negative: %v", s.Mono)
	}
	return nil
}

// check refuses a record that a reader would refuse, before anything is written.
func (r Record) check() error {
	if !validKind(r.Kind) {
		return fmt.Errorf("kind %q is not 1 to 64 of a-z, 0-9, '.', '_' and '-'", r.Kind)
	}
	if !tellsOfTear(r.Kind, r.Fields) {
		return errors.New(halfTold)
	}
	for k, v := range r.Fields {
		if k == "" {
			return fmt.Errorf("kind %s: a field has no name", r.Kind)
		}
		if !utf8.ValidString(k) || !utf8.ValidString(v) {
			return fmt.Errorf("kind %s: field %q is not UTF-8", r.Kind, k)
		}
	}
	return nil
}

func validKind(s string) bool {
	if len(s) < 1 || len(s) > 64 {
		return false
	}
	for i := range len(s) {
		c := s[i]
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '.' || c == '_' || c == '-') {
			return false
		}
	}
	return true
}

// notFirst says why a line of this kind cannot be line 1; empty: it can.
func notFirst(kind string) string {
	switch kind {
	case KindClose:
		return "a close line cannot be the first"
	case KindRecovered:
		return "a recovered line cannot be the first: no line stands before what was torn"
	}
	return ""
}

const halfTold = "a recovered line does not tell the file, length and SHA-256 of what was torn"

// tellsOfTear tells whether a line of kind recovered says what it must; every
// other line does.
func tellsOfTear(kind string, fields map[string]string) bool {
	return kind != KindRecovered || fields[fieldTornFile] != "" && fields[fieldTornBytes] != "" && fields[fieldTornSum] != ""
}
