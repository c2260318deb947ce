package transcriptlog_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"testing"

	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/internal/transcriptlog/crashdisk"
)

// What the header of a record says of the disk, on every system that the program
// is built for, stands in FORMAT.md word for word.
func TestFormatSaysWhatEachSystemGuarantees(t *testing.T) {
	page, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	var rows []string
	for _, m := range regexp.MustCompile("(?m)^\\| (?:Unix|Windows) \\| `(.*)` \\|$").FindAllSubmatch(page, -1) {
		rows = append(rows, string(m[1]))
	}
	files, err := filepath.Glob("disk_*.go")
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?m)^const Guarantees = (".*")$`).FindAllSubmatch(text, -1) {
			words, err := strconv.Unquote(string(m[1]))
			if err != nil {
				t.Fatal(err)
			}
			said = append(said, words)
		}
	}
	slices.Sort(rows)
	slices.Sort(said)
	if len(said) != 2 || !slices.Equal(rows, said) {
		t.Errorf("FORMAT.md says %q, the program %q", rows, said)
	}
	if !slices.Contains(said, transcriptlog.Guarantees) {
		t.Errorf("on %s it says %q", runtime.GOOS, transcriptlog.Guarantees)
	}
}

// foldersLeft is a disk of a system that has no call to force a folder.
type foldersLeft struct{ *crashdisk.Disk }

func (foldersLeft) SyncFolder(string) error { return nil }

// There a loss of power takes the whole file or nothing of it that was
// acknowledged, as FORMAT.md says.
func TestFoldersLeftToTheSystemLoseWholeFilesOnly(t *testing.T) {
	d := foldersLeft{crashdisk.New()}
	l, err := transcriptlog.CreateOn(d, crashPath, false)
	if err != nil {
		t.Fatal(err)
	}
	gone, there := 0, 0
	for e := range 20 {
		if err := l.Append(instant(e), eventOf(e)...); err != nil {
			t.Fatal(err)
		}
		want := len(transcriptlog.Read(mustRead(t, d.Disk)).Lines)
		for _, fate := range crashdisk.Fates {
			for _, left := range d.After(d.Calls(), fate) {
				b, err := left.Read(crashPath)
				switch {
				case errors.Is(err, fs.ErrNotExist):
					gone++
				case len(transcriptlog.Read(b).Lines) < want:
					t.Errorf("event %d, %s: %d lines were acknowledged, and some of them are gone", e, fate.Name, want)
				default:
					there++
				}
			}
		}
	}
	if gone == 0 || there == 0 {
		t.Errorf("gone %d times, there %d times", gone, there)
	}
}

func mustRead(t *testing.T, d *crashdisk.Disk) []byte {
	t.Helper()
	b, err := d.Read(crashPath)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
