package session_test

import (
	"testing"
	"time"

	"example.com/powerup/internal/plan"
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

// A budget is what the shortest honest path costs at most; 0: not said. One line is
// counted for the passphrase.
type budget struct {
	lines, numbers, words int
	minutes               float64
}

// keeps holds what was typed against a budget.
func (b budget) keeps(t *testing.T, r *sessiontest.Tape) {
	t.Helper()
	got := len(r.Said) + 1
	c := r.Counts()
	t.Logf("%d lines, at most %d; %d numbers, %d words", got, b.lines, c.Numbers, c.Words)
	if got > b.lines {
		t.Errorf("%d lines were typed, and %d are honest work", got, b.lines)
	}
	if b.numbers > 0 && c.Numbers > b.numbers || b.words > 0 && c.Words > b.words {
		t.Errorf("%d numbers and %d words were typed, and %d and %d are honest work", c.Numbers, c.Words, b.numbers, b.words)
	}
}

// inTime holds the plan's own time for what is left of the work against it.
func (b budget) inTime(t *testing.T, r *sessiontest.Tape) {
	t.Helper()
	cost := plan.Total(r.Plan.Way(r.State()).Parts())
	t.Logf("%v, at most %v min", cost, b.minutes)
	if cost.Time.Minutes() > b.minutes {
		t.Errorf("it takes %v, and %v min are honest work", cost, b.minutes)
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

// The budgets of the shortest honest path: common practice, no source.
var (
	twoMeters = budget{lines: 95, numbers: 210, words: 20, minutes: 165}
	oneMeter  = budget{lines: 110, minutes: 185}
	oneRepair = budget{lines: 32, minutes: 35}
	overnight = budget{lines: 14}
	boxedPart = budget{lines: 15, minutes: 25}
)

func TestFirstPowerUpIsShort(t *testing.T) {
	for bench, most := range map[string]budget{"one-meter": oneMeter, "two-meters": twoMeters, "three-meters": {lines: twoMeters.lines, minutes: twoMeters.minutes}} {
		t.Run(bench, func(t *testing.T) {
			r := sessiontest.NewTape(t, "table-radio", bench)
			most.inTime(t, r)
			r.Until("")
			closed(t, r)
			most.keeps(t, r)
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
	r.Until("bench/bench")
	oneRepair.inTime(t, r)
	r.Until("")
	closed(t, r)
	oneRepair.keeps(t, r)
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
	r.Until("hold-2")
	r.Until("power")
	overnight.keeps(t, r)
	r.Until("spot-checks")
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
