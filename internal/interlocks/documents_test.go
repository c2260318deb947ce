package interlocks

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Names as they stand in a document.
var (
	testNames = regexp.MustCompile("`((?:internal|cmd)/[a-z/]+ Test[^`]+)`")
	ids       = regexp.MustCompile(`INV-[0-9]+`)
)

func page(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// hazards are the rows of the table in SAFETY.md that cite an interlock.
func hazards(t *testing.T) []string {
	t.Helper()
	var rows []string
	for line := range strings.Lines(page(t, "SAFETY.md")) {
		if strings.HasPrefix(line, "|") && ids.MatchString(line) {
			rows = append(rows, line)
		}
	}
	if len(rows) < 30 {
		t.Fatalf("%d rows of hazards: the table was not read", len(rows))
	}
	return rows
}

// Each hazard cites interlocks that are there and tests that are there. One that
// leans on what is not enforced says "not yet".
func TestSafetyPromisesWhatIsTested(t *testing.T) {
	rows := map[string]Row{}
	for _, r := range All() {
		rows[r.ID] = r
	}
	for _, line := range hazards(t) {
		says := strings.Contains(line, "not yet")
		for _, id := range ids.FindAllString(line, -1) {
			switch r, ok := rows[id]; {
			case !ok:
				t.Errorf("there is no %s:\n%s", id, line)
			case len(r.Tests) == 0 && !says:
				t.Errorf("%s is not enforced, and the row does not say so:\n%s", id, line)
			}
		}
		if cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|"); len(cells) != 4 {
			t.Errorf("%d cells:\n%s", len(cells), line)
		}
		names := testNames.FindAllStringSubmatch(line, -1)
		if len(names) == 0 && !says {
			t.Errorf("no test is named:\n%s", line)
		}
		for _, name := range names {
			if fault := noTest(t, name[1]); fault != "" {
				t.Errorf("%s:\n%s", fault, line)
			}
		}
	}
}

// An id nobody cites in SAFETY.md is one that no user is told of: those that are
// not about a hazard of their own stand here.
func TestSafetyCitesEveryInterlock(t *testing.T) {
	plain := []string{
		"INV-00", // an event without meaning
		"INV-09", // the order of work itself
		"INV-29", // fixed bias: in "Out of scope"
		"INV-50", // of live chassis only
	}
	text := page(t, "SAFETY.md")
	for _, r := range All() {
		if !slices.Contains(plain, r.ID) && !strings.Contains(text, r.ID) {
			t.Errorf("%s is not in SAFETY.md", r.ID)
		}
	}
}
