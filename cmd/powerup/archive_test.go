package main

import (
	"crypto/rand"
	"crypto/sha256"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"strconv"
	"testing"
	"time"

	"example.com/powerup/internal/record"
	"example.com/powerup/internal/transcriptlog"
)

// An archive for tests is so many records of one session: the demonstration, played
// by the program, then written again by the program's own log under another number
// and at another time, so that no two have a line in common, and signed by one key
// that is listed. They are whole and long as those of a session are; that they tell
// of different sets they do not.

// archive writes one and gives its folder and how to verify it.
func archive(tb testing.TB, demo []byte, n int) (string, verifyOptions) {
	tb.Helper()
	dir := tb.TempDir()
	signer, o := listedKey(tb)
	lines := transcriptlog.Read(demo).Lines
	for i := range n {
		path := filepath.Join(dir, fmt.Sprintf("%05d%s", i, recordEnding))
		writeAgain(tb, path, lines, i)
		if _, err := transcriptlog.SignFile(path, transcriptlog.NamespacePractice, signer); err != nil {
			tb.Fatal(err)
		}
	}
	return dir, o
}

// listedKey makes a key, and a file of known keys with it alone.
func listedKey(tb testing.TB) (transcriptlog.Signer, verifyOptions) {
	tb.Helper()
	private, public, err := transcriptlog.NewKey(rand.Reader, "archive", nil)
	if err != nil {
		tb.Fatal(err)
	}
	signer, err := transcriptlog.LoadSigner(private, nil)
	if err != nil {
		tb.Fatal(err)
	}
	o := verifyOptions{practice: true, signers: filepath.Join(tb.TempDir(), "signers"), revoked: filepath.Join(tb.TempDir(), "revoked")}
	for path, text := range map[string]string{o.signers: "archive " + string(public), o.revoked: ""} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			tb.Fatal(err)
		}
	}
	return signer, o
}

// writeAgain writes the lines as the record of another number and time, in one
// write, for speed: its waits are on the clock that nobody can set no more.
func writeAgain(tb testing.TB, path string, lines []transcriptlog.Line, nth int) {
	tb.Helper()
	log, err := transcriptlog.Create(path, true)
	if err != nil {
		tb.Fatal(err)
	}
	recs := make([]transcriptlog.Record, len(lines))
	for i, l := range lines {
		recs[i] = transcriptlog.Record{Kind: l.Kind, Fields: l.Fields}
	}
	recs[0].Fields = maps.Clone(recs[0].Fields)
	recs[0].Fields["label"] = fmt.Sprintf("archive-%05d", nth)
	at := transcriptlog.Stamp{Wall: lines[0].Time.Add(time.Duration(nth) * time.Minute)}
	if err := log.Append(at, recs...); err != nil {
		tb.Fatal(err)
	}
	if err := log.Close(); err != nil {
		tb.Fatal(err)
	}
}

// recordsIn are the paths of a folder's records, and how long they are together.
func recordsIn(tb testing.TB, dir string) (paths []string, size int64) {
	tb.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		tb.Fatal(err)
	}
	for _, f := range files {
		info, err := f.Info()
		if err != nil {
			tb.Fatal(err)
		}
		if path := filepath.Join(dir, f.Name()); isRecord(path) {
			paths, size = append(paths, path), size+info.Size()
		}
	}
	return paths, size
}

// checked are the entries, of which every one must be accepted.
func checked(tb testing.TB, o verifyOptions, paths []string) []record.Entry {
	tb.Helper()
	entries, err := checkAll(o, paths, nil)
	if err != nil {
		tb.Fatal(err)
	}
	for _, e := range entries {
		if !e.Accepted {
			tb.Fatalf("%s: %s: %s", e.File, e.Short, e.Why)
		}
	}
	return entries
}

