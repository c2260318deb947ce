package interlocks

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/powerup/internal/engine"
)

// last is the highest id of an interlock.
const last = 63

func TestEveryIDStandsOnce(t *testing.T) {
	var want, got []string
	for n := range last + 1 {
		want = append(want, fmt.Sprintf("INV-%02d", n))
	}
	for _, r := range All() {
		got = append(got, r.ID)
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
}

func TestEveryInterlockOfTheEngineHasARow(t *testing.T) {
	rows := map[string]Row{}
	for _, r := range All() {
		rows[r.ID] = r
	}
	for _, g := range engine.Gates() {
		if !strings.HasPrefix(rows[g.ID].Says, g.Sentence) {
			t.Errorf("%s: %q is not what a refusal quotes", g.ID, rows[g.ID].Says)
		}
	}
	for _, p := range engine.Properties() {
		if rows[p.ID].Says == "" {
			t.Errorf("%s has no row", p.ID)
		}
	}
}

// A row says what it refuses and where, and names a test that is there; one
// without a test says that it is not enforced.
func TestRowsAreWhole(t *testing.T) {
	kinds := []Kind{Gate, Numbers, Load, Record, Screen}
	for _, r := range All() {
		if r.Says == "" || !slices.Contains(kinds, r.Kind) {
			t.Errorf("%s says %q, kind %q", r.ID, r.Says, r.Kind)
		}
		if len(r.Tests) == 0 && r.NotYet == "" || (len(r.Tests) == 0) != (len(r.Kept) == 0) {
			t.Errorf("%s is kept by %v, tested by %v, and says %q of what is not", r.ID, r.Kept, r.Tests, r.NotYet)
		}
		for _, p := range r.Kept {
			if names, err := filepath.Glob(filepath.Join("..", "..", p, "*.go")); err != nil || len(names) == 0 {
				t.Errorf("%s: there is no package %s", r.ID, p)
			}
		}
		for _, name := range r.Tests {
			if fault := noTest(t, name); fault != "" {
				t.Errorf("%s: %s", r.ID, fault)
			}
		}
	}
}

// noTest says what is wrong with a test's name, "internal/engine TestX/subtest";
// empty: it is there. Of a subtest the text must stand in a string of the
// package's tests, or be the name of a script.
func noTest(t *testing.T, name string) string {
	t.Helper()
	path, test, ok := strings.Cut(name, " ")
	function, sub, _ := strings.Cut(test, "/")
	if !ok || !strings.HasPrefix(function, "Test") {
		return strconv.Quote(name) + " names no test"
	}
	dir := filepath.Join("..", "..", filepath.FromSlash(path))
	functions, texts := testsOf(t, dir)
	switch {
	case !slices.Contains(functions, function):
		return path + " has no test " + function
	case sub == "", slices.ContainsFunc(texts, func(s string) bool { return strings.Contains(s, sub) }):
		return ""
	}
	if _, err := os.Stat(filepath.Join(dir, "testdata", "script", sub+".txtar")); err == nil {
		return ""
	}
	return fmt.Sprintf("%s %s has no case %q", path, function, sub)
}

// testsOf parses the tests of a folder for the names of their functions and all
// their strings.
func testsOf(t *testing.T, dir string) (functions, texts []string) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "*_test.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				if n.Recv == nil {
					functions = append(functions, n.Name.Name)
				}
			case *ast.BasicLit:
				if s, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
					texts = append(texts, s)
				}
			}
			return true
		})
	}
	return functions, texts
}

func TestMissingTestsAreFound(t *testing.T) {
	for _, c := range []struct {
		name  string
		fault bool
	}{
		{"internal/interlocks TestMissingTestsAreFound", false},
		{"internal/engine TestAGateRefusesItsCaseAndNoOther/INV-48", false},
		{"cmd/powerup TestCommandLine/demo", false},
		{"internal/engine TestAGateRefusesItsCaseAndNoOther/INV-99", true},
		{"internal/engine TestAGateRefusesItsCase", true},
		{"internal/nowhere TestMissingTestsAreFound", true},
		{"internal/engine gateOf", true},
		{"TestMissingTestsAreFound", true},
		{"cmd/powerup TestCommandLine/no-such-script", true},
	} {
		if fault := noTest(t, c.name); (fault != "") != c.fault {
			t.Errorf("%s: %q", c.name, fault)
		}
	}
}
