package transcriptlog_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/internal/transcriptlog/crashdisk"
)

const crashPath = "/data/powerup/log.transcript"

// written is a session on a disk that remembers its calls.
type written struct {
	disk  *crashdisk.Disk
	whole []byte      // the record at its end
	acked map[int]int // after so many calls: lines that were acknowledged
}

// ackedAt is how many lines were acknowledged before the call after the n-th.
func (w written) ackedAt(n int) int {
	for ; n > 0; n-- {
		if lines, ok := w.acked[n]; ok {
			return lines
		}
	}
	return 0
}

// writeSession writes a session of so many events, of one to four lines each:
// most short, some over many blocks, the first with the files of the session.
func writeSession(t testing.TB, events int) written {
	t.Helper()
	w := written{disk: crashdisk.New(), acked: map[int]int{}}
	l, err := transcriptlog.CreateOn(w.disk, crashPath, false)
	if err != nil {
		t.Fatal(err)
	}
	lines := 0
	for e := range events {
		recs := eventOf(e)
		if err := l.Append(instant(e), recs...); err != nil {
			t.Fatal(err)
		}
		lines += len(recs)
		w.acked[w.disk.Calls()] = lines
	}
	if w.whole, err = w.disk.Read(crashPath); err != nil {
		t.Fatal(err)
	}
	return w
}

func instant(n int) transcriptlog.Stamp {
	return transcriptlog.Stamp{Wall: time.Date(2030, 1, 1, 10, 0, 0, 0, time.UTC), Mono: time.Duration(n) * time.Second}
}

func eventOf(e int) []transcriptlog.Record {
	text := func(n int) map[string]string {
		return map[string]string{"say": fmt.Sprint(e), "text": strings.Repeat("x", n)}
	}
	if e == 0 {
		return []transcriptlog.Record{{Kind: "open", Fields: text(9_000)}}
	}
	recs := []transcriptlog.Record{{Kind: "entry", Fields: text(0)}}
	for n := range e % 4 {
		recs = append(recs, transcriptlog.Record{Kind: "reading", Fields: text(e * 37 % 300)})
		if e%40 == 7 && n == 0 {
			recs = append(recs, transcriptlog.Record{Kind: "reading", Fields: text(9_000)})
		}
	}
	return recs
}

// inOrder tells whether a fate leaves a beginning of what was written, so that a
// resume is owed.
func inOrder(f crashdisk.Fate) bool { return !strings.HasPrefix(f.Name, "later blocks") }

// wholeLines counts the lines of a file that have their line feed.
func wholeLines(b []byte) int { return bytes.Count(b, []byte("\n")) }

// A loss of power at any point between two calls, whatever the disk does with
// what was not forced to it: no acknowledged line is lost, a torn tail is told
// apart, and the record is resumed to its close or refused with words.
func TestALossOfPowerAtAnyPoint(t *testing.T) {
	t.Parallel()
	events := 200
	if testing.Short() {
		events = 50
	}
	w := writeSession(t, events)
	counts := map[string]int{}
	for n := range w.disk.Calls() + 1 {
		tried := map[string]bool{}
		for _, fate := range crashdisk.Fates {
			for _, left := range w.disk.After(n, fate) {
				counts["disks"]++
				if b, err := left.Read(crashPath); tried[string(b)] && err == nil {
					continue // one fate is another where all is forced to the disk
				} else if err == nil {
					tried[string(b)] = true
				}
				counts[w.comesBack(t, left, n, fate)]++
			}
		}
		if t.Failed() {
			break // the first point is enough
		}
	}
	t.Logf("%d calls, %d fates: %v", w.disk.Calls(), len(crashdisk.Fates), counts)
	for _, outcome := range []string{"no record", "torn tail", "no tail", "refused"} {
		if counts[outcome] == 0 {
			t.Errorf("no disk was left with %s: the fates are not what they are called", outcome)
		}
	}
}