// Archive verifies a folder of records on one worker and on two, and takes the
// SHA-256 of the same files, each read anew, turn by turn in one run. By itself it
// is of a few records; POWERUP_TEST_ARCHIVE=10000 makes as many, of which the
// peak of the heap in use, looked at every 5 ms, is then worth reading.
func BenchmarkArchive(b *testing.B) {
	dir, o := archive(b, demoRecord(b), archiveSize(b))
	paths, size := recordsIn(b, dir)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			var ours, sum time.Duration
			var peak uint64
			b.SetBytes(size)
			for b.Loop() {
				runtime.GOMAXPROCS(workers)
				start := time.Now()
				peak = max(peak, peakHeap(func() { checked(b, o, paths) }))
				ours += time.Since(start)
				b.StopTimer()
				runtime.GOMAXPROCS(1)
				start = time.Now()
				for _, path := range paths {
					raw, err := readRecord(path)
					if err != nil {
						b.Fatal(err)
					}
					sha256.Sum256(raw)
				}
				sum += time.Since(start)
				b.StartTimer()
			}
			b.ReportMetric(float64(len(paths)*b.N)/ours.Seconds(), "records/s")
			b.ReportMetric(float64(sum)/float64(ours), "of-sha256")
			b.ReportMetric(float64(peak)/1e6, "peak-heap-MB")
		})
	}
}

func archiveSize(tb testing.TB) int {
	tb.Helper()
	text := os.Getenv("POWERUP_TEST_ARCHIVE")
	if text == "" {
		return 20
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		tb.Fatalf("POWERUP_TEST_ARCHIVE=%s is no number of records", text)
	}
	return n
}

// peakHeap is the most heap in use while something is done. Nothing is halted to
// look, as runtime.ReadMemStats would.
func peakHeap(do func()) (peak uint64) {
	runtime.GC()
	end, seen := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(seen)
		heap := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/unused:bytes"}}
		for {
			metrics.Read(heap)
			peak = max(peak, heap[0].Value.Uint64()+heap[1].Value.Uint64())
			select {
			case <-end:
				return
			case <-time.After(5 * time.Millisecond):
			}
		}
	}()
	do()
	close(end)
	<-seen
	return peak
}

// What is kept of a record is small beside the record: a part of its text would
// keep the whole. The heap that lives behind ten times the records tells.
func TestFolderKeepsLittleOfARecord(t *testing.T) {
	h := newHome(t)
	if out, err := h.program(t, "run", "--demo", "-o", "demo").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	demo := read(t, filepath.Join(h.dir, "demo"))
	dir, o := archive(t, demo, 10)
	paths, size := recordsIn(t, dir)
	const room = 8 << 10 // a record of the demonstration has 150 KB
	if size/10 < 10*room {
		t.Fatalf("records of %d bytes would show nothing", size/10)
	}
	var many []string // the same again: each is read anew
	for range 10 {
		many = append(many, paths...)
	}
	checked(t, o, paths) // what is made once is made now
	few, all := lives(func() any { return checked(t, o, paths) }), lives(func() any { return checked(t, o, many) })
	if each := (all - few) / int64(len(many)-len(paths)); each > room {
		t.Errorf("%d bytes are kept of each record, at most %d", each, room)
	} else {
		t.Logf("%d bytes are kept of each record of %d", each, size/10)
	}
}

// lives is how much more heap lives while the result of something does.
func lives(do func() any) int64 {
	live := func() int64 {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return int64(m.HeapAlloc)
	}
	before := live()
	result := do()
	after := live()
	runtime.KeepAlive(result)
	return after - before
}

// However many work, the entries are the same and in the order of the files.
func TestFolderIsTheSameHoweverManyWork(t *testing.T) {
	h := newHome(t)
	if out, err := h.program(t, "run", "--demo", "-o", "demo").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	dir, o := archive(t, read(t, filepath.Join(h.dir, "demo")), 12)
	for name, text := range map[string]string{"00003" + recordEnding: "no record\n", "00007" + recordEnding + ".sig": "no signature\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("nowhere", filepath.Join(dir, "gone"+recordEnding)); err != nil {
		t.Fatal(err)
	}
	paths, _ := recordsIn(t, dir)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	want, err := checkAll(o, paths, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	runtime.GOMAXPROCS(8)
	got, err := checkAll(o, paths, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range got {
		if e.File != filepath.Base(paths[i]) {
			t.Errorf("entry %d is of %s, want %s", i, e.File, filepath.Base(paths[i]))
		}
		if a, b := fmt.Sprintf("%+v", e), fmt.Sprintf("%+v", want[i]); a != b {
			t.Errorf("8 workers say\n%s\nand one says\n%s", a, b)
		}
	}
	if refused := len(got) - accepted(got); refused != 3 {
		t.Errorf("%d are not accepted, want the 3 that were spoilt", refused)
	}
}
