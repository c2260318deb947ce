package layers

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "example.com/powerup/"

// layer is one package and what it may reach for.
type layer struct {
	path  string
	only  []string // the project's packages it may import; nil: all further down
	std   []string // the standard packages it may import; nil: all
	never []string // packages refused with all below them; see effects_test.go
}

var none = []string{}

// table lists the packages from top to bottom. A package imports only packages
// that stand further down.
var table = []layer{
	{path: "internal/session/sessiontest"}, // on top, so that nothing that ships can import it
	{path: "internal/damage"},
	{path: "internal/transcriptlog/crashdisk", only: []string{"internal/transcriptlog"}},
	{path: "cmd/powerup"},
	{path: "internal/console"},
	{path: "internal/describe", never: world, only: []string{"internal/spec", "internal/checks", "internal/sheet", "internal/limits", "internal/unit"}},
	{path: "internal/casefile", never: world, only: []string{"internal/spec", "internal/circuit", "internal/unit"}},
	{path: "internal/record", never: effects},
	{path: "internal/spec", never: world},
	{path: "internal/interlocks", never: effects, only: []string{"internal/engine"}},
	{path: "internal/session", never: effects},
	{path: "internal/plan", never: effects},
	{path: "internal/checks", never: effects},
	{path: "internal/circuit", never: effects},
	{path: "internal/meter", never: effects},
	{path: "internal/sheet", never: effects, only: []string{"internal/limits", "internal/unit"}},
	{path: "internal/limits", never: effects, only: []string{"internal/unit"}},
	{path: "internal/transcriptlog", only: none},
	// No strconv, no time, no regexp: the engine knows no number, instant or text.
	{path: "internal/engine", never: effects, only: none, std: []string{
		"cmp", "errors", "fmt", "iter", "maps", "math/bits", "slices", "strings", "sync",
	}},
	{path: "internal/unit", never: effects, only: none},
	{path: "internal/earlyterm", only: none},
	{path: "internal/layers", only: none},
	{path: "procedures", only: none},
}

// outside says which packages may import a library, by the start of its path.
// Libraries for tests stand in no row: nothing that ships may import them.
var outside = []struct {
	library string
	users   []string
}{
	{"gopkg.in/yaml.v3", []string{"internal/spec"}},
	{"github.com/go-playground/validator/v10", []string{"internal/spec"}},
	{"github.com/agnivade/levenshtein", []string{"internal/spec", "internal/console", "cmd/powerup"}},
	{"github.com/charmbracelet/lipgloss", []string{"internal/console", "internal/earlyterm", "cmd/powerup"}},
	{"github.com/charmbracelet", []string{"internal/console", "cmd/powerup"}},
	{"github.com/muesli", []string{"internal/console", "cmd/powerup"}},
	{"github.com/mattn/go-isatty", []string{"internal/console", "cmd/powerup"}},
	{"github.com/spf13", []string{"internal/console", "cmd/powerup"}},
	{"github.com/adrg/xdg", []string{"cmd/powerup"}},
	{"github.com/hiddeco/sshsig", []string{"internal/transcriptlog", "cmd/powerup"}},
	{"golang.org/x/crypto/ssh", []string{"internal/transcriptlog", "cmd/powerup"}},
	{"golang.org/x/sys", []string{"internal/transcriptlog", "internal/console", "cmd/powerup"}},
	{"golang.org/x/term", []string{"internal/console", "cmd/powerup"}},
}

// listed is what `go list` tells of a package.
type listed struct {
	ImportPath     string
	Dir            string
	Imports        []string
	ImportMap      map[string]string // the standard library's own copies of others
	IgnoredGoFiles []string          // left out on this platform
}

func TestImportsPointDown(t *testing.T) {
	for _, p := range packages(t) {
		p.Imports = append(p.Imports, ignoredImports(t, p)...)
		for _, fault := range faults(p) {
			t.Error(fault)
		}
	}
}

// packages asks the go command for every package of the project.
func packages(t *testing.T) []listed {
	t.Helper()
	all := goList(t, "./...")
	if len(all) < 2 {
		t.Fatalf("go list names %d packages: the rules were tested on nothing", len(all))
	}
	return all
}

