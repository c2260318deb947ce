package layers

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// unwanted are words that do not belong in the project, with the reason.
var unwanted = []struct {
	words  *regexp.Regexp
	reason string
}{
	{regexp.MustCompile(`(?i)\b(proxy|sum)\.golang\.org|\b(deb|security|snapshot)\.debian\.org|\bregistry\.npmjs\.org|\bpypi\.org|\bindex\.docker\.io`), "host of a registry: leave it to the client's own settings"},
	{regexp.MustCompile(`\bshared/`), "a folder that is no part of the project"},
	{regexp.MustCompile(`(?:^|[\s"'(=\x60])/work/`), "a path of one machine"},
	{regexp.MustCompile(`[\x{2600}-\x{27BF}\x{FE0F}\x{1F000}-\x{1FAFF}]`), "emoji: say it in words"},
}

// TestWords reads the whole tree, which also keeps a result of this package
// from being taken from the test cache after any file has changed.
func TestWords(t *testing.T) {
	files := 0
	err := filepath.WalkDir(filepath.Join("..", ".."), func(path string, d fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil // another test's file, gone meanwhile
		}
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == ".git" {
				return filepath.SkipDir
			}
			return nil
		}
		if !d.Type().IsRegular() {
			return nil
		}
		text, err := os.ReadFile(path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		if bytes.IndexByte(text, 0) >= 0 {
			return nil // a built program, a picture
		}
		files++
		for i, line := range bytes.Split(text, []byte("\n")) {
			for _, u := range unwanted {
				if found := u.words.Find(line); found != nil {
					t.Errorf("%s:%d: %q: %s", path, i+1, found, u.reason)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files == 0 {
		t.Fatal("no file read: the rule was tested on nothing")
	}
}

func TestWordsAreFound(t *testing.T) {
	for _, c := range []struct {
		text string
		want bool
	}{
		{"https://" + "proxy" + "." + "golang.org/x", true},
		{"golang.org/x/term", false},
		{"deb." + "debian.org", true},
		{"see shar" + "ed/notes.md", true},
		{"../shar" + "ed/x", true},
		{"the window both have shared", false},
		{`"/wor` + `k/main"`, true},
		{"/home/anna/work/", false},
		{"done \u2705", true},
		{"hot \U0001F525", true},
		{"20 MΩ ± 30 %, ≤ 0.5 µA", false},
	} {
		got := false
		for _, u := range unwanted {
			got = got || u.words.MatchString(c.text)
		}
		if got != c.want {
			t.Errorf("%q: unwanted %v, want %v", c.text, got, c.want)
		}
	}
}
