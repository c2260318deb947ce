//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/procedures"
)

const passphrase = "four corner valve"

// own puts the user's own set sheet into the folder.
func (h home) own(t *testing.T) {
	t.Helper()
	text, ok := procedures.Find(procedures.Sheets(), "table-radio")
	if !ok {
		t.Fatal("no table-radio comes with the program")
	}
	if err := os.WriteFile(filepath.Join(h.dir, "my-set.yaml"), text, 0o600); err != nil {
		t.Fatal(err)
	}
}

// sayAll types a healthy session's lines up to the prompt of that name; empty:
// all of them.
func (p *pane) sayAll(to string) {
	p.t.Helper()
	for _, l := range healthyLines(p.t) {
		if l.At == to {
			return
		}
		p.say(l.Say)
	}
	if to != "" {
		p.t.Fatalf("no prompt %s", to)
	}
}

// The first run of all at a terminal: set, bench and key are asked for, the
// whole session is typed by hand, and the record convinces others.
func TestFirstRunIsTypedByHandToASignedRecord(t *testing.T) {
	t.Parallel()
	needs(t, "ssh-keygen")
	h := newHome(t)
	h.own(t)
	p := newPane(t, h, "run")
	p.see("Which set?")
	p.keys("Enter")
	p.see("choose with the arrow keys")
	p.keys("Down", "Enter")
	p.field("1 of 7", "two meters, anna smith", "Enter")
	p.see("cannot stand in a signers file")
	p.keys("C-u")
	p.answerBench()
	p.see("New passphrase:")
	p.typed(passphrase)
	p.see("Once more:")
	p.typed(passphrase)
	p.sayAll("")
	p.ends(0)
	for _, line := range tooWide([]byte(p.history()), h.dir) {
		t.Errorf("more than %d columns: %s", columns, line)
	}
	if strings.Contains(p.history(), passphrase) {
		t.Error("the passphrase is on the screen")
	}
	h.holds(t, "config/powerup/bench.yaml", 0o644)
	h.holds(t, "config/powerup/key", 0o600)
	h.verifies(t)
}

// answerBench goes through the bench's forms: that of the example with two meters.
func (p *pane) answerBench() {
	p.t.Helper()
	for n, answer := range []string{
		"two meters, anna, back room", "general-digital; general-digital", "insulation-tester", "9.3, 10 kohm", "40 100, 230", "yes, yes, no, yes", "-",
	} {
		p.field(fmt.Sprintf("%d of 7", n+1), answer, "Enter")
	}
}

// holds tells that a file is there, for whom.
func (h home) holds(t *testing.T, name string, perm os.FileMode) {
	t.Helper()
	info, err := os.Stat(filepath.Join(h.dir, name))
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm() != perm {
		t.Errorf("%s has mode %o, want %o", name, info.Mode().Perm(), perm)
	}
}

// verifies asks the program and ssh-keygen about the record: real, by anna.
func (h home) verifies(t *testing.T) {
	t.Helper()
	if out, err := h.program(t, "verify", "--passed", h.record()).CombinedOutput(); err != nil {
		t.Errorf("powerup verify: %v\n%s", err, out)
	}
	if out, err := h.program(t, "verify", "--practice", h.record()).CombinedOutput(); err == nil {
		t.Errorf("a real record is taken for practice\n%s", out)
	}
	record, err := os.Open(h.record())
	if err != nil {
		t.Fatal(err)
	}
	defer record.Close()
	c := exec.Command("ssh-keygen", "-Y", "verify", "-f", filepath.Join(h.dir, "config/powerup/signers"), "-I", "anna",
		"-n", "powerup-transcript", "-s", h.record()+".sig")
	c.Stdin = record
	if out, err := c.CombinedOutput(); err != nil {
		t.Errorf("ssh-keygen: %v\n%s", err, out)
	}
}

// equipped is a home with a bench and a key without a passphrase.
func equipped(t *testing.T, more ...string) home {
	t.Helper()
	h := newHome(t, more...)
	h.equip(t)
	return h
}

