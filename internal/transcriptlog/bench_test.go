package transcriptlog

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// typical is a reading's line as long as those of a session: value, window,
// rule, grade and the words around them, about 500 bytes.
func typical(n int) Record {
	return Record{Kind: "reading", Fields: map[string]string{
		"slot": fmt.Sprintf("dead-ht/reservoir#%d", n), "check": "ht-line", "raw": "4k7", "value": "4700 Ω",
		"u": "38 Ω", "window": "[4230 Ω, 5170 Ω]", "query": "[3760 Ω, 5640 Ω]", "danger": "low",
		"verdict": "pass", "grade": "sheet", "rule": "1", "meter": "bench-1", "range": "20 kΩ", "set": "unplugged",
		"reason": "three resistors in line on this set",
	}}
}

// bigFile is a transcript of about so many bytes.
func bigFile(b *testing.B, size int) []byte {
	b.Helper()
	h, file := head{}, []byte(nil)
	for n := 0; len(file) < size; n++ {
		var err error
		if file, h, err = h.extend(file, false, stamp(n%60), []Record{typical(n)}); err != nil {
			b.Fatal(err)
		}
	}
	return file
}

// The chain beside SHA-256 over the same bytes, turn by turn in one run: the goal
// is half its rate on one thread and nine tenths on two.
func BenchmarkCheckChain(b *testing.B) {
	file := bigFile(b, 16<<20)
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			var ours, sum time.Duration
			b.SetBytes(int64(len(file)))
			for b.Loop() {
				start := time.Now()
				if err := CheckChain(file, workers); err != nil {
					b.Fatal(err)
				}
				ours += time.Since(start)
				b.StopTimer()
				start = time.Now()
				sha256.Sum256(file)
				sum += time.Since(start)
				b.StartTimer()
			}
			b.ReportMetric(float64(sum)/float64(ours), "of-sha256")
		})
	}
}

// Read is strict decode, encode again, compare and chain, on one thread: the
// goal is 50 MB/s.
func BenchmarkRead(b *testing.B) {
	file := bigFile(b, 16<<20)
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		if t := Read(file); t.Ending != Open {
			b.Fatal(t.Reason)
		}
	}
}

// Append beside a bare write and fsync of the same bytes, turn by turn; the
// goal is 1.25 times at the median.
func BenchmarkAppend(b *testing.B) {
	dir := b.TempDir()
	log, err := Create(filepath.Join(dir, "log.jsonl"), false)
	if err != nil {
		b.Fatal(err)
	}
	defer log.Close()
	bare, err := os.Create(filepath.Join(dir, "bare"))
	if err != nil {
		b.Fatal(err)
	}
	defer bare.Close()
	line := append(appendLine(nil, Line{Kind: "reading", Seq: 1, Fields: typical(0).Fields}), '\n')
	var ours, theirs []time.Duration
	for n := 0; b.Loop(); n++ {
		start := time.Now()
		if err := log.Append(stamp(0), typical(n)); err != nil {
			b.Fatal(err)
		}
		middle := time.Now()
		if _, err := bare.Write(line); err != nil {
			b.Fatal(err)
		}
		if err := bare.Sync(); err != nil {
			b.Fatal(err)
		}
		ours, theirs = append(ours, middle.Sub(start)), append(theirs, time.Since(middle))
	}
	slices.Sort(ours)
	slices.Sort(theirs)
	a, c := ours[len(ours)/2], theirs[len(theirs)/2]
	b.ReportMetric(float64(a.Nanoseconds()), "median-ns")
	b.ReportMetric(float64(c.Nanoseconds()), "bare-median-ns")
	b.ReportMetric(float64(a)/float64(c), "ratio")
}
