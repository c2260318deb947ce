package main

import (
	"crypto/sha256"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/transcriptlog"
)

// demoRecord is the record of a whole demonstration, made by the program itself.
func demoRecord(b *testing.B) []byte {
	b.Helper()
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	dir := b.TempDir()
	file := filepath.Join(dir, "demo.transcript")
	c := exec.Command(self, "run", "--demo", "-o", file)
	c.Dir = dir
	c.Env = append(os.Environ(), envProgram+"=1", envStart+"="+evening, "HOME="+dir, "XDG_CONFIG_HOME="+dir, "XDG_DATA_HOME="+dir)
	if out, err := c.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	return raw
}

// longRecord is one with the lines of the demonstration over and over, short of
// its close, until it has so many bytes.
func longRecord(b *testing.B, size int) []byte {
	b.Helper()
	demo := transcriptlog.Read(demoRecord(b))
	if demo.Ending != transcriptlog.Complete {
		b.Fatal(demo.Reason)
	}
	path := filepath.Join(b.TempDir(), "long.transcript")
	log, err := transcriptlog.Create(path, true)
	if err != nil {
		b.Fatal(err)
	}
	defer log.Close()
	var recs []transcriptlog.Record
	for _, l := range demo.Lines[:len(demo.Lines)-1] {
		recs = append(recs, transcriptlog.Record{Kind: l.Kind, Fields: l.Fields})
	}
	at := transcriptlog.Stamp{Wall: demo.Lines[0].Time}
	for written := 0; written < size; {
		if err := log.Append(at, recs...); err != nil {
			b.Fatal(err)
		}
		info, err := os.Stat(path)
		if err != nil {
			b.Fatal(err)
		}
		written = int(info.Size())
		if recs[0].Kind == "open" {
			recs = recs[1:] // with its files it stands once
		}
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		b.Fatal(err)
	}
	return raw
}

// Verify on one thread: strict decode, encode again and compare, chain, and
// every reading judged by its logged window. The goal is 50 MB/s.
func BenchmarkVerify(b *testing.B) {
	raw := longRecord(b, 16<<20)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	var ours, sum time.Duration
	readings := 0
	b.SetBytes(int64(len(raw)))
	for b.Loop() {
		start := time.Now()
		t := transcriptlog.Read(raw)
		if t.Ending != transcriptlog.Open {
			b.Fatal(t.Reason)
		}
		n, why := judgeAgain(t.Lines)
		if why != "" || n == 0 {
			b.Fatalf("%d readings judged: %s", n, why)
		}
		readings = n
		ours += time.Since(start)
		b.StopTimer()
		start = time.Now()
		sha256.Sum256(raw)
		sum += time.Since(start)
		b.StartTimer()
	}
	b.ReportMetric(float64(readings), "readings")
	b.ReportMetric(float64(sum)/float64(ours), "of-sha256")
}

// Plan is all that the command of that name does: read four kinds of file,
// unroll, every window of the card with its extreme corners, and print. The
// goal is 50 ms.
func BenchmarkPlan(b *testing.B) {
	for _, name := range []string{"table-radio", "sparse-radio", "earthed-radio"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				_, p, err := gather(name, "double-wound", "two-meters")
				if err != nil {
					b.Fatal(err)
				}
				w := console.WorkOf(p)
				w.Text(io.Discard, w.Pages(false), false)
			}
			b.ReportMetric(b.Elapsed().Seconds()*1e3/float64(b.N), "ms")
		})
	}
}

// built are this program and an empty one, stripped as for a release.
func built(b *testing.B) (powerup, empty string) {
	b.Helper()
	dir := b.TempDir()
	powerup, empty = filepath.Join(dir, "powerup"), filepath.Join(dir, "empty")
	source := filepath.Join(dir, "empty.go")
	if err := os.WriteFile(source, []byte("package main\n\nfunc main() {}\n"), 0o600); err != nil {
		b.Fatal(err)
	}
	for out, what := range map[string]string{powerup: ".", empty: source} {
		c := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", out, what)
		c.Env = append(os.Environ(), "CGO_ENABLED=0")
		if text, err := c.CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, text)
		}
	}
	return powerup, empty
}

// Start is the whole life of `powerup --help` beside that of an empty program,
// turn by turn. The goal is 3 times at the median.
func BenchmarkStart(b *testing.B) {
	powerup, empty := built(b)
	var ours, theirs []time.Duration
	run := func(name string, args ...string) time.Duration {
		start := time.Now()
		if err := exec.Command(name, args...).Run(); err != nil {
			b.Fatal(err)
		}
		return time.Since(start)
	}
	run(powerup, "--help") // from the disk once
	run(empty)
	for b.Loop() {
		ours = append(ours, run(powerup, "--help"))
		theirs = append(theirs, run(empty))
	}
	a, c := median(ours), median(theirs)
	b.ReportMetric(a.Seconds()*1e3, "median-ms")
	b.ReportMetric(c.Seconds()*1e3, "empty-median-ms")
	b.ReportMetric(float64(a)/float64(c), "ratio")
}

func median(d []time.Duration) time.Duration {
	slices.Sort(d)
	return d[len(d)/2]
}

// BinarySize is no time: it reports the stripped program in MB of a million
// bytes. The goal is 14 MB.
func BenchmarkBinarySize(b *testing.B) {
	powerup, empty := built(b)
	size := func(path string) float64 {
		info, err := os.Stat(path)
		if err != nil {
			b.Fatal(err)
		}
		return float64(info.Size()) / 1e6
	}
	for b.Loop() {
		size(powerup)
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(size(powerup), "MB")
	b.ReportMetric(size(empty), "empty-MB")
}
