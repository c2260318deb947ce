package layers

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// fuzzed are the functions that read what a person, a file or another program
// gives, and the target that throws anything at each, in its own package's tests
// or the one named.
var fuzzed = []struct{ dir, parser, target string }{
	{"internal/transcriptlog", "decodeLine", "FuzzDecodeLine"},
	{"internal/transcriptlog", "read", "FuzzRead"},
	{"internal/transcriptlog", "CheckChain", "FuzzRead"},
	{"internal/transcriptlog", "VerifySignature", "FuzzVerifySignature"},
	{"internal/transcriptlog", "ParseSigners", "FuzzParseSigners"},
	{"internal/transcriptlog", "ParseRevoked", "FuzzParseRevoked"},
	{"internal/transcriptlog", "LoadSigner", "FuzzLoadSigner"},
	{"internal/spec", "LoadSet", "FuzzLoadSet"},
	{"internal/spec", "LoadProcedure", "FuzzLoadProcedure"},
	{"internal/spec", "LoadBench", "FuzzLoadBench"},
	{"internal/spec", "LoadMeter", "FuzzLoadMeter"},
	{"internal/spec", "LoadAnswers", "FuzzLoadAnswers"},
	{"internal/casefile", "read", "FuzzRead"},
	{"internal/describe", "Answer", "FuzzAnswer"},
	{"internal/unit", "Parse", "FuzzParse"},
	{"internal/unit", "ParseEntry", "FuzzParseEntry"},
	{"internal/meter", "ParseShown", "FuzzParseShown"},
	{"internal/meter", "ParseDecimal", "FuzzParseDecimal"},
	{"internal/checks", "ParseWindow", "FuzzParseWindow"},
	{"internal/checks", "Judge", "FuzzJudge"},
	{"internal/session", "Submit", "FuzzSubmit"},
	{"cmd/powerup", "judgeAgain", "FuzzJudgeAgain"},
}

// Parsers that need no target of their own: unit.Parse does their work.
var byKind = regexp.MustCompile(`^Parse(Volt|Ohm|Ampere|Farad|Watt|Celsius|Second|Percent|Metre|SquareMetre|Hertz|OhmPerVolt|VoltAmpere)$`)

// Every parser is called by its fuzz target, every target has its row, and a new
// function called Parse... or Load... needs one.
func TestEveryParserIsFuzzed(t *testing.T) {
	rows := map[string]bool{}
	for _, f := range fuzzed {
		rows[f.dir+" "+f.target] = true
		body := functions(t, f.dir, "_test.go")[f.target]
		if body == nil {
			t.Errorf("%s has no %s", f.dir, f.target)
		} else if !names(body, f.parser) {
			t.Errorf("%s of %s does not call %s", f.target, f.dir, f.parser)
		}
	}
	parsers, targets := 0, 0
	for _, dir := range folders(t) {
		for name := range functions(t, dir, "_test.go") {
			if strings.HasPrefix(name, "Fuzz") {
				targets++
				if !rows[dir+" "+name] {
					t.Errorf("%s of %s has no row here", name, dir)
				}
			}
		}
		for name := range functions(t, dir, ".go") {
			if !regexp.MustCompile(`^(Parse|Load)[A-Z]`).MatchString(name) || dir == "internal/unit" && byKind.MatchString(name) {
				continue
			}
			parsers++
			if !slices.ContainsFunc(fuzzed, func(f struct{ dir, parser, target string }) bool { return f.dir == dir && f.parser == name }) {
				t.Errorf("%s of %s has no fuzz target", name, dir)
			}
		}
	}
	if parsers < 10 || targets < len(rows) {
		t.Errorf("only %d parsers and %d targets were found", parsers, targets)
	}
}

// folders are those of the project's packages.
func folders(t *testing.T) (dirs []string) {
	t.Helper()
	for _, pattern := range []string{"internal/*", "cmd/*", "procedures"} {
		found, err := filepath.Glob(filepath.Join("..", "..", filepath.FromSlash(pattern)))
		if err != nil || len(found) == 0 {
			t.Fatalf("no package in %s: %v", pattern, err)
		}
		for _, dir := range found {
			name, _ := filepath.Rel(filepath.Join("..", ".."), dir)
			dirs = append(dirs, filepath.ToSlash(name))
		}
	}
	return dirs
}

// functions are the functions of a folder by name; ending ".go" leaves the tests
// out.
func functions(t *testing.T, dir, ending string) map[string]*ast.BlockStmt {
	t.Helper()
	all := map[string]*ast.BlockStmt{}
	root := filepath.Join("..", "..", filepath.FromSlash(dir))
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		test := strings.HasSuffix(e.Name(), "_test.go")
		if !strings.HasSuffix(e.Name(), ending) || test != (ending == "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, e.Name()), nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil {
				all[f.Name.Name] = f.Body
			}
		}
	}
	return all
}

// names tells whether a function's body names another.
func names(body *ast.BlockStmt, function string) (found bool) {
	ast.Inspect(body, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		found = found || ok && id.Name == function
		return !found
	})
	return found
}
