package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"example.com/powerup/internal/transcriptlog"
)

// TestScripts runs the program as users do: one file, one promise. In a script
// `powerup CODE ARGS...` runs it and demands the exit code.
func TestCommandLine(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		UpdateScripts:       *update,
		Setup: func(e *testscript.Env) error {
			home := filepath.Join(e.WorkDir, "home")
			e.Setenv("HOME", home)
			e.Setenv("XDG_CONFIG_HOME", filepath.Join(home, "config"))
			e.Setenv("XDG_DATA_HOME", filepath.Join(home, "data"))
			e.Setenv(envProgram, "1")
			e.Setenv(envStart, evening)
			for name, dir := range map[string]string{"ANSWERS": "../../testdata/answers"} {
				abs, err := filepath.Abs(dir)
				if err != nil {
					return err
				}
				e.Setenv(name, abs)
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"powerup": runProgram, "keygen": runKeygen, "rechain": runRechain, "signpractice": runSignPractice},
	})
}

// runRechain is `rechain FILE NEW KIND.FIELD=VALUE...`: a practice record with
// fields of the first line of a kind changed, its chain whole again, not signed.
// Values are spelt as between the quotes of Go.
func runRechain(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("rechain FILE NEW KIND.FIELD=VALUE...")
	}
	raw, err := os.ReadFile(ts.MkAbs(args[0]))
	ts.Check(err)
	lines := cloned(transcriptlog.Read(raw).Lines)
	for _, change := range args[2:] {
		at, value, _ := strings.Cut(change, "=")
		kind, field, ok := strings.Cut(at, ".")
		first := slices.IndexFunc(lines, func(l transcriptlog.Line) bool { return l.Kind == kind })
		value, err := strconv.Unquote(`"` + value + `"`)
		ts.Check(err)
		if !ok || first < 0 || lines[first].Fields[field] == value {
			ts.Fatalf("%s changes nothing", change)
		}
		lines[first].Fields[field] = value
	}
	ts.Check(writeChain(ts.MkAbs(args[1]), true, lines))
}

// runSignPractice is `signpractice FILE`: a closed practice record, signed by the
// practice key of this script's user.
func runSignPractice(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("signpractice FILE")
	}
	pem, err := os.ReadFile(filepath.Join(ts.Getenv("XDG_CONFIG_HOME"), "powerup", "practice_key"))
	ts.Check(err)
	key, err := transcriptlog.LoadSigner(pem, nil)
	ts.Check(err)
	_, err = transcriptlog.SignFile(ts.MkAbs(args[0]), transcriptlog.NamespacePractice, key)
	ts.Check(err)
}

// runProgram is `powerup CODE ARGS...`.
func runProgram(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("powerup CODE ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	self, err := os.Executable()
	ts.Check(err)
	if got := code(ts.Exec(self, args[1:]...)); got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// runKeygen is `keygen ARGS...` on the real ssh-keygen, with the file that is
// verified as its standard input.
func runKeygen(ts *testscript.TestScript, neg bool, args []string) {
	if _, err := exec.LookPath("ssh-keygen"); err != nil {
		if os.Getenv("POWERUP_TEST_NOSKIP") != "" {
			ts.Fatalf("ssh-keygen is missing")
		}
		return
	}
	got := code(ts.Exec("ssh-keygen", args...))
	if (got == 0) == neg {
		ts.Fatalf("ssh-keygen ended %d", got)
	}
}

func code(err error) int {
	var exit *exec.ExitError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &exit):
		return exit.ExitCode()
	}
	return -1
}
