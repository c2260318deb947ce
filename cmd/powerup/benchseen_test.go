package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// The newest real record in the folder says whether the bench is as it was.
func TestBenchIsComparedWithTheNewestRecord(t *testing.T) {
	dir := t.TempDir()
	src, p, err := gather("table-radio", "double-wound", "two-meters")
	if err != nil {
		t.Fatal(err)
	}
	if _, _, ok := benchSeen(dir, src); ok {
		t.Error("an empty folder knows a bench")
	}
	begun := func(name string, day int, practice bool, s sources) {
		log, err := transcriptlog.Create(filepath.Join(dir, name+".transcript"), practice)
		if err != nil {
			t.Fatal(err)
		}
		at := transcriptlog.Stamp{Wall: time.Date(2030, 1, day, 18, 0, 0, 0, time.UTC)}
		if err := log.Append(at, header(s, p, name, "", newBenchClock(at.Wall))); err != nil {
			t.Fatal(err)
		}
		log.Close()
	}
	changed := src
	changed.bench.text = append([]byte("# another\n"), src.bench.text...)
	if err := os.WriteFile(filepath.Join(dir, "torn.transcript"), []byte("no record"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name     string
		day      int
		practice bool
		src      sources
		want     int // day of the newest
		same     bool
	}{
		{"a", 2, false, src, 2, true},
		{"older", 1, false, changed, 2, true},
		{"practice", 5, true, changed, 2, true},
		{"b", 3, false, changed, 3, false},
		{"c", 4, false, src, 4, true},
	} {
		begun(c.name, c.day, c.practice, c.src)
		at, same, ok := benchSeen(dir, src)
		if !ok || at.Day() != c.want || same != c.same {
			t.Errorf("after %s: %v, same %v, %v", c.name, at, same, ok)
		}
	}
	fewer := src
	fewer.meters = src.meters[:1]
	if _, same, _ := benchSeen(dir, fewer); same {
		t.Error("a meter less is the same bench")
	}
}
