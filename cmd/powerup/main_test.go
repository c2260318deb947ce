package main

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// The test program is the program itself where the environment says so, on a
// bench clock: waits are jumped over, or last the pause that is given.
const (
	envProgram = "POWERUP_TEST_MAIN"
	envStart   = "POWERUP_TEST_START" // RFC 3339
	envPause   = "POWERUP_TEST_PAUSE" // how long a wait really lasts
)

func TestMain(m *testing.M) {
	if os.Getenv(envProgram) != "" {
		os.Exit(run(testWorld()))
	}
	os.Exit(m.Run())
}

func testWorld() world {
	start, err := time.Parse(time.RFC3339, os.Getenv(envStart))
	if err != nil {
		panic(err)
	}
	pause, err := time.ParseDuration(os.Getenv(envPause))
	if err != nil {
		panic(err)
	}
	return world{in: os.Stdin, out: os.Stdout, err: os.Stderr, args: os.Args[1:], clock: patient{newBenchClock(start), pause}}
}

// patient is a bench clock whose waits last a little, and can be broken off.
type patient struct {
	*benchClock
	pause time.Duration
}

func (c patient) wait(ctx context.Context, d time.Duration) error {
	if err := newWallClock().wait(ctx, min(d, c.pause)); err != nil {
		return err
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
	h.env = append(h.env, envProgram+"=1", envStart+"="+evening, envPause+"=0s", "LC_ALL=C.UTF-8", "TERM=xterm-256color", "HOME="+dir,
		"XDG_CONFIG_HOME="+dir+"/config", "XDG_DATA_HOME="+dir+"/data")
	h.env = append(h.env, more...)
	return h
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
