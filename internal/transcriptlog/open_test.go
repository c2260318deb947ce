package transcriptlog

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func TestCreateMakesANewFileForItsOwnerAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a", "b", "log.jsonl")
	l, err := Create(path, true)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	for p, want := range map[string]fs.FileMode{path: 0o600, filepath.Dir(path): 0o700 | fs.ModeDir} {
		info, err := os.Stat(p)
		if err != nil {
			t.Fatal(err)
		}
		if runtime.GOOS != "windows" && info.Mode() != want {
			t.Errorf("%s has mode %v, want %v", p, info.Mode(), want)
		}
	}
	if err := l.Append(stamp(0), records()...); err != nil {
		t.Fatal(err)
	}
	if got := Read(readFile(t, path)); got.Ending != Complete || !got.Lines[0].Practice {
		t.Errorf("%v: %s", got.Ending, got.Reason)
	}
}

func TestCreateNeverWritesOverAFile(t *testing.T) {
	path := writeTemp(t, "log.jsonl", []byte("somebody's"))
	if _, err := Create(path, false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v", err)
	}
	if got := readFile(t, path); string(got) != "somebody's" {
		t.Errorf("the file is %q now", got)
	}
	if _, err := Create(filepath.Join(path, "x", "log.jsonl"), false); err == nil {
		t.Error("a file was made under a file")
	}
}

