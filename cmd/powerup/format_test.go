package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// kindRows are the rows of the table of kinds in FORMAT.md, by kind.
func kindRows(t *testing.T) map[string]string {
	t.Helper()
	text, err := os.ReadFile("../../internal/transcriptlog/FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	_, text8, ok := strings.Cut(string(text), "## 8. Kinds of line")
	text8, _, end := strings.Cut(text8, "\n## 9.")
	if !ok || !end {
		t.Fatal("FORMAT.md has no section 8")
	}
	rows := map[string]string{}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z-]+)` (.*)$").FindAllStringSubmatch(text8, -1) {
		rows[m[1]] = m[2]
	}
	rows["reading"] += text8[strings.Index(text8, "**Judging again.**"):]
	return rows
}

// written are the kinds of line in the sources of the session, by the first
// word of a call of record and by the field Kind of a Record.
func written(t *testing.T) []string {
	t.Helper()
	names, err := filepath.Glob("../../internal/session/*.go")
	if err != nil {
		t.Fatal(err)
	}
	var kinds []string
	add := func(e ast.Expr) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil {
				kinds = append(kinds, s)
			}
		}
	}
	for _, name := range names {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if sel, ok := n.Fun.(*ast.SelectorExpr); ok && sel.Sel.Name == "record" && len(n.Args) > 0 {
					add(n.Args[0])
				}
			case *ast.CompositeLit:
				if name, ok := n.Type.(*ast.Ident); ok && name.Name == "Record" {
					for _, e := range n.Elts {
						if kv, ok := e.(*ast.KeyValueExpr); ok && kv.Key.(*ast.Ident).Name == "Kind" {
							add(kv.Value)
						}
					}
				}
			}
			return true
		})
	}
	return kinds
}

func TestFormatListsEveryKind(t *testing.T) {
	t.Parallel()
	rows, kinds := kindRows(t), append(written(t), "open", session.KindProgram, transcriptlog.KindRecovered)
	if len(kinds) < 20 {
		t.Fatalf("only %v were found in the sources", kinds)
	}
	for _, k := range kinds {
		if rows[k] == "" {
			t.Errorf("FORMAT.md does not list %q", k)
		}
	}
	for k := range rows {
		if !slices.Contains(kinds, k) {
			t.Errorf("FORMAT.md lists %q, which nothing writes", k)
		}
	}
}

// numbered are the fields of which there are several.
var numbered = regexp.MustCompile(`^(?:meter )?[1-9]`)

func TestFormatListsEveryField(t *testing.T) {
	t.Parallel()
	rows := kindRows(t)
	for _, args := range [][]string{{"run", "--demo"}, {"run", "--demo", "stop"}} {
		h := newHome(t)
		path := filepath.Join(h.dir, "x.transcript")
		out, _ := h.program(t, append(args, "-o", path)...).CombinedOutput()
		raw, err := os.ReadFile(path)
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		for _, l := range transcriptlog.Read(raw).Lines {
			for key := range l.Fields {
				if !fieldListed(rows[l.Kind], key) {
					t.Errorf("FORMAT.md does not list %q of %s", key, l.Kind)
				}
			}
		}
	}
}

// fieldListed tells whether a row has a field by its name, or by its ending
// where the row lists names and endings apart.
func fieldListed(row, key string) bool {
	if numbered.MatchString(key) || strings.Contains(row, "`"+key+"`") {
		return true
	}
	for _, ending := range []string{" name", " sha256"} {
		if base, ok := strings.CutSuffix(key, ending); ok {
			return strings.Contains(row, "`"+base+"`") && strings.Contains(row, "`..."+ending+"`")
		}
	}
	for _, group := range []string{"window ", "shown "} { // in the paragraphs under the table
		if rest, ok := strings.CutPrefix(key, group); ok {
			stem := strings.TrimSuffix(strings.TrimSuffix(rest, "-lo"), "-hi")
			return strings.Contains(row, "`"+group+"...`") && strings.Contains(row, stem)
		}
	}
	return false
}
