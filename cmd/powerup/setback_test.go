package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// setClock is this computer's clock under somebody's hands: each line is typed
// ten seconds after the last, and before some the wall clock is set.
type setClock struct {
	at   session.Instant
	zone *time.Location
}

func (c *setClock) now() session.Instant {
	return session.Instant{Wall: c.at.Wall.In(c.zone), Mono: c.at.Mono}
}

func (c *setClock) wait(_ context.Context, d time.Duration) error {
	c.at = session.Instant{Wall: c.at.Wall.Add(d), Mono: c.at.Mono + d}
	return nil
}

func (*setClock) bench() bool { return false }

// step is a line that is typed after the wall clock was set by so much, in a
// zone.
type step struct {
	say  string
	set  time.Duration
	zone int // hours east
}

// A record tells both clocks as they were, in UTC whatever the zone; verify says
// when the wall clock was set back by more than it is put right by.
func TestARecordTellsBothClocksAndVerifySaysWhenOneWasSetBack(t *testing.T) {
	h := newHome(t)
	for _, c := range []struct {
		reason string
		steps  []step
		told   string
	}{
		{"nothing", []step{{"same", 0, 0}, {"unplugged", 0, 0}, {"n", 0, 0}}, ""},
		{"another zone", []step{{"same", 0, 0}, {"unplugged", 0, 14}, {"n", 0, -11}}, ""},
		{"a small step of a time server", []step{{"same", -time.Second, 0}, {"unplugged", 110 * time.Second, 0}, {"n", -119 * time.Second, 0}}, ""},
		{"the end of summer time, set by hand", []step{{"same", 0, 1}, {"unplugged", -time.Hour, 0}, {"n", 0, 0}}, "was set back by 60 minutes"},
		{"back by little more than it may", []step{{"same", 0, 0}, {"unplugged", -121 * time.Second, 0}, {"n", 0, 0}}, "was set back by 2 minutes"},
		{"a lid that was shut for an hour", []step{{"same", 0, 0}, {"unplugged", time.Hour, 0}, {"n", 0, 0}}, ""},
	} {
		path := filepath.Join(h.dir, strings.ReplaceAll(c.reason, " ", "-")+recordEnding)
		want := recordSteps(t, path, c.steps)
		raw, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var got []session.Instant
		for _, l := range transcriptlog.Read(raw).Lines {
			if l.Kind == "entry" {
				got = append(got, session.Instant{Wall: l.Time, Mono: l.Mono})
			}
		}
		for i, w := range want {
			if i >= len(got) || !got[i].Wall.Equal(w.Wall) || got[i].Mono != w.Mono || got[i].Wall.Location() != time.UTC {
				t.Errorf("%s: entry %d is told at %v, want %v", c.reason, i+1, got, w)
			}
		}
		out, err := h.program(t, "verify", path).CombinedOutput()
		said := strings.Contains(strings.Join(strings.Fields(string(out)), " "), "the clock on the wall "+c.told)
		if code(err) != errVerify.code || said != (c.told != "") {
			t.Errorf("%s: exit %d\n%s", c.reason, code(err), out)
		}
		for _, line := range tooWide(out) {
			t.Errorf("%s: too wide: %s", c.reason, line)
		}
	}
}

// recordSteps runs a session over the steps and gives the instants of its lines.
func recordSteps(t *testing.T, path string, steps []step) (said []session.Instant) {
	t.Helper()
	src, p, err := gather("table-radio", "double-wound", "two-meters")
	if err != nil {
		t.Fatal(err)
	}
	start, err := time.Parse(time.RFC3339, evening)
	if err != nil {
		t.Fatal(err)
	}
	c := &setClock{at: session.Instant{Wall: start}, zone: time.UTC}
	log, err := transcriptlog.Create(path, false)
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	if err := log.Append(stamp(c.now()), header(src, p, "x", "", c)); err != nil {
		t.Fatal(err)
	}
	var screen bytes.Buffer
	lines := console.NewLines(&screen, func() (string, error) {
		if len(said) == len(steps) {
			return "", console.ErrAbort
		}
		s := steps[len(said)]
		c.zone = time.FixedZone("", s.zone*3600)
		c.at = session.Instant{Wall: c.at.Wall.Add(10*time.Second + s.set), Mono: c.at.Mono + 10*time.Second}
		said = append(said, c.at)
		return s.say, nil
	})
	d := &driver{session: session.New(p, "x", c.now()), record: log, console: lines, clock: c, free: func() uint64 { return 1 << 30 }}
	if err := d.drive(t.Context()); exitCode(err) != errAborted.code {
		t.Fatalf("%v\n%s", err, screen.String())
	}
	return said
}
