package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// repeatOf is the tape at a line that ends with a blind repeat.
func repeatOf(t *testing.T) (r *sessiontest.Tape, line, word string, again session.Field) {
	t.Helper()
	r = sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("mains-side/poles")
	p := r.Prompt()
	again = p.Fields[len(p.Fields)-1]
	if again.Node != session.AtRepeat {
		t.Fatalf("nothing is read again at %s: %+v", p.ID, p.Fields)
	}
	words := strings.Fields(r.Radio.Line(p))
	n := len(words) - 1
	return r, strings.Join(words[:n], " "), words[n], again
}

func TestARepeatThatAgreesCostsNoLine(t *testing.T) {
	r, line, word, again := repeatOf(t)
	a := r.Say(line + " " + word)
	if last := a.Records[len(a.Records)-1]; last.Kind != "repeat" || last.Fields["verdict"] != "agrees" {
		t.Errorf("%v", a.Records)
	}
	if !r.State().Held.Has(again.Repeat) {
		t.Error("the reading has fallen")
	}
	if strings.HasPrefix(r.Prompt().ID, "mains-side/poles") {
		t.Error("the line is asked again")
	}
}

// Neither of two that differ counts, and the reading is made anew, once.
func TestARepeatThatDiffersTakesTheReadingBack(t *testing.T) {
	r, line, _, again := repeatOf(t)
	a := r.Say(line + " 1.9")
	if row(a, "Not the same") == "" || r.State().Held.Has(again.Repeat) {
		t.Fatalf("%v", a.Rows)
	}
	p := r.Prompt()
	for _, f := range p.Fields {
		if f.Node == session.AtRepeat {
			t.Errorf("it is read a third time: %+v", p.Fields)
		}
	}
	r.Again(time.Minute)
	r.Until("")
	closed(t, r)
	if got := r.Lines[len(r.Lines)-1].Fields["repeats"]; !strings.Contains(got, "1 differed") {
		t.Errorf("the close says %q", got)
	}
}

func TestARepeatMayBeLeft(t *testing.T) {
	r, line, _, again := repeatOf(t)
	r.Say(line + " -")
	if !r.State().Held.Has(again.Repeat) {
		t.Error("a repeat that was left has taken the reading with it")
	}
	r.Until("")
	closed(t, r)
	if got := r.Lines[len(r.Lines)-1].Fields["repeats"]; !strings.HasSuffix(got, ", 1 left") {
		t.Errorf("the close says %q", got)
	}
}

// Which reading it is follows from the kind of set, so that nobody knows it from
// another.
func TestAnotherSetRepeatsOtherReadings(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	first := session.RepeatsOf(p)
	if len(strings.Fields(first)) < 3 {
		t.Errorf("read again: %v", first)
	}
	for _, rectifier := range []string{"EZ81", "EZ90", "GZ34"} {
		if p.Set.Rectifier = rectifier; session.RepeatsOf(p) != first {
			return
		}
	}
	t.Errorf("every set reads %q again", first)
}
