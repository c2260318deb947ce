package record

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/transcriptlog"
)

// summed gives the rows of a summary by their labels.
func summed(t *testing.T, v Verified, now time.Time) map[string]string {
	t.Helper()
	rows := map[string]string{}
	for _, r := range v.Summary(now) {
		if r.Text == "" || rows[r.Label] != "" {
			t.Errorf("row %q is empty, or stands twice", r.Label)
		}
		rows[r.Label] = r.Text
	}
	return rows
}

func TestSummaryTellsTheConditions(t *testing.T) {
	t.Parallel()
	full := told{"power", "supply", "full", "set", "all in", "lamp", "out"}
	alone := append(slices.Clone(full), "alone", "a cover lies over the chassis")
	call := append(read("bench/call", "call", "pass"), "say", "bob, next room")
	touch := read("boxed-touch/touch-current", "touch-current", "pass")
	for _, c := range []struct {
		reason, row, want string
		lines             []told
		change            func(*Verified)
	}{
		{"the mains never came on", "mains", "not put on in this session", []told{parked}, nil},
		{"raised", "mains", "raised in steps, lamp 100 W in; fitted: all in", []told{switched, parked}, nil},
		{"the most counts, not the last", "mains", "whole mains, lamp out; fitted: all in", []told{full, {"power", "supply", "limited", "set", "none", "lamp", "40 W in"}, closed}, nil},
		{"a word of a later version", "mains", "put on in a way that this version does not know; fitted: x", []told{{"power", "supply", "fuller", "set", "x"}, closed}, nil},

		{"somebody near", "operator", "anna; within call: bob, next room; witness: none", []told{call, full, closed}, nil},
		{"nobody near at one switching on", "operator", "anna, alone: nobody within call; witness: none", []told{call, alone, full, closed}, nil},
		{"not said", "operator", "anna; who was within call is not said; witness: none", []told{closed}, nil},
		{"a second pair of eyes", "operator", "anna; within call: bob, next room; a second person saw 1; witness: none", []told{call, {"second", "how", "seen bob"}, {"second", "how", "by B"}, closed}, nil},
		{"a witness", "operator", "anna; within call: bob, next room; witness: bob", []told{call, {"released", "witness", "bob"}, closed}, nil},

		{"the open set at whole mains", "unmeasured", "touch current; insulation and bond in the cabinet (a boxed record)", []told{full, closed}, nil},
		{"never at whole mains", "unmeasured", "3 readings owed; all at whole mains; touch current; insulation and bond in the cabinet (a boxed record)", []told{switched, {"park", "open", "3"}}, nil},
		{"the boxed set", "unmeasured", "touch current", []told{closed}, func(v *Verified) { v.Facts.Boxed = true }},
		{"touch current was read", "unmeasured", "", []told{touch, closed}, func(v *Verified) { v.Facts.Boxed = true }},
		{"what was left, and what the kit cannot", "unmeasured", "touch current; left: Ripple at the reservoir, a.c. volts; not by this kit: HT line at 250 V, after two minutes", []told{{"not-read", "slot", "ramp/ripple#75"}, closed}, func(v *Verified) {
			v.Facts.Boxed, v.Cannot = true, []string{"ht-leak", "touch-current"}
		}},
		{"a kit that nobody knows", "unmeasured", "touch current; what else the kit could not measure is not known to this version", []told{closed}, func(v *Verified) { v.Facts.Boxed, v.Kit = true, false }},

		{"parked", "next look", "resume: nothing was read yet that stands for a day only", []told{parked}, nil},
		{"stopped", "result", "NOT ACCEPTED (open). It says: STOPPED at Grid of the output valve, no repair is on record, 2 Jan 2030. Weak: no witness. It read above 0.5 V.", []told{stop}, func(v *Verified) { v.Not = "open" }},
		{"broken off", "result", "broken off in stage ramp, 2 Jan 2030. Weak: no witness.", []told{read("ramp/lamp#25", "lamp", "pass")}, nil},
		{"not at volts", "result", "tested, not handed back, 2 Jan 2030. Weak: no witness, HT line not proved at volts.", []told{append(slices.Clone(closed), "not-proved-at-volts", "true")}, nil},
		{"age", "when", "yesterday, by this computer's clock, 3 Jan 2030 09:00 UTC: 2 Jan 2030 18:00 to 2 Jan 2030 18:01", []told{closed}, nil},
	} {
		v := Verified{Facts: Of(transcript(transcriptlog.Complete, c.lines...)), Kit: true}
		if c.change != nil {
			c.change(&v)
		}
		if got := summed(t, v, later)[c.row]; got != c.want {
			t.Errorf("%s: %s %q, want %q", c.reason, c.row, got, c.want)
		}
	}
}

// Each caution stands where it applies, and nowhere else.
func TestCautionsStandWhereTheyApply(t *testing.T) {
	t.Parallel()
	one := read("ramp/lamp#25", "lamp", "pass")
	real := Of(transcript(transcriptlog.Complete, one, closed))
	for _, c := range []struct {
		words   string
		without Facts
		signed  bool
		change  func(*Facts)
	}{
		{Practice, real, false, func(f *Facts) { f.Practice = true }},
		{StoppedToo, real, false, func(f *Facts) { f.State = Stopped }},
		{"treat the set as live and charged", real, false, func(f *Facts) { f.Live = true }},
		{"the inside is told by record n0 alone", real, false, func(f *Facts) { f.Boxed, f.First = true, "n0" }},
		{"may have been opened", Of(transcript(transcriptlog.Open, parked)), false, func(f *Facts) { f.State = Closed }},
		{"typed by hand", Of(transcript(transcriptlog.Open, parked)), false, func(f *Facts) { f.Readings = 1 }},
		{"bench clock", real, false, func(f *Facts) { f.BenchClock = true }},
		{"times are that computer's own", Facts{BenchClock: true}, false, func(f *Facts) { f.BenchClock = false }},
		{AnyKey, real, true, func(*Facts) {}},
	} {
		with := c.without
		c.change(&with)
		if got := strings.Join(with.Cautions(c.signed), "; "); !strings.Contains(got, c.words) {
			t.Errorf("%q is not said: %s", c.words, got)
		}
		if got := strings.Join(c.without.Cautions(false), "; "); strings.Contains(got, c.words) {
			t.Errorf("%q is said where it does not apply: %s", c.words, got)
		}
	}
	open := Verified{Facts: Of(transcript(transcriptlog.Open, parked)), Torn: 2}
	if got := summed(t, open, later)["mind"]; !strings.Contains(got, CutBack) || !strings.Contains(got, "torn writes were kept aside: 2") {
		t.Errorf("of an open record: %s", got)
	}
	if got := summed(t, Verified{Facts: real}, later)["mind"]; strings.Contains(got, CutBack) {
		t.Errorf("of a closed record: %s", got)
	}
}
