package transcriptlog

import (
	"errors"
	"fmt"
	"io"
	"sync"
	"time"
)

// Log is a transcript open for appending. Its methods may be called from
// several goroutines: an abort must be able to write.
type Log struct {
	mu       sync.Mutex
	f        file
	practice bool
	head     head
	owed     *Record // what the next record must say, nil if nothing
	failed   bool
	shut     bool // Close was called
	buffer   []byte
}

// file is what a Log needs of a file that stands at its end.
type file interface {
	io.Writer
	Sync() error
	Truncate(size int64) error
	io.Closer
}

// Append writes the records as lines of one instant, in one write, and returns
// when they are on the disk. Records that belong to one event belong in one
// call. A record that the format cannot hold is refused before anything is
// written, and with it all others of the call. After one write or sync that
// failed, this and every later call returns ErrDurability and nothing is
// written again; after the close line or Close, ErrClosed.
func (l *Log) Append(at Stamp, recs ...Record) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch {
	case l.failed:
		return ErrDurability
	case l.shut || l.head.closed:
		return ErrClosed
	case len(recs) == 0:
		return nil
	}
	if err := l.owes(recs[0]); err != nil {
		return err
	}
	lines, after, err := l.head.extend(l.buffer[:0], l.practice, at, recs)
	if err != nil {
		return fmt.Errorf("nothing written: %w", err)
	}
	l.buffer = lines
	if err := commit(l.f, lines); err != nil {
		l.failed = true
		return err
	}
	l.head, l.owed = after, nil
	return nil
}

// commit makes the bytes durable, or says that it is not known whether they are.
func commit(f file, b []byte) error {
	if err := put(f, b); err != nil {
		return fmt.Errorf("%w: %w", ErrDurability, err)
	}
	return nil
}

// owes refuses to go on from a torn tail without saying so.
func (l *Log) owes(first Record) error {
	if l.owed == nil {
		return nil
	}
	said := first.Kind == l.owed.Kind
	for k, v := range l.owed.Fields {
		said = said && first.Fields[k] == v
	}
	if !said {
		return errors.New("nothing written: the first line after a torn tail must be Recovered.Record")
	}
	return nil
}

// Head gives the seq and prev that the next line will carry. A release is
// signed over ReleaseMessage of them, and must then be the first record of the
// next Append.
func (l *Log) Head() (seq int, prev [32]byte) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.head.lines + 1, l.head.prev
}

// Close lets go of the file and its lock. It writes nothing: a session ends
// with a record of kind close, and without one the transcript stays open.
func (l *Log) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.shut {
		return ErrClosed
	}
	l.shut = true
	return l.f.Close()
}

// extend appends the records as lines to dst and gives the head after them.
func (h head) extend(dst []byte, practice bool, at Stamp, recs []Record) ([]byte, head, error) {
	if err := at.check(); err != nil {
		return nil, h, err
	}
	for _, r := range recs {
		switch err := r.check(); {
		case err != nil:
			return nil, h, err
		case h.closed:
			return nil, h, fmt.Errorf("kind %s after the close line", r.Kind)
		case h.lines == 0 && notFirst(r.Kind) != "":
			return nil, h, errors.New(notFirst(r.Kind))
		}
		start := len(dst)
		dst = appendLine(dst, Line{
			Prev: h.prev, Seq: h.lines + 1, Practice: practice,
			Time: at.Wall.UTC().Truncate(time.Millisecond), Mono: at.Mono, Kind: r.Kind, Fields: r.Fields,
		})
		raw := dst[start:]
		h = h.next(raw, r.Kind)
		dst = append(dst, '\n')
		switch {
		case len(raw) > MaxLine:
			return nil, h, fmt.Errorf("kind %s: the line would be %s", r.Kind, tooLong)
		case h.lines > MaxLines || h.size > MaxFile:
			return nil, h, fmt.Errorf("kind %s: the transcript is full", r.Kind)
		}
	}
	return dst, h, nil
}
