package session_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// fall integrates two capacitors with ohms between them and the bleeder at one of
// them, from v0 on both, and returns the seconds until both are at v1: a program
// of its own, in small steps.
func fall(reservoir, second, smoothing, bleed float64, atHT1 bool, v0, v1 float64) float64 {
	a, b := v0, v0
	step := min(smoothing*min(reservoir, second), bleed*(reservoir+second)) / 50
	t := 0.0
	for ; a > v1 || b > v1; t += step {
		between := (a - b) / smoothing
		one, two := between, -between
		if atHT1 {
			one += a / bleed
		} else {
			two += b / bleed
		}
		a -= one / reservoir * step
		b -= two / second * step
	}
	return t
}

// The wait told for the HT line to fall to 60 V from the no-load HT of the
// profile's top mains, 427.8 V, covers each of its capacitors, wherever the
// bleeder is, and is no more than a tenth longer than it takes (integrated).
func TestWaitCoversBothSections(t *testing.T) {
	for _, c := range []struct {
		why                                 string
		reservoir, second, smoothing, bleed float64
		at                                  sheet.Node
	}{
		{"equal sections", 32e-6, 32e-6, 1200, 220e3, sheet.HT2},
		{"bleeder at the reservoir", 32e-6, 32e-6, 1200, 220e3, sheet.HT1},
		{"small reservoir, large second", 16e-6, 100e-6, 2700, 47e3, sheet.HT2},
		{"large second behind a resistor, bleeder before it", 16e-6, 100e-6, 4700, 100e3, sheet.HT1},
		{"large reservoir behind a resistor, bleeder after it", 50e-6, 8e-6, 4700, 100e3, sheet.HT2},
	} {
		in := sessiontest.Inputs(t, "table-radio", "two-meters")
		set := *in.Set
		set.Reservoir.Capacitance, set.Second.Capacitance = new(unit.Farad(c.reservoir)), new(unit.Farad(c.second))
		set.Smoothing.Resistance = new(unit.Ohm(c.smoothing))
		set.Bleed = &sheet.Bleed{Resistance: new(unit.Ohm(c.bleed)), At: c.at}
		set.Printed = nil
		in.Set = &set
		r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
		r.Until("proof-full.1")
		read := rowOf(r.Prompt(), "Read")
		var told float64
		if _, err := fmt.Sscanf(read, "HT1 now; hands out %f s (428 V to 60 V", &told); err != nil {
			t.Fatalf("%s: told %q", c.why, read)
		}
		takes := fall(c.reservoir, c.second, c.smoothing, c.bleed, c.at == sheet.HT1, 427.8, 60)
		if !(told >= takes && told <= 1.1*takes+1) { // told in whole seconds
			t.Errorf("%s: told %g s, and the slower section takes %.1f s", c.why, told, takes)
		}
	}
}

// From the steps of a ramp the HT starts lower, 90 V at a quarter of the mains on
// the table radio; the wait covers that too.
func TestBleedPathCoversALowStart(t *testing.T) {
	for _, v0 := range []float64{90, 182, 294, 428} {
		for _, atHT1 := range []bool{false, true} {
			takes := fall(16e-6, 100e-6, 4700, 100e3, atHT1, v0, 60)
			told := math.Ceil((4700 + 100e3) * 116e-6 * math.Log(v0/60))
			if !(told >= takes) {
				t.Errorf("from %g V: told %g s, takes %.2f s", v0, told, takes)
			}
		}
	}
}

// ½CV² of 64 µF at 427.8 V is 5.86 J (computed); 0.35 J harms nobody (EN
// 50191:2010 1.2 d).
func TestProofSaysWhatTheCapacitorsHold(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("proof-full.1")
	if got := rowOf(r.Prompt(), "Holds"); !strings.Contains(got, "5.9 J") || !strings.Contains(got, "0.35 J") {
		t.Errorf("told %q", got)
	}
}

// The table radio's hot valves bring HT1 to 10 V in 0.85 s (integrated). Its
// bleeder takes it there from 276 V, the valves-cold HT of the step with the
// watch, in 14.16 s x ln 27.6 = 47 s (computed). Without a bleeder it stays.
func TestWatchSaysWhatHotValvesHide(t *testing.T) {
	for name, want := range map[string]string{
		"table-radio":  "with hot valves about 0.8 s, with cold ones 47 s",
		"sparse-radio": "with cold ones it stays: no known discharge path",
	} {
		r := sessiontest.NewTape(t, name, "two-meters")
		r.Until("watch")
		if got := rowOf(r.Prompt(), "Read"); !strings.Contains(got, want) {
			t.Errorf("%s: told %q, want %q", name, got, want)
		}
	}
}

// 28 s after 350 V good capacitors have 49 V left by the sheet, and at half as
// much again as the sheet 94 V (computed): that is slow, more is no bleeder.
func TestSlowFallIsNoOpenBleeder(t *testing.T) {
	for after, want := range map[string]string{
		"55": "", "62": "top of their tolerance", "92": "top of their tolerance", "97": "no bleeder works here", "330": "no bleeder works here",
	} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Until("proof-full.1")
		a := r.Say("350 " + after + " t 9.31 0.2 0.2 0.2 0.2 0.2")
		if got := row(a, "Bleeder"); want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%s V: told %q, want %q", after, got, want)
		}
	}
}
