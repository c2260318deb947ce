package console

import (
	"bytes"
	"strings"
	"testing"
	"unicode"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// play takes the invented radio through a session with a Prompter, until a
// prompt whose id begins with at; say is told each line before its prompt.
func play(t *testing.T, r *sessiontest.Tape, show Prompter, at string, say func(string)) {
	t.Helper()
	for n := 0; r.Result() == session.Running; n++ {
		p := r.Prompt()
		if at != "" && strings.HasPrefix(p.ID, at) {
			return
		}
		line := r.Radio.Line(p)
		if n > 400 || line == "" {
			t.Fatalf("stuck at %s", p.ID)
		}
		if p.Wait > 0 {
			show.Wait(p.Wait, p.Waits)
		}
		say(line)
		if got, err := show.Ask(r.Standing(), p); err != nil || got != line {
			t.Fatalf("%s: %q %v", p.ID, got, err)
		}
		show.Tell(r.Standing(), r.Say(line))
	}
}

// textOf are all pages of some work as text.
func textOf(w Work, clubNight bool) string {
	var out bytes.Buffer
	w.Text(&out, w.Pages(clubNight), true)
	return out.String()
}

// fits tells what of a text is wider than the screen or would move its cursor.
func fits(t *testing.T, text string) {
	t.Helper()
	for line := range strings.Lines(text) {
		line = strings.ReplaceAll(strings.TrimSuffix(line, "\n"), "\a", "") // the bell has no width
		if n := len([]rune(line)); n > width {
			t.Errorf("%d columns: %s", n, line)
		}
		if strings.ContainsFunc(line, unicode.IsControl) {
			t.Errorf("control characters: %q", line)
		}
	}
}

// stories are a sound set, and one at whose grid the coupling capacitor's leak
// stands when it is on.
var stories = []struct {
	name, sheet, at string
	faults          map[string]string
	want            []string
}{
	{"sound", "table-radio", "", nil, []string{"DANGER - HIGH VOLTAGE", "PROVED DEAD at ", "NOT HANDED BACK"}},
	{"earthed", "earthed-radio", "", nil, []string{"DANGER - HIGH VOLTAGE", "PROVED DEAD at ", "NOT HANDED BACK"}},
	{"leaking", "table-radio", "stop/repair", map[string]string{"output-grid": "1.7"}, []string{"STOP", "unplugged", "Hands out"}},
}

func TestLinesShowAWholeSession(t *testing.T) {
	for _, s := range stories {
		t.Run(s.name, func(t *testing.T) {
			r := sessiontest.NewTape(t, s.sheet, "two-meters")
			r.Radio.Faults = s.faults
			var out bytes.Buffer
			l := NewLines(&out, nil)
			l.Echo()
			play(t, r, l, s.at, func(line string) {
				l.Next(func() (string, error) {
					shown, standing := strings.Join(strings.Fields(out.String()), " "), r.Standing()
					if want := standing[len(standing)-1] + " >"; !strings.HasSuffix(shown, want) {
						t.Errorf("%s: the caution is not last: ...%s", r.Prompt().ID, shown[max(0, len(shown)-100):])
					}
					return line, nil
				})
			})
			fits(t, out.String())
			for _, want := range s.want {
				if !strings.Contains(out.String(), want) {
					t.Errorf("%q is not shown", want)
				}
			}
		})
	}
}

// The digest is short, and leaves out no stop and no new kind of caution.
func TestDigestOfAWholeSession(t *testing.T) {
	for _, brief := range []bool{false, true} {
		for _, s := range stories {
			t.Run(s.name, func(t *testing.T) {
				r := sessiontest.NewTape(t, s.sheet, "two-meters")
				r.Radio.Faults = s.faults
				var out bytes.Buffer
				paced := 0
				d := NewDigest(&out, func() { paced++ }, brief)
				d.Begin("0")
				play(t, r, d, s.at, func(line string) { d.Next(says(line)) })
				fits(t, out.String())
				lines := strings.Count(out.String(), "\n")
				if paced != lines {
					t.Errorf("%d lines and %d pauses", lines, paced)
				}
				if lines > 140 || brief && lines > 80 {
					t.Errorf("%d lines are no digest", lines)
				}
				for _, want := range append(s.want, "DEMONSTRATION") {
					if !strings.Contains(out.String(), want) {
						t.Errorf("%q is not shown in\n%s", want, &out)
					}
				}
			})
		}
	}
}

// The card lists every reading of the plan that is made.
func TestCardListsEveryReading(t *testing.T) {
	for _, sheet := range []string{"table-radio", "sparse-radio", "earthed-radio"} {
		for _, bench := range []string{"one-meter", "three-meters"} {
			p := sessiontest.Plan(t, sheet, bench)
			out := textOf(WorkOf(p), false)
			fits(t, out)
			flat := strings.Join(strings.Fields(out), " ")
			readings := 0
			for _, l := range session.Card(p) {
				for _, r := range l.Readings {
					readings++
					want := r.Slot.Hold
					if want == "" {
						want = session.Titled(r.Slot.Check, r.Slot.Item)
					}
					if !strings.Contains(flat, strings.Join(strings.Fields(want), " ")) {
						t.Errorf("%s with %s: %s is missing", sheet, bench, want)
					}
				}
			}
			if readings < 60 {
				t.Errorf("%s with %s: %d readings", sheet, bench, readings)
			}
		}
	}
}
