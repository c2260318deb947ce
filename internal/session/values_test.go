package session_test

import (
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

func TestPromptOfARungIsComputedAtThatRung(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#50")
	for _, row := range r.Prompt().Rows {
		if strings.HasPrefix(row.Text, "HT1 at the reservoir") && !strings.Contains(row.Text, "184 V") {
			t.Errorf("at 115 V on the set 129 V is sound, and the prompt says %q", row.Text)
		}
	}
}

func TestRungTellsHowFarToRaise(t *testing.T) {
	for _, bench := range benches {
		r := sessiontest.NewTape(t, "table-radio", bench)
		r.Until("ramp/ht-reservoir#60")
		if got := rowOf(r.Prompt(), "Raise"); !strings.Contains(got, "138 V at the set, 60 %") {
			t.Errorf("%s: told %q", bench, got)
		}
	}
}

// A slip at the set that is accepted makes no mains of it, with the lamp's volts
// added, by which later windows would go.
func TestVoltsThatNoMainsHasMakeNoWindow(t *testing.T) {
	lamp := func(line string) string {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Until("transformer/half-a@5s")
		r.Say(line)
		for strings.HasPrefix(r.Prompt().ID, "query/") {
			r.Say("cause 1")
		}
		r.Until("transformer/half-a@60s")
		for _, row := range r.Prompt().Rows {
			if strings.HasPrefix(row.Text, "at most") {
				return row.Text
			}
		}
		return ""
	}
	if want, got := lamp("219.7 10.33"), lamp("0.220 10.33"); want == "" || got != want {
		t.Errorf("after 0.22 V at the set the lamp is to have %q, else %q", got, want)
	}
}

func TestVariableTransformerStartsFromZero(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-2")
	r.Say("release")
	if got := rowOf(r.Prompt(), "Variable"); !strings.Contains(got, "zero now") || !strings.Contains(got, "161 V") {
		t.Errorf("with the lamp just out the prompt says %q", got)
	}
}

func TestCautionIsOfTheRungAskedFor(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#75")
	if got := r.Standing()[1]; !strings.Contains(got, "275 V") {
		t.Errorf("asked to raise to 172.5 V, where cold valves leave 275 V: %q", got)
	}
}

func TestAfterAStopTheCautionIsOfTheWholeMains(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Turns["ramp/ht-reservoir#50"] = []string{"115 22.97 290"}
	r.Until("stop/unplugged")
	if got := r.Standing()[1]; !strings.Contains(got, "428 V") {
		t.Errorf("290 V stopped the ramp at half volts, and there stands %q", got)
	}
}

func TestNoCautionHasAHoleInIt(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	for r.Result() == session.Running {
		p := r.Prompt()
		for _, row := range p.Rows {
			if strings.ContainsAny(row.Text, "{}") {
				t.Errorf("%s: %s %q", p.ID, row.Label, row.Text)
			}
		}
		r.Say(r.Radio.Line(p))
	}
}

// TestVoidedReadingIsUsedByNoWindow: after the smoothing capacitor was changed
// the HT line's old ohms are no measure of a clip, and a lamp's look gives way.
func TestVoidedReadingIsUsedByNoWindow(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	r.Say("clip on")
	if got := rowOf(unclip(r), "Expect"); !strings.Contains(got, "195 kΩ") {
		t.Fatalf("with the line at 217 kΩ the clip is measured by %q", got)
	}
	r.Say("touched h the second can, a new one")
	r.Until("clip-off")
	if got := rowOf(r.Prompt(), "Expect"); strings.Contains(got, "last reading") {
		t.Errorf("a voided reading is the measure: %q", got)
	}
}

func unclip(r *sessiontest.Tape) session.Prompt {
	r.Say("release") // refused under the clip: the prompt is clip-off
	return r.Prompt()
}

func TestReadingsOfALineAreNotCarriedIntoAnother(t *testing.T) {
	r := stopped(t)
	r.Say("n the clip had slipped off")
	r.Until("ramp/output-grid#75")
	r.Say(r.Radio.Line(r.Prompt()))
	for _, l := range r.Lines[len(r.Lines)-4:] {
		if l.Kind == "reading" && l.Fields["check"] != "output-grid" && l.Fields["check"] != "lamp" && l.Fields["check"] != "set-volts" {
			t.Errorf("another line's reading: %v", l.Fields)
		}
	}
	r.Until("")
	closed(t, r)
}

func TestWhatIsBehindARefusedWordIsSaid(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/black-ht1")
	a := r.Say("- 1.2k 1.01k")
	if row(a, "Not taken") == "" || !strings.Contains(row(a, "Not used"), "2 more") {
		t.Errorf("told %v", a.Rows)
	}
}

// TestAloneTheChassisIsCovered: INV-26.
func TestAloneTheChassisIsCovered(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Turns["bench/call"] = []string{"nobody"}
	r.Until("power")
	if r.Say("power"); r.State().Supply.Energised() {
		t.Fatal("mains came on without a cover over the chassis")
	}
	if r.Say("power covered"); !r.State().Supply.Energised() {
		t.Error("mains did not come on with the cover on")
	}
}

// TestNoteOfTheFileOverridesNothing: how the set stands is the program's own.
func TestNoteOfTheFileOverridesNothing(t *testing.T) {
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	for i := range in.Procedure.Stages {
		in.Procedure.Stages[i].Note = "valves in, lamp by-passed"
	}
	r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
	r.Until("power")
	rows := r.Prompt().Rows
	a := session.Answered{Rows: rows}
	if !strings.Contains(row(a, "Set"), "rectifier and dial lamps out") || row(a, "Lamp") != "40 W in" || !strings.Contains(row(a, "Note"), "overrides nothing") {
		t.Errorf("shown %v", rows)
	}
}

// TestCathodeAtChassisIsNeverEnergised: INV-29. Fixed bias on a sheet that does
// not say so.
func TestCathodeAtChassisIsNeverEnergised(t *testing.T) {
	for _, name := range []string{"table-radio", "sparse-radio"} {
		r := sessiontest.NewTape(t, name, "two-meters")
		r.Radio.Faults = map[string]string{"cathode-resistor": "0.1"}
		r.Until("stop/repair")
		if s := r.StopReading(); s == nil || r.Plan.Slots[s.Slot].Check.ID != "cathode-resistor" {
			t.Errorf("%s: stopped by %+v", name, s)
		}
	}
}

// TestPowerDeclaresHowTheSetStands: INV-48, on the record.
func TestPowerDeclaresHowTheSetStands(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("power")
	a := r.Say("power")
	last := a.Records[len(a.Records)-1]
	if last.Kind != "power" || !strings.Contains(last.Fields["set"], "rectifier") || last.Fields["lamp"] != "40 W in" {
		t.Errorf("recorded %v", last)
	}
}

func TestNobodyWithinCallIsHeard(t *testing.T) {
	for say, alone := range map[string]bool{
		"nobody": true, "no one": true, "No-one, alone tonight": true, "none": true, "no": true, "alone": true,
		"bob, next room": false, "norman, upstairs": false, "noel at ten": false,
	} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		r.Radio.Turns["bench/call"] = []string{say}
		r.Until("ramp/ht-reservoir#50")
		r.Pass(20 * time.Minute) // past the check-in of somebody alone, not past the half hour
		a := r.Submit(r.Radio.Line(r.Prompt()), r.Now)
		if late := row(a, "Too late") != ""; late != alone {
			t.Errorf("%q: after 20 min the line was too late: %v", say, late)
		}
	}
}
