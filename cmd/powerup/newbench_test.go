package main

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// Whatever the answers, the file says them to the loader and nothing else.
func TestBenchFileSaysWhatWasAnswered(t *testing.T) {
	b := alike()
	maps.Copy(b, benchAnswers{
		"operator": "anna", "meters": "2", "meter A": `C:\my "meters"\a #1.yaml`, "meter B": "general-digital", "tester": "insulation-tester",
		"source": "9.3 V", "lamps": "40 W, 100 W", "rcd": "true",
	})
	got, err := spec.LoadBench("bench.yaml", []byte(b.yaml()))
	if err != nil {
		t.Fatalf("%v\n%s", err, b.yaml())
	}
	if got.Operator != "anna" || got.Tester != "insulation-tester" || !got.RCD || got.Variable || got.Bypass || got.Thermometer ||
		float64(got.Source.Volts) != 9.3 || len(got.Lamps) != 2 || float64(got.Lamps[1]) != 100 || float64(got.Tool) != 10e3 {
		t.Errorf("%+v", got)
	}
	want := []sheet.BenchMeter{{Letter: "A", Sheet: `C:\my "meters"\a #1.yaml`, Stays: "lamp-box"}, {Letter: "B", Sheet: "general-digital", Stays: "set"}}
	if len(got.Meters) != 2 || got.Meters[0] != want[0] || got.Meters[1] != want[1] {
		t.Errorf("meters %+v", got.Meters)
	}
}

func TestEveryCountOfMetersLoads(t *testing.T) {
	for count := range stays {
		b := alike()
		b["meters"], b["meter A"], b["meter B"], b["meter C"] = count, "x", "x", "x"
		if _, err := spec.LoadBench("", []byte(b.yaml())); err != nil {
			t.Errorf("%s meters: %v", count, err)
		}
	}
}

// The loader is the judge of each answer while it is typed.
func TestAnswersAreJudgedByTheLoader(t *testing.T) {
	for _, c := range []struct {
		reason, key, answer string
		ok                  bool
	}{
		{"volts", "source", "9.3 V", true},
		{"no unit", "source", "9.3", false},
		{"another quantity", "source", "9.3 Ω", false},
		{"not a number", "source", "nan V", false},
		{"nothing of a source", "source", "0 V", false},
		{"text that would end the quotes", "source", "9 V\"\n  training: true #", false},
		{"ohms in words", "discharge-tool", "10 kohm", true},
		{"an endless tool", "discharge-tool", "10 Mohm", false},
		{"one lamp", "lamps", "60 W", true},
		{"lamps in their order", "lamps", "40 W,100 W", true},
		{"the largest first", "lamps", "100 W, 40 W", false},
		{"twice the same", "lamps", "40 W, 40 W", false},
		{"a comma too many", "lamps", "40 W,", false},
		{"lamps for a car", "lamp-volts", "12 V", false},
		{"lamps for mains", "lamp-volts", "230 V", true},
	} {
		if err := judged(c.key)(c.answer); (err == nil) != c.ok {
			t.Errorf("%s: %q gives %v", c.reason, c.answer, err)
		}
	}
	for name, ok := range map[string]bool{"anna": true, "anna.smith@home": true, "anna smith": false, "anna,bob": false, "*": false, "-n": false, "a#b": false, "": false} {
		if err := listable(name); (err == nil) != ok {
			t.Errorf("operator %q gives %v", name, err)
		}
	}
}

func TestNewFileIsNeverOverAnother(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a", "b", "bench.yaml")
	if err := writeNew(path, []byte("one"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := writeNew(path, []byte("two"), 0o644); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second file under the name: %v", err)
	}
	text, err := os.ReadFile(path)
	if err != nil || string(text) != "one" {
		t.Errorf("%q %v", text, err)
	}
	left, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(left) != 1 {
		t.Errorf("left in the folder: %v %v", left, err)
	}
	info, err := os.Stat(path)
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o644 {
		t.Errorf("mode %v %v", info.Mode(), err)
	}
}

func TestInstrumentsAreOfferedByKind(t *testing.T) {
	tester, _ := procedures.Find(procedures.Meters(), "insulation-tester")
	digital, _ := procedures.Find(procedures.Meters(), "good-digital")
	meters, testers := instruments([]source{
		{"own-tester.yaml", tester}, {"own meter.yaml", digital}, {"broken.yaml", []byte("meter:\n  name: x\n")}, {"set.yaml", []byte("set:\n")},
	})
	if meters[0].Shown != "own meter.yaml" || !filepath.IsAbs(meters[0].Value) || len(meters) != 4 {
		t.Errorf("meters %v", meters)
	}
	if testers[0].Shown != "own-tester.yaml" || !filepath.IsAbs(testers[0].Value) || len(testers) != 2 {
		t.Errorf("testers %v", testers)
	}
	for _, o := range append(meters, testers...) {
		if strings.Contains(o.Shown, "broken") {
			t.Errorf("a sheet that does not load is offered: %v", o)
		}
	}
}

// A second procedure for such a set in the folder makes it a question; one for
// other sets does not.
func TestProceduresThatFit(t *testing.T) {
	text, _ := procedures.Find(procedures.Procedures(), "double-wound")
	other := strings.Replace(string(text), "construction: double-wound", "construction: auto-transformer", 1)
	set := &sheet.Set{Construction: sheet.DoubleWound}
	for _, c := range []struct {
		reason string
		here   []source
		want   int
	}{
		{"nothing in the folder", nil, 1},
		{"one's own", []source{{"own.yaml", text}}, 2},
		{"for other sets", []source{{"own.yaml", []byte(other)}}, 1},
		{"one that does not load", []source{{"own.yaml", []byte("procedure: x\n")}}, 1},
		{"a set sheet", []source{{"set.yaml", []byte("set:\n")}}, 1},
	} {
		if got := proceduresFor(set, c.here); len(got) != c.want {
			t.Errorf("%s: %v", c.reason, got)
		}
	}
}

func TestCopiedCommandLineTakesAPathWhole(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("another shell")
	}
	for word, want := range map[string]string{
		"/home/anna/x.transcript":      "/home/anna/x.transcript",
		"/Library/Application Support": "'/Library/Application Support'",
		"it's":                         `'it'\''s'`,
		"$(reboot)":                    "'$(reboot)'",
	} {
		if got := shell(word); got != want {
			t.Errorf("%s is written %s, want %s", word, got, want)
		}
	}
}
