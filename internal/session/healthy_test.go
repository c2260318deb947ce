package session_test

import (
	"testing"
	"time"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

var (
	sheets  = []string{"table-radio", "sparse-radio", "earthed-radio"}
	benches = []string{"one-meter", "two-meters", "three-meters"}
)

// closed fails unless the session ended tested with nothing owed.
func closed(t *testing.T, r *sessiontest.Tape) {
	t.Helper()
	if r.Result() != session.Tested || len(r.Open()) > 0 {
		t.Errorf("ended %v with %v open", r.Result(), r.Open())
	}
}

// budget fails when more was typed than the shortest honest path allows; one
// line more is counted for the passphrase.
func budget(t *testing.T, r *sessiontest.Tape, most int) {
	t.Helper()
	got := len(r.Said) + 1
	c := r.Counts()
	t.Logf("%d lines, at most %d; %d numbers, %d words", got, most, c.Numbers, c.Words)
	if got > most {
		t.Errorf("%d lines were typed, and %d are honest work", got, most)
	}
}

func TestEverySheetAndBenchReachesClose(t *testing.T) {
	for _, sheet := range sheets {
		for _, bench := range benches {
			t.Run(sheet+" "+bench, func(t *testing.T) {
				r := sessiontest.NewTape(t, sheet, bench)
				r.Until("")
				closed(t, r)
				if r.Counts().Stop != 0 || r.Counts().NotRead != 0 {
					t.Errorf("a healthy set gave %+v", r.Counts())
				}
			})
		}
	}
}

func TestSparseSheetCountsItsWeakSpots(t *testing.T) {
	full, sparse := sessiontest.NewTape(t, "table-radio", "two-meters"), sessiontest.NewTape(t, "sparse-radio", "two-meters")
	full.Until("")
	sparse.Until("")
	if !(sparse.Counts().Typical > full.Counts().Typical+10) {
		t.Errorf("%d typical windows on the sparse sheet, %d on the full one", sparse.Counts().Typical, full.Counts().Typical)
	}
}

// The budgets of the shortest honest path, in lines typed: common practice, no
// source.
const (
	twoMeterLines  = 95
	oneMeterLines  = 110
	repairLines    = 32
	overnightLines = 14
)

func TestFirstPowerUpIsShort(t *testing.T) {
	for bench, most := range map[string]int{"one-meter": oneMeterLines, "two-meters": twoMeterLines, "three-meters": twoMeterLines} {
		t.Run(bench, func(t *testing.T) {
			r := sessiontest.NewTape(t, "table-radio", bench)
			r.Until("")
			closed(t, r)
			budget(t, r, most)
		})
	}
}

func TestOneRepairAsksOnlyForWhatItVoided(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("close/label")
	r.Say("park")
	r.Again(2 * time.Hour)
	r.Until("start/touched")
	r.Say("p coupling capacitor V4, a new one fitted")
	r.Until("")
	closed(t, r)
	budget(t, r, repairLines)
}

func TestNextMorningGoesOnWhereItStood(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("spot-checks/ht-smoothed")
	r.Until("proof-quick")
	r.Say(r.Radio.Line(r.Prompt()))
	r.Say("park")
	r.Again(12 * time.Hour)
	if got := r.Standing()[0]; got != "DANGER - TREAT AS LIVE AND CHARGED. Nothing is proved dead." {
		t.Errorf("a resumed session begins with %q", got)
	}
	r.Until("spot-checks")
	budget(t, r, overnightLines+1) // the last is the power where it stood
	r.Until("")
	closed(t, r)
}

func TestAfterADayInsulationAndLineAreReadAgain(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-2")
	r.Say("park")
	r.Again(25 * time.Hour)
	r.Until("mains-side/insulation")
	r.Until("dead-ht/ht-line")
	r.Until("")
	closed(t, r)
}