func TestASecondWriterIsShutOut(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.jsonl")
	l, err := Create(path, false)
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Append(stamp(0), records()[:2]...); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Resume(path); !errors.Is(err, ErrLocked) {
		t.Errorf("resumed while it is being written: %v", err)
	}
	if got := Read(readFile(t, path)); got.Ending != Open {
		t.Errorf("a reader is shut out too: %v", got.Reason)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	again, _, err := Resume(path)
	if err != nil {
		t.Fatalf("not to be had after Close: %v", err)
	}
	defer again.Close()
	if _, _, err := Resume(path); !errors.Is(err, ErrLocked) {
		t.Errorf("resumed twice: %v", err)
	}
}

func TestResumeGoesOnWhereItStood(t *testing.T) {
	for _, practice := range []bool{false, true} {
		whole := encode(t, practice, records()...)
		n := lineEnds(whole)[2]
		path := writeTemp(t, "log.jsonl", whole[:n])
		l, found, err := Resume(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(found.Lines) != 3 || found.Torn != nil || found.TornPath != "" {
			t.Errorf("found %d lines, torn %q in %q", len(found.Lines), found.Torn, found.TornPath)
		}
		for i, r := range records()[3:] {
			if err := l.Append(stamp(3+i), r); err != nil {
				t.Fatal(err)
			}
		}
		l.Close()
		if got := readFile(t, path); !bytes.Equal(got, whole) {
			t.Errorf("practice %v: it is not what one session would have written:\n%s", practice, got)
		}
	}
}

func TestResumeRefuses(t *testing.T) {
	whole := encode(t, false, records()...)
	for _, c := range []struct {
		why  string
		file []byte
		want error
	}{
		{"a closed transcript", whole, ErrClosed},
		{"a closed transcript with bytes after it", append(bytes.Clone(whole), "x"...), ErrBroken},
		{"a changed transcript", bytes.Replace(whole, []byte("4k7"), []byte("4k8"), 1), ErrBroken},
		{"an empty file", nil, ErrBroken},
		{"a file with a torn line alone", whole[:100], ErrBroken},
		{"some other file", []byte("dear diary\n"), ErrBroken},
	} {
		path := writeTemp(t, "log.jsonl", c.file)
		if _, _, err := Resume(path); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", c.why, err, c.want)
		}
		if !bytes.Equal(readFile(t, path), c.file) {
			t.Errorf("%s: the file was changed", c.why)
		}
		if _, _, err := Resume(path); errors.Is(err, ErrLocked) {
			t.Errorf("%s: the lock was kept", c.why)
		}
	}
	if _, _, err := Resume(filepath.Join(t.TempDir(), "none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
}

// Wherever in the last line a write was torn: no earlier line is lost, the tail
// is kept byte for byte, and the session goes on and closes COMPLETE.
func TestATailTornAtEveryByte(t *testing.T) {
	whole := encode(t, false, records()[:3]...)
	start := lineEnds(whole)[1]
	for n := start + 1; n < len(whole); n++ {
		path := writeTemp(t, "log.jsonl", whole[:n])
		l, found, err := Resume(path)
		if err != nil {
			t.Fatalf("torn at %d: %v", n, err)
		}
		if len(found.Lines) != 2 || !bytes.Equal(found.Torn, whole[start:n]) || found.TornPath != path+".torn-1" {
			t.Fatalf("torn at %d: %d lines, torn %q in %q", n, len(found.Lines), found.Torn, found.TornPath)
		}
		if !bytes.Equal(readFile(t, found.TornPath), whole[start:n]) || !bytes.Equal(readFile(t, path), whole[:start]) {
			t.Fatalf("torn at %d: the bytes are not where they belong", n)
		}
		if err := l.Append(stamp(9), found.Record(), Record{Kind: "note"}, Record{Kind: KindClose}); err != nil {
			t.Fatal(err)
		}
		l.Close()
		if got := Read(readFile(t, path)); got.Ending != Complete || len(got.Lines) != 5 || len(got.Notes) != 1 {
			t.Fatalf("torn at %d: %v, %s, %q", n, got.Ending, got.Reason, got.Notes)
		}
	}
}

func TestATornTailMustBeSaidFirst(t *testing.T) {
	whole := encode(t, false, records()[:3]...)
	path := writeTemp(t, "log.jsonl", whole[:len(whole)-5])
	l, found, err := Resume(path)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	other := found.Record()
	other.Fields["torn_sha256"] = strings.Repeat("0", 64)
	renamed := found.Record()
	renamed.Kind = "note"
	for _, r := range []Record{{Kind: "note"}, {Kind: KindRecovered}, other, renamed} {
		if err := l.Append(stamp(5), r, found.Record()); err == nil {
			t.Errorf("%+v came first", r)
		}
	}
	more := found.Record()
	more.Fields["why"] = "power cut"
	if err := l.Append(stamp(5), more); err != nil {
		t.Errorf("with a field more: %v", err)
	}
	if err := l.Append(stamp(6), Record{Kind: "note"}); err != nil {
		t.Errorf("afterwards: %v", err)
	}
	if got := Read(readFile(t, path)); got.Ending != RecoveredOpen {
		t.Errorf("%v: %s", got.Ending, got.Reason)
	}
}

// A crash at any step of a recovery loses nothing and hides nothing.
func TestACrashWithinARecovery(t *testing.T) {
	whole := encode(t, false, records()[:3]...)
	start := lineEnds(whole)[1]
	tail := whole[start : len(whole)-5]
	for _, c := range []struct {
		why  string
		file []byte // the transcript as the crash left it
		kept []byte // FILE.torn-1 as the crash left it, nil if not there
		path string // where the tail is found
	}{
		{"before the copy", whole[:len(whole)-5], nil, ".torn-1"},
		{"between the copy and the cut", whole[:len(whole)-5], tail, ".torn-1"},
		{"between the cut and the line that tells", whole[:start], tail, ".torn-1"},
		{"another tail was kept and not told of", whole[:len(whole)-5], []byte("other"), ".torn-2"},
	} {
		path := writeTemp(t, "log.jsonl", c.file)
		if c.kept != nil {
			if err := os.WriteFile(path+".torn-1", c.kept, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		l, found, err := Resume(path)
		if err != nil {
			t.Fatalf("%s: %v", c.why, err)
		}
		if found.TornPath != path+c.path || !bytes.Equal(found.Torn, tail) || !bytes.Equal(readFile(t, found.TornPath), tail) {
			t.Errorf("%s: found %q in %s", c.why, found.Torn, found.TornPath)
		}
		if err := l.Append(stamp(5), Record{Kind: "note"}); err == nil {
			t.Errorf("%s: the tail need not be told of", c.why)
		}
		if err := l.Append(stamp(5), found.Record()); err != nil {
			t.Errorf("%s: %v", c.why, err)
		}
		l.Close()
	}
}

// A tail that was told of is not told of again, and a second one has a file of
// its own.
func TestEveryTornTailHasItsOwnFile(t *testing.T) {
	whole := encode(t, false, records()[:2]...)
	path := writeTemp(t, "log.jsonl", whole)
	for n := range 3 {
		torn := fmt.Sprintf("torn write %d", n)
		f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		f.WriteString(torn)
		f.Close()
		l, found, err := Resume(path)
		if err != nil {
			t.Fatal(err)
		}
		if want := fmt.Sprintf("%s.torn-%d", path, n+1); found.TornPath != want || string(found.Torn) != torn {
			t.Errorf("round %d: %q in %s, want %s", n, found.Torn, found.TornPath, want)
		}
		if err := l.Append(stamp(n), found.Record()); err != nil {
			t.Fatal(err)
		}
		l.Close()
	}
	l, found, err := Resume(path)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if found.Torn != nil {
		t.Errorf("told of again: %q in %s", found.Torn, found.TornPath)
	}
}

// Only a line of kind recovered tells of a torn tail; another that happens to
// name the file does not.
func TestOnlyARecoveredLineTells(t *testing.T) {
	recs := records()[:2]
	recs[1].Fields["torn_file"] = "log.jsonl.torn-1"
	path := writeTemp(t, "log.jsonl", encode(t, false, recs...))
	if err := os.WriteFile(path+".torn-1", []byte("torn"), 0o600); err != nil {
		t.Fatal(err)
	}
	l, found, err := Resume(path)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if string(found.Torn) != "torn" {
		t.Errorf("found %q", found.Torn)
	}
}

func TestATailThatCannotBeKeptIsNotCut(t *testing.T) {
	whole := encode(t, false, records()[:3]...)
	path := writeTemp(t, "log.jsonl", whole[:len(whole)-5])
	if err := os.Mkdir(path+".torn-1", 0o700); err != nil { // a folder cannot be read as a file
		t.Fatal(err)
	}
	if _, _, err := Resume(path); err == nil {
		t.Error("resumed")
	}
	if got := readFile(t, path); !bytes.Equal(got, whole[:len(whole)-5]) {
		t.Errorf("the tail was cut: %d of %d bytes are left", len(got), len(whole)-5)
	}
}

func TestACutThatFailsIsDurabilityUnknown(t *testing.T) {
	for _, d := range []*badDisk{{failTruncate: errDisk}, {failSync: 1}} {
		if err := cut(d, 0); !errors.Is(err, ErrDurability) || !errors.Is(err, errDisk) {
			t.Errorf("got %v", err)
		}
	}
}

func TestFilesAreWrittenWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	for _, text := range []string{"first", "second"} {
		if err := replaceFile(path, []byte(text), 0o644); err != nil || string(readFile(t, path)) != text {
			t.Fatalf("%v, %q", err, readFile(t, path))
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := replaceFile(filepath.Join(dir, "folder"), nil, 0o644); err == nil {
		t.Error("a folder was replaced")
	}
	if err := replaceFile(filepath.Join(dir, "none", "a"), nil, 0o644); err == nil {
		t.Error("written to a folder that is not there")
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 2 {
		t.Errorf("something is left over: %v %v", left, err)
	}
	closed, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	closed.Close()
	if err := writeSynced(closed, []byte("x")); err == nil {
		t.Error("written to a closed file")
	}
}

func TestFoldersAreMade(t *testing.T) {
	dir := t.TempDir()
	if err := makeFolder(filepath.Join(dir, "a", "b", "c")); err != nil {
		t.Error(err)
	}
	if err := makeFolder(filepath.Join(dir, "a", "b", "c")); err != nil {
		t.Errorf("a second time: %v", err)
	}
	if err := makeFolder("."); err != nil {
		t.Error(err)
	}
	file := writeTemp(t, "file", nil)
	if err := makeFolder(filepath.Join(file, "a")); err == nil {
		t.Error("a folder under a file")
	}
	if err := syncFolder(filepath.Join(dir, "none")); err == nil && runtime.GOOS != "windows" {
		t.Error("a folder that is not there was synced")
	}
}
