package describe_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/sheet"
)

// What is said where a line of the sheet is not printed: what takes its place at the
// bench, or that the set is not energised without it.
func TestWhatIsNotPrintedCosts(t *testing.T) {
	whole := typed(t, describe.Set, tableRadio)
	for _, c := range []struct {
		line         int
		answer, want string
	}{
		{1, ", , , -", "refuse construction: how the set is joined to the mains is not known: it counts as one with a live chassis"},
		{1, ", , , unknown", "refuse construction: a set of unknown construction counts as one with a live chassis"},
		{2, ", -", "refuse mains.tap: the tap in use is missing"},
		{3, "-", "refuse watts: the set's watts are missing"},
		{4, "-", "refuse rectifier: the rectifier is missing"},
		{4, "XY99", "refuse rectifier: there is no data of XY99 as a full-wave rectifier"},
		{5, "-", "note ht-winding: the HT winding's volts: not on the sheet | worked back from printed HT1; the reading with the transformer alone takes their place"},
		{6, "-", "note transformer.primary: the primary's ohms: not on the sheet | a typical window; the order of the taps is still judged"},
		{6, "-", "note transformer.half-a: the ohms of the HT winding's halves: not on the sheet | a typical window; their balance is still judged"},
		{7, "-", "note reservoir.capacitance: the reservoir's capacitance: not on the sheet | waits and ripple are typical"},
		{7, "32u -", "note reservoir.rating: the reservoir's rating: not on the sheet | read off the can at the bench; without it there is no HT"},
		{8, "-", "note bleed: whether a path discharges the HT line: not on the sheet | taken as none: the HT line's ohms end in a query at most"},
		{9, "-", "note output-transformer.primary: the output transformer's ohms: not on the sheet | a typical window; the ohms read dead take their place"},
		{10, "ECH81 EF89", "refuse valves: no output valve is among the valves"},
		{10, "XY88 EF89 EABC80 EL84", "note valves[0]: there is no data of XY88 | its heater is not counted, and its part of the HT current is typical"},
		{11, "-", "note output-stage.cathode-resistor: the output valve's cathode resistor: not on the sheet | what is marked on it is asked before it is measured"},
		{11, "-", "note output-stage.grid-leak: the output valve's grid leak: not on the sheet | what is marked on it is asked before it is measured"},
		{11, ", , 10n", "note output-stage.coupling: the coupling capacitor's rating: not on the sheet | read off the part at the bench before it is tested at volts"},
		{11, ", , , , -", "note output-stage.coupling.rail: which rail feeds the driver: not on the sheet | HT1 is taken for it"},
		{12, "-", "note printed: printed volts: not on the sheet | no second source"},
		{12, ", -", "note printed.meter-input: the meter of the printed volts: not on the sheet"},
	} {
		_, heard, err := whole.Answer(c.line-1, c.answer)
		if err != nil {
			t.Errorf("line %d, %q: %v", c.line, c.answer, err)
			continue
		}
		var said []string
		for _, r := range heard.Remarks {
			said = append(said, r.Severity.String()+" "+r.Field+": "+r.What+" | "+r.Hint)
		}
		if !strings.Contains(strings.Join(said, "\n"), c.want) {
			t.Errorf("line %d, %q: want %s\nsaid %s", c.line, c.answer, c.want, strings.Join(said, "\n     "))
		}
	}
}

// What line 1 leaves out of what every sheet has is said at once, before the limits
// of line 2 are known.
func TestWhatTheFirstLineLeavesOutIsSaid(t *testing.T) {
	all := map[string]string{
		"name": "name: not on the sheet: the sheet is not taken", "mark": "mark: not on the sheet: nothing tells this set from others",
		"flex.cores":   "cores of the mains lead: not on the sheet: whether its chassis is earthed is not known: the set is not energised",
		"construction": "construction: not on the sheet: its class is unknown and counts as live: the set is not energised",
	}
	for answer, want := range map[string][]string{
		"kitchen radio":                          {"mark", "flex.cores", "construction"},
		", 4711":                                 {"name", "flex.cores", "construction"},
		"kitchen radio, 4711, 2-core":            {"construction"},
		"kitchen radio, 4711, , double-wound":    {"flex.cores"},
		"kitchen radio, -, 2-core, double-wound": {"mark"},
		"-":                                      {"name", "mark", "flex.cores", "construction"},
		"kitchen radio, 12, 2-core, double-wound": {},
	} {
		_, heard, err := describe.Draft{Form: describe.Set}.Answer(0, answer)
		if err != nil || len(heard.Remarks) != len(want) {
			t.Errorf("%q: %v, %+v", answer, err, heard.Remarks)
			continue
		}
		for i, r := range heard.Remarks {
			if text := r.What + ": " + r.Hint; r.Severity != sheet.Note || !slices.Contains(want, r.Field) || !strings.HasPrefix(text, all[r.Field]) {
				t.Errorf("%q: remark %d is %+v", answer, i, r)
			}
		}
	}
}

// Where a line that is known already says that the set is not energised, it is said
// once.
func TestWhatIsRefusedIsNotSaidTwice(t *testing.T) {
	_, heard, err := typed(t, describe.Set, tableRadio).Answer(0, ", , , -")
	if err != nil || len(heard.Remarks) != 1 || heard.Remarks[0].Severity != sheet.Refuse {
		t.Errorf("%v: %+v", err, heard.Remarks)
	}
}

// With the least that energises a set, all else is asked, typical or left, and said.
func TestTheLeastSheetHasWindows(t *testing.T) {
	d := describe.Draft{Form: describe.Set}
	for i, a := range []string{
		"lost diagram, 7, 2-core, double-wound", "200 215 230, 230, uk", "52", "EZ80", "-", "-", "-", "-", "-", "ECH81 EF89 EABC80 EL84", "-", "264",
	} {
		next, _, err := d.Answer(i, a)
		if err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		d = next
	}
	said, order, ok := card(t, d.Text)
	if !ok {
		t.Fatalf("it is not energised:\n%s", d.Text)
	}
	if len(order) < 60 || said["marked-ohms"] == "" {
		t.Errorf("%d checks: %v", len(order), order)
	}
}
