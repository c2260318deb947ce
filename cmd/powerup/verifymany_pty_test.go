//go:build unix

package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
)

// linkedArchive is a folder with one record of the demonstration under so many
// names, signature and all.
func linkedArchive(t *testing.T, h home, n int) string {
	t.Helper()
	if out, err := h.program(t, "run", "--demo", "-o", "demo").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	dir := filepath.Join(h.dir, "archive")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	for i := range n {
		for _, ending := range []string{"", ".sig"} {
			if err := os.Link(filepath.Join(h.dir, "demo"+ending), filepath.Join(dir, fmt.Sprintf("%04d%s%s", i, recordEnding, ending))); err != nil {
				t.Fatal(err)
			}
		}
	}
	return dir
}

var drawn = regexp.MustCompile(`\r\[#*\.*\] checked \d+ of 400, [01] not accepted`)

// On a terminal one line tells how far it is, drawn over itself a few times a
// second without an escape, and gone before the table; without one, nothing does.
func TestFolderTellsATerminalHowFarItIs(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	dir := linkedArchive(t, h, 400)
	bad := filepath.Join(dir, "0000"+recordEnding)
	if err := os.Remove(bad); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(bad, []byte("no record\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	plain := h.verify(t, 5, dir)
	if strings.ContainsAny(plain, "\r\x1b") || strings.Contains(plain, "checked") {
		t.Errorf("progress without a terminal: %.200q", plain)
	}
	c := h.program(t, "verify", "--practice", dir)
	c.Env = append(c.Env, nextMorning, "GOMAXPROCS=1") // long enough on any machine
	start := time.Now()
	terminal, err := pty.StartWithSize(c, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	shown, _ := io.ReadAll(terminal) // ends in an error where the other end closes
	if got := code(c.Wait()); got != 5 {
		t.Errorf("exit code %d, want 5", got)
	}
	draws := drawn.FindAllIndex(shown, -1)
	if most := int(time.Since(start)/redrawEvery) + 1; len(draws) == 0 || len(draws) > most {
		t.Fatalf("drawn %d times, at most %d: %.300q", len(draws), most, shown)
	}
	last := draws[len(draws)-1]
	wiped := "\r" + strings.Repeat(" ", last[1]-last[0]-1) + "\r"
	table := strings.ReplaceAll(plain, "\n", "\r\n")
	if after := string(shown[last[1]:]); !strings.HasPrefix(after, wiped+table) { // and then that verification failed
		t.Errorf("after the last line of progress: %.300q", after)
	}
	if bytes.ContainsRune(shown, '\x1b') || bytes.IndexByte(shown[:last[1]], '\n') >= 0 {
		t.Errorf("more than one line, or an escape: %.300q", shown)
	}
}

// The stop key ends it in words, with no table of what was seen in part.
func TestStopKeyEndsAFolderWithWords(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	c := h.program(t, "verify", "--practice", linkedArchive(t, h, 3000))
	terminal, err := pty.StartWithSize(c, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	one := make([]byte, 1)
	if _, err := io.ReadFull(terminal, one); err != nil { // the first line of progress
		t.Fatal(err)
	}
	if _, err := terminal.Write([]byte{3}); err != nil {
		t.Fatal(err)
	}
	shown, _ := io.ReadAll(terminal)
	if got := code(c.Wait()); got != errAborted.code {
		t.Errorf("exit code %d, want %d", got, errAborted.code)
	}
	if !regexp.MustCompile(`\rpowerup: broken off, with \d+ of 3000 records checked: nothing is said of any of them\r\n$`).Match(shown) {
		t.Errorf("shown: %.300q", shown)
	}
	if bytes.Contains(shown, []byte("Mark")) {
		t.Errorf("a table of a part: %.300q", shown)
	}
}
