package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.com/powerup/internal/transcriptlog"
)

// held is a session that waits at a prompt, and what ends it.
func (h home) held(t *testing.T, path string) (pid int, end func()) {
	t.Helper()
	c := h.program(t, "run", "table-radio", "--bench", "two-meters", "-o", path)
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	var said []byte
	for one := make([]byte, 1); !bytes.HasSuffix(said, []byte("\n> ")); said = append(said, one...) {
		if _, err := out.Read(one); err != nil {
			t.Fatalf("%v after\n%s", err, said)
		}
	}
	var once sync.Once
	end = func() {
		once.Do(func() {
			_ = c.Process.Kill()
			in.Close()
			_, _ = io.Copy(io.Discard, out)
			_ = c.Wait()
		})
	}
	t.Cleanup(end)
	return c.Process.Pid, end
}

// A second program is told who has the record; after a crash of the first, whose
// claim lies there for ever, it is free.
func TestASecondSessionIsToldWhoHasTheRecord(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	path := filepath.Join(h.dir, "x.transcript")
	pid, end := h.held(t, path)
	host, _ := os.Hostname()
	who := fmt.Sprintf("by process %d on %s, since ", pid, host)
	for _, args := range [][]string{{"resume", path}, {"run", "table-radio", "--bench", "two-meters", "-o", path}} {
		out, err := h.program(t, args...).CombinedOutput()
		if code(err) != 1 || !strings.Contains(string(out), "in use\npowerup: hint: "+who) {
			t.Errorf("%s: exit %d\n%s", args[0], code(err), out)
		}
	}
	end() // killed
	if _, err := os.Stat(path + claimEnding); err != nil {
		t.Fatalf("a killed program has tidied up: %v", err)
	}
	c := h.program(t, "resume", path)
	c.Stdin = strings.NewReader("same\n")
	if out, err := c.CombinedOutput(); code(err) != 130 || !strings.Contains(string(out), liveAndCharged) {
		t.Errorf("after the crash: exit %d\n%s", code(err), out)
	}
	if _, err := os.Stat(path + claimEnding); err == nil {
		t.Error("a program that ended has left its claim")
	}
}

func TestAClaimIsNeverWrittenOverAnothersFile(t *testing.T) {
	w := world{clock: newBenchClock(newWallClock().now().Wall)}
	path := filepath.Join(t.TempDir(), "x")
	for _, text := range []string{"dear diary\n", "", "powerup", "powerup x 2030-01-01T00:00:00Z h", strings.Repeat("powerup ", 100)} {
		if err := os.WriteFile(path+claimEnding, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		w.claim(path)()
		if got, err := os.ReadFile(path + claimEnding); err != nil || string(got) != text {
			t.Errorf("%q became %q, %v", text, got, err)
		}
	}
	if err := os.WriteFile(path+claimEnding, []byte("powerup 7 2030-01-01T00:00:00Z lost\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	release := w.claim(path)
	if got, _ := os.ReadFile(path + claimEnding); !strings.Contains(string(got), fmt.Sprint("powerup ", os.Getpid(), " ")) {
		t.Errorf("a stale claim stands: %q", got)
	}
	release()
	if _, err := os.Stat(path + claimEnding); err == nil {
		t.Error("the claim stands after the end")
	}
	if text, ok := claimant([]byte("powerup 7 2030-01-01T00:00:00Z a\x1b[2Jb")); !ok || strings.Contains(text, "\x1b") {
		t.Errorf("a claim moves the cursor: %q", text)
	}
}

// Sessions that begin in one moment get a record each, and the names sort.
func TestRecordsOfOneMomentNeverCollide(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	const many = 12
	session := func() {
		if out, err := h.program(t, "run", "table-radio", "--bench", "two-meters").CombinedOutput(); code(err) != 130 {
			t.Errorf("exit %d\n%s", code(err), out)
		}
	}
	session() // which makes the practice key
	var wg sync.WaitGroup
	for range many - 1 {
		wg.Go(session)
	}
	wg.Wait()
	names, err := filepath.Glob(filepath.Join(h.dir, "data/powerup/*"))
	if err != nil || len(names) != many || names[0] != h.record() {
		t.Fatalf("%d records: %q, %v", len(names), names, err)
	}
	for _, name := range names {
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := transcriptlog.Read(raw); got.Ending != transcriptlog.Open || got.Lines[len(got.Lines)-1].Kind != "abort" {
			t.Errorf("%s is %v: %s", name, got.Ending, got.Reason)
		}
	}
	var made []string
	for n := 1; n < 1000; n++ {
		made = append(made, recordName("2030-01-02-4711", n))
	}
	if !slices.IsSorted(made) || len(slices.Compact(made)) != 999 {
		t.Error("the names do not stand in the order of their making")
	}
}
