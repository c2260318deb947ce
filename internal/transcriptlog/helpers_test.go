package transcriptlog

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// stamp is the instant of the n-th line in tests.
func stamp(n int) Stamp {
	return Stamp{
		Wall: time.Date(2030, 1, 1, 10, 0, n, 250e6, time.UTC),
		Mono: time.Duration(n) * time.Second,
	}
}

// records are a small session with all that makes strings hard.
func records() []Record {
	return []Record{
		{Kind: "open", Fields: map[string]string{"format": Format, "set": "double-wound\nedition: 1\n", "operator": "j.smith"}},
		{Kind: "reading", Fields: map[string]string{"check": "ht-line", "raw": "4k7", "value": "4.7 kΩ", "window": "[4230 Ω, 5170 Ω]"}},
		{Kind: "reading", Fields: map[string]string{"check": "coupling-capacitor@V4", "raw": `"OL" \ >20M`, "note": "a\tb\r\n\u2028\u202e"}},
		{Kind: "note"},
		{Kind: KindClose, Fields: map[string]string{"result": "handed back"}},
	}
}

// encode writes records as the lines of a file, one stamp each.
func encode(t testing.TB, practice bool, recs ...Record) []byte {
	t.Helper()
	var b []byte
	var h head
	var err error
	for i, r := range recs {
		if b, h, err = h.extend(b, practice, stamp(i), []Record{r}); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// rawLines chains bodies that need not be well formed: each "%" in a body is
// the beginning of the line, up to seq, with the prev that belongs there.
func rawLines(bodies ...string) []byte {
	var b []byte
	var prev [32]byte
	for i, body := range bodies {
		lead := string(appendLine(nil, Line{Prev: prev, Seq: i + 1}))
		lead = lead[:strings.Index(lead, partPractice)]
		line := strings.Replace(body, "%", lead, 1)
		prev = sha256.Sum256([]byte(line))
		b = append(append(b, line...), '\n')
	}
	return b
}

// lineEnds are the offsets just after each line feed.
func lineEnds(b []byte) (ends []int) {
	for i, c := range b {
		if c == '\n' {
			ends = append(ends, i+1)
		}
	}
	return ends
}

// linesAsFile encodes decoded lines again, by the encoder alone.
func linesAsFile(lines []Line) []byte {
	var b bytes.Buffer
	for _, l := range lines {
		b.Write(appendLine(nil, l))
		b.WriteByte('\n')
	}
	return b.Bytes()
}

func sameLine(a, b Line) bool {
	if len(a.Fields) != len(b.Fields) {
		return false
	}
	for k, v := range a.Fields {
		if w, ok := b.Fields[k]; !ok || v != w {
			return false
		}
	}
	return a.Prev == b.Prev && a.Seq == b.Seq && a.Practice == b.Practice &&
		a.Time.Equal(b.Time) && a.Mono == b.Mono && a.Kind == b.Kind
}

func writeTemp(t testing.TB, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// program finds a program that a test needs. Without it the test is skipped,
// or fails where nothing may be skipped.
func program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("POWERUP_TEST_NOSKIP") != "" {
		t.Fatalf("%s is missing and nothing may be skipped", name)
	}
	t.Skipf("skipped: %s is not installed", name)
	return ""
}

// sumOf is the SHA-256 of a text as a line carries it.
func sumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}
