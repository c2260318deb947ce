package record

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"example.com/powerup/internal/engine"
)

// Row is one labelled text, which is not shortened to fewer than Least lines.
type Row struct {
	Label, Text string
	Least       int
}

// whole is more lines than any row has.
const whole = 100

// Verified is a record with what its verification came to.
type Verified struct {
	Facts  Facts
	Signer string   // empty: no signature was accepted
	Not    string   // why the record is not accepted, in a word; empty: it is
	Torn   int      // torn writes that were recovered
	Cannot []string // ids of checks that the kit could not make
	Kit    bool     // that is known
}

// Summary is what an owner can read of a record, the result first.
func (v Verified) Summary(now time.Time) []Row {
	f := v.Facts
	rows := []Row{
		{"result", v.result(now), 4},
		{"set", v.set(), 1},
		{"when", when(f, now), whole},
		{"conditions", conditions(f), 1},
		{"mains", mains(f.Power), 1},
		{"unmeasured", strings.Join(v.unmeasured(), "; "), 1},
		{"next look", f.NextWords(now), 1},
		{"operator", who(f), 1},
		{"mind", strings.Join(v.cautions(), "; "), whole},
	}
	out := rows[:0]
	for _, r := range rows {
		if r.Text != "" {
			out = append(out, r)
		}
	}
	return out
}

// result words the end and counts the weak spots with it; what may be long comes
// last.
func (v Verified) result(now time.Time) string {
	f := v.Facts
	text, more := f.Outcome(), ""
	switch f.State {
	case Closed:
		text = f.closing(strangely)
	case Stopped:
		text = "STOPPED at " + Title(f.Stop.Check, f.Stop.Item) + ", no repair is on record"
		more = " It read " + f.Stop.Cause + "."
	case BrokenOff, LeftOn:
		text += " in stage " + cmp.Or(f.Stage, "none yet")
	}
	text += ", " + date(f.Ended, now) + "."
	if v.Not != "" {
		text = "NOT ACCEPTED (" + v.Not + "). It says: " + text
	}
	weak := f.Weak()
	if f.NoVolts {
		weak = append(weak, "HT line not proved at volts")
	}
	if len(weak) > 0 {
		text += " Weak: " + strings.Join(weak, ", ") + "."
	}
	return text + more
}

func (v Verified) set() string {
	f := v.Facts
	return cmp.Or(f.Name, "no name") + ", mark " + cmp.Or(f.Mark, "none") + ", number " + cmp.Or(f.Label, "none")
}

// when tells the age first.
func when(f Facts, now time.Time) string {
	const format = "2 Jan 2006 15:04"
	return fmt.Sprintf("%s, by this computer's clock, %s: %s to %s", Age(f.Ended, now), now.Format(format+" MST"),
		f.Begun.In(now.Location()).Format(format), f.Ended.In(now.Location()).Format(format))
}

func conditions(f Facts) string {
	sort, part := "real session", "open set"
	if f.Practice {
		sort = "PRACTICE"
	}
	if f.Boxed {
		part = "boxed set"
	}
	return fmt.Sprintf("%s, %s; tap %s; limits %s; procedure %s", sort, part, cmp.Or(f.Tap, "not on the sheet"), cmp.Or(f.Profile, "not named"), cmp.Or(f.Procedure, "not named"))
}

// mains is the most that the set was given, and how it stood then.
func mains(p Power) string {
	if p.Supply == "" {
		return "not put on in this session"
	}
	most := "put on in a way that this version does not know"
	switch supplyOf(p.Supply) {
	case engine.Full:
		most = "whole mains, lamp out"
	case engine.Raised:
		most = "raised in steps, lamp " + p.Lamp
	case engine.Limited:
		most = "no more than behind the lamp, " + p.Lamp
	}
	return most + "; fitted: " + p.Set
}

// unmeasured is what the record says nothing about.
func (v Verified) unmeasured() []string {
	f := v.Facts
	var out []string
	if f.Owed > 0 {
		out = append(out, fmt.Sprintf("%d readings owed", f.Owed))
	}
	if !f.Boxed && supplyOf(f.Power.Supply) < engine.Full {
		out = append(out, "all at whole mains")
	}
	if !f.Touched {
		out = append(out, "touch current")
	}
	if !f.Boxed {
		out = append(out, "insulation and bond in the cabinet (a boxed record)")
	}
	for _, check := range f.NotRead {
		out = append(out, "left: "+Title(check, ""))
	}
	for _, check := range v.Cannot {
		if check != "touch-current" {
			out = append(out, "not by this kit: "+Title(check, ""))
		}
	}
	if !v.Kit {
		out = append(out, "what else the kit could not measure is not known to this version")
	}
	return out
}

// who worked, who was near, and who has seen it.
func who(f Facts) string {
	text := cmp.Or(f.Operator, "not named")
	switch {
	case f.Alone:
		text += ", alone: nobody within call"
	case f.Call != "":
		text += "; within call: " + f.Call
	default:
		text += "; who was within call is not said"
	}
	if f.Seconds > 0 {
		text += fmt.Sprintf("; a second person saw %d", f.Seconds)
	}
	return text + "; witness: " + cmp.Or(f.Witness, "none")
}

func (v Verified) cautions() []string {
	var out []string
	if v.Facts.State != Closed {
		out = append(out, CutBack)
	}
	if v.Torn > 0 {
		out = append(out, fmt.Sprintf("torn writes were kept aside: %d", v.Torn))
	}
	return append(out, v.Facts.Cautions(v.Signer != "")...)
}
