package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/procedures"
)

func TestOperatorsThatASignersFileCanHold(t *testing.T) {
	for name, ok := range map[string]bool{"anna": true, "anna.smith@home": true, "anna smith": false, "anna,bob": false, "*": false, "-n": false, "a#b": false, "": false} {
		if err := listable(name); (err == nil) != ok {
			t.Errorf("operator %q gives %v", name, err)
		}
	}
}

func TestNewFileIsNeverOverAnother(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a", "b", "bench.yaml")
	if err := writeNew(path, []byte("one"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := writeNew(path, []byte("two"), 0o644); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second file under the name: %v", err)
	}
	text, err := os.ReadFile(path)
	if err != nil || string(text) != "one" {
		t.Errorf("%q %v", text, err)
	}
	left, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(left) != 1 {
		t.Errorf("left in the folder: %v %v", left, err)
	}
	info, err := os.Stat(path)
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o644 {
		t.Errorf("mode %v %v", info.Mode(), err)
	}
}

// A file that only its owner may read is written over for its owner alone.
func TestAFileWrittenOverStaysWithThoseWhoMayReadIt(t *testing.T) {
	path := filepath.Join(t.TempDir(), "my-set.yaml")
	if err := os.WriteFile(path, []byte("one"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := writeOver(path, []byte("two")); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	info, serr := os.Stat(path)
	if err != nil || serr != nil || string(text) != "two" || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("%q, %v, %v, %v", text, info.Mode(), err, serr)
	}
}

func TestInstrumentsAreOfferedByKind(t *testing.T) {
	tester, _ := procedures.Find(procedures.Meters(), "insulation-tester")
	digital, _ := procedures.Find(procedures.Meters(), "good-digital")
	got := offered([]source{
		{"own-tester.yaml", tester}, {"own meter.yaml", digital}, {"broken.yaml", []byte("meter:\n  name: x\n")}, {"set.yaml", []byte("set:\n")},
	})
	if want := "own meter.yaml, general-digital, good-digital, moving-coil"; got["meters.sheet"] != want {
		t.Errorf("meters %q, want %q", got["meters.sheet"], want)
	}
	if want := "own-tester.yaml, insulation-tester"; got["tester"] != want {
		t.Errorf("testers %q, want %q", got["tester"], want)
	}
}

// What the loader of bench files cannot know is refused too.
func TestABenchIsHeldAgainstWhatIsHere(t *testing.T) {
	for text, want := range map[string]string{
		"operator: anna":          "",
		"operator: anna smith":    "cannot stand in a signers file",
		"tester: general-digital": "is no insulation tester but digital",
		"tester: nothing.yaml":    "nothing.yaml is not here",
		"meters: [{letter: A, sheet: insulation-tester, stays: set}]": "it has a line of its own",
		"meters: [{letter: A, sheet: general-digital, stays: set}]":   "",
	} {
		err := benchRefused(describe.Draft{Text: []byte("bench:\n  " + text + "\n")})
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}

// A second procedure for such a set in the folder makes it a question; one for
// other sets does not.
func TestProceduresThatFit(t *testing.T) {
	text, _ := procedures.Find(procedures.Procedures(), "double-wound")
	other := strings.Replace(string(text), "construction: double-wound", "construction: auto-transformer", 1)
	set := &sheet.Set{Construction: sheet.DoubleWound}
	for _, c := range []struct {
		reason string
		here   []source
		want   int
	}{
		{"nothing in the folder", nil, 1},
		{"one's own", []source{{"own.yaml", text}}, 2},
		{"for other sets", []source{{"own.yaml", []byte(other)}}, 1},
		{"one that does not load", []source{{"own.yaml", []byte("procedure: x\n")}}, 1},
		{"a set sheet", []source{{"set.yaml", []byte("set:\n")}}, 1},
	} {
		if got := proceduresFor(set, c.here); len(got) != c.want {
			t.Errorf("%s: %v", c.reason, got)
		}
	}
}

func TestCopiedCommandLineTakesAPathWhole(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("another shell")
	}
	for word, want := range map[string]string{
		"/home/anna/x.transcript":      "/home/anna/x.transcript",
		"/Library/Application Support": "'/Library/Application Support'",
		"it's":                         `'it'\''s'`,
		"$(reboot)":                    "'$(reboot)'",
	} {
		if got := shell(word); got != want {
			t.Errorf("%s is written %s, want %s", word, got, want)
		}
	}
}

// A sheet that is reached by a symbolic link is written where it is, and the link
// stays.
func TestALinkIsWrittenThrough(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path, link := filepath.Join(dir, "sheet.yaml"), filepath.Join(dir, "link.yaml")
	if err := os.WriteFile(path, []byte("one"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("sheet.yaml", link); err != nil {
		t.Skip(err)
	}
	if err := writeOver(link, []byte("two")); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if to, no := os.Readlink(link); err != nil || no != nil || string(text) != "two" || to != "sheet.yaml" {
		t.Errorf("%q, %v; the link leads to %q, %v", text, err, to, no)
	}
}
