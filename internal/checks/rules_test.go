package checks_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"example.com/powerup/internal/checks"
)

// logged is a row of the table that a rule is frozen by.
type logged struct {
	Window, Shown  map[string]string
	Class, Verdict string
}

// frozen are the rows of a version of the rule.
func frozen(t *testing.T, version int) (rows []logged) {
	t.Helper()
	raw, err := os.ReadFile(fmt.Sprintf("../../testdata/records/rules-%d/verdicts.jsonl", version))
	if err != nil {
		t.Fatalf("a rule without a table can be changed unseen: %v", err)
	}
	for d := json.NewDecoder(bytes.NewReader(raw)); d.More(); {
		var row logged
		if err := d.Decode(&row); err != nil {
			t.Fatal(err)
		}
		rows = append(rows, row)
	}
	return rows
}

// Every rule gives for ever what it gave when its table was written. Where this
// fails the table is right and the rule is to be put back.
func TestARuleJudgesAsItEverDid(t *testing.T) {
	for i, rule := range checks.Rules() {
		version, count := i+1, map[string]int{}
		for n, row := range frozen(t, version) {
			verdict, err := rule(checks.Logged{Window: row.Window, Shown: row.Shown, Class: row.Class})
			got := verdict.String()
			if err != nil {
				got = "none"
			}
			if got != row.Verdict {
				t.Errorf("rule %d, row %d: %s (%v), and it was always %s: %v in %v, class %s", version, n+1, got, err, row.Verdict, row.Shown, row.Window, row.Class)
			}
			count[row.Verdict]++
		}
		for verdict, least := range map[string]int{"pass": 200, "query": 200, "stop": 200, "none": 20} {
			if count[verdict] < least {
				t.Errorf("rule %d: only %d rows of %s: this holds little", version, count[verdict], verdict)
			}
		}
	}
}

func TestTheProgramJudgesByItsNewestRule(t *testing.T) {
	if got := len(checks.Rules()); got != checks.RulesVersion {
		t.Errorf("the newest rule is %d, and readings are recorded as judged by %d", got, checks.RulesVersion)
	}
}
