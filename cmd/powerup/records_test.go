package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

const recordDir = "../../testdata/records"

// keptDigests are the SHA-256 of each version's SHA256SUMS: neither a record nor
// its digest is ever made anew.
var keptDigests = []string{
	"9cf1d5a8c9e4b4374c7474b1c74a75c79581e1bde1fd696275eebe9cced4ca0a",
}

// keptRecord is a row of the table of records that are kept for ever.
type keptRecord struct {
	Name, Asked, Ending, Result, Signer, Promise string
	Judged                                       int
	dir                                          string
}

func (k keptRecord) path() string { return filepath.Join(k.dir, k.Name+recordEnding) }

func (k keptRecord) options() verifyOptions {
	return verifyOptions{signers: filepath.Join(k.dir, "allowed_signers"), practice: k.Asked == "practice"}
}

// keptRecords are those of all versions of the rules.
func keptRecords(t *testing.T) (all []keptRecord) {
	t.Helper()
	for version := range checks.Rules() {
		dir := filepath.Join(recordDir, fmt.Sprintf("rules-%d", version+1))
		for d := json.NewDecoder(bytes.NewReader(read(t, filepath.Join(dir, "table.jsonl")))); d.More(); {
			k := keptRecord{dir: dir}
			if err := d.Decode(&k); err != nil {
				t.Fatal(err)
			}
			all = append(all, k)
		}
	}
	if len(all) < 6 {
		t.Fatalf("only %d records are kept", len(all))
	}
	return all
}

// What is kept is what was kept, and all of it.
func TestKeptRecordsAreNeverMadeAnew(t *testing.T) {
	t.Parallel()
	if len(keptDigests) != len(checks.Rules()) {
		t.Fatalf("%d digests for %d versions of the rules", len(keptDigests), len(checks.Rules()))
	}
	for version, digest := range keptDigests {
		dir := filepath.Join(recordDir, fmt.Sprintf("rules-%d", version+1))
		sums := read(t, filepath.Join(dir, "SHA256SUMS"))
		if got := hexSum(sums); got != digest {
			t.Errorf("%s: its SHA256SUMS is another: %s", dir, got)
		}
		listed := map[string]bool{"SHA256SUMS": true}
		for line := range strings.Lines(string(sums)) {
			want, name, _ := strings.Cut(strings.TrimSpace(line), "  ")
			if listed[name] = true; hexSum(read(t, filepath.Join(dir, name))) != want {
				t.Errorf("%s/%s is not what was kept: put it back", dir, name)
			}
		}
		files, err := os.ReadDir(dir)
		if err != nil || len(files) < 10 {
			t.Fatalf("%d files: %v", len(files), err)
		}
		for _, f := range files {
			if !listed[f.Name()] {
				t.Errorf("%s/%s was added later", dir, f.Name())
			}
		}
	}
}

func hexSum(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// Every record that is kept verifies as it ever did, in the whole of verify.
func TestKeptRecordsVerifyForEver(t *testing.T) {
	t.Parallel()
	for _, k := range keptRecords(t) {
		f, err := check(k.options(), k.path())
		if err != nil {
			t.Fatal(err)
		}
		result := f.whyNot().short
		if f.accepted() {
			result = "accepted"
		}
		got := keptRecord{k.Name, k.Asked, f.record.Ending.String(), result, f.by.Name, k.Promise, f.judged, k.dir}
		if got != k || f.unfair != "" {
			t.Errorf("%s: got %+v (%s), it was always %+v", k.path(), got, f.unfair, k)
		}
		other := k.options()
		other.practice = !other.practice
		if f, err := check(other, k.path()); err != nil || f.accepted() {
			t.Errorf("%s, asked for as what it is not: %v, %+v", k.path(), err, f.whyNot())
		}
	}
}

// Others see the same: the second judge, and the stock tool who signed.
func TestKeptRecordsVerifyWithoutTheProgram(t *testing.T) {
	t.Parallel()
	needs(t, "ssh-keygen")
	for _, k := range keptRecords(t) {
		if said, want := secondJudge(t, k.path())[k.path()], fmt.Sprintf("%d readings judged", k.Judged); said != want {
			t.Errorf("%s: the second judge says %q, want %q", k.path(), said, want)
		}
		if k.Signer != "" {
			k.byStockTool(t, transcriptlog.Read(read(t, k.path())).Namespace())
		}
	}
}

func (k keptRecord) byStockTool(t *testing.T, namespace string) {
	t.Helper()
	c := exec.Command("ssh-keygen", "-Y", "verify", "-f", k.options().signers, "-I", k.Signer, "-n", namespace, "-s", k.path()+".sig")
	c.Stdin = bytes.NewReader(read(t, k.path()))
	if out, err := c.CombinedOutput(); err != nil || !strings.Contains(string(out), "Good") {
		t.Errorf("%s: ssh-keygen: %v\n%s", k.path(), err, out)
	}
}

// Windows, prompts and order change with the program: a record that is kept follows
// again, or it is said in words why it is not played or not gone on with.
func TestKeptRecordsFollowOrItIsSaidWhyNot(t *testing.T) {
	t.Parallel()
	for _, k := range keptRecords(t) {
		o := k.options()
		o.recompute = true
		f, err := check(o, k.path())
		if err != nil {
			t.Fatal(err)
		}
		made := makerOf(f.record.Lines)
		want, accepted := made.named(), k.Result == "accepted" && f.undone == ""
		if f.undone != "" {
			want += " can tell"
		}
		if f.unfair != "" || f.accepted() != accepted || !strings.Contains(f.played(), want) {
			t.Errorf("%s: %q does not say %q (%s)", k.path(), f.played(), want, f.unfair)
		}
		if k.Result != "open" {
			continue
		}
		_, _, err = takeUp(f.record.Lines, k.path(), "powerup")
		sameRules := made.rules == thisProgram().rules
		switch {
		case err == nil && sameRules:
			t.Logf("%s is gone on with: %s", k.Name, followed(f.record.Lines))
		case err == nil:
			t.Errorf("%s: gone on with under other rules", k.path())
		case !strings.Contains(err.Error(), "hint: it was made by "+made.String()) || sameRules && !errors.Is(err, session.ErrDiffers):
			t.Errorf("%s: %v", k.path(), err)
		default:
			t.Logf("%s is not gone on with: %v", k.Name, err)
		}
	}
}

// The boxed record that is kept belongs to the open one beside it.
func TestKeptBoxedRecordNamesTheOpenOne(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(recordDir, "rules-1")
	boxed := transcriptlog.Read(read(t, filepath.Join(dir, "boxed.transcript")))
	if got := boxed.Lines[0].Fields["after sha256"]; got != hexSum(read(t, filepath.Join(dir, "open.transcript"))) {
		t.Errorf("it names %s", got)
	}
}