// comesBack goes on with what is left after n calls, and says what it found.
func (w written) comesBack(t *testing.T, left *crashdisk.Disk, n int, fate crashdisk.Fate) string {
	t.Helper()
	at := func() string { return fmt.Sprintf("after %d calls, %s", n, fate.Name) }
	acked := w.ackedAt(n)
	before, _ := left.Read(crashPath)
	l, found, err := transcriptlog.ResumeOn(left, crashPath)
	switch {
	case errors.Is(err, fs.ErrNotExist) && acked == 0:
		return "no record"
	case errors.Is(err, transcriptlog.ErrBroken):
		if got := transcriptlog.Read(before); len(got.Lines) < acked {
			t.Errorf("%s: %d lines were acknowledged, %d are left", at(), acked, len(got.Lines))
		}
		if after, _ := left.Read(crashPath); !bytes.Equal(after, before) {
			t.Errorf("%s: refused, and the file was changed", at())
		}
		if acked > 0 && inOrder(fate) || !strings.Contains(err.Error(), "line ") {
			t.Errorf("%s: refused: %v", at(), err)
		}
		return "refused"
	case err != nil:
		t.Fatalf("%s: %v", at(), err)
	}
	end := bytes.LastIndexByte(before, '\n') + 1
	if len(found.Lines) < acked || len(found.Lines) != wholeLines(before) || !bytes.Equal(before[:end], w.whole[:end]) {
		t.Errorf("%s: %d lines were acknowledged, %d found", at(), acked, len(found.Lines))
	}
	if !bytes.Equal(found.Torn, before[end:]) {
		t.Errorf("%s: a tail of %d bytes was told as one of %d", at(), len(before)-end, len(found.Torn))
	}
	w.closes(t, at(), left, l, found)
	if found.Torn != nil {
		return "torn tail"
	}
	return "no tail"
}

// closes tells of a torn tail and goes on to the end: every line that was found
// is still there, and the tail lies beside the record.
func (w written) closes(t *testing.T, at string, d *crashdisk.Disk, l *transcriptlog.Log, found transcriptlog.Recovered) {
	t.Helper()
	recs := []transcriptlog.Record{{Kind: "resume"}, {Kind: transcriptlog.KindClose}}
	if found.Torn != nil {
		if err := l.Append(instant(0), recs...); err == nil {
			t.Errorf("%s: a torn tail need not be told of", at)
		}
		recs = slices.Insert(recs, 0, found.Record())
		if kept, err := d.Read(found.TornPath); err != nil || !bytes.Equal(kept, found.Torn) {
			t.Errorf("%s: the torn tail is not kept: %v", at, err)
		}
	}
	if err := errors.Join(l.Append(instant(0), recs...), l.Close()); err != nil {
		t.Errorf("%s: %v", at, err)
	}
	b, _ := d.Read(crashPath)
	got := transcriptlog.Read(b)
	if got.Ending != transcriptlog.Complete || len(got.Lines) != len(found.Lines)+len(recs) {
		t.Errorf("%s: then %v with %d lines: %s", at, got.Ending, len(got.Lines), got.Reason)
	}
	if told := len(got.Notes) > 0; told != (found.Torn != nil) {
		t.Errorf("%s: notes %q", at, got.Notes)
	}
}

// Power that goes again while the record is being resumed: no line is lost, and
// the tail is told of or still lies beside the record, to be told of.
func TestALossOfPowerWithinAResume(t *testing.T) {
	t.Parallel()
	events := 8
	if testing.Short() {
		events = 3
	}
	w := writeSession(t, events)
	firsts, seconds := 0, 0
	for n := range w.disk.Calls() + 1 {
		for _, fate := range crashdisk.Fates {
			for _, left := range w.disk.After(n, fate) {
				l, found, err := transcriptlog.ResumeOn(left, crashPath)
				if err != nil || found.Torn == nil {
					continue
				}
				firsts++
				if err := l.Append(instant(0), found.Record(), transcriptlog.Record{Kind: "resume"}); err != nil {
					t.Fatal(err)
				}
				seconds += w.again(t, left, found)
			}
		}
	}
	t.Logf("%d resumes with a torn tail, power gone again within them %d times", firsts, seconds)
	if firsts == 0 || seconds == 0 {
		t.Error("no tail was torn: nothing was tried")
	}
}

