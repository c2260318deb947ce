package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/charmbracelet/lipgloss"

	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/procedures"
)

// nextMorning is when records of the evening are verified.
const nextMorning = envStart + "=2030-01-03T09:00:00Z"

// verify runs the command on its folder's files, the morning after.
func (h home) verify(t *testing.T, want int, args ...string) string {
	t.Helper()
	c := h.program(t, append([]string{"verify", "--practice"}, args...)...)
	c.Env = append(c.Env, nextMorning)
	out, err := c.Output()
	if got := code(err); got != want {
		t.Fatalf("verify %v: exit code %d, want %d\n%s", args, got, want, out)
	}
	return string(out)
}

// wideSheet is the example sheet with the longest names that a sheet allows, of
// characters that take two columns.
func wideSheet(t *testing.T) []byte {
	t.Helper()
	text, _ := procedures.Find(procedures.Sheets(), demoSheet)
	sheet := strings.NewReplacer("name: kitchen table set", "name: "+strings.Repeat("界", 60), `mark: "4711"`, "mark: "+strings.Repeat("真", 40)).Replace(string(text))
	if strings.Contains(sheet, "4711") || !strings.Contains(sheet, "界") {
		t.Fatal("the example sheet has other names")
	}
	return []byte(sheet)
}

func TestLongestNamesFitSummaryAndFolder(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	if err := os.WriteFile(filepath.Join(h.dir, "wide.yaml"), wideSheet(t), 0o600); err != nil {
		t.Fatal(err)
	}
	answers, err := filepath.Abs("../../testdata/answers/parked.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if out, err := h.program(t, "run", "wide.yaml", "--bench", demoBench, "--answers", answers, "-o", "wide.transcript").CombinedOutput(); code(err) != 3 {
		t.Fatalf("%v\n%s", err, out)
	}
	for name, out := range map[string]string{
		"summary": h.verify(t, 5, "--summary", "wide.transcript"), "folder": h.verify(t, 5, "."),
	} {
		if !strings.Contains(out, "界") && !strings.Contains(out, "真") {
			t.Errorf("%s: the set is not named:\n%s", name, out)
		}
		fits(t, name, out)
	}
}

// fits fails for lines that are wider than a terminal and for characters that
// could move its cursor; of a summary also for more lines than it may have.
func fits(t *testing.T, name, out string) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	if len(lines) > summaryLines && strings.HasPrefix(name, "summary") {
		t.Errorf("%s has %d lines:\n%s", name, len(lines), out)
	}
	if testing.Verbose() {
		t.Logf("%s:\n%s", name, out)
	}
	if len(lines) < 5 {
		t.Errorf("%s hardly says anything:\n%s", name, out)
	}
	for _, line := range lines {
		if w := lipgloss.Width(line); w > columns {
			t.Errorf("%s: %d columns: %s", name, w, line)
		}
		if strings.ContainsFunc(line, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }) {
			t.Errorf("%s: %q", name, line)
		}
	}
}

// hostile is what somebody could write into a record to mislead its reader:
// it clears the screen, goes to its top, turns the reading order, and is long.
var hostile = "\x1b[2J\x1b[H\u202eCOMPLETE: the set is safe\n\rresult      tested and handed back\u2066\a" + strings.Repeat("界W", 200)

func hostileLine(kind string, keys ...string) transcriptlog.Record {
	r := transcriptlog.Record{Kind: kind, Fields: map[string]string{}}
	for _, k := range keys {
		r.Fields[k] = hostile
	}
	return r
}

