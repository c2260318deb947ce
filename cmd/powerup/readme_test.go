package main

import (
	"fmt"
	"os"
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
