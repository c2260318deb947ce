package main

import (
	"strings"
	"testing"

	"example.com/powerup/internal/transcriptlog"
)

// An alteration told after a stop mends nothing: a record that ends there left
// the set stopped.
func TestAlterationDoesNotHideAStop(t *testing.T) {
	t.Parallel()
	line := func(kind, check string) transcriptlog.Line {
		var l transcriptlog.Line
		l.Kind, l.Fields = kind, map[string]string{"check": check}
		return l
	}
	for last, stopped := range map[string]bool{"altered": true, "told": true, "repair": false} {
		f := finding{record: transcriptlog.Transcript{
			Ending: transcriptlog.Open,
			Lines:  []transcriptlog.Line{line("open", ""), line("stop", "output-grid"), line(last, "")},
		}}
		if got := strings.Contains(f.result(), "STOPPED at output-grid"); got != stopped {
			t.Errorf("after %s: %q", last, f.result())
		}
	}
}
