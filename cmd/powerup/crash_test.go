package main

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/adrg/xdg"

	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/internal/transcriptlog/crashdisk"
)

// onDisk is the whole program in this one, with its record on a disk of a test
// and its terminal a pipe.
type onDisk struct {
	disk *crashdisk.Disk
	out  bytes.Buffer
	seen []mark
	left uint64 // bytes free; 0: enough
}

func (o *onDisk) free() func(string) (uint64, error) {
	return func(string) (uint64, error) { return cmp.Or(o.left, 1<<30), nil }
}

// mark is what the screen held after so many calls to the disk.
type mark struct{ calls, shown int }

const diskRecord = "/bench/x.transcript"

// Write is the screen's, output and errors alike.
func (o *onDisk) Write(b []byte) (int, error) {
	n, err := o.out.Write(b)
	o.seen = append(o.seen, mark{o.disk.Calls(), o.out.Len()})
	return n, err
}

// shown is the screen before the call after the n-th.
func (o *onDisk) shown(n int) string {
	i, _ := slices.BinarySearchFunc(o.seen, n, func(m mark, n int) int { return m.calls - n - 1 })
	if i == 0 {
		return ""
	}
	return o.out.String()[:o.seen[i-1].shown]
}

// typing are the lines of a healthy session up to its close, as they are typed.
func typing(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	for _, l := range healthyLines(t) {
		if strings.HasPrefix(l.At, "close/") {
			break
		}
		b.WriteString(l.Say + "\n")
	}
	return b.String()
}

func (o *onDisk) program(t *testing.T, typed string, args ...string) (code int) {
	t.Helper()
	start, err := time.Parse(time.RFC3339, evening)
	if err != nil {
		t.Fatal(err)
	}
	never := false
	return run(world{in: strings.NewReader(typed), out: o, err: o, args: args, clock: newBenchClock(start), terminal: &never, disk: o.disk, free: o.free()})
}

// ownFolders keeps a program that runs in this one away from the user's folders.
func ownFolders(t *testing.T) {
	t.Helper()
	t.Cleanup(xdg.Reload) // the last to be done, when the environment is as it was
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	xdg.Reload()
}

func (o *onDisk) session(t *testing.T) int {
	t.Helper()
	ownFolders(t)
	return o.program(t, typing(t), "run", "table-radio", "--bench", "two-meters", "-o", diskRecord)
}

// acknowledged is how many lines that were typed had come to something on the
// screen: the next prompt, or a word on the last one.
func acknowledged(screen string) int {
	const prompt = "\n> "
	typed := strings.Count("\n"+screen, prompt)
	if typed == 0 {
		return 0
	}
	last := screen[strings.LastIndex("\n"+screen, prompt):]
	if _, after, _ := strings.Cut(last, "\n"); after != "" {
		return typed
	}
	return typed - 1
}

// judged are the words of a screen that stand before a reading's verdict.
var judged = regexp.MustCompile(`(?m)^(PASS|QUERY|STOP) .*`)

// Power lost between any two calls of the whole program, whatever the disk does
// with what was not forced to it: what the screen had shown is in the record.
func TestNoVerdictIsShownThatALossOfPowerTakesBack(t *testing.T) {
	o := &onDisk{disk: crashdisk.New()}
	if code := o.session(t); code != errAborted.code {
		t.Fatalf("exit %d\n%s", code, o.out.String())
	}
	whole, err := o.disk.Read(diskRecord)
	if err != nil {
		t.Fatal(err)
	}
	lines := transcriptlog.Read(whole).Lines
	disks, replays, verdicts := 0, 0, 0
	for n := range o.disk.Calls() + 1 {
		screen := o.shown(n)
		verdicts = len(judged.FindAllString(screen, -1))
		want := linesOf(lines, acknowledged(screen))
		tried := map[string]bool{}
		for i, fate := range crashdisk.Fates {
			for _, left := range o.disk.After(n, fate) {
				disks++
				b, _ := left.Read(diskRecord)
				if tried[string(b)] && n%13 != i {
					continue // one fate is another where all is forced to the disk
				}
				tried[string(b)] = true
				got := transcriptlog.Read(b)
				if len(got.Lines) < want {
					t.Fatalf("after %d calls, %s: %d lines follow from what was shown, %d are left:\n%s", n, fate.Name, want, len(got.Lines), tail(screen))
				}
				if n%13 == i && got.Ending != transcriptlog.Broken {
					replays++
					if _, s, err := rebuild(got.Lines, diskRecord); err != nil || len(got.Lines)+len(s.Missing()) < want {
						t.Errorf("after %d calls, %s: not played again: %v", n, fate.Name, err)
					}
				}
			}
		}
	}
	t.Logf("%d lines, %d verdicts on the screen, %d disks after %d calls, %d played again", len(lines), verdicts, disks, o.disk.Calls(), replays)
	if disks < 1000 || replays < 20 || verdicts < 50 {
		t.Error("too little was tried")
	}
}

// linesOf is how many lines stand before the entry after the n-th.
func linesOf(lines []transcriptlog.Line, n int) int {
	if n == 0 {
		return 0
	}
	for i, l := range lines {
		if l.Kind == "entry" || l.Kind == "abort" {
			if n == 0 {
				return i
			}
			n--
		}
	}
	return len(lines)
}

func tail(screen string) string { return screen[max(0, len(screen)-600):] }

