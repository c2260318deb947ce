package engine

import "testing"

var (
	clipOn1 = Event{Kind: ClipOn}
	clipOff = Event{Kind: ClipOff, Verdict: Pass}
)

func TestAShortingClipStandsInTheWayOfMainsAndTheLineAlone(t *testing.T) {
	p := toy()
	for _, c := range []struct {
		name string
		at   Todo
		want Act
	}{
		{"a reading beside the line", reading(p, joint), Enter},
		{"a hold", reading(p, hold1), Release},
		{"a reading of the line", reading(p, coupling), Unclip},
		{"mains", Todo{SwitchOn, idleVolts, 2}, Unclip},
		{"the end", Todo{Finish, -1, 0}, Unclip},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := upTo(t, p, c.at)
			s.Unproved, s.Line = 0, 0
			s = do(t, p, s, clipOn1)
			wantAct(t, p, s, c.want)
			wantAct(t, p, do(t, p, s, clipOff), c.at.Act)
		})
	}
}

func TestAClipIsOffOnlyWhenTheLineReadsFree(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, Todo{SwitchOn, idleVolts, 2}), clipOn1)
	for _, v := range []Verdict{Stop, Query, Pass + 1} {
		if n := do(t, p, s, Event{Kind: ClipOff, Verdict: v}); !n.Clip {
			t.Errorf("off by verdict %d", v)
		}
	}
	if n := do(t, p, s, Event{Kind: Interrupt}); !n.Clip {
		t.Error("a restart has forgotten the clip")
	}
}

func TestNothingGivesAReadingOfTheLineUnderAClip(t *testing.T) {
	p := toy()
	p.Slots[insulation].Gives = slots(coupling, joint)
	p.tabulate()
	s := upTo(t, p, reading(p, insulation))
	if n := do(t, p, s, read1); !n.Held.Covers(slots(coupling, joint)) {
		t.Error("without a clip they are given")
	}
	n := do(t, p, s, clipOn1, read1)
	if n.Held.Has(coupling) || !n.Held.Has(joint) {
		t.Errorf("held under a clip: %v", n.Held)
	}
}

func TestThatTheSetLacksAPartIsAFact(t *testing.T) {
	p := toy()
	s := do(t, p, upTo(t, p, reading(p, joint)), Event{Kind: Leave, Absent: true})
	if !s.Held.Has(joint) || s.Unread.Has(joint) {
		t.Errorf("held %v, left %v", s.Held, s.Unread)
	}
}
