package main

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/internal/unit"
	"example.com/powerup/procedures"
)

// seenFields are the fields of each kind of line that scripted sessions write.
type seenFields map[string]map[string]bool

func (s seenFields) add(kind string, fields map[string]string) {
	if s[kind] == nil {
		s[kind] = map[string]bool{}
	}
	for key := range fields {
		s[kind][key] = true
	}
}

func (s seenFields) tape(r *sessiontest.Tape) {
	for _, l := range r.Lines {
		s.add(l.Kind, l.Fields)
	}
}

// sessionsOfEveryKind plays the scripts of this package, one session with all
// that goes wrong on paper, and one that is broken off, resumed and altered.
func sessionsOfEveryKind(t *testing.T) seenFields {
	t.Helper()
	seen := seenFields{}
	play := func(boxed bool, sheet, bench string, turns map[string][]string) *sessiontest.Tape {
		p := sessiontest.Plan(t, sheet, bench)
		if boxed {
			p = sessiontest.Boxed(t, sheet, bench)
		}
		r := sessiontest.TapeOf(t, p)
		r.Radio.Turns = maps.Clone(turns)
		return r
	}
	for _, sc := range scripts {
		r := play(sc.boxed, sc.sheet, sc.bench, sc.extra)
		r.Until("")
		seen.tape(r)
	}
	r := play(false, "table-radio", "two-meters", map[string][]string{
		"openings/tester":                      {">20M 210M 9.31 0.2 0.2 9.31"},
		"query/openings/coupling-capacitor@V4": {"second 3G seen bob", "second 212M way tester after the leads were dried", "cause 1"},
		"dead-ht/black-chassis":                {"0.2 1k35 472k", "133ohm 472k"},
		"query/transformer/core-warm@300s":     {"cause 1 a warm room"},
		"transformer/half-b@300s":              {"219.7 261.7 37"},
		"ramp/output-grid#75@300s":             {"1.7"},
		"stop/repair":                          {"p coupling capacitor V4, a new one fitted", "v output EL84, another fitted"},
	})
	r.Until("")
	seen.tape(r)
	seen.tape(alteredSession(t))
	for _, rare := range []*sessiontest.Tape{aloneWithoutFuse(t), stoppedWithinALine(t), heldByAClip(t), movedOutlet(t), unsettledCore(t), handedBack(t), notAtVolts(t), takenOver(t)} {
		seen.tape(rare)
	}
	for _, boxed := range []bool{false, true} {
		seen.add("open", openFields(t, boxed))
	}
	torn := transcriptlog.Recovered{TornPath: "x.torn-1", Torn: []byte("x")}.Record()
	seen.add(torn.Kind, torn.Fields)
	seen.add(goesOn().Kind, goesOn().Fields)
	return seen
}

// alteredSession has what a hand at the bench does beside reading.
func alteredSession(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("openings/tester")
	r.Say("nonsense")
	r.Until("mains-side/taps")
	r.Say("touched p coupling")
	r.Say("no")
	r.Say("touched p coupling")
	r.Say("yes")
	r.Until("mains-side/taps")
	r.TakeBack(lastRead(r))
	r.Until("mains-side/taps")
	r.Say("park")
	r.Again(30 * time.Hour)
	r.Until("power")
	r.Keep(r.Abort("stop key", r.Now))
	return r
}

// aloneWithoutFuse has nobody within call, a set without a fuse, a proof of dead
// that failed, and a reading left out.
func aloneWithoutFuse(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Turns = map[string][]string{"bench/call": {"nobody"}}
	r.Radio.Faults = map[string]string{"set-fuse-mark": "0", "ripple": "-"}
	r.Until("proof-full.1")
	r.Say(strings.ReplaceAll(r.Radio.Line(r.Prompt()), " 0.2", " 25"))
	r.Until("")
	return r
}

// takenOver has a disk that fills and is cleared, and another pair of hands.
func takenOver(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("mains-side/taps")
	r.Keep(r.Room(0))
	r.Keep(r.Room(1 << 30))
	r.Say("over to carl")
	r.Until("")
	return r
}

func stoppedWithinALine(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("mains-side/insulation")
	r.Say("1k 220M 9.31 0.2 9.31")
	return r
}

func heldByAClip(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("hold-1")
	r.Say("clip on")
	r.Say("clip off 217k")
	return r
}

