package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// plainFile reads a file, and one byte more than may be in it, which shows that it
// is too long. A pipe or a device, where reading may wait or go on for ever, is
// none; but the null device is an empty file.
func plainFile(path string, most int64) ([]byte, error) {
	if path == os.DevNull {
		return nil, nil
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, usage(fmt.Errorf("%s is no plain file", filepath.Base(path)))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}
