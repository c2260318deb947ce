package describe_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// asked answers the lines that are asked, in their order.
func asked(t *testing.T, f *describe.Form, answers []string) describe.Draft {
	t.Helper()
	d := describe.Draft{Form: f}
	for i := range f.Lines {
		if !d.Asks(i) {
			continue
		}
		if len(answers) == 0 {
			t.Fatalf("line %d, %s: no answer left", i+1, f.Lines[i].Title)
		}
		next, _, err := d.Answer(i, answers[0])
		if err != nil {
			t.Fatalf("line %d, %q: %v", i+1, answers[0], err)
		}
		d, answers = next, answers[1:]
	}
	if len(answers) > 0 {
		t.Fatalf("not asked for: %q", answers)
	}
	return d
}

// booklets are the example meters as a person types them from their booklets.
var booklets = map[string][]string{
	"general-digital": {
		"general digital, digital", "10M", "CAT III 600 V, 600 V", "yes, yes",
		"0.5 % 2, 600.0m 6.000 60.00 600.0",
		"1.2 3, 6.000 60.00 600.0",
		"0.5 2, 60.00 600.0 6.000k 60.00k 600.0k 6.000M 60.00M, yes",
		"-", "-", "-", "-",
	},
	"insulation-tester": {
		"insulation tester, insulation-tester", "CAT III 600 V, 600 V", "yes, no",
		"5 %, 5.000M 50.00M 500.0M 5.000G, , 3m",
		"5 %, 5M/1k 50M/10k 500M/100k 5G/1M, , 1m",
		"5 %, 300.0u 3.000m, , 3m",
		"1 % 3, 2.000 20.00, yes, 200m",
	},
}

func TestABookletIsTheExampleSheet(t *testing.T) {
	for name, answers := range booklets {
		d := asked(t, describe.Meter, answers)
		got, err := spec.LoadMeter("typed", d.Text)
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, d.Text)
		}
		want, err := spec.LoadMeter("example", named(t, procedures.Meters(), name))
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(unlisted(got), unlisted(want)) {
			t.Errorf("%s\ngot  %+v\nwant %+v\n%s", name, got, want, d.Text)
		}
	}
}

// unlisted has no texts of ranges: 0.1 mV and 100 µV are one.
func unlisted(m *sheet.Meter) *sheet.Meter {
	for i := range m.Functions {
		for k := range m.Functions[i].Ranges {
			r := &m.Functions[i].Ranges[k]
			r.TopText, r.DigitText = "", ""
		}
	}
	return m
}

func TestWhatAMeterShowsIsAnAnswer(t *testing.T) {
	for _, m := range procedures.Meters() {
		d := describe.Draft{Form: describe.Meter, Text: m.Text}
		before, err := spec.LoadMeter(m.Name, m.Text)
		if err != nil {
			t.Fatal(err)
		}
		for i := range describe.Meter.Lines {
			shown := d.Shows(i)
			if !d.Asks(i) || shown == "" {
				continue
			}
			next, _, err := d.Answer(i, shown)
			if err != nil {
				t.Errorf("%s line %d, %q: %v", m.Name, i+1, shown, err)
				continue
			}
			after, err := spec.LoadMeter("f", next.Text)
			if err != nil || len(after.Functions) != len(before.Functions) {
				t.Errorf("%s line %d, %q: another meter (%v)\n%s", m.Name, i+1, shown, err, next.Text)
			}
		}
	}
}

func TestAFunctionThatIsNotAskedForStays(t *testing.T) {
	text := []byte("meter:\n  name: x\n  kind: insulation-tester\n  category: none\n  max-volts: 600 V\n  functions:\n    - {function: insulation, test-volts: 100 V, percent: 5 %, ranges: [{top: 5 MΩ, digit: 1 kΩ}]}\n")
	d := describe.Draft{Form: describe.Meter, Text: text}
	for i := range describe.Meter.Lines {
		if strings.HasPrefix(describe.Meter.Lines[i].Title, "Earth bond") {
			d, _, _ = d.Answer(i, "1 % 3, 2.000, yes, 200m")
		}
	}
	m, err := spec.LoadMeter("f", d.Text)
	if err != nil || len(m.Functions) != 2 {
		t.Fatalf("%v\n%s", err, d.Text)
	}
	if s, ok := m.SpanAt(sheet.Insulation, 100); !ok || s.Ranges[0].Top.Value != 5e6 {
		t.Errorf("%+v", m.Functions)
	}
}

func TestRangesAreReadAsPrinted(t *testing.T) {
	dc := -1
	for i := range describe.Meter.Lines {
		if strings.HasPrefix(describe.Meter.Lines[i].Title, "Volts d.c.") {
			dc = i
		}
	}
	start := asked(t, describe.Meter, booklets["general-digital"])
	for _, c := range []struct{ answer, want string }{
		{"1, 600.0m", "0.6V/0.1mV"},
		{"1, 60.00", "60V/10mV"},
		{"1, 600/1", "600V/1V"},
		{"1, 1.0", "1V/0.1V"},
		{"1, 600", "digit: this is missing"},
		{"1, 600.0x", "is no unit"},
		{"1, OL", "is no end of a range"},
		{"1, 60.00 6.000", "is not above the range before"},
		{"0 0, 60.00", "states no limit of error"},
	} {
		d, _, err := start.Answer(dc, c.answer)
		switch {
		case err != nil:
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("%q: %v, want %q", c.answer, err, c.want)
			}
		case d.Shows(dc) != "1 %, "+c.want:
			t.Errorf("%q: %q, want %q", c.answer, d.Shows(dc), c.want)
		}
	}
}

func TestABenchIsTheExampleFile(t *testing.T) {
	d := asked(t, describe.Bench(func(s string) string { return s }), []string{
		"two meters, anna, back room", "general-digital; general-digital", "insulation-tester", "9.3, 10k", "40 100, 230", "yes, yes, no, yes", "-",
	})
	got, err := spec.LoadBench("typed", d.Text)
	if err != nil {
		t.Fatalf("%v\n%s", err, d.Text)
	}
	want, err := spec.LoadBench("example", named(t, procedures.Benches(), "two-meters"))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v\ngot  %+v\nwant %+v\n%s", err, got, want, d.Text)
	}
	for i := range d.Form.Lines {
		if shown := d.Shows(i); shown != "" {
			next, _, err := d.Answer(i, shown)
			if err != nil || string(next.Text) != string(d.Text) {
				t.Errorf("line %d, %q: %v\n%s", i+1, shown, err, next.Text)
			}
		}
	}
}

func TestMetersOfABenchHaveTheirPlaces(t *testing.T) {
	f := describe.Bench(func(s string) string { return "/here/" + s })
	for answer, want := range map[string]string{
		"a":          "[{A /here/a set}]",
		"a b; c":     "[{A /here/a b lamp-box} {B /here/c set}]",
		"a; b; c":    "[{A /here/a lamp-box} {B /here/b ht-watch} {C /here/c set}]",
		"a; b; c; d": "",
	} {
		d, _, err := describe.Draft{Form: f}.Answer(1, answer)
		if want == "" {
			if err == nil {
				t.Errorf("%q was taken\n%s", answer, d.Text)
			}
			continue
		}
		b, _ := spec.DraftBench(d.Text)
		if err != nil || b == nil {
			t.Fatalf("%q: %v", answer, err)
		}
		if got := strings.Replace(strings.Join(strings.Fields(sprint(b.Meters)), " "), "sheet.BenchMeter", "", -1); got != want {
			t.Errorf("%q: %s, want %s", answer, got, want)
		}
	}
}

func sprint(v any) string { return fmt.Sprint(v) }
