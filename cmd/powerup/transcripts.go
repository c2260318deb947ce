package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/record"
	"example.com/powerup/internal/transcriptlog"
)

// kept is a record in the data folder, as far as it can be read.
type kept struct {
	file, how string
	facts     record.Facts
	from      time.Time // when it was begun; of one that does not tell, when it was last written
}

// listTranscripts prints one line a record in the data folder, the newest last.
// It looks at no signature: that is for verify.
func listTranscripts(w world, out io.Writer) error {
	dir := dataDir()
	files, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	var all []kept
	for _, file := range files {
		if path := filepath.Join(dir, file.Name()); isRecord(path) {
			all = append(all, keptAt(path))
		}
	}
	if len(all) == 0 {
		fmt.Fprintf(out, "no record in %s\n", dir)
		return nil
	}
	slices.SortFunc(all, func(a, b kept) int { return cmp.Or(a.from.Compare(b.from), cmp.Compare(a.file, b.file)) })
	printKept(out, all, w.clock.now().Wall.Location())
	fmt.Fprintf(out, "\n%s in %s\n", counted(len(all), "record"), dir)
	return nil
}

func keptAt(path string) kept {
	k := kept{file: filepath.Base(path), how: "unread"}
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return k
	}
	k.from = info.ModTime()
	raw, err := readRecord(path)
	if err != nil {
		return k
	}
	t := transcriptlog.Read(raw)
	k.facts = record.Of(t)
	if !k.facts.Begun.IsZero() {
		k.from = k.facts.Begun
	}
	switch {
	case transcriptlog.Held(path):
		k.how = "in use"
	case t.Ending == transcriptlog.Broken:
		k.how = t.Ending.String()
	default:
		k.how = k.facts.Word()
	}
	return k
}

func printKept(out io.Writer, all []kept, zone *time.Location) {
	row := func(file, set, mark, begun, how string) {
		const room = 31
		if len(file) > room { // a name is wanted whole
			fmt.Fprintln(out, strings.TrimRight(console.Cell(file, 80), " "))
			file = ""
		}
		fmt.Fprintln(out, strings.TrimRight(fmt.Sprintf("%s %s %s %s %s", console.Cell(file, room), console.Cell(set, 11),
			console.Cell(mark, 7), console.Cell(begun, 16), console.Cell(how, 11)), " "))
	}
	row("File", "Set", "Mark", "Begun", "Ended")
	practice := false
	for _, k := range all {
		begun, how := "not known", k.how
		if !k.facts.Begun.IsZero() {
			begun = k.facts.Begun.In(zone).Format("2006-01-02 15:04")
		}
		if k.facts.Practice {
			how, practice = how+"*", true
		}
		row(k.file, cmp.Or(k.facts.Name, "-"), cmp.Or(k.facts.Mark, "-"), begun, how)
	}
	if practice {
		fmt.Fprintln(out, "\n* "+record.Practice)
	}
}
