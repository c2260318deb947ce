package earlyterm_test

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	_ "github.com/charmbracelet/bubbletea" // the package whose init asks

	_ "example.com/powerup/internal/earlyterm"
)

// The order is shown by the Go runtime itself, on this test's own binary. For
// the program, internal/layers computes it.
func TestRuntimeInitialisesUsFirst(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var order []string
	for line := range strings.Lines(string(out)) {
		if words := strings.Fields(line); len(words) > 1 && words[0] == "init" {
			order = append(order, words[1])
		}
	}
	we := slices.Index(order, "example.com/powerup/internal/earlyterm")
	it := slices.Index(order, "github.com/charmbracelet/bubbletea")
	if we < 0 || it < 0 || we > it {
		t.Errorf("earlyterm is number %d and bubbletea number %d of %d to be initialised: the first must come before the second",
			we, it, len(order))
	}
}