// again loses power at every point of one resume.
func (w written) again(t *testing.T, resumed *crashdisk.Disk, first transcriptlog.Recovered) (tried int) {
	t.Helper()
	for n := range resumed.Calls() + 1 {
		for _, fate := range crashdisk.Fates {
			for _, left := range resumed.After(n, fate) {
				tried++
				at := fmt.Sprintf("%d lines, resumed, after %d calls, %s", len(first.Lines), n, fate.Name)
				before, _ := left.Read(crashPath)
				if lines := transcriptlog.Read(before).Lines; len(lines) < len(first.Lines) {
					t.Errorf("%s: %d lines are left", at, len(lines))
				}
				l, found, err := transcriptlog.ResumeOn(left, crashPath)
				if errors.Is(err, transcriptlog.ErrBroken) && !inOrder(fate) {
					continue
				}
				if err != nil {
					t.Fatalf("%s: %v", at, err)
				}
				told := toldOf(found.Lines)[len(first.Torn)]
				kept, _ := left.Read(first.TornPath)
				switch {
				case n == resumed.Calls() && !told:
					t.Errorf("%s: the line that tells of the tail is lost", at)
				case !told && !bytes.Equal(kept, first.Torn):
					t.Errorf("%s: the first tail, of %d bytes, is neither told of nor kept", at, len(first.Torn))
				case !told && !bytes.Equal(found.Torn, first.Torn) && found.TornPath == first.TornPath:
					t.Errorf("%s: a second tail has taken the name of the first", at)
				}
				w.closesAgain(t, at, left, l, found)
			}
		}
	}
	return tried
}

// toldOf are the lengths of the tails that lines tell of.
func toldOf(lines []transcriptlog.Line) map[int]bool {
	told := map[int]bool{}
	for _, l := range lines {
		if l.Kind == transcriptlog.KindRecovered {
			var n int
			fmt.Sscan(l.Fields["torn_bytes"], &n)
			told[n] = true
		}
	}
	return told
}

func (w written) closesAgain(t *testing.T, at string, d *crashdisk.Disk, l *transcriptlog.Log, found transcriptlog.Recovered) {
	t.Helper()
	recs := []transcriptlog.Record{{Kind: transcriptlog.KindClose}}
	if found.Torn != nil {
		recs = slices.Insert(recs, 0, found.Record())
	}
	if err := errors.Join(l.Append(instant(0), recs...), l.Close()); err != nil {
		t.Errorf("%s: %v", at, err)
	}
	b, _ := d.Read(crashPath)
	if got := transcriptlog.Read(b); got.Ending != transcriptlog.Complete || len(got.Notes) == 0 {
		t.Errorf("%s: then %v, notes %q: %s", at, got.Ending, got.Notes, got.Reason)
	}
}

// A writer that does not force its lines to the disk is seen by the same test:
// the model is able to lose them.
func TestTheModelLosesWhatWasNotForced(t *testing.T) {
	d := crashdisk.New()
	lost := map[string]bool{}
	f, err := d.OpenFile("/log", os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.SyncFolder("/"); err != nil {
		t.Fatal(err)
	}
	text := bytes.Repeat([]byte("x"), 10_000)
	if _, err := f.Write(text); err != nil {
		t.Fatal(err)
	}
	for _, fate := range crashdisk.Fates {
		for _, left := range d.After(d.Calls(), fate) {
			if b, err := left.Read("/log"); err != nil || !bytes.Equal(b, text) {
				lost[fate.Name] = true
			}
		}
	}
	if len(lost) != len(crashdisk.Fates)-2 { // but where the bytes are kept
		t.Errorf("lost by %q", slices.Sorted(maps.Keys(lost)))
	}
	if err := f.Sync(); err != nil {
		t.Fatal(err)
	}
	for _, fate := range crashdisk.Fates {
		for _, left := range d.After(d.Calls(), fate) {
			if b, err := left.Read("/log"); err != nil || !bytes.Equal(b, text) {
				t.Errorf("forced to the disk and lost: %s", fate.Name)
			}
		}
	}
}
