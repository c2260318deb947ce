package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const vectorDir = "../../testdata/vectors"

// vector is a row of the table of vectors, as far as verify goes.
type vector struct {
	Name, Level, Asked, Signers, Revoked, Ending, Result, Signer, Reason, Promise string
	Line                                                                          int
}

func (v vector) path() string { return filepath.Join(vectorDir, v.Name+recordEnding) }

// heading is how the first line of verify begins.
func (v vector) heading() string {
	switch v.Result {
	case "accepted", "broken":
		return v.Ending + ": "
	case "misjudged":
		return "BROKEN: "
	case "open":
		return v.Ending + ", NOT ACCEPTED: "
	}
	return v.Ending + ", NOT ACCEPTED (" + v.Result + "): "
}

func vectors(t testing.TB) (all []vector) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(vectorDir, "table.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	for rows := json.NewDecoder(bytes.NewReader(text)); rows.More(); {
		var v vector
		if err := rows.Decode(&v); err != nil {
			t.Fatal(err)
		}
		all = append(all, v)
	}
	if len(all) < 150 {
		t.Fatalf("only %d vectors", len(all))
	}
	return all
}

// Every vector comes to the result of its row, for the reason of its row, in
// the whole of verify.
func TestVerifyOnEveryVector(t *testing.T) {
	t.Parallel()
	results := map[string]int{}
	for _, v := range vectors(t) {
		o := verifyOptions{signers: filepath.Join(vectorDir, v.Signers), revoked: os.DevNull, practice: v.Asked == "practice"}
		if v.Revoked != "" {
			o.revoked = filepath.Join(vectorDir, v.Revoked)
		}
		f, err := check(o, v.path())
		if err != nil {
			t.Fatal(err)
		}
		no, want := f.whyNot(), v.Reason
		if v.Result == "broken" {
			want = fmt.Sprintf("line %d: %s", v.Line, v.Reason)
		}
		if v.Ending == "COMPLETE" && v.Result == "unsigned" {
			want += ". Who closed it signs it by: powerup key sign " + shell(v.path())
		}
		for start, file := range map[string]string{"signers: ": o.signers, "revoked: ": o.revoked} {
			if strings.HasPrefix(v.Reason, start) {
				want = file + ": " + v.Reason
			}
		}
		got := no.short
		if f.accepted() {
			got = "accepted"
		}
		results[got]++
		if got != v.Result || no.why != want || f.record.Ending.String() != v.Ending || f.record.BadLine != v.Line {
			t.Errorf("%s: %s: got %s %s, line %d: %s\nwant %s %s, line %d: %s",
				v.Name, v.Promise, f.record.Ending, got, f.record.BadLine, no.why, v.Ending, v.Result, v.Line, want)
		}
		if got == "accepted" && f.by.Name != v.Signer {
			t.Errorf("%s: signed by %q, want %q", v.Name, f.by.Name, v.Signer)
		}
		var out bytes.Buffer
		f.print(&out)
		if !strings.HasPrefix(out.String(), v.heading()) || strings.Contains(out.String(), "signed      by") && f.by.Name == "" {
			t.Errorf("%s: verify prints\n%s", v.Name, out.String())
		}
	}
	for _, want := range []string{"accepted", "broken", "misjudged", "open", "unsigned", "refused", "unlisted", "practice", "real", "revoked", "out of date", "no one name", "release", "strange result"} {
		if results[want] == 0 {
			t.Errorf("no vector is %s", want)
		}
	}
}
