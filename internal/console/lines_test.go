package console

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session"
)

const (
	liveOn = "DANGER - MAINS ON, up to 230 V at the set. One hand, no touching metal, emergency off in reach."
	dead   = "PROVED DEAD at 21:32. Good until 21:52, or until you leave the bench."
)

func says(lines ...string) func() (string, error) {
	return func() (string, error) {
		if len(lines) == 0 {
			return "", ErrEnd
		}
		line := lines[0]
		lines = lines[1:]
		return line, nil
	}
}

// The caution stands first, under a rule, and last, before the mark, whatever
// stands between.
func TestCautionIsFirstAndLast(t *testing.T) {
	var out bytes.Buffer
	l := NewLines(&out, says("1"))
	if got, err := l.Ask([]string{liveOn}, session.Prompt{Rows: []session.Row{{Label: "Read", Text: strings.Repeat("long text ", 30)}}}); got != "1" || err != nil {
		t.Fatalf("%q %v", got, err)
	}
	lines := strings.Split(out.String(), "\n")
	if lines[0] != strings.Repeat("=", width) || !strings.HasPrefix(lines[1], "DANGER - MAINS ON") {
		t.Errorf("begins with %q", lines[:2])
	}
	if !strings.HasSuffix(out.String(), "emergency off in reach.\n> ") {
		t.Errorf("ends with %q", out.String()[out.Len()-60:])
	}
	for _, line := range lines {
		if len([]rune(line)) > width {
			t.Errorf("%q", line)
		}
	}
}

// The bar comes again when the set or the leads change, and only then.
func TestBarComesWithAChange(t *testing.T) {
	var out bytes.Buffer
	l := NewLines(&out, says("1", "2", "3", "4"))
	for _, c := range []struct{ standing, block string }{{dead, "a"}, {dead, "a"}, {dead, "b"}, {liveOn, "b"}} {
		if _, err := l.Ask([]string{c.standing}, session.Prompt{Block: c.block}); err != nil {
			t.Fatal(err)
		}
	}
	thin, thick := strings.Count(out.String(), strings.Repeat("-", width)), strings.Count(out.String(), strings.Repeat("=", width))
	if thin != 4 || thick != 2 {
		t.Errorf("%d thin rules, %d thick ones\n%s", thin, thick, &out)
	}
}

// A long wait says when it ends, the caution of the new state stands last, and
// the bell sounds once, at its end.
func TestLongWaitHasAClockTimeAndABell(t *testing.T) {
	var out bytes.Buffer
	l := NewLines(&out, says("1", "2"))
	l.Tell([]string{liveOn}, session.Answered{})
	l.WaitUntil(25*time.Minute, time.Date(2030, 1, 2, 21, 47, 5, 0, time.UTC), "")
	if want := "Wait        1500 s, until 21:47:05: watch the set, not the screen\nDANGER"; !strings.HasPrefix(out.String(), want) {
		t.Errorf("shown %q", &out)
	}
	if strings.Contains(out.String(), "\a") {
		t.Error("the bell is early")
	}
	for range 2 {
		if _, err := l.Ask([]string{liveOn}, session.Prompt{}); err != nil {
			t.Fatal(err)
		}
	}
	if n := strings.Count(out.String(), "\a"); n != 1 {
		t.Errorf("the bell sounds %d times", n)
	}
	out.Reset()
	l.WaitUntil(5*time.Second, time.Time{}, "hands out")
	if !strings.HasPrefix(out.String(), "Wait        5 s: hands out\n") {
		t.Errorf("shown %q", &out)
	}
}

// What was typed ahead is dropped after the prompt is shown and before its mark.
func TestTypedAheadIsDroppedBeforeTheMark(t *testing.T) {
	var out bytes.Buffer
	l := NewLines(&out, says("1"))
	var at string
	l.Drop(func() error { at = out.String(); return nil })
	if _, err := l.Ask([]string{dead}, session.Prompt{Rows: []session.Row{{Label: "Type", Text: "HT1"}}}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(at, "Type        HT1") || strings.Contains(at, "> ") {
		t.Errorf("dropped when this stood: %q", at)
	}
	fault := errors.New("no")
	l.Drop(func() error { return fault })
	if line, err := l.Ask([]string{dead}, session.Prompt{}); !errors.Is(err, fault) || line != "" {
		t.Errorf("taken though nothing could be dropped: %q %v", line, err)
	}
}

func TestEntryIsEchoedWhereNoTerminalDoes(t *testing.T) {
	var out bytes.Buffer
	l := NewLines(&out, nil)
	l.Next(says("4k7\x1b[2J"))
	l.Echo()
	if _, err := l.Ask([]string{dead}, session.Prompt{}); err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(out.String(), "> 4k7?[2J\n") {
		t.Errorf("shown %q", &out)
	}
	if _, err := l.Ask([]string{dead}, session.Prompt{}); !errors.Is(err, ErrEnd) {
		t.Errorf("at the end: %v", err)
	}
}

func TestStopRingsAndIsRuledOff(t *testing.T) {
	var out bytes.Buffer
	l := NewLines(&out, nil)
	l.Tell([]string{liveOn}, session.Answered{Bell: true, Rows: []session.Row{{Label: "STOP", Text: "switch off\nhint: at the wall"}}})
	want := "\a" + strings.Repeat("#", width) + "\nSTOP        switch off\n            hint: at the wall\n"
	if out.String() != want {
		t.Errorf("shown %q", &out)
	}
	out.Reset()
	l.Wait(90*time.Second, "the valves cool")
	if out.String() != "Wait        90 s: the valves cool\n" {
		t.Errorf("shown %q", &out)
	}
}

// A line counts only with its line feed.
func TestReaderTakesWholeLines(t *testing.T) {
	r := NewReader(strings.NewReader("4k7\r\n\xb5A\n\n217"))
	for _, want := range []string{"4k7", "\uFFFDA", ""} {
		if got, err := r.Line(); got != want || err != nil {
			t.Errorf("%q %v, want %q", got, err, want)
		}
	}
	if got, err := r.Line(); got != "" || !errors.Is(err, ErrEnd) {
		t.Errorf("half a line: %q %v", got, err)
	}
}

func TestReaderDropsWhatItReadAhead(t *testing.T) {
	in, out := io.Pipe()
	go func() {
		_, _ = out.Write([]byte("one\ntwo\nthr"))
		_, _ = out.Write([]byte("four\n"))
		out.CloseWithError(errors.New("unplugged"))
	}()
	r := NewReader(in)
	if got, err := r.Line(); got != "one" || err != nil {
		t.Fatalf("%q %v", got, err)
	}
	r.Drop()
	if got, err := r.Line(); got != "four" || err != nil {
		t.Errorf("%q %v", got, err)
	}
	if _, err := r.Line(); err == nil || errors.Is(err, ErrEnd) {
		t.Errorf("a fault of the input is %v", err)
	}
}
