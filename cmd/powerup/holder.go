package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/transcriptlog"
)

// A record is held by the lock on the file itself, which ends with the program
// whatever becomes of it. The file beside it only tells who that is: it is asked
// for nothing else, so that one left by a crash shuts nobody out.
const claimEnding = ".lock"

// claim writes who holds the record from now on, and gives what takes it away
// again. Where it cannot be written, the lock holds all the same.
func (w world) claim(path string) (release func()) {
	host, _ := os.Hostname()
	mine := fmt.Sprintf("powerup %d %s %s\n", os.Getpid(), w.clock.now().Wall.UTC().Format(time.RFC3339), host)
	path += claimEnding
	old, err := os.ReadFile(path)
	if _, is := claimant(old); err == nil && !is || err != nil && !errors.Is(err, fs.ErrNotExist) {
		return func() {} // somebody's own file
	}
	if os.WriteFile(path, []byte(mine), 0o600) != nil {
		return func() {}
	}
	return func() {
		if now, err := os.ReadFile(path); err == nil && string(now) == mine {
			os.Remove(path)
		}
	}
}

// claimant words what a claim says.
func claimant(text []byte) (string, bool) {
	f := strings.Fields(string(text))
	if len(f) < 3 || len(text) > 500 || f[0] != "powerup" {
		return "", false
	}
	pid, err := strconv.Atoi(f[1])
	since, bad := time.Parse(time.RFC3339, f[2])
	if err != nil || bad != nil {
		return "", false
	}
	host := strings.Join(f[3:], " ")
	if host == "" {
		host = "a host without a name"
	}
	return fmt.Sprintf("process %d on %s, since %s", pid, console.Clean(host), since.Local().Format("2 Jan 2006 15:04 MST")), true
}

// inUse tells who has a record that another program holds.
func (w world) inUse(err error, path string) error {
	switch {
	case errors.Is(err, transcriptlog.ErrLocked):
	case errors.Is(err, fs.ErrExist) && transcriptlog.Held(path):
		err = fmt.Errorf("transcript %s: %w", path, transcriptlog.ErrLocked)
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%w\nhint: powerup resume %s goes on with a record; a new one has a name of its own", err, shell(path))
	default:
		return err
	}
	text, _ := os.ReadFile(path + claimEnding)
	who, ok := claimant(text)
	if !ok {
		who = "nobody has written down who it is"
	}
	return fmt.Errorf("%w\nhint: by %s\nhint: it is free when that program ends, however it ends", err, who)
}