// movedOutlet has other volts at the outlet after mains was on than before.
func movedOutlet(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "one-meter")
	r.Until("heaters/heater-pins")
	r.Until("proof-quick")
	r.Say("9.31 0.2 0.2 0.2 9.31 t 239")
	return r
}

// unsettledCore warms on for a while, so that its end cannot be worked out.
func unsettledCore(t *testing.T) *sessiontest.Tape {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "three-meters")
	r.Until("soak/")
	core := 25.0
	for range 12 {
		p := r.Prompt()
		words := strings.Fields(r.Radio.Line(p))
		for i, f := range p.Fields {
			if f.Slot >= 0 && r.Plan.Slots[f.Slot].Check.ID == "core" {
				words[i], core = fmt.Sprintf("%.1f", core), core+3.1
			}
		}
		r.Say(strings.Join(words, " "))
	}
	return r
}

// handedBack is a boxed set whose owner has had the cautions, by a kit that reads
// touch current.
func handedBack(t *testing.T) *sessiontest.Tape {
	t.Helper()
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	in.Boxed, in.Bench.Touch = true, "uk"
	m := *in.Meters["general-digital"]
	top, digit := unit.Quantity{Kind: unit.KindAmpere, Value: 20e-3}, unit.Quantity{Kind: unit.KindAmpere, Value: 1e-6}
	m.Functions = append(slices.Clone(m.Functions), sheet.Span{Function: sheet.Touch, Percent: 2, Digits: 3, Ranges: []sheet.Range{{Top: top, Digit: digit}}})
	in.Meters["general-digital"] = &m
	r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
	r.Until("")
	return r
}

// notAtVolts is a set whose HT line no tester could prove at volts.
func notAtVolts(t *testing.T) *sessiontest.Tape {
	t.Helper()
	in := sessiontest.Inputs(t, "table-radio", "two-meters")
	m := *in.Meters["insulation-tester"]
	m.Functions = slices.DeleteFunc(slices.Clone(m.Functions), func(s sheet.Span) bool { return s.Function == sheet.Leakage })
	in.Meters["insulation-tester"] = &m
	r := sessiontest.TapeOf(t, sessiontest.Made(t, in))
	r.Until("")
	return r
}

// lastRead is the slot that was read last.
func lastRead(r *sessiontest.Tape) (slot string) {
	for _, l := range r.Lines {
		if l.Kind == "reading" {
			slot = l.Fields["slot"]
		}
	}
	return slot
}

// openFields are those of line 1, with all that it can say.
func openFields(t *testing.T, boxed bool) map[string]string {
	t.Helper()
	s, p, err := gather(demoSheet, procedures.Procedures()[0].Name, demoBench)
	if err != nil {
		t.Fatal(err)
	}
	if s.boxed = boxed; boxed {
		s.after, s.afterSum = "x", "x"
	}
	return header(s, p, "x", "SHA256:x", newWallClock()).Fields
}

var (
	inBrackets = regexp.MustCompile(`\([^)]*\)`)
	quoted     = regexp.MustCompile("`([^`]+)`")
)

// Every kind and field that is written is on the page, and everything on the page
// is written.
func TestThePageListsWhatIsWrittenAndNothingElse(t *testing.T) {
	t.Parallel()
	seen, rows := sessionsOfEveryKind(t), kindRows(t)
	for kind, fields := range seen {
		if rows[kind] == "" {
			t.Errorf("the page does not list %q", kind)
		}
		for key := range fields {
			if !fieldListed(rows[kind], key) {
				t.Errorf("the page does not list %q of %s", key, kind)
			}
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(rows)) {
		if seen[kind] == nil {
			t.Errorf("the page lists %s, and no session here writes it", kind)
			continue
		}
		cell, _, _ := strings.Cut(rows[kind], "**Judging again.**")
		cells := strings.Split(inBrackets.ReplaceAllString(cell, ""), " | ")
		for _, m := range quoted.FindAllStringSubmatch(cells[len(cells)-1], -1) {
			if !isWritten(seen[kind], m[1]) {
				t.Errorf("the page lists %q of %s, and no session here writes it", m[1], kind)
			}
		}
	}
}

// isWritten tells whether a name on the page stands for a field that was written:
// itself, or one that begins or ends as it says.
func isWritten(fields map[string]bool, name string) bool {
	for key := range fields {
		begin, end, several := strings.Cut(name, "...")
		if key == name || several && strings.HasPrefix(key, begin) && strings.HasSuffix(key, end) {
			return true
		}
	}
	return false
}
