package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/transcriptlog"
)

// secondJudge runs the judge that shares nothing with this one but FORMAT.md, and
// gives by path what it says.
func secondJudge(t *testing.T, paths ...string) map[string]string {
	t.Helper()
	needs(t, "python3")
	out, err := exec.Command("python3", append([]string{"../../docs/judge.py"}, paths...)...).Output()
	if got := code(err); got != 0 && got != 1 {
		t.Fatalf("%v\n%s", err, out)
	}
	said := map[string]string{}
	for line := range strings.Lines(string(out)) {
		path, what, _ := strings.Cut(strings.TrimSpace(line), " ")
		said[path] = what
	}
	if len(said) != len(paths) {
		t.Fatalf("of %d records it says\n%s", len(paths), out)
	}
	return said
}

// The second judge finds the same line unfair, or none, in every vector of
// verdicts.
func TestTheSecondJudgeAgreesOnEveryVector(t *testing.T) {
	t.Parallel()
	want := map[string]string{}
	var paths []string
	for _, v := range vectors(t) {
		if v.Level != "verdict" {
			continue
		}
		paths, want[v.path()] = append(paths, v.path()), "readings judged"
		if v.Result == "misjudged" {
			line, _, _ := strings.Cut(strings.TrimPrefix(v.Reason, "not judged as the rule says: "), ": ")
			want[v.path()] = line + ": "
		}
	}
	for path, said := range secondJudge(t, paths...) {
		if !strings.Contains(said, want[path]) {
			t.Errorf("%s: it says %q, want %q", path, said, want[path])
		}
	}
	if len(paths) < 50 {
		t.Errorf("only %d vectors", len(paths))
	}
}

// What it cannot read it says in words, and goes on with the next.
func TestTheSecondJudgeSaysWhatItCannotRead(t *testing.T) {
	t.Parallel()
	v, _ := newVictim(t)
	want := map[string]string{filepath.Join(v.dir, "missing"): "cannot be read: "}
	paths := []string{filepath.Join(v.dir, "missing")}
	for name, file := range map[string]struct{ text, want string }{
		"empty":     {"", "there is no line in it"},
		"cut":       {string(v.raw[:len(v.raw)-20]), fmt.Sprintf("line %d: cut off, or no line of a record", len(v.rows))},
		"no record": {"[1]\n", "line 1: cut off, or no line of a record"},
		"a number":  {`{"kind":"reading","fields":{"rule":1}}`, "line 1: cut off, or no line of a record"},
		"no text":   {"\xff\xfe", "cannot be read: "},
		"deep":      {strings.Repeat("[", 100000), "line 1: cut off, or no line of a record"},
		"whole":     {string(v.raw), "readings judged"},
	} {
		path := filepath.Join(v.dir, strings.ReplaceAll(name, " ", "-"))
		if err := os.WriteFile(path, []byte(file.text), 0o600); err != nil {
			t.Fatal(err)
		}
		paths, want[path] = append(paths, path), file.want
	}
	for path, said := range secondJudge(t, paths...) {
		if !strings.Contains(said, want[path]) {
			t.Errorf("%s: it says %q, want %q", path, said, want[path])
		}
	}
	if err := exec.Command("python3", "../../docs/judge.py", paths[0]).Run(); code(err) != 1 {
		t.Errorf("of a file that is missing: %v", err)
	}
}

// Both judges give one verdict for readings and windows of chance, and for those
// of a whole session.
func TestTheSecondJudgeAgreesOnReadingsOfChance(t *testing.T) {
	t.Parallel()
	const count = 3000
	chance := rand.New(rand.NewPCG(3, 4))
	recs := []transcriptlog.Record{{Kind: "open"}}
	verdicts := map[string]int{}
	for range count {
		f := readingOfChance(chance)
		for _, verdict := range []string{"pass", "query", "stop"} {
			f["verdict"] = verdict
			if unfair(checks.Rules(), transcriptlog.Line{Kind: "reading", Fields: f}) == "" {
				break
			}
		}
		verdicts[f["verdict"]]++
		recs = append(recs, transcriptlog.Record{Kind: "reading", Fields: f})
	}
	path := filepath.Join(t.TempDir(), "chance")
	log, err := transcriptlog.Create(path, false)
	if err != nil {
		t.Fatal(err)
	}
	if err := log.Append(transcriptlog.Stamp{Wall: time.Date(2030, 1, 1, 0, 0, 0, 0, time.UTC)}, recs...); err != nil {
		t.Fatal(err)
	}
	if err := log.Close(); err != nil {
		t.Fatal(err)
	}
	v, _ := newVictim(t)
	whole := filepath.Join(v.dir, "whole")
	if err := os.WriteFile(whole, v.raw, 0o600); err != nil {
		t.Fatal(err)
	}
	judgedHere, why := judgeAgain(transcriptlog.Read(v.raw).Lines)
	said := secondJudge(t, path, whole)
	if got := said[path]; got != fmt.Sprintf("%d readings judged", count) {
		t.Errorf("of chance: %s", got)
	}
	if got := said[whole]; got != fmt.Sprintf("%d readings judged", judgedHere) || why != "" {
		t.Errorf("of a session: %s, here %d %s", got, judgedHere, why)
	}
	for _, verdict := range []string{"pass", "query", "stop"} {
		if verdicts[verdict] < count/20 {
			t.Errorf("of %d readings %v: this tests little", count, verdicts)
		}
	}
	t.Logf("%v of chance, %d of a session", verdicts, judgedHere)
}

// readingOfChance is a well formed reading near the lines of a window.
func readingOfChance(chance *rand.Rand) map[string]string {
	one := func(of ...string) string { return of[chance.IntN(len(of))] }
	show := func(n int) string { return strconv.FormatFloat(float64(n)/10, 'f', -1, 64) }
	f := map[string]string{
		"rule": "1", "slot": "x", "class": one("S", "G", "E", "?"), "window kind": "volts", "window shown": one("true", "false"),
		"window danger": one("low", "high", "both", "neither"), "window grade": one("sheet", "typical"), "shown censored": "false",
	}
	at := []int{0, 0, 0, 0, 0, 0}
	for i := range at[1:] {
		at[i+1] = at[i] + chance.IntN(8)
	}
	for i, end := range []string{"stop-lo", "query-lo", "pass-lo", "pass-hi", "query-hi", "stop-hi"} {
		f["window "+end] = show(at[i])
	}
	for _, side := range []string{"lo", "hi"} { // open from the outside in
		for _, name := range []string{"stop-", "query-", "pass-"} {
			if chance.IntN(3) > 0 {
				break
			}
			delete(f, "window "+name+side)
		}
	}
	x, u := chance.IntN(at[5]+10)-5, chance.IntN(4)
	f["shown x"], f["shown u"], f["shown lo"], f["shown hi"] = show(x), show(u), show(x-u), show(x+u)
	if chance.IntN(3) == 0 {
		f["shown censored"] = "true"
		f["shown lo"], f["shown hi"] = show(x), show(x)
		delete(f, one("shown lo", "shown hi"))
	}
	return f
}
