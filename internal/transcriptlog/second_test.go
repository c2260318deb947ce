package transcriptlog

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

const secondReader = "../../docs/verify.py"

// secondly runs the second reader, which shares nothing with this one but the
// page, and gives by path what it says: ending, first bad line, result.
func secondly(t *testing.T, practice bool, signers, revoked string, paths []string) map[string][3]string {
	t.Helper()
	program(t, "ssh-keygen")
	args := []string{secondReader}
	if practice {
		args = append(args, "--practice")
	}
	c := exec.Command(program(t, "python3"), append(append(args, signers, revoked), paths...)...)
	var faults bytes.Buffer
	c.Stderr = &faults
	out, _ := c.Output() // it ends with 1 where one is not accepted
	if faults.Len() > 0 {
		t.Fatalf("%s", faults.String())
	}
	said := map[string][3]string{}
	for line := range strings.Lines(string(out)) {
		words := strings.SplitN(strings.TrimSpace(line), " ", 4)
		if len(words) != 4 {
			t.Fatalf("the second reader says %q", line)
		}
		result, _, _ := strings.Cut(words[3], ":")
		said[words[0]] = [3]string{words[1], words[2], result}
	}
	if len(said) != len(paths) {
		t.Fatalf("the second reader says %d things of %d records", len(said), len(paths))
	}
	return said
}

// The second reader agrees on every vector but those of verdicts and releases,
// which it does not look at.
func TestTheSecondReaderAgreesOnEveryVector(t *testing.T) {
	t.Parallel()
	type question struct {
		practice         bool
		signers, revoked string
	}
	asked := map[question][]string{}
	want := map[string][3]string{}
	for _, v := range vectorFiles(t) {
		if v.Level == "verdict" || v.Level == "release" {
			continue
		}
		revoked := os.DevNull
		if v.Revoked != "" {
			revoked = filepath.Join(vectorDir, v.Revoked)
		}
		q, path := question{v.Asked == "practice", filepath.Join(vectorDir, v.Signers), revoked}, filepath.Join(vectorDir, v.Name+vectorFile)
		asked[q] = append(asked[q], path)
		result := v.Result
		if result == "accepted" {
			result += " " + v.Signer
		}
		want[path] = [3]string{v.Ending, fmt.Sprint(v.Line), result}
	}
	agreed := 0
	for q, paths := range asked {
		for path, got := range secondly(t, q.practice, q.signers, q.revoked, paths) {
			if got != want[path] {
				t.Errorf("%s: the second reader says %q, the table %q", path, got, want[path])
			}
			agreed++
		}
	}
	t.Logf("%d vectors", agreed)
}

// Both readers say the same of lines that chance has changed, with the chain made
// anew so that only the spelling counts.
func TestTheSecondReaderAgreesOnLinesSpoiltByChance(t *testing.T) {
	t.Parallel()
	const count = 600
	chance := rand.New(rand.NewPCG(1, 2))
	parts := []string{`"`, `\`, `\u`, `\n`, `{`, `}`, `,`, `:`, ` `, "\r", "\t", "0", "9", "Z", "e", "\x00", "\x7f", "\xff", "é", "\u202e", `\u202e`, `\u007f`, `"a":"b"`, "true"}
	dir := t.TempDir()
	var paths []string
	want := map[string][3]string{}
	for n := range count {
		line := []byte(nextLine)
		for range 1 + chance.IntN(2) {
			at := 1 + chance.IntN(len(line)-1)
			end := min(at+chance.IntN(3), len(line))
			line = append(line[:at:at], append([]byte(parts[chance.IntN(len(parts))]), line[end:]...)...)
		}
		body := rawLines(openLine, string(line), lastLine)
		path := filepath.Join(dir, fmt.Sprint(n))
		if err := os.WriteFile(path, body, 0o600); err != nil {
			t.Fatal(err)
		}
		got := Read(body)
		result := map[Ending]string{Broken: "broken", Complete: "unsigned", Open: "open", RecoveredOpen: "open"}[got.Ending]
		paths, want[path] = append(paths, path), [3]string{got.Ending.String(), fmt.Sprint(got.BadLine), result}
	}
	taken := 0
	for path, got := range secondly(t, false, filepath.Join(vectorDir, everybody), os.DevNull, paths) {
		if got != want[path] {
			b, _ := os.ReadFile(path)
			t.Errorf("the second reader says %q, this one %q, of\n%s", got, want[path], b)
		}
		if got[0] == "COMPLETE" {
			taken++
		}
	}
	if taken < count/20 || taken > count*19/20 {
		t.Errorf("%d of %d were taken: this tests little", taken, count)
	}
	t.Logf("%d of %d were taken by both", taken, count)
}

// What stands on the page is a whole record, by the page's own second reader.
func TestTheSecondReaderTakesTheExampleOnThePage(t *testing.T) {
	t.Parallel()
	file, known, armored := example(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "FILE")
	for name, b := range map[string][]byte{path: file, path + ".sig": armored, filepath.Join(dir, everybody): known} {
		if err := os.WriteFile(name, b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if got := secondly(t, false, filepath.Join(dir, everybody), os.DevNull, []string{path})[path]; got != [3]string{"COMPLETE", "0", "accepted j.smith"} {
		t.Errorf("it says %q", got)
	}
}

// What is not there is told in words, and the next record is read.
func TestTheSecondReaderTellsWhatIsNotThere(t *testing.T) {
	t.Parallel()
	good, none := filepath.Join(vectorDir, "signature/signers-quoted"), filepath.Join(t.TempDir(), "none")
	for name, c := range map[string]struct {
		signers, revoked string
		first, then      [3]string
	}{
		"a record":         {good, os.DevNull, [3]string{"UNREAD", "0", "unread"}, [3]string{"COMPLETE", "0", "accepted j.smith"}},
		"the signers file": {none, os.DevNull, [3]string{"UNREAD", "0", "unread"}, [3]string{"COMPLETE", "0", "refused"}},
		"the revoked keys": {good, none, [3]string{"UNREAD", "0", "unread"}, [3]string{"COMPLETE", "0", "refused"}},
		"a folder":         {t.TempDir(), os.DevNull, [3]string{"UNREAD", "0", "unread"}, [3]string{"COMPLETE", "0", "refused"}},
	} {
		said := secondly(t, false, c.signers, c.revoked, []string{none, good + vectorFile})
		if said[none] != c.first || said[good+vectorFile] != c.then {
			t.Errorf("%s: %q", name, said)
		}
	}
}

// It stays small enough to be read in one sitting.
func TestTheSecondReaderIsSmall(t *testing.T) {
	t.Parallel()
	if n := bytes.Count(readFile(t, secondReader), []byte("\n")); n > 150 {
		t.Errorf("%d lines", n)
	}
}
