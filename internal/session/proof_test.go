package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/unit"
)

// rowOf gives the text of a prompt's first row with a label.
func rowOf(p session.Prompt, label string) string {
	return row(session.Answered{Rows: p.Rows}, label)
}

// TestProofRefusesWhatIsNotDead: the limits of 10 V and of 60 V (EN 50191:2010
// cl. 1.2 a), the source within a tenth, by the sign as well.
func TestProofRefusesWhatIsNotDead(t *testing.T) {
	for _, c := range []struct {
		name, at, say, label, part string
	}{
		{"HT2 at 12 V", "proof-full.1", "0.4 0.2 t 9.31 0.2 12 0.2 0.2 0.2", "NOT DEAD", "HT2 has 12 V"},
		{"HT1 at minus 12 V", "proof-full.1", "0.4 0.2 t 9.31 -12 0.2 0.2 0.2 0.2", "NOT DEAD", "HT1 has -12 V"},
		{"a charged mains capacitor", "proof-full.1", "0.4 0.2 t 9.31 0.2 0.2 0.2 0 -40", "NOT DEAD", "pins d.c. has -40 V"},
		{"more than 60 V after the tool", "proof-full.1", "300 50 t 9.31 80 0.2 0.2 0.2 0.2", "STOP", "HT1 has 80 V"},
		{"HT1 rises while nobody touches it", "proof-full.1", "20 200 t 9.31 0.2 0.2 0.2 0.2 0.2", "STOP", "risen by itself"},
		{"the source a fifth low", "proof-full.1", "0.4 0.2 t 7.4 0.2 0.2 0.2 0.2 0.2", "NOT DEAD", "proves nothing"},
		{"the source the wrong way round", "proof-full.1", "0.4 0.2 t -9.31 0.2 0.2 0.2 0.2 0.2", "NOT DEAD", "proves nothing"},
		{"the tool left in its drawer", "proof-full.1", "0.4 0.2 n 9.31 0.2 0.2 0.2 0.2 0.2", "NOT DEAD", "tool was not used"},
		{"the tool not used before a move", "proof-quick", "9.31 0.2 0.2 0.2 9.31 n", "NOT DEAD", "tool was not used"},
		{"nothing said of the tool", "proof-quick", "9.31 0.2 0.2 0.2 9.31 -", "Not taken", "t it was, n it was not"},
		{"it comes back in the minute", "proof-full.2", "14 0.2 9.31", "NOT DEAD", "HT1 has 14 V"},
		{"the meter has died meanwhile", "proof-full.2", "0.2 0.2 0", "NOT DEAD", "proves nothing"},
		{"no number", "proof-full.2", "OL 0.2 9.31", "Not taken", "volts themselves"},
		{"left out", "proof-full.2", "- 0.2 9.31", "Not taken", "volts themselves"},
		{"the watch stays up", "watch", "unplugged 150 0.2", "STOP", "HT1 watch has 150 V"},
		{"the reservoir before a move", "proof-quick", "9.31 30 0.2 0.2 9.31 t", "NOT DEAD", "HT1 has 30 V"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := sessiontest.NewTape(t, "table-radio", "two-meters")
			r.Until(c.at)
			a := r.Say(c.say)
			if got := row(a, c.label); !strings.Contains(got, c.part) {
				t.Errorf("told %q: %v", got, a.Rows)
			}
			if r.State().Supply == engine.Dead {
				t.Error("the set counts as dead")
			}
			r.Until("")
			closed(t, r)
		})
	}
}

func TestBleederThatDoesNotWorkIsSaid(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("proof-full.1")
	a := r.Say("350 330 t 9.31 0.2 0.2 0.2 0.2 0.2")
	if got := row(a, "Bleeder"); !strings.Contains(got, "330 V") {
		t.Errorf("told %v", a.Rows)
	}
}

func TestHalfAProofDoesNotOutlastTheBench(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("proof-full.2")
	r.Pass(3 * time.Hour)
	r.Say(r.Radio.Line(r.Prompt()))
	if r.State().Supply == engine.Dead || r.Prompt().ID != "proof-full.1" {
		t.Errorf("three hours between the lines of a proof: %s is asked", r.Prompt().ID)
	}
}

func TestWatchThatShowedNoHTProvesNothing(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "three-meters")
	r.Until("ramp/output-grid")
	r.Until("watch")
	a := r.Say("unplugged 0.3 0.2 0.2")
	if got := row(a, "NOT DEAD"); !strings.Contains(got, "proves nothing") || r.State().Supply == engine.Dead {
		t.Errorf("told %v", a.Rows)
	}
}

