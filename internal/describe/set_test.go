package describe_test

import (
	"reflect"
	"strings"
	"testing"

	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// tableRadio is the example set as a person types it from its service sheet.
var tableRadio = []string{
	"kitchen table set, 4711, 2-core, double-wound",
	"200 215 230, 230, uk",
	"52 W",
	"ez80",
	"275-0-275 open",
	"46, 260 285, 3, 55",
	"32u 450, R 1k2, 32u 450",
	"220k HT2, chassis",
	"380, 3, own speaker",
	"ECH81 EF89 EABC80 EL84, 2 x 0.3",
	"135, 470k, 10n 400, 100, HT2, 1k",
	"264 224 248 220 6.0 6.3, 10M, 230, all electrolytics; all paper capacitors",
}

// typed answers line after line.
func typed(t *testing.T, f *describe.Form, answers []string) describe.Draft {
	t.Helper()
	d := describe.Draft{Form: f}
	for i, a := range answers {
		next, _, err := d.Answer(i, a)
		if err != nil {
			t.Fatalf("line %d, %q: %v", i+1, a, err)
		}
		d = next
	}
	return d
}

func TestTwelveLinesAreTheExampleSheet(t *testing.T) {
	d := typed(t, describe.Set, tableRadio)
	got, err := spec.LoadSet("typed", d.Text)
	if err != nil {
		t.Fatalf("%v\n%s", err, d.Text)
	}
	text, _ := procedures.Find(procedures.Sheets(), "table-radio")
	want, err := spec.LoadSet("example", text)
	if err != nil {
		t.Fatal(err)
	}
	want.Output.Bias, want.Signal = "", nil // not asked in the twelve lines
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v\n%s", got, want, d.Text)
	}
}

func TestWhatALineShowsIsAnAnswerToIt(t *testing.T) {
	for _, s := range procedures.Sheets() {
		d := describe.Draft{Form: describe.Set, Text: s.Text}
		before, err := spec.LoadSet(s.Name, s.Text)
		if err != nil {
			t.Fatal(err)
		}
		for i := range describe.Set.Lines {
			if !d.Has(i) {
				continue
			}
			shown := d.Shows(i)
			next, _, err := d.Answer(i, shown)
			if err != nil {
				t.Errorf("%s line %d, %q: %v", s.Name, i+1, shown, err)
				continue
			}
			if after, err := spec.LoadSet("f", next.Text); err != nil || !reflect.DeepEqual(before, after) {
				t.Errorf("%s line %d, %q: another sheet (%v)", s.Name, i+1, shown, err)
			}
		}
	}
}

func TestAnAnswerThatCannotBeTakenLeavesTheDraft(t *testing.T) {
	whole := typed(t, describe.Set, tableRadio)
	for _, c := range []struct {
		line         int
		answer, want string
	}{
		{1, "", "nothing was typed"},
		{1, "a, b, 5-core", `"5-core" is not a whole number`},
		{1, "a, b, 2-core, double-wond", "hint: did you mean double-wound"},
		{1, "a, b, 2-core, double-wound, more", "5 things stand between commas, and this line has 4"},
		{1, strings.Repeat("a", 61), "61 characters"},
		{1, "M1 2-core double-wound", "name: \"2-core\" stands in it, and is an answer of its own: cores of the mains lead\nhint: a comma stands between them, like kitchen table set, 4711, 2-core, double-wound"},
		{1, "M1 2 core", `"2-core" stands in it`},
		{1, "M1 3CORE 2 m", `"3-core" stands in it`},
		{1, "M1 double wound", `"double-wound" stands in it, and is an answer of its own: construction`},
		{1, "M1, 4711 Double-Wound", `mark: "double-wound" stands in it`},
		{1, "M1 unknown", `"unknown" stands in it`},
		{1, "M1 series-heater-floating-negative", `"series-heater-floating-negative" stands in it`},
		{2, "200 215 230, 230, gb", `"gb" is no profile of limits`},
		{2, "200 215 x", "taps: "},
		{2, "20 215", "20 V is out of bounds"},
		{3, "52 Ω", "watts: "},
		{3, "52 60", `"60" is too much after watts`},
		{3, ">52", "is no number"},
		{5, "275-0-250", "HT winding: "},
		{7, "32 450", "could be any size of capacitance"},
		{7, "32u 450, X 1k2", `"X" is not known here`},
		{8, "220k HT3", `"HT3" is not known here`},
		{10, "ECH81, 2", "dial-lamps.current: this is missing"},
		{10, "ECH81, two 0.3", "is not a whole number"},
		{11, "135, 470k, 10n 400, 100, HT9", `"HT9" is not known here`},
		{11, "135, 470k, 10n 100 V, 224 V cold", "\"cold\" is too much after driver's anode warm\nhint: a comma stands"},
		{11, "135, 470k, 10n 100 V, 224V cold", "\"cold\" is too much after driver's anode warm"},
		{11, "135; 470k", `"135;" ends in ";"`},
		{12, "264 224 248 220 6 6.3; all electrolytics; all paper", `meter: "all" is not a number`},
		{12, "264 224; 10M; 32u reservoir", `mains: "32u`},
		{12, "264 224 248 220 6 6.3 9", `"9" is too much after heater`},
	} {
		d, _, err := whole.Answer(c.line-1, c.answer)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("line %d, %q: %v, want %q", c.line, c.answer, err, c.want)
		}
		if string(d.Text) != string(whole.Text) {
			t.Errorf("line %d, %q changed the draft", c.line, c.answer)
		}
	}
}

