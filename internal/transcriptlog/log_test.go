package transcriptlog

import (
	"errors"
	"math"
	"strings"
	"sync"
	"testing"
	"time"
)

// badDisk is a file that fails when told to, and counts what is asked of it.
type badDisk struct {
	written                  []byte
	writes, syncs            int
	failWrite, failSync      int // fail at this call, counted from 1; 0: never
	short                    bool
	failTruncate, failClosed error
}

var errDisk = errors.New("input/output error")

func (d *badDisk) Write(b []byte) (int, error) {
	d.writes++
	switch {
	case d.writes == d.failWrite && d.short:
		d.written = append(d.written, b[:len(b)/2]...)
		return len(b) / 2, nil
	case d.writes == d.failWrite:
		return 0, errDisk
	}
	d.written = append(d.written, b...)
	return len(b), nil
}

func (d *badDisk) Sync() error {
	d.syncs++
	if d.syncs == d.failSync {
		return errDisk
	}
	return nil
}

func (d *badDisk) Truncate(size int64) error {
	if d.failTruncate == nil {
		d.written = d.written[:size]
	}
	return d.failTruncate
}

func (d *badDisk) Close() error { return d.failClosed }

func TestAfterOneFailureNothingIsWrittenEver(t *testing.T) {
	for _, c := range []struct {
		why  string
		disk badDisk
	}{
		{"the first write fails", badDisk{failWrite: 1}},
		{"the third write fails", badDisk{failWrite: 3}},
		{"the first sync fails", badDisk{failSync: 1}},
		{"the third sync fails", badDisk{failSync: 3}},
		{"a write is short without an error", badDisk{failWrite: 2, short: true}},
	} {
		t.Run(c.why, func(t *testing.T) {
			d := &c.disk
			l := &Log{f: d}
			var err error
			good := 0
			for err == nil && good < 10 {
				if err = l.Append(stamp(0), Record{Kind: "note"}); err == nil {
					good++
				}
			}
			if !errors.Is(err, ErrDurability) {
				t.Fatalf("got %v after %d lines", err, good)
			}
			if !d.short && !errors.Is(err, errDisk) {
				t.Errorf("the disk's own error is lost: %v", err)
			}
			if n := max(d.failWrite, d.failSync) - 1; good != n {
				t.Errorf("%d lines were acknowledged, want %d", good, n)
			}
			before, writes, syncs := len(d.written), d.writes, d.syncs
			for range 3 {
				if err := l.Append(stamp(0), Record{Kind: "note"}); !errors.Is(err, ErrDurability) {
					t.Errorf("a later append says %v", err)
				}
				if err := l.Append(stamp(0)); !errors.Is(err, ErrDurability) {
					t.Errorf("a later empty append says %v", err)
				}
			}
			if len(d.written) != before || d.writes != writes || d.syncs != syncs {
				t.Error("something was written or synced after the failure")
			}
			if seq, _ := l.Head(); seq != good+1 {
				t.Errorf("the head counts a line that is not known to be on the disk: %d", seq)
			}
			if err := l.Close(); err != nil {
				t.Error(err)
			}
			if err := l.Append(stamp(0), Record{Kind: "note"}); !errors.Is(err, ErrDurability) {
				t.Errorf("closed after the failure, append says %v", err)
			}
		})
	}
}

// However many lines an event has, there is one write and one sync for it.
func TestOneWriteAndOneSyncForABatch(t *testing.T) {
	d := &badDisk{}
	l := &Log{f: d}
	if err := l.Append(stamp(0), records()...); err != nil {
		t.Fatal(err)
	}
	if d.writes != 1 || d.syncs != 1 {
		t.Errorf("%d writes and %d syncs", d.writes, d.syncs)
	}
	if got := Read(d.written); got.Ending != Complete || len(got.Lines) != len(records()) {
		t.Errorf("%v: %s", got.Ending, got.Reason)
	}
}

func TestARecordThatCannotBeReadBackIsNotWritten(t *testing.T) {
	note := Record{Kind: "note"}
	field := func(k, v string) Record { return Record{Kind: "note", Fields: map[string]string{k: v}} }
	for _, c := range []struct {
		why  string
		at   Stamp
		recs []Record
		want string
	}{
		{"no kind", stamp(0), []Record{{}}, `kind "" is not`},
		{"a kind in capitals", stamp(0), []Record{{Kind: "Note"}}, `kind "Note" is not`},
		{"a kind of 65", stamp(0), []Record{{Kind: strings.Repeat("a", 65)}}, "is not 1 to 64"},
		{"a field without a name", stamp(0), []Record{field("", "x")}, "a field has no name"},
		{"a value that is not UTF-8", stamp(0), []Record{field("raw", "\xff")}, `field "raw" is not UTF-8`},
		{"a name that is not UTF-8", stamp(0), []Record{field("\xff", "x")}, `is not UTF-8`},
		{"a line that is too long", stamp(0), []Record{field("raw", strings.Repeat("x", MaxLine))}, "longer than 1 MiB"},
		{"no clock", Stamp{}, []Record{note}, "the wall clock was not given"},
		{"a year of five digits", Stamp{Wall: time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC)}, []Record{note}, "year 10000"},
		{"a year before 0", Stamp{Wall: time.Date(-1, 1, 1, 0, 0, 0, 0, time.UTC)}, []Record{note}, "year -1"},
		{"a clock that runs backwards", Stamp{Wall: stamp(0).Wall, Mono: -1}, []Record{note}, "negative"},
		{"a good record before a bad one", stamp(0), []Record{note, {}}, `kind "" is not`},
		{"a record after the close line", stamp(0), []Record{note, {Kind: KindClose}, note}, "kind note after the close line"},
		{"closed before anything happened", stamp(0), []Record{{Kind: KindClose}}, "cannot be the first"},
		{"recovered before anything was written", stamp(0), []Record{Recovered{TornPath: "x.torn-1", Torn: []byte("x")}.Record()}, "no line stands before what was torn"},
	} {
		d := &badDisk{}
		l := &Log{f: d}
		err := l.Append(c.at, c.recs...)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "nothing written: ") {
			t.Errorf("%s: got %v, want %q", c.why, err, c.want)
		}
		if errors.Is(err, ErrDurability) || d.writes != 0 || d.syncs != 0 {
			t.Errorf("%s: it reached the disk: %v", c.why, err)
		}
		if err := l.Append(stamp(0), note); err != nil {
			t.Errorf("%s: the log is of no use afterwards: %v", c.why, err)
		}
		if got := Read(d.written); got.Ending != Open || len(got.Lines) != 1 {
			t.Errorf("%s: afterwards %v, %s", c.why, got.Ending, got.Reason)
		}
	}
}

