//go:build unix

package transcriptlog

import (
	"errors"
	"fmt"
	"os"

	"golang.org/x/sys/unix"
)

// Guarantees says what this system does for a line that Append has returned
// for. The Go library's Sync is fsync, and F_FULLFSYNC on macOS.
const Guarantees = "file and folder forced to the disk; lock by flock"

// lock takes the exclusive lock, which goes when f is closed or the program ends.
func lock(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	for errors.Is(err, unix.EINTR) {
		err = unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	}
	if errors.Is(err, unix.EWOULDBLOCK) {
		return ErrLocked
	}
	if err != nil {
		return fmt.Errorf("cannot lock: %w", err)
	}
	return nil
}

// syncFolder forces the names in a folder to the disk.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