// One call to the disk that fails, at any point of a session: exit 6, nothing
// asked of the disk after it, no word about what was typed last but that it may
// be lost, and the caution as the last line.
func TestOneFailedCallEndsTheSession(t *testing.T) {
	whole := &onDisk{disk: crashdisk.New()}
	whole.session(t)
	for n := 1; n <= whole.disk.Calls(); n += 7 {
		why := []syscall.Errno{syscall.EIO, syscall.ENOSPC}[n%2]
		o := &onDisk{disk: crashdisk.New()}
		calls, after := 0, 0
		var op string
		var before int
		o.disk.Fail = func(c crashdisk.Call) error {
			calls++
			switch {
			case calls == n:
				op, before = c.Op, o.out.Len()
				return why
			case calls > n:
				after++
			}
			return nil
		}
		code := o.session(t)
		at := fmt.Sprintf("call %d, %s, %v", n, op, why)
		said := sinceTyped(o.out.String(), before)
		begun := op == "write" || op == "sync" || op == "folder"
		if begun && (code != errDurable.code || !strings.HasSuffix(said, "\n"+lastWords+"\n")) {
			t.Errorf("%s: exit %d, and the last words are\n%s", at, code, said)
		}
		if code == 0 || !strings.Contains(said, why.Error()) {
			t.Errorf("%s: exit %d\n%s", at, code, said)
		}
		if after > 0 {
			t.Errorf("%s: %d calls came after it", at, after)
		}
		if judged.MatchString(said) || strings.Contains(said, "\n> ") {
			t.Errorf("%s: then it said\n%s", at, said)
		}
	}
}

// sinceTyped is what a screen says after the last line that was typed before the
// place where it was when something failed.
func sinceTyped(screen string, at int) string {
	prompt := strings.LastIndex("\n"+screen[:at], "\n> ")
	if prompt < 0 {
		return screen
	}
	_, said, _ := strings.Cut(screen[prompt:], "\n")
	return said
}

const lastWords = "TREAT AS LIVE AND CHARGED: switch off, plug out, discharge, prove dead."

// A close line that may not be on disk is not signed, and says nothing of a set.
func TestACloseThatMayNotBeOnDiskIsNotSigned(t *testing.T) {
	ownFolders(t)
	path := filepath.Join(t.TempDir(), "x.transcript")
	d := &lastSyncFails{Disk: transcriptlog.System}
	var out bytes.Buffer
	start, _ := time.Parse(time.RFC3339, evening)
	never := false
	code := run(world{out: &out, err: &out, args: []string{"run", "table-radio", "--bench", "two-meters", "--answers", "../../testdata/answers/two-meters.yaml", "-o", path}, clock: newBenchClock(start), terminal: &never, disk: d})
	if code != errDurable.code || !strings.HasSuffix(out.String(), "\n"+lastWords+"\n") {
		t.Errorf("exit %d\n%s", code, tail(out.String()))
	}
	if strings.Contains(out.String(), "Closed") || strings.Contains(out.String(), "Check it") {
		t.Errorf("a close was shown:\n%s", tail(out.String()))
	}
	if _, err := os.Stat(path + ".sig"); err == nil {
		t.Error("it is signed")
	}
}

// lastSyncFails is the system's disk, but for the sync of a close line.
type lastSyncFails struct{ transcriptlog.Disk }

func (d *lastSyncFails) OpenFile(name string, flag int, perm os.FileMode) (transcriptlog.File, error) {
	f, err := d.Disk.OpenFile(name, flag, perm)
	return &closeFails{File: f}, err
}

func (d *lastSyncFails) Lock(f transcriptlog.File) error { return d.Disk.Lock(f.(*closeFails).File) }

type closeFails struct {
	transcriptlog.File
	closing bool
}

func (f *closeFails) Write(b []byte) (int, error) {
	f.closing = bytes.Contains(b, []byte(`"kind":"close"`))
	return f.File.Write(b)
}

func (f *closeFails) Sync() error {
	if f.closing {
		return syscall.EIO
	}
	return f.File.Sync()
}

// A disk that is nearly full before the first mains: it is refused on the screen
// and in the record, and the session is parked and gone on with.
func TestAFullDiskIsToldAndOnRecord(t *testing.T) {
	o := &onDisk{disk: crashdisk.New(), left: 1000}
	ownFolders(t)
	before, _, _ := strings.Cut(typing(t), "power\n")
	if code := o.program(t, before+"power\npark\n", "run", "table-radio", "--bench", "two-meters", "-o", diskRecord); code != errOpen.code {
		t.Errorf("exit %d\n%s", code, tail(o.out.String()))
	}
	screen := o.out.String()
	if !strings.Contains(screen, "\nNot taken   the disk is nearly full") || strings.Contains(screen, "DANGER - MAINS ON") {
		t.Errorf("it says\n%s", tail(screen))
	}
	raw, err := o.disk.Read(diskRecord)
	if err != nil {
		t.Fatal(err)
	}
	var kinds []string
	r := transcriptlog.Read(raw)
	for _, l := range r.Lines {
		if l.Kind == "room" || l.Kind == "refused" || l.Kind == "power" || l.Kind == "park" {
			kinds = append(kinds, l.Kind)
		}
	}
	if got := strings.Join(kinds, " "); got != "room refused park" {
		t.Errorf("the record has %s", got)
	}
	o.left = 1 << 30
	o.out.Reset()
	if code := o.program(t, "same\nunplugged\nn\n", "resume", diskRecord); code != errAborted.code || !strings.Contains(o.out.String(), "there is room for the record again") {
		t.Errorf("resumed with exit %d\n%s", code, o.out.String())
	}
}
