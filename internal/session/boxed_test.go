package session_test

import (
	"strings"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

func closeResult(r *sessiontest.Tape) string {
	return r.Lines[len(r.Lines)-1].Fields["result"]
}

func TestBoxedPartEndsNotHandedBackWithoutATouchNetwork(t *testing.T) {
	for _, name := range []string{"table-radio", "earthed-radio"} {
		r := sessiontest.TapeOf(t, sessiontest.Boxed(t, name, "two-meters"))
		boxedPart.inTime(t, r)
		r.Until("")
		closed(t, r)
		boxedPart.keeps(t, r)
		if got := closeResult(r); got != "tested and boxed, not handed back" {
			t.Errorf("%s ended %q", name, got)
		}
	}
}

// touchMeter is a meter that reads the profile's network.
func touchMeter(in *sheet.Meter) *sheet.Meter {
	m := *in
	m.Functions = append(m.Functions[:len(m.Functions):len(m.Functions)], sheet.Span{
		Function: sheet.Touch, Percent: 2, Digits: 3,
		Ranges: []sheet.Range{{
			Top:   unit.Quantity{Kind: unit.KindAmpere, Value: 20e-3},
			Digit: unit.Quantity{Kind: unit.KindAmpere, Value: 1e-6},
		}},
	})
	return &m
}

func boxedWithNetwork(t *testing.T, network string) *sessiontest.Tape {
	t.Helper()
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Boxed = true
	in.Bench.Touch = network
	in.Meters["general-digital"] = touchMeter(in.Meters["general-digital"])
	return sessiontest.TapeOf(t, sessiontest.Made(t, in))
}

func TestSetIsHandedBackOnlyAfterItsTouchCurrent(t *testing.T) {
	r := boxedWithNetwork(t, "uk")
	r.Until("")
	closed(t, r)
	if got := closeResult(r); got != "tested and handed back" {
		t.Errorf("ended %q", got)
	}
}

// TestOwnerWithoutTheCautionsGetsNothingBack: INV-36.
func TestOwnerWithoutTheCautionsGetsNothingBack(t *testing.T) {
	r := boxedWithNetwork(t, "uk")
	r.Until("close/close")
	r.Say("close")
	if got := closeResult(r); got != "tested and boxed, not handed back" {
		t.Errorf("ended %q", got)
	}
}

func TestAnotherProfilesNetworkMeasuresNothing(t *testing.T) {
	r := boxedWithNetwork(t, "eu") // the set's profile is uk
	r.Until("")
	if got := closeResult(r); got != "tested and boxed, not handed back" {
		t.Errorf("ended %q", got)
	}
}

func TestTouchCurrentAboveTheLimitStops(t *testing.T) {
	r := boxedWithNetwork(t, "uk")
	r.Radio.Faults = map[string]string{"touch-current": "0.62m"}
	r.Until("stop/repair")
	if s := r.StopReading(); s == nil || !strings.Contains(s.Reason, "above") || r.Result() != session.Running {
		t.Errorf("stopped because %+v", s)
	}
}

func TestBoxedSetIsProvedDeadAtItsPins(t *testing.T) {
	r := sessiontest.TapeOf(t, sessiontest.Boxed(t, "table-radio", "two-meters"))
	r.Until("proof-full.1")
	if r.Say("9.31 0.2 40 9.31"); r.State().Supply == engine.Dead {
		t.Error("dead with 40 V at its pins")
	}
	if r.Say("9.31 0.2 0.2 9.31"); r.State().Supply != engine.Dead || r.Prompt().ID == "proof-full.2" {
		t.Errorf("its pins are proved, and it is %v at %s", r.State().Supply, r.Prompt().ID)
	}
	r = sessiontest.TapeOf(t, r.Plan)
	r.Until("proof-full.1")
	for _, f := range r.Prompt().Fields {
		if f.Node == "HT1" || f.Node == "HT2" {
			t.Errorf("a boxed set is asked for %s", f.Name)
		}
	}
}

// TestBoxedSetStartsBehindTheLamp: INV-60, in this boxing and after a stop. What is
// done inside is never a repair of a boxed set: the tests that it ends are the open
// part's.
func TestBoxedSetStartsBehindTheLamp(t *testing.T) {
	r := boxedWithNetwork(t, "uk")
	r.Until("power")
	r.Say("power")
	if got := r.State().Supply; got != engine.Limited {
		t.Fatalf("the first mains on a boxed set is %s", got)
	}
	r.Radio.Turns["boxed-touch/touchable"] = []string{"230 0.62m"}
	r.Until("stop/repair")
	for _, inside := range []string{
		"y the aerial capacitor, a new one", "h reservoir, a new one soldered in", "v output valve, another one", "p coupling, a new one", "r", "o", "x", "? not sure", "b opened; p another part",
	} {
		before := r.State()
		if a := r.Say(inside); !strings.Contains(row(a, "Not taken"), "work inside") || r.State() != before {
			t.Errorf("%q is taken of a boxed set: %v", inside, a.Rows)
		}
	}
	r.Say("m the plug was loose, a new one")
	r.Say("yes")
	for _, id := range []string{"boxed/boxed-insulation", "hold-box"} {
		if r.State().Held.Has(slotOf(t, r, id)) {
			t.Errorf("%s stands through a new plug", id)
		}
	}
	r.Until("power")
	if r.Say("power"); r.State().Supply != engine.Limited {
		t.Errorf("after a stop mains comes on %s", r.State().Supply)
	}
}
