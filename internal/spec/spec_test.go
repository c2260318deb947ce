package spec_test

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
	"example.com/powerup/procedures"

	"gopkg.in/yaml.v3"
)

func TestSizeIsBounded(t *testing.T) {
	fill := func(n int) []byte {
		text := least["set"]
		return []byte(text + strings.Repeat("#", n-len(text)-1) + "\n")
	}
	if _, err := spec.LoadSet("f.yaml", fill(256<<10)); err != nil {
		t.Errorf("256 KiB: %v", err)
	}
	_, err := spec.LoadSet("f.yaml", fill(256<<10+1))
	const want = "f.yaml: the file has 262145 bytes, more than 256 KiB\nhint: a sheet is a page of text: is this the right file?"
	if err == nil || err.Error() != want {
		t.Errorf("one byte more: got %v, want %s", err, want)
	}
}

// Entries are the file's group, its key, the list and what stands in it.
func TestEntriesAreBounded(t *testing.T) {
	load := func(n int) error {
		_, err := spec.LoadSet("f.yaml", []byte("set: ["+strings.Repeat("1,", n)+"]\n"))
		return err
	}
	const want = "f.yaml:1:40001: the file has more than 20000 entries\nhint: is this the right file?"
	if err := load(19_998); err == nil || err.Error() != want {
		t.Errorf("20 001 entries: got %v, want %s", err, want)
	}
	if err := load(19_997); err == nil || strings.Contains(err.Error(), "entries") {
		t.Errorf("20 000 entries: got %v, want another error", err)
	}
}

func TestDepthIsBounded(t *testing.T) {
	nested := func(n int) error {
		return loadAs("set", "set: "+strings.Repeat("[", n)+strings.Repeat("]", n)+"\n")
	}
	if err := nested(19); err == nil || strings.Contains(err.Error(), "deep") {
		t.Errorf("20 levels: got %v, want another error", err)
	}
	if err := nested(20); err == nil || !strings.Contains(err.Error(), "more than 20 levels deep") {
		t.Errorf("21 levels: got %v", err)
	}
}

// A file of rubbish says so once, and does not fill the screen.
func TestRubbishIsShort(t *testing.T) {
	var all spec.Errors
	_, err := spec.LoadSet("f.yaml", bytes.Repeat([]byte{0}, 1000))
	if !errors.As(err, &all) || len(all) != 10 {
		t.Errorf("got %d errors, want 10", len(all))
	}
}

func TestErrorsCanBeTakenApart(t *testing.T) {
	text := strings.Replace(least["set"], "cores: 2", "cores: two", 1)
	text = strings.Replace(text, "230 V", "230", 1)
	_, err := spec.LoadSet("f.yaml", []byte(text))
	err = fmt.Errorf("wrapped: %w", err)
	var one *spec.Error
	if !errors.As(err, &one) {
		t.Fatal("no *spec.Error in it")
	}
	want := spec.Error{
		File: "f.yaml", Line: 5, Column: 17, Field: "flex.cores",
		What: `"two" is not a whole number from 0 to 99999`, Hint: "write digits only, as 2",
	}
	if *one != want {
		t.Errorf("first: got %+v, want %+v", *one, want)
	}
	var all spec.Errors
	if !errors.As(err, &all) || len(all) != 2 {
		t.Errorf("got %d errors, want both at once", len(all))
	}
}

