package layers

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// world is what only the rim may touch: files, network, chance, the log.
var world = []string{"os", "io/ioutil", "net", "syscall", "math/rand", "crypto/rand", "log"}

// effects is refused in the core, which is given bytes and reads no file system.
var effects = append([]string{"io/fs"}, world...)

// hidden are calls that reach the clock or the terminal without such an import.
var hidden = map[string][]string{
	"time": {"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker"},
	"fmt":  {"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
}

func TestCoreTouchesNothing(t *testing.T) {
	files := 0
	for _, p := range packages(t) {
		row, _, ok := find(p.ImportPath)
		if !ok {
			continue // TestImportsPointDown says so
		}
		names, err := filepath.Glob(filepath.Join(p.Dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			files++
			for _, fault := range touches(t, row, name, nil) {
				t.Error(fault)
			}
		}
	}
	if files == 0 {
		t.Fatal("no Go file found: the rule was tested on nothing")
	}
}

// touches parses one file and says what in it reaches past the core. A src of
// nil reads the file itself.
func touches(t *testing.T, row layer, name string, src any) []string {
	t.Helper()
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, name, src, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	add := func(n ast.Node, format string, args ...any) {
		out = append(out, fmt.Sprintf("%s: ", fset.Position(n.Pos()))+fmt.Sprintf(format, args...))
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if fn, ok := n.(*ast.FuncDecl); ok && fn.Recv == nil && fn.Name.Name == "init" && row.path != "internal/earlyterm" {
			add(n, "only internal/earlyterm has an init: make the value where it is needed")
		}
		return true
	})
	if row.never == nil {
		return out
	}
	names := map[string]string{} // what the file calls a package with hidden calls
	for _, spec := range f.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		if slices.ContainsFunc(row.never, func(root string) bool { return under(path, root) }) {
			add(spec, "%s imports %s: hand the value in from the rim", row.path, path)
		}
		if _, ok := hidden[path]; !ok {
			continue
		}
		names[path] = path
		if spec.Name != nil {
			delete(names, path)
			names[spec.Name.Name] = path
		}
		if spec.Name != nil && spec.Name.Name == "." {
			add(spec, "%s imports %s by a dot, which hides its calls", row.path, path)
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if pkg, ok := sel.X.(*ast.Ident); ok && slices.Contains(hidden[names[pkg.Name]], sel.Sel.Name) {
			add(n, "%s uses %s.%s: hand the value in from the rim", row.path, names[pkg.Name], sel.Sel.Name)
		}
		return true
	})
	return out
}

func TestTouchesAreFound(t *testing.T) {
	for _, c := range []struct{ path, src, want string }{
		{"internal/checks", `import "math"; var x = math.Pi`, ""},
		{"internal/checks", `import "os"`, "imports os"},
		{"internal/checks", `import "os/exec"`, "imports os/exec"},
		{"internal/checks", `import r "math/rand/v2"`, "imports math/rand/v2"},
		{"internal/checks", `import "crypto/rand"`, "imports crypto/rand"},
		{"internal/checks", `import "net/http"`, "imports net/http"},
		{"internal/checks", `import "syscall"`, "imports syscall"},
		{"internal/checks", `import "io/fs"`, "imports io/fs"},
		{"internal/checks", `import "log/slog"`, "imports log/slog"},
		{"internal/spec", `import "io/fs"`, ""},
		{"internal/spec", `import "os"`, "imports os"},
		{"internal/console", `import "os"`, ""},
		{"internal/session", `import "time"; var d time.Duration`, ""},
		{"internal/session", `import "time"; var x = time.Now()`, "time.Now"},
		{"internal/session", `import "time"; var clock = time.Now`, "time.Now"},
		{"internal/session", `import c "time"; var x = c.Since(y)`, "time.Since"},
		{"internal/session", `import . "time"`, "by a dot"},
		{"internal/session", `import "time"; func f() { time.Sleep(1) }`, "time.Sleep"},
		{"internal/session", `import "time"; func f() { <-time.After(1) }`, "time.After"},
		{"internal/session", `import "time"; var x = time.NewTimer(1)`, "time.NewTimer"},
		{"internal/engine", `import "fmt"; func f() { fmt.Println() }`, "fmt.Println"},
		{"internal/engine", `import "fmt"; var err = fmt.Errorf("x")`, ""},
		{"internal/console", `func init() {}`, "only internal/earlyterm"},
		{"internal/console", `type t int; func (t) init() {}`, ""},
		{"internal/earlyterm", `func init() {}`, ""},
	} {
		row, _, ok := find(module + c.path)
		if !ok {
			t.Fatalf("%s is not in the table", c.path)
		}
		got := strings.Join(touches(t, row, "x.go", "package x; "+c.src), "\n")
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %s: got %q, want %q in it", c.path, c.src, got, c.want)
		}
	}
}
