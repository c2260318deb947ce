package record

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// A clock that was set back by more than it is put right by is told of, whatever
// passed between two lines; a sleep, a resume and a zone are not.
func TestAClockThatWasSetBackIsToldOf(t *testing.T) {
	t.Parallel()
	type at struct{ wall, mono time.Duration }
	for _, c := range []struct {
		reason string
		lines  []at
		told   string // empty: nothing
	}{
		{"both go on", []at{{0, 0}, {time.Minute, time.Minute}}, ""},
		{"put right by 2 minutes", []at{{0, 0}, {-2 * time.Minute, 0}}, ""},
		{"3 minutes back", []at{{0, 0}, {-3 * time.Minute, 0}}, "by 3 minutes"},
		{"10 minutes back, and 9 have passed", []at{{0, 0}, {-time.Minute, 9 * time.Minute}}, "by 10 minutes"},
		{"back, and forward again", []at{{0, 0}, {-time.Hour, time.Second}, {time.Second, 2 * time.Second}}, "by 60 minutes"},
		{"slept for a night", []at{{0, 0}, {8 * time.Hour, time.Second}}, ""},
		{"resumed by another program", []at{{time.Hour, time.Hour}, {2 * time.Hour, time.Second}}, ""},
		{"resumed by one that waited longer than the first had run", []at{{0, time.Second}, {time.Hour, 50 * time.Minute}}, ""},
		{"resumed before it was parked", []at{{time.Hour, time.Hour}, {0, 0}}, "by 60 minutes"},
	} {
		tr := transcript(transcriptlog.Open)
		tr.Lines = tr.Lines[:1]
		for _, a := range c.lines {
			tr.Lines = append(tr.Lines, transcriptlog.Line{Kind: "entry", Time: evening.Add(time.Minute + a.wall), Mono: time.Minute + a.mono})
		}
		got := Of(tr).Cautions(false)
		n := slices.IndexFunc(got, func(s string) bool { return strings.Contains(s, "set back") })
		if (n >= 0) != (c.told != "") || n >= 0 && !strings.Contains(got[n], c.told) {
			t.Errorf("%s: %q", c.reason, got)
		}
	}
}