// What a file holds, or is called, must not be able to move the cursor.
func TestMessagesAreVisible(t *testing.T) {
	e := spec.Error{File: "a\x1b[2Jb", Line: 1, Column: 2, Field: "c\rd", What: "e\u202ef", Hint: "g\nh"}
	const want = "a\ufffd[2Jb:1:2: c\ufffdd: e\ufffdf\nhint: g\ufffdh"
	if got := e.Error(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	_, err := spec.LoadSet("f", []byte("set: {\"\\e[2J"+strings.Repeat("k", 60)+"\": 1}"))
	if err == nil || strings.ContainsRune(err.Error(), '\x1b') || len(err.Error()) > 500 {
		t.Errorf("got %q, want the key escaped and cut", err)
	}
}

// What lies just inside a bound, or says that there is nothing, is taken.
func TestEdgesLoad(t *testing.T) {
	for _, c := range []struct{ why, base, old, new string }{
		{"no dial lamps", "set", "name: t", "name: t\n  dial-lamps: {count: 0}"},
		{"no bleed path", "set", "name: t", "name: t\n  bleed: {none: true}"},
		{"a screen fed straight", "set", "name: t", "name: t\n  output-stage: {screen-resistor: 0 Ω}"},
		{"a number for a name", "set", "name: t", "name: 4711"},
		{"a valve with a number for its type", "set", "valves: [EL84]", "valves: [80]"},
		{"text in quotes", "set", "name: t", "name: \"it's: #1\""},
		{"keyboard letters for the unit", "set", "name: t", "name: t\n  reservoir: {capacitance: 32 uF}\n  transformer: {primary: 46 ohm}"},
		{"a long note", "procedure", "supply: dead", "supply: dead\n    note: " + strings.Repeat("x", 400)},
		{"no dwell", "procedure", "supply: dead\n    steps:\n      - check: c\n      - hold: hold-1", "supply: full\n    steps:\n      - raise: [25 %]\n      - {cold: 180 s, read: [ripple]}"},
		{"a hold of an earlier stage", "procedure", "- hold: hold-1\n", "- hold: hold-1\n  - {stage: two, supply: full, needs: [hold-1], steps: [{check: c}]}\n"},
	} {
		text := strings.Replace(least[c.base], c.old, c.new, 1)
		if text == least[c.base] {
			t.Fatalf("%s: nothing changed", c.why)
		}
		if err := loadAs(c.base, text); err != nil {
			t.Errorf("%s: %v", c.why, err)
		}
	}
}

func TestValuesArrive(t *testing.T) {
	set, err := spec.LoadSet("f", []byte(fullSet[:strings.Index(fullSet, "    meter-ohms-per-volt")]))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"name", set.Name, "full"},
		{"construction", set.Construction, sheet.DoubleWound},
		{"cores", set.Flex.Cores, 3},
		{"area", *set.Flex.Area, unit.SquareMetre(0.75e-6)},
		{"taps", set.Mains.Taps, []unit.Volt{200, 230}},
		{"reservoir", *set.Reservoir.Capacitance, unit.Farad(32e-6)},
		{"smoothing", *set.Smoothing.Resistance, unit.Ohm(1200)},
		{"bleed", set.Bleed.At, sheet.HT2},
		{"coupling", *set.Output.Coupling.Capacitance, unit.Farad(10e-9)},
		{"printed cathode", *set.Printed.Cathode, unit.Volt(6)},
		{"not said", set.Printed.Range == nil, true},
	} {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
	meter, err := spec.LoadMeter("f", []byte(least["coil"]))
	if err != nil {
		t.Fatal(err)
	}
	if top := meter.Functions[1].Ranges[0].Top; top != unit.Ohm(2000).Quantity() {
		t.Errorf("top of a range: got %v, want 2 kΩ", top)
	}
	procedure, err := spec.LoadProcedure("f", []byte(least["procedure"]))
	if err != nil {
		t.Fatal(err)
	}
	if got := []int{procedure.Stages[0].At.Line, procedure.Stages[0].Steps[1].At.Line}; !reflect.DeepEqual(got, []int{5, 9}) {
		t.Errorf("lines of a stage and a step: got %v, want 5 and 9", got)
	}
}

