package transcriptlog

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// makeFolder makes a folder and those above it that are missing, for the owner
// alone, each entry on the disk before the next is made.
func makeFolder(dir string) error {
	above := filepath.Dir(dir)
	if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) || above == dir {
		return err
	}
	if err := makeFolder(above); err != nil {
		return err
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncFolder(above)
}

// replaceFile puts data under the name, whole or not at all: written to a
// file of another name, synced, renamed, and the folder synced.
func replaceFile(path string, data []byte, perm fs.FileMode) error {
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, filepath.Base(path)+".tmp-*")
	if err != nil {
		return err
	}
	err = errors.Join(f.Chmod(perm), writeSynced(f, data))
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return syncFolder(dir)
}

// createFile writes a file that must not exist yet.
func createFile(path string, data []byte, perm fs.FileMode) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return err
	}
	if err := writeSynced(f, data); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}

// writeSynced writes all, syncs and closes.
func writeSynced(f *os.File, data []byte) error {
	_, err := f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}
