package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/spec"
)

// The test program is the program itself where the environment says so, on a
// bench clock: waits are jumped over, but for those of one length.
const (
	envProgram = "POWERUP_TEST_MAIN"
	envStart   = "POWERUP_TEST_START" // RFC 3339
	envPause   = "POWERUP_TEST_PAUSE" // "60s 1h": waits of 60 s last 1 h
	envSigning = "POWERUP_TEST_SIGN"  // how long an agent may take to sign
	envCode    = "POWERUP_TEST_CODE"  // where the exit code is written too
)

func TestMain(m *testing.M) {
	if os.Getenv(envProgram) != "" {
		code := run(testWorld())
		if path := os.Getenv(envCode); path != "" {
			if err := os.WriteFile(path, []byte(strconv.Itoa(code)), 0o600); err != nil {
				panic(err)
			}
		}
		os.Exit(code)
	}
	os.Exit(m.Run())
}

func testWorld() world {
	start, err := time.Parse(time.RFC3339, os.Getenv(envStart))
	if err != nil {
		panic(err)
	}
	c := patient{benchClock: newBenchClock(start)}
	if which, last, ok := strings.Cut(os.Getenv(envPause), " "); ok {
		c.which, c.last = duration(which), duration(last)
	}
	w := world{in: os.Stdin, out: os.Stdout, err: os.Stderr, args: os.Args[1:], clock: c}
	if text := os.Getenv(envSigning); text != "" {
		w.signing = duration(text)
	}
	return w
}

func duration(text string) time.Duration {
	d, err := time.ParseDuration(text)
	if err != nil {
		panic(err)
	}
	return d
}

// patient is a bench clock with waits that can be broken off.
type patient struct {
	*benchClock
	which, last time.Duration
}

func (c patient) wait(ctx context.Context, d time.Duration) error {
	if d == c.which {
		if err := newWallClock().wait(ctx, c.last); err != nil {
			return err
		}
	}
	return c.benchClock.wait(ctx, d)
}

// evening is when the sessions of these tests begin.
const evening = "2030-01-02T18:00:00Z"

// home is a user's folders, empty, and the environment of a program that is
// started there.
type home struct {
	dir string
	env []string
}

func newHome(t *testing.T, more ...string) home {
	t.Helper()
	dir, err := os.MkdirTemp("", "pu")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	h := home{dir: dir}
	for _, kv := range os.Environ() {
		switch name, _, _ := strings.Cut(kv, "="); name {
		case "SSH_AUTH_SOCK", "TMUX", "NO_COLOR", "TERM", "LC_ALL":
		default:
			h.env = append(h.env, kv)
		}
	}
	h.env = append(h.env, envProgram+"=1", envStart+"="+evening, "LC_ALL=C.UTF-8", "TERM=xterm-256color", "HOME="+dir,
		"XDG_CONFIG_HOME="+dir+"/config", "XDG_DATA_HOME="+dir+"/data")
	h.env = append(h.env, more...)
	return h
}

// record is where the first session of the evening is recorded.
func (h home) record() string {
	return filepath.Join(h.dir, "data", "powerup", "2030-01-02-4711.transcript")
}

// program is the program as a child without a terminal.
func (h home) program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self, args...)
	c.Dir, c.Env = h.dir, h.env
	return c
}

// needs skips a test where an outside program is missing, or fails it where
// nothing may be skipped.
func needs(t *testing.T, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err == nil {
		return
	}
	if os.Getenv("POWERUP_TEST_NOSKIP") != "" {
		t.Fatalf("%s is not here, and nothing may be skipped", program)
	}
	t.Skipf("%s is not here", program)
}

// healthyLines are what is typed in a healthy session with two meters.
func healthyLines(t *testing.T) []spec.AnswerLine {
	t.Helper()
	const file = "../../testdata/answers/two-meters.yaml"
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	a, err := spec.LoadAnswers(file, text)
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Lines {
		a.Lines[i].Say = strings.ReplaceAll(a.Lines[i].Say, "{label}", "2030-01-02-4711")
	}
	return a.Lines
}

const liveAndCharged = "TREAT AS LIVE AND CHARGED"
