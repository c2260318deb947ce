package main

import (
	"errors"
	"os"
	"path/filepath"
)

// writeNew puts a file under a name that is not taken, whole or not at all.
func writeNew(path string, text []byte, perm os.FileMode) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	return writeWhole(path, text, perm, os.Link) // unlike Rename, never over another file
}

// writeOver puts a text in the place of a file, whole or not at all, for whom the
// file was. A symbolic link stays one: the file that it names is written.
func writeOver(path string, text []byte) error {
	path, err := filepath.EvalSymlinks(path)
	if err != nil {
		return err
	}
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	return writeWhole(path, text, info.Mode().Perm(), os.Rename)
}

// writeWhole writes a file beside its place, and puts it there when it is on disk.
func writeWhole(path string, text []byte, perm os.FileMode, place func(from, to string) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".tmp-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(text)
	if err = errors.Join(err, f.Chmod(perm), f.Sync(), f.Close()); err != nil {
		return err
	}
	return place(f.Name(), path)
}
