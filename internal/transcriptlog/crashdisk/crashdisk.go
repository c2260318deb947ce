// Package crashdisk is a file system in memory that remembers the order of what
// was asked of it, so that a test can ask what a disk may hold after a loss of
// power at any point between two calls. It serves tests only.
package crashdisk

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// Disk is a transcriptlog.Disk. It may be used from several goroutines.
type Disk struct {
	// Fail, if set, is asked before each call that changes something: an error
	// of it is what the call returns. A write that fails is short: half of it is
	// done.
	Fail func(c Call) error

	mu    sync.Mutex
	names map[string]*node
	calls []Call
	start map[string]*node // the names before the first call
}

// Call is one call that changes something.
type Call struct {
	Op   string // "create", "write", "truncate", "sync", "mkdir", "rename", "remove", "folder"
	Name string // of the file or folder; of a rename the new one
	file *node
	from string
	data []byte // of a write
	size int64  // of a truncate
}

// node is a file or a folder.
type node struct {
	folder bool
	data   []byte
	synced []byte // what was there at the start of the disk: forced to it
	locked bool
	mode   fs.FileMode
}

// New is an empty disk with the root folder.
func New() *Disk { return with(map[string]*node{"/": {folder: true}}) }

func with(names map[string]*node) *Disk {
	d := &Disk{names: names, start: map[string]*node{}}
	for name, n := range names {
		d.start[name] = n
	}
	return d
}

// Calls is how many calls have changed something.
func (d *Disk) Calls() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.calls)
}

// Read gives the bytes of a file as a program sees them.
func (d *Disk) Read(name string) ([]byte, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	n, ok := d.names[filepath.ToSlash(name)]
	if !ok {
		return nil, missing("open", name)
	}
	return slices.Clone(n.data), nil
}

// did notes a call, or says that it fails.
func (d *Disk) did(c Call) error {
	if d.Fail != nil {
		if err := d.Fail(c); err != nil {
			return &fs.PathError{Op: c.Op, Path: c.Name, Err: err}
		}
	}
	d.calls = append(d.calls, c)
	return nil
}

func missing(op, name string) error {
	return &fs.PathError{Op: op, Path: name, Err: fs.ErrNotExist}
}

// OpenFile implements transcriptlog.Disk.
func (d *Disk) OpenFile(name string, flag int, perm fs.FileMode) (transcriptlog.File, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	name = filepath.ToSlash(name)
	n, ok := d.names[name]
	switch {
	case ok && flag&os.O_EXCL != 0:
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrExist}
	case !ok && flag&os.O_CREATE == 0 || !ok && d.names[filepath.ToSlash(filepath.Dir(name))] == nil:
		return nil, missing("open", name)
	case !ok:
		n = &node{mode: perm}
		if err := d.did(Call{Op: "create", Name: name, file: n}); err != nil {
			return nil, err
		}
		d.names[name] = n
	}
	return &file{disk: d, node: n, name: name}, nil
}

// Stat implements transcriptlog.Disk.
func (d *Disk) Stat(name string) (fs.FileInfo, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	n, ok := d.names[filepath.ToSlash(name)]
	if !ok {
		return nil, missing("stat", name)
	}
	return info{n, filepath.Base(name)}, nil
}

// Mkdir implements transcriptlog.Disk.
func (d *Disk) Mkdir(name string, _ fs.FileMode) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	name = filepath.ToSlash(name)
	n := &node{folder: true}
	if err := d.did(Call{Op: "mkdir", Name: name, file: n}); err != nil {
		return err
	}
	d.names[name] = n
	return nil
}

// Rename implements transcriptlog.Disk.
func (d *Disk) Rename(from, to string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	from, to = filepath.ToSlash(from), filepath.ToSlash(to)
	n, ok := d.names[from]
	if !ok {
		return missing("rename", from)
	}
	if err := d.did(Call{Op: "rename", Name: to, from: from, file: n}); err != nil {
		return err
	}
	delete(d.names, from)
	d.names[to] = n
	return nil
}

// Remove implements transcriptlog.Disk.
func (d *Disk) Remove(name string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	name = filepath.ToSlash(name)
	if _, ok := d.names[name]; !ok {
		return missing("remove", name)
	}
	if err := d.did(Call{Op: "remove", Name: name}); err != nil {
		return err
	}
	delete(d.names, name)
	return nil
}

// SyncFolder implements transcriptlog.Disk.
func (d *Disk) SyncFolder(name string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.did(Call{Op: "folder", Name: filepath.ToSlash(name)})
}

// Lock implements transcriptlog.Disk.
func (d *Disk) Lock(f transcriptlog.File) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	h := f.(*file)
	if h.node.locked {
		return transcriptlog.ErrLocked
	}
	h.node.locked, h.locks = true, true
	return nil
}

// file is one opening of a file.
type file struct {
	disk  *Disk
	node  *node
	name  string
	at    int
	locks bool
}

func (f *file) Read(b []byte) (int, error) {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	if f.at >= len(f.node.data) {
		return 0, io.EOF
	}
	n := copy(b, f.node.data[f.at:])
	f.at += n
	return n, nil
}

// Write takes bytes at the end of the file and nowhere else.
func (f *file) Write(b []byte) (int, error) {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	if f.at != len(f.node.data) {
		panic("written before the end of " + f.name)
	}
	failed := f.disk.did(Call{Op: "write", Name: f.name, file: f.node, data: slices.Clone(b)})
	if failed != nil {
		b = b[:len(b)/2]
		f.disk.calls = append(f.disk.calls, Call{Op: "write", Name: f.name, file: f.node, data: slices.Clone(b)})
	}
	f.node.data = append(f.node.data, b...)
	f.at += len(b)
	return len(b), failed
}

func (f *file) Seek(offset int64, whence int) (int64, error) {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	if offset != 0 || whence != io.SeekEnd {
		panic("only the end is looked for")
	}
	f.at = len(f.node.data)
	return int64(f.at), nil
}

func (f *file) Truncate(size int64) error {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	if err := f.disk.did(Call{Op: "truncate", Name: f.name, file: f.node, size: size}); err != nil {
		return err
	}
	f.node.data = f.node.data[:size:size]
	return nil
}

func (f *file) Sync() error {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	return f.disk.did(Call{Op: "sync", Name: f.name, file: f.node})
}

func (f *file) Chmod(perm fs.FileMode) error {
	f.node.mode = perm
	return nil
}

func (f *file) Close() error {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	if f.locks {
		f.node.locked, f.locks = false, false
	}
	return nil
}

// info is what Stat tells.
type info struct {
	node *node
	name string
}

func (i info) Name() string       { return i.name }
func (i info) Size() int64        { return int64(len(i.node.data)) }
func (i info) Mode() fs.FileMode  { return i.node.mode }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return i.node.folder }
func (i info) Sys() any           { return nil }

// Holding is a disk with one file, forced to it.
func Holding(name string, b []byte) *Disk {
	names := map[string]*node{filepath.ToSlash(name): {data: slices.Clone(b), synced: slices.Clone(b), mode: 0o600}}
	for dir := filepath.ToSlash(filepath.Dir(name)); ; dir = filepath.ToSlash(filepath.Dir(dir)) {
		names[dir] = &node{folder: true}
		if dir == filepath.ToSlash(filepath.Dir(dir)) {
			return with(names)
		}
	}
}