// hostileRecord writes a record whose every text is hostile.
func hostileRecord(t *testing.T, path string, long bool, end ...transcriptlog.Record) {
	t.Helper()
	log, err := transcriptlog.Create(path, true)
	if err != nil {
		t.Fatal(err)
	}
	start := time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC)
	first := hostileLine("open", "set", "procedure", "bench", "label", "operator", "profile", "procedure name", "key", "clock", "after", "after sha256")
	first.Fields["part"] = boxedPart
	lines := []transcriptlog.Record{
		first,
		hostileLine("power", "supply", "set", "lamp", "alone"),
		hostileLine("reading", "slot", "check", "item", "say", "verdict", "number"),
	}
	if long {
		r := hostileLine("reading", "verdict")
		r.Fields["slot"], r.Fields["rule"] = strings.Repeat("x", 1<<19), "1"
		torn := transcriptlog.Record{Kind: transcriptlog.KindRecovered, Fields: map[string]string{
			"torn_file": strings.Repeat("y", 1<<19), "torn_bytes": "1", "torn_sha256": strings.Repeat("0", 64),
		}}
		lines = append(lines, r, torn)
	}
	for n := range 12 {
		r := hostileLine("reading", "check", "item", "say")
		r.Fields["slot"], r.Fields["verdict"] = fmt.Sprint("x/", n), "query"
		a := hostileLine("accepted", "cause", "by", "words")
		a.Fields["slot"] = r.Fields["slot"]
		left := hostileLine("not-read")
		left.Fields = map[string]string{"slot": fmt.Sprint("x/", n, hostile)}
		lines = append(lines, r, a, left)
	}
	call := hostileLine("reading", "slot", "say")
	call.Fields["check"] = "call"
	lines = append(lines, call, hostileLine("released", "witness"))
	if err := log.Append(transcriptlog.Stamp{Wall: start}, append(lines, end...)...); err != nil {
		t.Fatal(err)
	}
	if err := log.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestHostileTextMisleadsNobody(t *testing.T) {
	t.Parallel()
	for name, end := range map[string][]transcriptlog.Record{
		"closed":  {hostileLine("close", "result", "set", "mark", "witness", "open", "not-proved-at-volts")},
		"stopped": {hostileLine("stop", "slot", "check", "reason", "number")},
		"parked":  {hostileLine("park", "open")},
		"left on": {hostileLine("abort", "because", "energised")},
		"handed back": {{Kind: "close", Fields: map[string]string{
			"result": hostile, "set": hostile, "mark": hostile, "open": "0", "witness": hostile,
		}}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := newHome(t)
			hostileRecord(t, filepath.Join(h.dir, "x.transcript"), true, end...)
			fits(t, "summary", h.verify(t, 5, "--summary", "x.transcript"))
			fits(t, "folder", h.verify(t, 5, "."))
			plain := h.verify(t, 5, "x.transcript")
			for _, line := range strings.Split(plain, "\n") {
				if strings.HasPrefix(line, "result ") || strings.ContainsFunc(line, unicode.IsControl) {
					t.Errorf("%q", line)
				}
			}
		})
	}
}