func TestATranscriptThatIsFull(t *testing.T) {
	full := head{lines: 5, size: MaxFile - 100}
	if _, _, err := full.extend(nil, false, stamp(0), []Record{{Kind: "note"}}); err == nil || !strings.Contains(err.Error(), "is full") {
		t.Errorf("got %v", err)
	}
}

func TestTheEdgesOfTheClocks(t *testing.T) {
	for _, at := range []Stamp{
		{Wall: time.Date(9999, 12, 31, 23, 59, 59, 999_999_999, time.UTC), Mono: math.MaxInt64},
		{Wall: time.Date(0, 1, 1, 0, 0, 0, 0, time.UTC)},
		{Wall: time.Unix(0, 0)}, // a computer without a battery for its clock
		{Wall: time.Date(2030, 7, 1, 2, 0, 0, 0, time.FixedZone("", 2*3600)), Mono: 1},
	} {
		d := &badDisk{}
		if err := (&Log{f: d}).Append(at, Record{Kind: "note"}); err != nil {
			t.Errorf("%+v: %v", at, err)
		}
		got := Read(d.written)
		if got.Ending != Open || !got.Lines[0].Time.Equal(at.Wall.Truncate(time.Millisecond)) ||
			got.Lines[0].Mono != at.Mono.Truncate(time.Millisecond) || got.Lines[0].Time.Location() != time.UTC {
			t.Errorf("%+v came back as %+v (%s)", at, got.Lines, got.Reason)
		}
	}
}

func TestNothingAfterTheCloseLine(t *testing.T) {
	d := &badDisk{}
	l := &Log{f: d}
	if err := l.Append(stamp(0), records()...); err != nil {
		t.Fatal(err)
	}
	size := len(d.written)
	if err := l.Append(stamp(1), Record{Kind: "note"}); !errors.Is(err, ErrClosed) || len(d.written) != size {
		t.Errorf("after the close line: %v", err)
	}
	if err := l.Close(); err != nil {
		t.Error(err)
	}
	if err := l.Close(); !errors.Is(err, ErrClosed) {
		t.Errorf("closed twice: %v", err)
	}
	shut := &Log{f: &badDisk{}}
	if err := shut.Close(); err != nil {
		t.Error(err)
	}
	if err := shut.Append(stamp(0), Record{Kind: "note"}); !errors.Is(err, ErrClosed) {
		t.Errorf("after Close: %v", err)
	}
	if err := (&Log{f: &badDisk{failClosed: errDisk}}).Close(); !errors.Is(err, errDisk) {
		t.Errorf("the error of closing is lost: %v", err)
	}
}

// Head is what the next line will carry, so that a release can be signed
// before the line that holds it is written.
func TestHeadIsThatOfTheNextLine(t *testing.T) {
	d := &badDisk{}
	l := &Log{f: d}
	for i := range 4 {
		seq, prev := l.Head()
		if err := l.Append(stamp(i), Record{Kind: "note"}); err != nil {
			t.Fatal(err)
		}
		got := Read(d.written).Lines[i]
		if got.Seq != seq || got.Prev != prev {
			t.Errorf("line %d has seq %d, prev %x; head said %d, %x", i+1, got.Seq, got.Prev, seq, prev)
		}
	}
}

// An abort may come from a signal handler while a reading is being written.
func TestAppendFromSeveralGoroutines(t *testing.T) {
	d := &badDisk{}
	l := &Log{f: d}
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 50 {
				if err := l.Append(stamp(0), Record{Kind: "note"}, Record{Kind: "note"}); err != nil {
					t.Error(err)
				}
				l.Head()
			}
		})
	}
	wg.Wait()
	if got := Read(d.written); got.Ending != Open || len(got.Lines) != 800 {
		t.Errorf("%v with %d lines: %s", got.Ending, len(got.Lines), got.Reason)
	}
}

// An empty append asks nothing of the disk.
func TestAppendOfNothing(t *testing.T) {
	d := &badDisk{failWrite: 1, failSync: 1}
	if err := (&Log{f: d}).Append(Stamp{}); err != nil || d.writes+d.syncs != 0 {
		t.Errorf("%v, %d writes, %d syncs", err, d.writes, d.syncs)
	}
}
