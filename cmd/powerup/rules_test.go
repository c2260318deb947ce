package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"testing"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/transcriptlog"
)

// The second judge, which follows FORMAT.md alone, gives every verdict of the
// table that rule 1 is frozen by: the table is the page's and not only the program's.
func TestTheSecondJudgeGivesTheFrozenVerdicts(t *testing.T) {
	t.Parallel()
	dir, want := t.TempDir(), map[string]string{}
	var paths []string
	judged := []transcriptlog.Record{{Kind: "open"}}
	for d := json.NewDecoder(bytes.NewReader(read(t, "../../testdata/records/rules-1/verdicts.jsonl"))); d.More(); {
		var row struct {
			Window, Shown  map[string]string
			Class, Verdict string
		}
		if err := d.Decode(&row); err != nil {
			t.Fatal(err)
		}
		f := map[string]string{"rule": "1", "slot": "x", "class": row.Class, "verdict": row.Verdict}
		for key, text := range row.Window {
			f["window "+key] = text
		}
		for key, text := range row.Shown {
			f["shown "+key] = text
		}
		r := transcriptlog.Record{Kind: "reading", Fields: f}
		if row.Verdict != "none" {
			judged = append(judged, r)
			continue
		}
		path := filepath.Join(dir, fmt.Sprint("none-", len(paths)))
		paths, want[path] = append(paths, path), "line 2: "
		writeRecord(t, path, transcriptlog.Record{Kind: "open"}, r)
	}
	path := filepath.Join(dir, "judged")
	paths, want[path] = append(paths, path), fmt.Sprintf("%d readings judged", len(judged)-1)
	writeRecord(t, path, judged...)
	for path, said := range secondJudge(t, paths...) {
		if len(said) < len(want[path]) || said[:len(want[path])] != want[path] {
			t.Errorf("%s: it says %q, want %q", filepath.Base(path), said, want[path])
		}
	}
	if len(judged) < 600 || len(paths) < 20 {
		t.Errorf("only %d verdicts and %d readings that have none", len(judged), len(paths))
	}
}

// writeRecord writes lines of one instant as a real record.
func writeRecord(t *testing.T, path string, recs ...transcriptlog.Record) {
	t.Helper()
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
}

// When the program's own rule is a second one, what rule 1 judged is still judged
// by rule 1, in the same record too; a rule behind the newest is not guessed at.
func TestOlderRulesStayVerifiable(t *testing.T) {
	t.Parallel()
	v, _ := newVictim(t)
	lines := transcriptlog.Read(v.raw).Lines
	stopsAll := func(checks.Logged) (engine.Verdict, error) { return engine.Stop, nil }
	two := append(checks.Rules(), stopsAll)
	if n, why := judgedBy(two, lines); n < 50 || why != "" {
		t.Errorf("of rule 1, by a program with two: %d readings, %s", n, why)
	}
	of := func(rule, verdict string) []transcriptlog.Line {
		return setting("reading", "rule", rule, "verdict", verdict)(cloned(lines))
	}
	for _, c := range []struct {
		rules         []checks.Rule
		rule, verdict string
		why           string
	}{
		{two, "1", "pass", ""},
		{two, "2", "stop", ""},
		{two, "2", "pass", "the record says pass, and the rule says stop"},
		{two, "3", "pass", "judged by rules 3, and this program knows 1 to 2: use a later powerup"},
		{checks.Rules(), "3", "pass", "judged by rules 3, and this program knows 1: use a later powerup"},
		{two, "01", "pass", `judged by rules "01", which no powerup has: this program knows 1 to 2`},
		{two, "0", "pass", `judged by rules "0", which no powerup has: this program knows 1 to 2`},
		{two, "-1", "pass", `judged by rules "-1", which no powerup has: this program knows 1 to 2`},
		{two, "one", "pass", `judged by rules "one", which no powerup has: this program knows 1 to 2`},
	} {
		changed := of(c.rule, c.verdict)
		_, why := judgedBy(c.rules, changed)
		if want := leadsLine(t, changed) + c.why; c.why == "" && why != "" || c.why != "" && why != want {
			t.Errorf("rule %s of %d, %s: %q, want %q", c.rule, len(c.rules), c.verdict, why, want)
		}
	}
}

// cloned are lines whose fields can be changed.
func cloned(lines []transcriptlog.Line) []transcriptlog.Line {
	out := make([]transcriptlog.Line, len(lines))
	for i, l := range lines {
		out[i], out[i].Fields = l, maps.Clone(l.Fields)
	}
	return out
}

// leadsLine is how the reading that setting changes is named.
func leadsLine(t *testing.T, lines []transcriptlog.Line) string {
	t.Helper()
	for _, l := range lines {
		if l.Kind == "reading" && l.Fields["check"] == "leads" {
			return fmt.Sprintf("line %d: %s: ", l.Seq, l.Fields["slot"])
		}
	}
	t.Fatal("no reading of the leads")
	return ""
}
