package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"example.com/powerup/internal/transcriptlog"
)

// create makes the record: the file that was named, or the first free one of the
// label's in the data folder. That it is free is known when it is made and not
// before, for two sessions may begin in one moment.
func (j *job) create(w world) (*transcriptlog.Log, error) {
	if j.path != "" {
		log, err := transcriptlog.CreateOn(w.files(), j.path, j.practice)
		return log, w.inUse(err, j.path)
	}
	for n := 1; n < 1000; n++ {
		j.path = filepath.Join(dataDir(), recordName(j.label, n))
		log, err := transcriptlog.CreateOn(w.files(), j.path, j.practice)
		if !errors.Is(err, fs.ErrExist) {
			return log, err
		}
	}
	return nil, fmt.Errorf("a thousand records of %s are there already\nhint: -o FILE", j.label)
}

// untaken tells early that a record's name is taken: before a passphrase is typed.
// Create has the last word.
func (w world) untaken(path string) error {
	if _, err := os.Lstat(path); path == "" || err != nil {
		return nil
	}
	return w.inUse(fmt.Errorf("transcript %s: %w", path, fs.ErrExist), path)
}

// recordName is the n-th name of a label; sorted by their bytes, the names of a
// label stand in the order of their making.
func recordName(label string, n int) string {
	if n > 1 {
		label += fmt.Sprintf("_%03d", n)
	}
	return label + recordEnding
}