// equip puts a set, a bench and a key without a passphrase into a home.
func (h home) equip(t *testing.T) {
	t.Helper()
	h.own(t)
	dir := filepath.Join(h.dir, "config/powerup")
	text, _ := procedures.Find(procedures.Benches(), "two-meters")
	if err := writeNew(filepath.Join(dir, "bench.yaml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := makeKey(filepath.Join(dir, "key"), "anna", filepath.Join(dir, "signers"), transcriptlog.NamespaceReal, nil); err != nil {
		t.Fatal(err)
	}
}

// lastRecord is the last line of the record, and all of them.
func (h home) lastRecord(t *testing.T) (transcriptlog.Line, []transcriptlog.Line) {
	t.Helper()
	text, err := os.ReadFile(h.record())
	if err != nil {
		t.Fatal(err)
	}
	r := transcriptlog.Read(text)
	if len(r.Lines) == 0 || r.Ending == transcriptlog.Broken {
		t.Fatalf("the record is %v", r.Ending)
	}
	return r.Lines[len(r.Lines)-1], r.Lines
}

func TestStopKeyAtALivePromptIsRecordedFirst(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("transformer/half-a@60s")
	if s := p.prompt(); !strings.Contains(strings.Join(s.lines, "\n"), "DANGER - MAINS ON") {
		t.Fatalf("the set is not on:\n%s", strings.Join(s.lines, "\n"))
	}
	p.keys("C-c", "C-c", "C-c")
	h.aborted(t, p, "the stop key")
}

// aborted tells that the program ended as it must and that the record says why.
func (h home) aborted(t *testing.T, p *pane, why string) {
	t.Helper()
	p.ends(130)
	if !strings.Contains(p.history(), liveAndCharged+".") {
		t.Errorf("no caution at the end:\n%s", p.history())
	}
	last, lines := h.lastRecord(t)
	for n := len(lines) - 1; last.Kind == "elapsed" && n > 0; n-- { // what lapsed stands behind the abort
		last = lines[n-1]
	}
	if last.Kind != "abort" || last.Fields["because"] != why || last.Fields["energised"] != "true" {
		t.Errorf("the record ends in %s %v", last.Kind, last.Fields)
	}
	if _, err := os.Stat(h.record() + ".sig"); err == nil {
		t.Error("an aborted session is signed")
	}
}

func TestStopKeyIsLiveDuringAWait(t *testing.T) {
	t.Parallel()
	h := equipped(t, envPause+"=5s 1h")
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("transformer/half-a@5s")
	p.see("Wait        5 s")
	p.keys("C-c")
	h.aborted(t, p, "the stop key")
}

func TestHangUpAndKillAreRecorded(t *testing.T) {
	t.Parallel()
	for signal, why := range map[syscall.Signal]string{syscall.SIGHUP: "a hang-up", syscall.SIGTERM: "a request to end"} {
		h := equipped(t)
		p := newPane(t, h, "run", "my-set.yaml")
		p.sayAll("transformer/half-a@5s")
		if err := syscall.Kill(p.prompt().pid, signal); err != nil {
			t.Fatal(err)
		}
		h.aborted(t, p, why)
	}
}

// What was typed while nothing was asked, whole lines and half ones, is dropped.
func TestTypedAheadIsNeverAReading(t *testing.T) {
	t.Parallel()
	h := equipped(t, envPause+"=1m 1500ms")
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("proof-full.2")
	p.see("until 18:")
	p.typed("0.2 0.2 9.31")
	p.typed("0.2 0.2 9.31")
	p.tmux("send-keys", "-l", "0.2 0.2")
	p.prompt()
	p.tmux("send-keys", "-l", " 9.3")
	p.keys("Enter")
	p.see("Not taken")
	_, lines := h.lastRecord(t)
	for _, l := range lines {
		if l.Fields["at"] == "proof-full.2" && l.Fields["say"] != " 9.3" {
			t.Errorf("typed ahead and taken: %q", l.Fields["say"])
		}
	}
}

// A paste of several lines answers one prompt.
func TestPasteAnswersOnePromptOnly(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.prompt()
	p.tmux("set-buffer", "same\nunplugged\nn\n", ";", "paste-buffer")
	p.see("Plug out of the wall")
	p.last = p.prompt().line - 1
	p.say("unplugged")
	p.prompt()
	var said []string
	_, lines := h.lastRecord(t)
	for _, l := range lines {
		if l.Kind == "entry" {
			said = append(said, l.Fields["say"])
		}
	}
	if strings.Join(said, " ") != "same unplugged" {
		t.Errorf("taken: %q", said)
	}
}

func TestKillAtAPromptLosesNoReading(t *testing.T) {
	t.Parallel()
	h := equipped(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("power")
	if err := syscall.Kill(p.prompt().pid, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	p.until("the end of the program", func(s screen) bool { return s.dead })
	_, before := h.lastRecord(t)
	var said, want []string
	for _, l := range before {
		if l.Kind == "entry" {
			said = append(said, l.Fields["say"])
		}
	}
	for _, l := range healthyLines(t) {
		if l.At == "power" {
			break
		}
		want = append(want, l.Say)
	}
	if len(want) < 20 || !slices.Equal(said, want) {
		t.Fatalf("typed %q, in the record %q", want, said)
	}
	h.env = append(h.env, envStart+"=2030-01-02T20:00:00Z")
	again := newPane(t, h, "resume", h.record())
	s := again.prompt()
	if text := strings.Join(s.lines, "\n"); !strings.Contains(text, liveAndCharged+". Nothing is proved dead.") {
		t.Errorf("resumed with\n%s", text)
	}
	again.say("same")
	again.say("unplugged")
	again.say("n")
	again.prompt()
	_, after := h.lastRecord(t)
	for i, l := range before {
		if after[i].Kind != l.Kind || after[i].Fields["say"] != l.Fields["say"] {
			t.Fatalf("line %d changed", i+1)
		}
	}
	if after[len(before)].Kind != "resume" {
		t.Errorf("after the kill the record goes on with %s", after[len(before)].Kind)
	}
	if text := again.history(); strings.Contains(text, "Anything there already?") || strings.Contains(text, "PROVED DEAD") {
		t.Errorf("what is still known after a kill:\n%s", text)
	}
}
