//go:build darwin || dragonfly || freebsd || netbsd || openbsd

package main

import "golang.org/x/sys/unix"

// fread is FREAD of <sys/fcntl.h>: the input queue.
const fread = 1

func flushInput(fd uintptr) error { return unix.IoctlSetPointerInt(int(fd), unix.TIOCFLUSH, fread) }
