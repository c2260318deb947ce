package transcriptlog

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// keepAside copies a torn tail to the first free FILE.torn-N. If there is no
// torn tail, or a crash came between the copy and the line that should tell of
// it, the copy that is there already is the answer; nil if there is nothing.
func keepAside(d Disk, path string, tail []byte, lines []Line) (name string, torn []byte, err error) {
	told := map[string]bool{}
	for _, l := range lines {
		if l.Kind == KindRecovered {
			told[l.Fields[fieldTornFile]] = true
		}
	}
	for n := 1; ; n++ {
		name = fmt.Sprintf("%s.torn-%d", path, n)
		kept, err := readFrom(d, name)
		switch {
		case errors.Is(err, fs.ErrNotExist) && len(tail) == 0:
			return "", nil, nil
		case errors.Is(err, fs.ErrNotExist):
			return name, bytes.Clone(tail), replaceOn(d, name, tail, 0o600)
		case err != nil:
			return "", nil, err
		case told[filepath.Base(name)]:
		case len(tail) == 0 || bytes.Equal(kept, tail):
			return name, kept, d.SyncFolder(filepath.Dir(name))
		}
	}
}

func readFrom(d Disk, name string) ([]byte, error) {
	f, err := d.OpenFile(name, os.O_RDONLY, 0)
	if err != nil {
		return nil, err
	}
	b, err := readAll(f)
	return b, errors.Join(err, f.Close())
}