// A record that is signed by somebody who is listed is cut down like any other.
func TestHostileTextOfAListedSigner(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	if out, err := h.program(t, "run", "--demo", "-o", "demo.transcript").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	path := filepath.Join(h.dir, "x.transcript")
	hostileRecord(t, path, false, transcriptlog.Record{Kind: "close", Fields: map[string]string{"result": hostile, "open": "0"}})
	pem, err := os.ReadFile(filepath.Join(h.dir, "config", "powerup", "practice_key"))
	if err != nil {
		t.Fatal(err)
	}
	signer, err := transcriptlog.LoadSigner(pem, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := transcriptlog.SignFile(path, transcriptlog.NamespacePractice, signer); err != nil {
		t.Fatal(err)
	}
	summary := h.verify(t, 5, "--summary", "x.transcript")
	fits(t, "summary", summary)
	fits(t, "folder", h.verify(t, 5, "."))
	for _, out := range []string{summary, h.verify(t, 5, "x.transcript")} {
		if !strings.HasPrefix(out, "COMPLETE, NOT ACCEPTED (strange result): PRACTICE") {
			t.Errorf("it begins:\n%s", out)
		}
	}
}

// asReal writes the lines of a practice record as those of a real one, and signs
// it with a key of its own, which it lists under a name.
func (h home) asReal(t *testing.T, from, to, name, signers string) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(h.dir, from))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(h.dir, to)
	log, err := transcriptlog.Create(path, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range transcriptlog.Read(raw).Lines {
		if err := log.Append(transcriptlog.Stamp{Wall: l.Time, Mono: l.Mono}, transcriptlog.Record{Kind: l.Kind, Fields: l.Fields}); err != nil {
			t.Fatal(err)
		}
	}
	if err := log.Close(); err != nil {
		t.Fatal(err)
	}
	s, err := makeKey(filepath.Join(h.dir, name+".key"), name, filepath.Join(h.dir, signers), transcriptlog.NamespaceReal, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := transcriptlog.SignFile(path, transcriptlog.NamespaceReal, s); err != nil {
		t.Fatal(err)
	}
}

// A real record by a key that is listed is accepted under the listed name; by
// another key it is a stranger's, and stands for nothing in a folder.
func TestRealRecordsCountByTheirSigner(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	if out, err := h.program(t, "run", "--demo", "-o", "practice").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if err := os.Mkdir(filepath.Join(h.dir, "handed-over"), 0o700); err != nil {
		t.Fatal(err)
	}
	h.asReal(t, "practice", "handed-over/a.transcript", "anna", "signers")
	verify := func(want int, args ...string) string {
		c := h.program(t, append([]string{"verify", "--signers", "signers"}, args...)...)
		c.Env = append(c.Env, nextMorning)
		out, err := c.Output()
		if got := code(err); got != want {
			t.Fatalf("%v: exit code %d, want %d\n%s", args, got, want, out)
		}
		return string(out)
	}
	summary := verify(0, "--summary", "handed-over/a.transcript")
	for _, want := range []string{"\nresult      tested, not handed back, 2 Jan 2030. Weak: 1 query", "\nconditions  real session, open set;", "\nsigned      by anna;", "-n powerup-transcript"} {
		if !strings.Contains(summary, want) {
			t.Errorf("no %q in\n%s", want, summary)
		}
	}
	if strings.Contains(strings.ToLower(summary), "practice") {
		t.Errorf("a real record is called practice:\n%s", summary)
	}
	fits(t, "summary", summary)
	row := "4711        2 Jan 2030  tested, not handed back anna      query: core-warm\n"
	if out := verify(0, "handed-over"); !strings.Contains(out, row) {
		t.Error(out)
	}
	h.asReal(t, "practice", "handed-over/b.transcript", "eve", "strangers")
	out := verify(5, "handed-over")
	for _, want := range []string{row, "\nb.transcript                                    NOT ACCEPTED: unlisted\n", "b.transcript: signed by a key that you have not listed, and anybody"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if out := verify(5, "handed-over/b.transcript"); !strings.HasPrefix(out, "COMPLETE, NOT ACCEPTED (unlisted): the set was tested, not handed back\nsigned      not accepted: signed by a key that you have not listed") {
		t.Error(out)
	}
	stranger := verify(5, "--summary", "handed-over/b.transcript")
	if !strings.Contains(stranger, "\nresult      NOT ACCEPTED (unlisted). It says: tested") || !strings.Contains(stranger, "ssh-keygen -Y check-novalidate -n powerup-transcript") {
		t.Error(stranger)
	}
	fits(t, "summary", stranger)
}

// The command in a summary is copied as it stands, and verifies.
func TestSummarysCommandVerifiesByStockTools(t *testing.T) {
	t.Parallel()
	needs(t, "ssh-keygen")
	needs(t, "sh")
	h := newHome(t)
	name := "a set's record.transcript"
	if out, err := h.program(t, "run", "--demo", "-o", name).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	_, command, ok := strings.Cut(h.verify(t, 0, "--summary", name), "by stock tools:\n")
	command, _, end := strings.Cut(command, "\nsays ")
	if !ok || !end || !strings.Contains(command, "ssh-keygen") {
		t.Fatalf("no command is shown: %s", command)
	}
	shell := func() ([]byte, error) {
		c := exec.Command("sh", "-c", command)
		c.Dir = h.dir
		return c.CombinedOutput()
	}
	if out, err := shell(); err != nil || !strings.Contains(string(out), "Good") {
		t.Errorf("%v\n%s\n%s", err, out, command)
	}
	f, err := os.OpenFile(filepath.Join(h.dir, name), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteString("\n"); err != nil {
		t.Fatal(err)
	}
	if out, err := shell(); err == nil {
		t.Errorf("a byte more, and it says %s", out)
	}
}
