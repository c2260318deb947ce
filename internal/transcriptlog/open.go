package transcriptlog

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
)

// Create makes a new, empty transcript, never over another file, readable by
// its owner alone, with its folder made if it must be; takes the exclusive lock;
// and has the folder on the disk before it returns. Errors: fs.ErrExist,
// ErrLocked, ErrDurability, or the system's.
func Create(path string, practice bool) (*Log, error) { return CreateOn(System, path, practice) }

// CreateOn does that on a disk of the caller's.
func CreateOn(d Disk, path string, practice bool) (*Log, error) {
	dir := filepath.Dir(path)
	if err := makeFolderOn(d, dir); err != nil {
		return nil, fmt.Errorf("transcript %s: %w", path, err)
	}
	f, err := d.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("transcript: %w", err)
	}
	if err := d.Lock(f); err != nil {
		f.Close()
		return nil, fmt.Errorf("transcript %s: %w", path, err)
	}
	if err := d.SyncFolder(dir); err != nil {
		f.Close()
		return nil, fmt.Errorf("transcript %s: %w: %w", path, ErrDurability, err)
	}
	return &Log{f: f, practice: practice}, nil
}

// Recovered is what Resume found: the lines, and a torn tail if there is one
// that no line tells of yet, with the file in which it is kept.
type Recovered struct {
	Lines    []Line
	Torn     []byte
	TornPath string
}

// Fields of a line of kind recovered.
const (
	fieldTornFile  = "torn_file"
	fieldTornBytes = "torn_bytes"
	fieldTornSum   = "torn_sha256"
)

// Record is the record that must be appended first after Resume found a torn
// tail (Torn is not nil); fields may be added to it.
func (r Recovered) Record() Record {
	sum := sha256.Sum256(r.Torn)
	return Record{Kind: KindRecovered, Fields: map[string]string{
		fieldTornFile:  filepath.Base(r.TornPath),
		fieldTornBytes: strconv.Itoa(len(r.Torn)),
		fieldTornSum:   hex.EncodeToString(sum[:]),
	}}
}

// Resume opens a transcript that was not closed, to go on with it. It takes the
// lock and reads every line; a torn tail is kept aside in a file beside it,
// durably, before it is cut off. Errors: ErrLocked, ErrBroken, ErrClosed,
// ErrDurability, or the system's.
func Resume(path string) (*Log, Recovered, error) { return ResumeOn(System, path) }

// ResumeOn does that on a disk of the caller's.
func ResumeOn(d Disk, path string) (*Log, Recovered, error) {
	f, err := d.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return nil, Recovered{}, fmt.Errorf("transcript: %w", err)
	}
	l, found, err := resume(d, f, path)
	if err != nil {
		f.Close()
		return nil, Recovered{}, fmt.Errorf("transcript %s: %w", path, err)
	}
	return l, found, nil
}

func resume(d Disk, f File, path string) (*Log, Recovered, error) {
	if err := d.Lock(f); err != nil {
		return nil, Recovered{}, err
	}
	b, err := readAll(f)
	if err != nil {
		return nil, Recovered{}, err
	}
	t, head := read(b)
	switch t.Ending {
	case Broken:
		return nil, Recovered{}, fmt.Errorf("%w: line %d: %s", ErrBroken, t.BadLine, t.Reason)
	case Complete:
		return nil, Recovered{}, ErrClosed
	}
	found := Recovered{Lines: t.Lines}
	if found.TornPath, found.Torn, err = keepAside(d, path, b[head.size:], t.Lines); err != nil {
		return nil, Recovered{}, err
	}
	if err := cut(f, int64(head.size)); err != nil {
		return nil, Recovered{}, err
	}
	if _, err := f.Seek(0, io.SeekEnd); err != nil {
		return nil, Recovered{}, err
	}
	l := &Log{f: f, practice: t.Lines[0].Practice, head: head}
	if found.Torn != nil {
		owed := found.Record()
		l.owed = &owed
	}
	return l, found, nil
}

// cut ends the file after its whole lines and puts what is left on the disk,
// for the program before may have died between its write and its sync.
func cut(f file, size int64) error {
	err := f.Truncate(size)
	if err == nil {
		err = f.Sync()
	}
	if err != nil {
		return fmt.Errorf("%w: %w", ErrDurability, err)
	}
	return nil
}

// readAll reads a file of at most MaxFile bytes; of a larger one enough for
// Read to refuse it.
func readAll(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(r, MaxFile+1))
}
