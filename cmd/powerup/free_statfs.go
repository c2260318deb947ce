//go:build darwin || dragonfly || freebsd || linux

package main

import (
	"errors"

	"golang.org/x/sys/unix"
)

// freeBytes is what this user may still write where the folder is.
func freeBytes(dir string) (uint64, error) {
	var s unix.Statfs_t
	err := unix.Statfs(dir, &s)
	for errors.Is(err, unix.EINTR) {
		err = unix.Statfs(dir, &s)
	}
	return uint64(max(s.Bavail, 0)) * uint64(s.Bsize), err
}