func TestRemarksGetTheirLines(t *testing.T) {
	remarks := []sheet.Remark{
		{Field: "mains.taps[0]", What: "a", Hint: "b"},
		{Field: "flex.area", Severity: sheet.Note, What: "c", Hint: "d"},
		{Field: "bleed", Severity: sheet.Note, What: "e", Hint: "f"},
	}
	const want = "f.yaml:6:18: mains.taps[0]: a\nhint: b\n" +
		"f.yaml:5:9: flex.area: c\nhint: d\n" + // not there: where its group begins
		"f.yaml:2:3: bleed: e\nhint: f"
	if got := spec.PlaceRemarks("f.yaml", []byte(least["set"]), remarks).Error(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := spec.PlaceRemarks("f.yaml", nil, remarks[2:]).Error(); !strings.HasSuffix(got, "f.yaml: bleed: e\nhint: f") {
		t.Errorf("remarks on nothing: got %s, want them kept", got)
	}
}

// Windows editors put a mark before the text and a return before each line end.
func TestOtherEditorsAreRead(t *testing.T) {
	text := "\ufeff" + strings.ReplaceAll(least["set"], "\n", "\r\n")
	if _, err := spec.LoadSet("f", []byte(text)); err != nil {
		t.Error(err)
	}
}

func TestFoldedTextIsOneLine(t *testing.T) {
	text := strings.Replace(least["procedure"], "supply: dead", "supply: dead\n    note: >\n      one\n      two", 1)
	text = strings.Replace(text, "check: c", "check: c\n        narrower: {max: 0.1 V, because: a note may be folded}", 1)
	p, err := spec.LoadProcedure("f", []byte(text))
	if err != nil || p.Stages[0].Note != "one two" {
		t.Errorf("got %q, %v; want one line", p.Stages[0].Note, err)
	}
}

// yaml.v3's own strict decoding is a second way to the same values, where a text
// has nothing that it reads differently.
func agrees(t *testing.T, text []byte, got, empty any) {
	t.Helper()
	d := yaml.NewDecoder(bytes.NewReader(text))
	d.KnownFields(true)
	if err := d.Decode(empty); err != nil {
		t.Errorf("yaml.v3 refuses what we take: %v\n%s", err, text)
		return
	}
	if bytes.ContainsAny(text, "|>") {
		return // we cut the line end that a folded text ends with
	}
	if !reflect.DeepEqual(got, empty) {
		t.Errorf("yaml.v3 reads\n%+v\nwe read\n%+v\nin\n%s", empty, got, text)
	}
}

type setFile struct {
	Set *sheet.Set `yaml:"set"`
}

func withoutLines(p *sheet.Procedure) *sheet.Procedure {
	p.At, p.For.At = sheet.Place{}, sheet.Place{}
	for i := range p.Stages {
		p.Stages[i].At = sheet.Place{}
		for j := range p.Stages[i].Steps {
			s := &p.Stages[i].Steps[j]
			s.At = sheet.Place{}
			if s.Narrower != nil {
				s.Narrower.At = sheet.Place{}
			}
		}
	}
	return p
}

func FuzzLoadSet(f *testing.F) {
	seeds := procedures.Sheets()
	if len(seeds) == 0 {
		f.Fatal("no seeds")
	}
	for _, s := range seeds {
		f.Add(s.Text)
	}
	for _, c := range refusals {
		if c.base == "set" {
			f.Add([]byte(strings.Replace(least["set"], c.old, c.new, 1)))
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		set, err := spec.LoadSet("f", text)
		if refused(t, text, err) {
			return
		}
		agrees(t, text, &setFile{set}, &setFile{})
	})
}

func FuzzLoadProcedure(f *testing.F) {
	seeds := procedures.Procedures()
	if len(seeds) == 0 {
		f.Fatal("no seeds")
	}
	for _, s := range seeds {
		f.Add(s.Text)
	}
	for _, c := range refusals {
		if c.base == "procedure" {
			f.Add([]byte(strings.Replace(least["procedure"], c.old, c.new, 1)))
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := spec.LoadProcedure("f", text)
		if refused(t, text, err) {
			return
		}
		agrees(t, text, withoutLines(p), &sheet.Procedure{})
	})
}

// refused tells whether loading failed, and wants every error to be visible and
// to point into the text.
func refused(t *testing.T, text []byte, err error) bool {
	t.Helper()
	if err == nil {
		return false
	}
	var all spec.Errors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("not our errors: %v", err)
	}
	lines := bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 1
	for _, e := range all {
		if e.What == "" || e.Line < 0 || e.Line > lines+1 {
			t.Errorf("error %+v does not point into the text", e)
		}
		plain := strings.Replace(e.Error(), "\nhint: ", " ", 1)
		if strings.ContainsFunc(plain, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			t.Errorf("control characters in %q", e.Error())
		}
	}
	return true
}
