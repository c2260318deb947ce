//go:build linux

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// strace runs the program with a fault that the system's calls give, and tells
// its exit code, its screen and the calls.
func (h home) strace(t *testing.T, typed string, options []string, args ...string) (exit int, screen, calls string) {
	t.Helper()
	log := filepath.Join(t.TempDir(), "calls")
	p := h.program(t, args...)
	c := exec.Command("strace", slices.Concat([]string{"-f", "-qq", "-e", "signal=none", "-o", log}, options, p.Args)...)
	c.Dir, c.Env, c.Stdin = p.Dir, p.Env, strings.NewReader(typed)
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	exit = code(c.Run())
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	return exit, out.String(), string(text)
}

// needsTrace skips a test where no program may be traced; where one may, strace
// is needed.
func needsTrace(t *testing.T) {
	t.Helper()
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	c := exec.Command("true")
	c.SysProcAttr = &syscall.SysProcAttr{Ptrace: true}
	if err := c.Start(); err != nil {
		t.Skipf("no program may be traced here: %v", err)
	}
	_ = c.Process.Kill()
	_ = c.Wait()
	needs(t, "strace")
}

// The system's own errors, one call of a session: exit 6, the record untouched
// after it, and the caution last.
func TestOneFailedCallOfTheSystem(t *testing.T) {
	t.Parallel()
	needsTrace(t)
	typed := typing(t)
	for _, c := range []struct {
		call, fault string
		exit        int
		last        string // of the screen
	}{
		{"write", "error=EIO:when=5", 6, lastWords},
		{"write", "error=ENOSPC:when=9", 6, lastWords},
		{"write", "error=EDQUOT:when=1", 6, lastWords},
		{"fsync", "error=EIO:when=4", 6, lastWords},
		{"fsync", "error=ENOSPC:when=1", 6, lastWords},
		{"openat", "error=EIO:when=1", 1, ""},
		{"openat", "error=ENOSPC:when=1", 1, ""},
		{"flock", "error=ENOLCK:when=1", 1, ""},
	} {
		t.Run(c.call+" "+c.fault, func(t *testing.T) {
			h := newHome(t)
			path := filepath.Join(h.dir, "x.transcript")
			exit, screen, calls := h.strace(t, typed, []string{"-P", path, "-e", "trace=write,fsync,openat,flock,ftruncate", "-e", "inject=" + c.call + ":" + c.fault},
				"run", "table-radio", "--bench", "two-meters", "-o", path)
			_, after, ok := strings.Cut(calls, "(INJECTED)")
			if !ok {
				t.Fatalf("nothing was injected:\n%s", calls)
			}
			if exit != c.exit || !strings.HasSuffix(strings.TrimRight(screen, "\n"), c.last) {
				t.Errorf("exit %d, want %d; the screen ends\n%s", exit, c.exit, tail(screen))
			}
			if regexp.MustCompile(`(write|fsync|ftruncate)\(`).MatchString(after) {
				t.Errorf("after the failure:\n%s", after)
			}
			said := sinceTyped(screen, len(screen))
			if judged.MatchString(said) {
				t.Errorf("a verdict was shown:\n%s", said)
			}
			h.keeps(t, path, screen)
		})
	}
}

// keeps tells whether the record holds what the screen has shown, and is gone on
// with.
func (h home) keeps(t *testing.T, path, screen string) {
	t.Helper()
	raw, _ := os.ReadFile(path)
	entries := bytes.Count(raw, []byte(`"kind":"entry"`))
	if typed := strings.Count("\n"+screen, "\n> "); entries < typed-1 {
		t.Errorf("%d lines were typed, %d are in the record", typed, entries)
	}
	if len(raw) == 0 {
		return
	}
	c := h.program(t, "resume", path)
	c.Stdin = strings.NewReader("same\n")
	if out, err := c.CombinedOutput(); code(err) != 130 || !strings.Contains(string(out), liveAndCharged) {
		t.Errorf("resumed with exit %d\n%s", code(err), out)
	}
}

// A call that a signal breaks off is made again, and changes nothing.
func TestACallBrokenOffByASignalIsMadeAgain(t *testing.T) {
	t.Parallel()
	needsTrace(t)
	typed := typing(t)
	h := newHome(t)
	var want []byte
	for _, call := range []string{"", "write", "fsync", "openat", "flock"} {
		path := filepath.Join(h.dir, "x"+call+".transcript")
		options := []string{"-P", path, "-e", "trace=write,fsync,openat,flock"}
		if call != "" {
			options = append(options, "-e", "inject="+call+":error=EINTR:when=1+3")
		}
		exit, screen, calls := h.strace(t, typed, options, "run", "table-radio", "--bench", "two-meters", "-o", path)
		got, err := os.ReadFile(path)
		if err != nil || exit != errAborted.code {
			t.Fatalf("%s: exit %d, %v\n%s", call, exit, err, tail(screen))
		}
		if call == "" {
			want = got
		} else if !strings.Contains(calls, "EINTR (Interrupted system call) (INJECTED)") {
			t.Errorf("%s: nothing was injected", call)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s: the record differs", call)
		}
	}
}

// A rename that fails: a torn tail is then not cut, and a closed record is left
// unsigned, which is said.
func TestARenameThatFails(t *testing.T) {
	t.Parallel()
	needsTrace(t)
	h := newHome(t)
	path := filepath.Join(h.dir, "x.transcript")
	fault := []string{"-e", "trace=rename,renameat,renameat2", "-e", "inject=rename,renameat,renameat2:error=EIO"}
	answers, err := filepath.Abs("../../testdata/answers/two-meters.yaml")
	if err != nil {
		t.Fatal(err)
	}
	keyed := h.program(t, "run", "table-radio", "--bench", "two-meters") // makes the practice key
	if out, err := keyed.CombinedOutput(); code(err) != errAborted.code {
		t.Fatalf("exit %d\n%s", code(err), out)
	}
	exit, screen, _ := h.strace(t, "", fault, "run", "table-radio", "--bench", "two-meters", "--answers", answers, "-o", path)
	if exit != 1 || !strings.Contains(screen, "not signed yet: powerup key sign") {
		t.Errorf("exit %d\n%s", exit, tail(screen))
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	torn := raw[:len(raw)-40]
	if err := os.WriteFile(path, torn, 0o600); err != nil {
		t.Fatal(err)
	}
	exit, screen, _ = h.strace(t, "same\n", fault, "resume", path)
	if got, _ := os.ReadFile(path); exit != 1 || !strings.Contains(screen, "input/output error") || !bytes.Equal(got, torn) {
		t.Errorf("exit %d, the torn record has %d bytes of %d\n%s", exit, len(got), len(torn), tail(screen))
	}
	for _, name := range []string{"*.tmp-*", "*.sig"} {
		if left, _ := filepath.Glob(filepath.Join(h.dir, name)); len(left) > 0 {
			t.Errorf("left behind: %q", left)
		}
	}
}