// goList runs `go list` at the root of the module.
func goList(t *testing.T, args ...string) []listed {
	t.Helper()
	args = append([]string{"list", "-json=ImportPath,Dir,Imports,ImportMap,IgnoredGoFiles"}, args...)
	cmd := exec.Command("go", args...)
	cmd.Dir = filepath.Join("..", "..")
	out, err := cmd.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("go list: %v\n%s", err, exit.Stderr)
		}
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := dec.Decode(&p); err == io.EOF {
			return all
		} else if err != nil {
			t.Fatalf("go list: %v", err)
		}
		all = append(all, p)
	}
}

// ignoredImports reads the imports of the files that other platforms build.
func ignoredImports(t *testing.T, p listed) []string {
	t.Helper()
	var imports []string
	for _, name := range p.IgnoredGoFiles {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range f.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			imports = append(imports, path)
		}
	}
	return imports
}

// faults holds the imports of one package against the tables.
func faults(p listed) []string {
	from, at, ok := find(p.ImportPath)
	if !ok {
		return []string{fmt.Sprintf("%s is not in the table of internal/layers/layers_test.go: "+
			"put it at its place there and in the table of DEVELOPERS.md", p.ImportPath)}
	}
	var out []string
	for _, path := range p.Imports {
		if fault := from.fault(at, path); fault != "" {
			out = append(out, p.ImportPath+" imports "+path+": "+fault)
		}
	}
	return out
}

// fault says what is wrong with an import by the package at the given row.
func (l layer) fault(at int, path string) string {
	if strings.HasPrefix(path, module) {
		_, to, ok := find(path)
		switch {
		case !ok:
			return "it is not in the table of internal/layers/layers_test.go"
		case to <= at:
			return "imports point down only"
		case l.only != nil && !slices.Contains(l.only, table[to].path):
			return fmt.Sprintf("of the project it may import only %q", l.only)
		}
		return ""
	}
	if first, _, _ := strings.Cut(path, "/"); !strings.Contains(first, ".") {
		if l.std != nil && !slices.Contains(l.std, path) {
			return fmt.Sprintf("of the standard library it may import only %q", l.std)
		}
		return ""
	}
	for _, row := range outside {
		if under(path, row.library) {
			if slices.Contains(row.users, l.path) {
				return ""
			}
			return fmt.Sprintf("that library belongs to %q", row.users)
		}
	}
	return "the library is not in the table of internal/layers/layers_test.go: say there who may use it, and in DEVELOPERS.md why"
}

// find gives the row of a package by its import path.
func find(path string) (layer, int, bool) {
	at := slices.IndexFunc(table, func(l layer) bool { return module+l.path == path })
	if at < 0 {
		return layer{}, 0, false
	}
	return table[at], at, true
}

// under tells whether a path is a package or lies below it.
func under(path, root string) bool {
	return path == root || strings.HasPrefix(path, root+"/")
}

func TestFaultsAreFound(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"internal/checks", module + "internal/unit", ""},
		{"internal/checks", module + "internal/session", "down only"},
		{"internal/limits", module + "internal/sheet", "down only"},
		{"internal/sheet", module + "internal/limits", ""},
		{"internal/sheet", module + "internal/engine", "only"},
		{"internal/transcriptlog", module + "internal/engine", "only"},
		{"internal/engine", module + "internal/unit", "only"},
		{"internal/engine", "math/bits", ""},
		{"internal/engine", "strconv", "only"},
		{"internal/engine", "time", "only"},
		{"internal/session", "time", ""},
		{"internal/spec", "gopkg.in/yaml.v3", ""},
		{"internal/transcriptlog", "gopkg.in/yaml.v3", "belongs to"},
		{"internal/session", "github.com/go-playground/validator/v10", "belongs to"},
		{"internal/earlyterm", "github.com/charmbracelet/lipgloss", ""},
		{"internal/earlyterm", "github.com/charmbracelet/bubbletea", "belongs to"},
		{"internal/spec", "github.com/charmbracelet/lipgloss", "belongs to"},
		{"internal/spec", "github.com/spf13/cobra", "belongs to"},
		{"internal/checks", "pgregory.net/rapid", "not in the table"},
		{"internal/checks", module + "internal/newcomer", "not in the table"},
		{"internal/newcomer", "fmt", "not in the table"},
	} {
		got := strings.Join(faults(listed{ImportPath: module + c.from, Imports: []string{c.to}}), "\n")
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s imports %s: got %q, want %q in it", c.from, c.to, got, c.want)
		}
	}
}