func TestNodeThatATestChargedIsDanger(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Faults = map[string]string{"coupling-capacitor": ">20M"}
	r.Until("query/openings/coupling-capacitor@V4")
	if got := r.Standing()[0]; !strings.HasPrefix(got, "DANGER") || !strings.Contains(got, "coupling") {
		t.Errorf("with 250 V on the capacitor stands %q", got)
	}
}

func TestProofOfTheNodesThatFailsOwesTheWholeProof(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("openings/tester")
	a := r.Say("3G 210M 9.31 120 0.2 9.31")
	if row(a, "STOP") == "" || r.Prompt().ID != "proof-full.1" {
		t.Errorf("%s is asked; told %v", r.Prompt().ID, a.Rows)
	}
}

func TestLeadMoveIsNoProofForWorkInside(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("proof-quick")
	r.Say(r.Radio.Line(r.Prompt()))
	if got := r.Standing()[0]; !strings.HasPrefix(got, "DEAD FOR ONE MOVE") {
		t.Errorf("after the quick proof stands %q", got)
	}
}

func TestBoxedProofIsOfThePinsOnly(t *testing.T) {
	r := sessiontest.TapeOf(t, sessiontest.Boxed(t, "table-radio", "two-meters"))
	r.Until("boxed/")
	if got := r.Standing()[0]; !strings.HasPrefix(got, "PLUG PINS PROVED DEAD, NOT THE INSIDE") {
		t.Errorf("stands %q", got)
	}
	for _, l := range r.Lines {
		if l.Kind == "proof" && l.Fields["tool"] != "" {
			t.Errorf("the record says that a tool was used inside a closed set: %v", l.Fields)
		}
	}
}

func TestBoxedStartWarnsOfHT(t *testing.T) {
	r := sessiontest.TapeOf(t, sessiontest.Boxed(t, "table-radio", "two-meters"))
	r.Until("boxed-start/")
	if got := strings.Join(r.Standing(), " "); !strings.Contains(got, "HIGH VOLTAGE up to 428 V d.c.") {
		t.Errorf("stands %q", got)
	}
}

func TestMakeSafeWaitsForWhatItSays(t *testing.T) {
	for name, part := range map[string]string{"table-radio": "28 s", "sparse-radio": "60 s"} {
		r := sessiontest.NewTape(t, name, "two-meters")
		r.Radio.Faults = map[string]string{"lamp-early": "229", "set-volts": "61"}
		r.Until("stop/unplugged")
		if got := row(r.Say("unplugged"), "Wait"); !strings.HasPrefix(got, part) {
			t.Errorf("%s: told %q, want %s", name, got, part)
		}
		p := r.Prompt()
		if said, _ := time.ParseDuration(strings.ReplaceAll(part, " ", "")); p.Wait > said || p.Wait <= said-time.Second {
			t.Errorf("%s: waits %s, and says %s", name, p.Wait, part)
		}
		a := r.Submit(r.Radio.Line(p), r.Now)
		if got := row(a, "Not taken"); !strings.Contains(got, "still discharging") {
			t.Errorf("%s: a proof before the wait: %v", name, a.Rows)
		}
	}
}

func TestSingleMetersMainsMustBeMains(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "one-meter")
	r.Until("proof-quick")
	a := r.Say("9.31 0.2 0.2 0.2 9.31 t 23")
	if got := row(a, "Mains?"); !strings.Contains(got, "23 V") || r.State().Supply != engine.Dead {
		t.Errorf("told %v", a.Rows)
	}
}

// TestOutletThatMovedTakesBackWhatWasReadBetween: INV-16, a single meter.
func TestOutletThatMovedTakesBackWhatWasReadBetween(t *testing.T) {
	for after, gone := range map[string]bool{"228": false, "212": true} {
		r := sessiontest.NewTape(t, "table-radio", "one-meter")
		r.Until("proof-quick") // of the lamp box's lead position
		r.Say(r.Radio.Line(r.Prompt()))
		r.Until("proof-quick") // of the first in the set
		before := r.State().Held
		a := r.Say("9.31 0.2 0.2 0.2 9.31 t " + after)
		if lost := before.Without(r.State().Held) != (engine.Facts{}); lost != gone || (row(a, "Outlet") != "") != gone {
			t.Errorf("%s V after 230 V: lost %v, told %v", after, lost, a.Rows)
		}
	}
}

