package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

func readme(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// refusal is what the demonstration shows of its first query.
func refusal(t *testing.T, shown string) string {
	t.Helper()
	_, rest, ok := strings.Cut(shown, "\n> >20M")
	text, _, end := strings.Cut(rest, "\npass ")
	if !ok || !end || !strings.Contains(text, "QUERY") || strings.Contains(text, "\n>") {
		t.Fatalf("the demonstration shows no query of the coupling capacitor:\n%s", shown)
	}
	return "> >20M" + text + "\n"
}

// The refusal on the first page is what the demonstration prints, to the letter;
// -update writes it anew.
func TestReadmeShowsWhatTheProgramPrints(t *testing.T) {
	t.Parallel()
	out, err := newHome(t).program(t, "run", "--demo").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	want := refusal(t, string(out))
	parts := strings.SplitN(readme(t), "```\n", 3)
	if len(parts) != 3 {
		t.Fatal("README.md shows nothing")
	}
	if *update {
		if err := os.WriteFile("../../README.md", []byte(parts[0]+"```\n"+want+"```\n"+parts[2]), 0o644); err != nil {
			t.Fatal(err)
		}
		parts[1] = want
	}
	if parts[1] != want {
		t.Errorf("README.md shows\n%s\nand the demonstration\n%s", parts[1], want)
	}
}

// Commands in README.md are commands that there are, and its exit codes those
// of the program.
func TestReadmeCommandsAreThere(t *testing.T) {
	t.Parallel()
	text := readme(t)
	for _, e := range endings {
		if row := fmt.Sprintf("\n| %d | %s |\n", e.code, e.help); !strings.Contains(text, row) {
			t.Errorf("README.md lacks the exit code %d: %s", e.code, e.help)
		}
	}
	seen := 0
	for _, mark := range []string{"`powerup ", "./powerup ", "\npowerup "} {
		for _, rest := range strings.Split(text, mark)[1:] {
			line, _, _ := strings.Cut(rest, "\n")
			line, _, _ = strings.Cut(line, "`")
			line, _, _ = strings.Cut(line, "#")
			line, _, _ = strings.Cut(line, ">")
			seen++
			checkCommand(t, strings.Fields(line))
		}
	}
	if seen < 8 {
		t.Errorf("%d commands were found in README.md", seen)
	}
}

// checkCommand fails for a command line whose command or flags there are not.
func checkCommand(t *testing.T, words []string) {
	t.Helper()
	c, rest, err := newRoot(world{}).Find(words)
	if err != nil || c.Name() == "powerup" {
		t.Errorf("powerup %s: no such command (%v)", strings.Join(words, " "), err)
		return
	}
	if err := c.ParseFlags(rest); err != nil {
		t.Errorf("powerup %s: %v", strings.Join(words, " "), err)
	}
}

// withStockTools runs the commands of README for a third party in a folder with a
// practice record alone, and with no programs but those of any system.
func withStockTools(t *testing.T, record, sig, signers []byte) string {
	t.Helper()
	dir, bin := t.TempDir(), t.TempDir()
	for _, name := range []string{"bash", "ssh-keygen", "sha256sum", "jq", "cut", "tail"} {
		needs(t, name)
		path, err := exec.LookPath(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(path, filepath.Join(bin, name)); err != nil {
			t.Fatal(err)
		}
	}
	for name, b := range map[string][]byte{"FILE": record, "FILE.sig": sig, "allowed_signers": signers} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	_, section, ok := strings.Cut(readme(t), "## How a third party checks your record")
	parts := strings.SplitN(section, "```\n", 3)
	if !ok || len(parts) != 3 {
		t.Fatal("README.md has no commands for a third party")
	}
	commands := strings.NewReplacer("NAME", "practice", "powerup-transcript", "powerup-practice").Replace(parts[1])
	c := exec.Command(filepath.Join(bin, "bash"), "-c", commands)
	c.Dir, c.Env = dir, []string{"PATH=" + bin, "HOME=" + dir}
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return string(out)
}

// What README gives a third party is enough to see who signed, that nothing was
// changed and where it was, how it ended and what did not pass.
func TestReadmeIsEnoughForAThirdParty(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("the commands are for a shell")
	}
	v, _ := newVictim(t)
	signers, err := os.ReadFile(v.o.signers)
	if err != nil {
		t.Fatal(err)
	}
	good := withStockTools(t, v.raw, v.sig, signers)
	for _, want := range []string{`Good "powerup-practice" signature for practice`, `"result": "tested, not handed back"`, `"open": "0"`, ": >20M query: above 20 MΩ"} {
		if !strings.Contains(good, want) {
			t.Errorf("it does not show %s:\n%s", want, good)
		}
	}
	if strings.Contains(good, "does not follow") {
		t.Errorf("a good record:\n%s", good)
	}
	edited := slices.Clone(v.rows)
	edited[19] = bytes.Replace(edited[19], []byte(`"mono":`), []byte(`"mono":1`), 1)
	bad := withStockTools(t, bytes.Join(edited, nil), v.sig, signers)
	if !strings.Contains(bad, "does not follow: line 21\n") || strings.Count(bad, "does not follow") != 1 || strings.Contains(bad, "Good ") {
		t.Errorf("line 20 was changed:\n%s", bad)
	}
}
