package main

import "golang.org/x/sys/windows"

func flushInput(fd uintptr) error { return windows.FlushConsoleInputBuffer(windows.Handle(fd)) }
