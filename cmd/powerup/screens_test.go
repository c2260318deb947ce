//go:build unix

package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// The screens that a person sees in a terminal of 80 by 24, from the first to the
// last line, kept to the letter under testdata/screens; -update writes them anew.
// Look at each of them then: somebody will stand before it at a live bench.
func TestScreensAreKeptToTheLetter(t *testing.T) {
	for name, play := range map[string]func(*testing.T, home) *pane{
		"describe": describedByLines, "first-session": firstSession, "stop-and-repair": stopAndRepair, "next-morning": theNextMorning,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := homeOfOneLength(t)
			p := play(t, h)
			for _, line := range tooWide([]byte(p.history()), h.dir) {
				t.Errorf("more than %d columns: %s", columns, line)
			}
			keptText(t, filepath.Join("testdata/screens", name+".txt"), h.neutral(p.history()))
		})
	}
}

// homeOfOneLength is a home whose folder's name is as long each time, for lines
// are broken by it.
func homeOfOneLength(t *testing.T) home {
	t.Helper()
	if os.TempDir() != "/tmp" {
		t.Skipf("lines are broken as in /tmp, and this is %s", os.TempDir())
	}
	const length = len(anywhere)
	for range 1000 {
		if h := newHome(t); len(h.dir) == length {
			return h
		}
	}
	t.Fatalf("no folder's name is %d long", length)
	return home{}
}

// anywhere stands for the folder of a home, and is as long as those of homeOfOneLength.
const anywhere = "/home/anna/sunday"

var fingerprint = regexp.MustCompile(`SHA256:[A-Za-z0-9+/]{43}`)

// neutral leaves out what differs by machine and key.
func (h home) neutral(text string) string {
	text = fingerprint.ReplaceAllString(strings.ReplaceAll(text, h.dir, anywhere), "SHA256:KEY")
	var rows []string
	for row := range strings.SplitSeq(strings.TrimRight(text, "\n "), "\n") {
		if !strings.HasPrefix(row, "Pane is dead") { // tmux says so, with the hour
			rows = append(rows, strings.TrimRight(row, " "))
		}
	}
	return strings.Join(rows, "\n") + "\n"
}

// describedByLines makes a sheet with a slip, a question, a step back and what is
// not printed.
func describedByLines(t *testing.T, h home) *pane {
	p := newPane(t, h, "describe", "--plain")
	for _, line := range serviceSheet[:3] {
		p.say(line)
	}
	for _, line := range []string{"?", "EZ8O", "back", "52 W", "EZ80", "275-0-275 open", "-"} {
		p.say(line)
	}
	for _, line := range serviceSheet[6:] {
		p.say(line)
	}
	p.ends(0)
	return p
}

// firstSession is a healthy set with two meters, from the first line to the
// signed record.
func firstSession(t *testing.T, h home) *pane {
	h.equip(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("")
	p.ends(0)
	return p
}

// wholeProof are the lines that prove it dead.
var wholeProof = []string{"0.4 0.2 t 9.31 0.2 0.2 0.2 0.2 0.2", "0.2 0.2 9.31"}

func (p *pane) sayEach(lines ...string) {
	p.t.Helper()
	for _, line := range lines {
		p.say(line)
	}
}

// stopAndRepair is a grid that rises behind the lamp, and the capacitor that made
// it rise.
func stopAndRepair(t *testing.T, h home) *pane {
	h.equip(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("ramp/output-grid#75@300s")
	p.sayEach("1.7", "unplugged")
	p.sayEach(wholeProof...)
	p.sayEach("p coupling", "p coupling V4 leaked when warm, a new one fitted", "?", "yes", "park")
	p.ends(3)
	return p
}

// theNextMorning goes on where the evening was parked, before the soak.
func theNextMorning(t *testing.T, h home) *pane {
	h.equip(t)
	p := newPane(t, h, "run", "my-set.yaml")
	p.sayAll("soak/output-cathode@300s")
	p.sayEach("unplugged")
	p.sayEach(wholeProof...)
	p.sayEach("park")
	p.ends(3)
	h.env = append(h.env, envStart+"="+time.Date(2030, 1, 3, 9, 0, 0, 0, time.UTC).Format(time.RFC3339))
	p = newPane(t, h, "resume", h.record())
	p.sayEach("same", "unplugged", "n", "t 10.02k 38 9.31 9.31 0.2 OL 0", "bob, next room")
	p.sayEach(wholeProof...)
	p.sayEach("release", "power", "172.5 44.00 193.6")
	p.sayEach(wholeProof...)
	p.sayEach("release", "power")
	p.prompt()
	p.keys("C-c")
	p.ends(130)
	return p
}