// TestVoltsNobodyKnowsAreReadAgain: without the outlet's volts nothing tells what
// the heaters have at whole mains, and one meter reads the lamp at another place.
func TestVoltsNobodyKnowsAreReadAgain(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "one-meter")
	r.Until("heaters/heater-pins")
	r.Until("proof-quick")
	r.Say("9.31 0.2 0.2 0.2 9.31 t 0")
	r.Until("heaters/lamp-box")
	r.Until("")
	if r.Result() != session.Tested {
		t.Errorf("the session ended %v", r.Result())
	}
}

// TestToolStaysOnForALargeCapacitor: 232 µF from 428 V to 10 V through 10 kΩ
// takes 8.7 s (computed, R C ln(V0/V)).
func TestToolStaysOnForALargeCapacitor(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	set, big := *in.Set, unit.Farad(200e-6)
	set.Second.Capacitance = &big
	in.Set = &set
	r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
	r.Until("proof-full.1")
	if got := rowOf(r.Prompt(), "Tool"); !strings.Contains(got, "HT1 9 s, HT2 9 s") {
		t.Errorf("told %q", got)
	}
}

// TestMeterLeftOnAlternatingVoltsProvesNothing: the ripple is read with the meter
// that then watches the HT fall. It must show HT on d.c. again before the plug is
// pulled: as what is read again at the end of the line, else at the proof. A meter
// left on a.c. shows the ripple there, and the proof is refused.
func TestMeterLeftOnAlternatingVoltsProvesNothing(t *testing.T) {
	for end, asked := range map[string]bool{"193.6": false, "-": true} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Until("ramp/ht-reservoir#75")
		r.Say("172.5 44.00 193.6 2.62 " + end)
		if got := rowOf(watchOf(r), "First"); (got != "") != asked {
			t.Errorf("HT1 again %s: first %q", end, got)
		}
	}
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#75")
	if r.Say("172.5 44.00 193.6 2.62 2.6"); r.State().Held.Has(slotOf(t, r, "ramp/ht-reservoir#75")) {
		t.Error("HT1 counts, and at the end of its line the meter showed the ripple")
	}
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	for i, stage := range in.Procedure.Stages {
		for j, step := range stage.Steps {
			if stage.Stage == "ramp" && step.Check == "ripple" {
				in.Procedure.Stages[i].Steps[j].After = []unit.Second{300}
			}
		}
	}
	r = sessiontest.TapeOf(t, sessiontest.Made(t, in))
	p := watchOf(r)
	if got := rowOf(p, "First"); !strings.Contains(got, "d.c. volts while the set is still on") {
		t.Fatalf("asks %v", p.Rows)
	}
	a := r.Say("unplugged 2.6 0 0")
	if r.State().Supply == engine.Dead {
		t.Errorf("a meter that showed 2.6 V with the set on has proved it dead: %v", a.Rows)
	}
}

// watchOf goes on to the proof by the meter across the reservoir.
func watchOf(r *sessiontest.Tape) session.Prompt {
	r.Until("watch")
	return r.Prompt()
}

// TestAfterAFailedProofNothingElseIsTaken: INV-32. What is taken back could lead
// the work to mains on leads that have not moved.
func TestAfterAFailedProofNothingElseIsTaken(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("proof-quick")
	r.Say("9.31 30 0.2 0.2 9.31 t")
	for _, line := range []string{"wrong 40", "touched v output valve", "clip on", "power"} {
		before := r.State()
		if a := r.Say(line); row(a, "Not taken") == "" || r.State() != before {
			t.Errorf("%q after a proof that failed: %v", line, a.Rows)
		}
	}
	if p := r.Prompt(); !strings.HasPrefix(p.ID, "proof-full.1") {
		t.Errorf("volts at 30 are made good by %s", p.ID)
	}
	r.Until("proof-full.2")
	r.Say(r.Radio.Line(r.Prompt()))
	if a := r.Say("wrong 40"); row(a, "Taken back") == "" {
		t.Errorf("after one that has not: %v", a.Rows)
	}
}

// TestShortProofThatFoundNoVoltsIsReadAgain: a slip, or the tool forgotten.
func TestShortProofThatFoundNoVoltsIsReadAgain(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("proof-quick")
	r.Say("9.31 0.2 0.2 0.2 9.31 n")
	if p := r.Prompt(); !strings.HasPrefix(p.ID, "proof-quick") {
		t.Errorf("the tool was forgotten, and %s is asked", p.ID)
	}
}
