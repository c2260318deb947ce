package main

import (
	"bufio"
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// columns is the width of the narrowest terminal that everything must fit.
const columns = 80

// tooWide gives the lines of text that are wider than a terminal. Paths and
// command lines, which are copied whole, may be.
func tooWide(text []byte, paths ...string) []string {
	var out []string
	for s := bufio.NewScanner(bytes.NewReader(text)); s.Scan(); {
		line := strings.NewReplacer("\a", "", "\f", "").Replace(s.Text()) // bell and form feed have no width
		if utf8.RuneCountInString(line) <= columns || containsAny(line, paths) {
			continue
		}
		out = append(out, line)
	}
	return out
}

func containsAny(line string, parts []string) bool {
	for _, p := range parts {
		if strings.Contains(line, p) {
			return true
		}
	}
	return false
}

func TestEverySessionFitsEightyColumns(t *testing.T) {
	t.Parallel()
	answers, err := filepath.Abs("../../testdata/answers")
	if err != nil {
		t.Fatal(err)
	}
	script := func(sheet, bench, file string) []string {
		return []string{"run", sheet, "--bench", bench, "--answers", filepath.Join(answers, file)}
	}
	for name, args := range map[string][]string{
		"two meters":     script("table-radio", "two-meters", "two-meters.yaml"),
		"one meter":      script("table-radio", "one-meter", "one-meter.yaml"),
		"three meters":   script("table-radio", "three-meters", "three-meters.yaml"),
		"earthed":        script("earthed-radio", "two-meters", "earthed.yaml"),
		"demo":           {"run", "--demo"},
		"demo stop":      {"run", "--demo", "stop"},
		"plan":           {"plan", "table-radio"},
		"sparse plan":    {"plan", "sparse-radio"},
		"earthed plan":   {"plan", "earthed-radio"},
		"club night":     {"plan", "--trainer", "table-radio"},
		"one-meter plan": {"plan", "--bench", "one-meter", "table-radio"},
		"interlocks":     {"list", "interlocks"},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHome(t)
			out, err := h.program(t, args...).CombinedOutput()
			if err != nil && name != "demo stop" {
				t.Fatalf("%v: %v\n%s", args, err, out)
			}
			if bytes.Count(out, []byte("\n")) < 25 {
				t.Fatalf("hardly anything was shown:\n%s", out)
			}
			for _, line := range tooWide(out, h.dir) {
				t.Errorf("%d columns: %s", utf8.RuneCountInString(line), line)
			}
		})
	}
}

func TestHelpFitsEightyColumns(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	for _, command := range []string{"", "run", "resume", "plan", "vet", "verify", "key", "key new", "key show", "list", "list checks", "version"} {
		out, err := h.program(t, append(strings.Fields(command), "--help")...).CombinedOutput()
		if err != nil || len(out) < 100 {
			t.Fatalf("%s --help: %v\n%s", command, err, out)
		}
		for _, line := range tooWide(out) {
			t.Errorf("%s --help: %s", command, line)
		}
	}
}

func TestTooWideIsFound(t *testing.T) {
	t.Parallel()
	at, over := strings.Repeat("Ω", columns), strings.Repeat("Ω", columns+1)
	for _, c := range []struct {
		reason, text string
		want         int
	}{
		{"exactly the width", at, 0},
		{"one more", over, 1},
		{"a path", over + "/home/x", 0},
		{"among others", at + "\n" + over + "\n" + at, 1},
	} {
		if got := tooWide([]byte(c.text), "/home/x"); len(got) != c.want {
			t.Errorf("%s: %q", c.reason, got)
		}
	}
}
