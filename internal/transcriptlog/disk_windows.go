package transcriptlog

import (
	"errors"
	"fmt"
	"os"

	"golang.org/x/sys/windows"
)

// Guarantees says what this system does for a line that Append has returned
// for. The Go library's Sync is FlushFileBuffers.
const Guarantees = "file forced to the disk, folder left to the system; lock by LockFileEx"

// lock takes the exclusive lock, which goes when f is closed or the program
// ends. It lies on one byte far beyond any possible end, because on Windows a
// locked byte cannot be read by others, and verify must be able to read.
func lock(f *os.File) error {
	beyond := &windows.Overlapped{OffsetHigh: 0x7fffffff}
	const how = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY
	err := windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, beyond)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return ErrLocked
	}
	if err != nil {
		return fmt.Errorf("cannot lock: %w", err)
	}
	return nil
}

// syncFolder does nothing: Windows has no call for it.
func syncFolder(string) error { return nil }
