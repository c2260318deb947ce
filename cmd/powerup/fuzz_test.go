package main

import (
	"bytes"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"example.com/powerup/internal/transcriptlog"
)

// FuzzJudgeAgain takes any bytes for a record: what verify makes of it ends,
// prints nothing that could move a cursor, and finds nothing fair that says pass
// for a number outside its own window.
func FuzzJudgeAgain(f *testing.F) {
	seeds := vectors(f)
	for _, v := range seeds {
		if v.Level == "verdict" || v.Level == "chain" {
			f.Add(read(f, v.path()))
		}
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		found := finding{record: transcriptlog.Read(raw)}
		found.judged, found.unfair = judgeAgain(found.record.Lines)
		if found.accepted() {
			t.Error("accepted without a signature")
		}
		var out bytes.Buffer
		found.print(&out)
		for line := range strings.Lines(out.String()) {
			if strings.ContainsFunc(strings.TrimSuffix(line, "\n"), unicode.IsControl) {
				t.Errorf("it prints %q", line)
			}
		}
		if found.unfair != "" {
			return
		}
		for _, l := range found.record.Lines {
			if l.Kind == "reading" && l.Fields["rule"] != "" && l.Fields["verdict"] == "pass" && l.Fields["shown censored"] == "false" && outside(t, l.Fields) {
				t.Errorf("fair: %v", l.Fields)
			}
		}
	})
}

// outside tells by itself whether a number lies outside the window beside it.
func outside(t *testing.T, f map[string]string) bool {
	x := number(t, f["shown x"])
	lo, hi := f["window pass-lo"], f["window pass-hi"]
	return lo != "" && x < number(t, lo) || hi != "" && x > number(t, hi)
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("fair, and %q is no number", text)
	}
	return x
}
