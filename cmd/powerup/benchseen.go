package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/transcriptlog"
)

// sayBench tells whether the bench is as the newest record has it, so that only
// what has changed needs a look. Of a record that cannot be read nothing is said.
func sayBench(out io.Writer, s sources) {
	at, same, ok := benchSeen(dataDir(), s)
	switch {
	case !ok:
	case same:
		console.PrintRow(out, "Bench", "its file and meter sheets are as on "+at.Local().Format("2 Jan 2006"))
	default:
		console.PrintRow(out, "Bench", "its file or a meter sheet has changed since the record of "+at.Local().Format("2 Jan 2006")+": look at the list below")
	}
}

// benchSeen finds the newest real record in a folder: when it was begun, and
// whether its bench is that of s.
func benchSeen(dir string, s sources) (at time.Time, same, ok bool) {
	names, _ := filepath.Glob(filepath.Join(dir, "*.transcript")) // the pattern is well formed
	for _, name := range names {
		l, readable := firstLine(name)
		if readable && !l.Practice && l.Time.After(at) {
			at, same, ok = l.Time, benchIn(l.Fields, s), true
		}
	}
	return at, same, ok
}

// firstLine reads the first line of a record and no more of it.
func firstLine(path string) (transcriptlog.Line, bool) {
	f, err := os.Open(path)
	if err != nil {
		return transcriptlog.Line{}, false
	}
	defer f.Close()
	text, err := bufio.NewReader(io.LimitReader(f, transcriptlog.MaxLine+1)).ReadBytes('\n')
	if err != nil {
		return transcriptlog.Line{}, false
	}
	t := transcriptlog.Read(text)
	if len(t.Lines) != 1 {
		return transcriptlog.Line{}, false
	}
	return t.Lines[0], true
}

// benchIn tells whether a record's first line has the bench and the meters of s.
func benchIn(fields map[string]string, s sources) bool {
	_, more := fields[fmt.Sprint("meter ", len(s.meters)+1)]
	same := !more && fields["bench"] == string(s.bench.text)
	for n, m := range s.meters {
		same = same && fields[fmt.Sprint("meter ", n+1)] == string(m.text)
	}
	return same
}
