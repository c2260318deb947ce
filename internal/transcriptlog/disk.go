package transcriptlog

import (
	"crypto/rand"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Disk is what a transcript asks of a file system. A test can hand in one that
// forgets what was not forced to it.
type Disk interface {
	OpenFile(name string, flag int, perm fs.FileMode) (File, error)
	Stat(name string) (fs.FileInfo, error)
	Mkdir(name string, perm fs.FileMode) error
	Rename(from, to string) error
	Remove(name string) error
	// SyncFolder forces the names in a folder to the disk.
	SyncFolder(name string) error
	// Lock takes the exclusive lock on a file or returns ErrLocked. It goes when
	// the file is closed or the program ends.
	Lock(f File) error
}

// File is a file of a Disk.
type File interface {
	file
	io.Reader
	io.Seeker
	Chmod(perm fs.FileMode) error
}

// System is the operating system's file system.
var System Disk = system{}

type system struct{}

func (system) OpenFile(name string, flag int, perm fs.FileMode) (File, error) {
	f, err := os.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return f, nil
}

func (system) Stat(name string) (fs.FileInfo, error)     { return os.Stat(name) }
func (system) Mkdir(name string, perm fs.FileMode) error { return os.Mkdir(name, perm) }
func (system) Rename(from, to string) error              { return os.Rename(from, to) }
func (system) Remove(name string) error                  { return os.Remove(name) }
func (system) SyncFolder(name string) error              { return syncFolder(name) }

// Lock tries for a moment: who asks whether a record is held has its lock so long.
func (system) Lock(f File) error {
	err := lock(f.(*os.File))
	for tries := 0; errors.Is(err, ErrLocked) && tries < 5; tries++ {
		time.Sleep(10 * time.Millisecond)
		err = lock(f.(*os.File))
	}
	return err
}

// Held tells whether somebody holds the lock on a transcript. One that cannot be
// asked counts as not held: this is for words, and keeps nobody out or in.
func Held(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	return errors.Is(lock(f), ErrLocked)
}

// makeFolder, replaceFile and createFile are for files that are no transcript.
func makeFolder(dir string) error { return makeFolderOn(System, dir) }

func replaceFile(path string, data []byte, perm fs.FileMode) error {
	return replaceOn(System, path, data, perm)
}

func createFile(path string, data []byte, perm fs.FileMode) error {
	return createOn(System, path, data, perm)
}

// makeFolderOn makes a folder and those above it that are missing, for the owner
// alone, each entry on the disk before the next is made.
func makeFolderOn(d Disk, dir string) error {
	above := filepath.Dir(dir)
	if _, err := d.Stat(dir); !errors.Is(err, fs.ErrNotExist) || above == dir {
		return err
	}
	if err := makeFolderOn(d, above); err != nil {
		return err
	}
	if err := d.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return d.SyncFolder(above)
}

// replaceOn puts data under the name, whole or not at all: written to a file of
// another name, synced, renamed, and the folder synced.
func replaceOn(d Disk, path string, data []byte, perm fs.FileMode) error {
	other := path + ".tmp-" + rand.Text()
	if err := createOn(d, other, data, perm); err != nil {
		return err
	}
	if err := d.Rename(other, path); err != nil {
		return errors.Join(err, d.Remove(other))
	}
	return d.SyncFolder(filepath.Dir(path))
}

// createOn writes a file that must not exist yet.
func createOn(d Disk, path string, data []byte, perm fs.FileMode) error {
	f, err := d.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return err
	}
	if err := errors.Join(f.Chmod(perm), writeSynced(f, data)); err != nil {
		return errors.Join(err, d.Remove(path))
	}
	return nil
}

// writeSynced writes all, syncs and closes.
func writeSynced(f File, data []byte) error {
	return errors.Join(put(f, data), f.Close())
}

// put writes all and syncs.
func put(f file, b []byte) error {
	n, err := f.Write(b)
	if err == nil && n != len(b) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return err
	}
	return f.Sync()
}