func TestWhatBelongsToAnotherIsWantedWithIt(t *testing.T) {
	for line, c := range map[int][2]string{
		5: {"275", "ht-winding.taken: this is missing"},
		8: {"220k", "bleed.at: this is missing"},
	} {
		if _, _, err := (describe.Draft{Form: describe.Set}).Answer(line-1, c[0]); err == nil || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("line %d, %q: %v, want %q", line, c[0], err, c[1])
		}
	}
}

func TestAGroupThatIsNotTypedStaysAndADashTakesItOut(t *testing.T) {
	d := typed(t, describe.Set, tableRadio)
	for _, c := range []struct {
		line         int
		answer, want string
	}{
		{6, "50", "50 Ω, 260 Ω 285 Ω, 3 A, 55 VA"},
		{6, "-, , -", "-, 260 Ω 285 Ω, -, 55 VA"},
		{6, "46, 260 -", "46 Ω, 260 Ω, 3 A, 55 VA"},
		{6, "-", ""},
		{8, "none", "none, chassis"},
		{10, ", none", "ECH81 EF89 EABC80 EL84, none"},
		{11, ",,,,240", "135 Ω, 470 kΩ, 10 nF 400 V, 100 V, 240 V, 1 kΩ"},
		{12, ", 1k/V 300", "264 V 224 V 248 V 220 V 6 V 6.3 V, 1 kΩ/V 300 V, 230 V, all electrolytics; all paper capacitors"},
	} {
		next, _, err := d.Answer(c.line-1, c.answer)
		if err != nil {
			t.Errorf("line %d, %q: %v", c.line, c.answer, err)
			continue
		}
		if got := next.Shows(c.line - 1); got != c.want {
			t.Errorf("line %d, %q: %q, want %q", c.line, c.answer, got, c.want)
		}
	}
}

// A name of any words is not taken for what only looks like a choice.
func TestANameMayHaveWordsOfItsOwn(t *testing.T) {
	for _, name := range []string{"M12 core set", "two-core receiver", "wound twice", "12-core", "series 3"} {
		if _, _, err := (describe.Draft{Form: describe.Set}).Answer(0, name); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// Semicolons part the last line like commas, up to what was renewed: that is a list.
func TestSemicolonsPartTheLastLine(t *testing.T) {
	d := typed(t, describe.Set, tableRadio)
	for _, answer := range []string{
		"264 224 248 220 6 6.3; 10M; 230; all electrolytics; all paper capacitors",
		"264 224 248 220 6 6.3, 10M, 230; all electrolytics; all paper capacitors",
		";;;all electrolytics; all paper capacitors",
	} {
		next, _, err := d.Answer(11, answer)
		if err != nil || string(next.Text) != string(d.Text) {
			t.Errorf("%q: %v\n%s", answer, err, next.Text)
		}
	}
}

// What a wrong figure says at once, and what the line that is missing costs.
func TestTheSheetArguesWhileItIsOpen(t *testing.T) {
	whole := typed(t, describe.Set, tableRadio)
	for _, c := range []struct {
		line     int
		answer   string
		severity sheet.Severity
		field    string
		want     string
	}{
		{6, ",,1.2", sheet.Refuse, "transformer.heater-rating", "valves and dial lamps draw"},
		{11, "30", sheet.Refuse, "output-stage.cathode-resistor", "printed cathode volts over the cathode resistor give"},
		{7, "32u 350", sheet.Refuse, "reservoir.rating", "a rating of 350 V is below"},
		{7, "200u 450", sheet.Refuse, "reservoir.capacitance", "that EZ80 may charge"},
		{2, ", 240", sheet.Refuse, "mains.tap", "is not one of the taps"},
		{1, ",, 3-core", sheet.Refuse, "flex.length", "is missing"},
		{12, "264 280", sheet.Refuse, "printed.ht2", "is not below ht1"},
		{5, "-", sheet.Note, "ht-winding", "not on the sheet"},
		{3, "-", sheet.Refuse, "watts", "the set's watts are missing"},
	} {
		_, heard, err := whole.Answer(c.line-1, c.answer)
		if err != nil {
			t.Errorf("line %d, %q: %v", c.line, c.answer, err)
			continue
		}
		found := false
		for _, r := range heard.Remarks {
			found = found || r.Severity == c.severity && r.Field == c.field && strings.Contains(r.What, c.want)
		}
		if !found {
			t.Errorf("line %d, %q: %+v", c.line, c.answer, heard.Remarks)
		}
	}
}

func TestAHealthySheetIsNotArguedWith(t *testing.T) {
	d := describe.Draft{Form: describe.Set}
	for i, a := range tableRadio {
		next, heard, err := d.Answer(i, a)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range heard.Remarks {
			if r.Severity != sheet.Note {
				t.Errorf("line %d: %+v", i+1, r)
			}
		}
		d = next
	}
}

func FuzzAnswer(f *testing.F) {
	for i, a := range tableRadio {
		f.Add(i, a)
	}
	f.Add(4, "-")
	f.Add(7, "none, -")
	empty := describe.Draft{Form: describe.Set}
	whole := empty
	for i, a := range tableRadio {
		whole, _, _ = whole.Answer(i, a)
	}
	f.Fuzz(func(t *testing.T, i int, answer string) {
		if i < 0 || i >= len(describe.Set.Lines) {
			return
		}
		for _, d := range []describe.Draft{empty, whole} {
			next, _, err := d.Answer(i, answer)
			if err != nil {
				continue
			}
			if set, errs := spec.DraftSet(next.Text); set == nil {
				t.Fatalf("%q made a file that cannot be read: %v\n%s", answer, errs, next.Text)
			}
			if shown := next.Shows(i); shown != "" {
				again, _, err := next.Answer(i, shown)
				if err != nil || string(again.Text) != string(next.Text) {
					t.Fatalf("%q shows %q: %v", answer, shown, err)
				}
			}
		}
	})
}
