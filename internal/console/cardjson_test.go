package console

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

func jsonOf(t *testing.T, p *plan.Plan) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := WorkOf(p).JSON(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// decoded reads a document strictly: no unknown field, nothing after it.
func decoded(t *testing.T, raw []byte) cardDocument {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	var doc cardDocument
	if err := d.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Token(); err != io.EOF {
		t.Fatalf("something follows the document: %v", err)
	}
	return doc
}

// slotsOf are the readings of a document by id, and how often each stands there.
func slotsOf(d cardDocument) (map[string]readingDocument, map[string]int) {
	byID, count := map[string]readingDocument{}, map[string]int{}
	for _, b := range d.Blocks {
		for _, l := range b.Lines {
			for _, r := range l.Readings {
				byID[r.ID] = r
				count[r.ID]++
			}
		}
	}
	return byID, count
}

// fields are a window of the document as the record spells it.
func (w windowDocument) fields(kind string) map[string]string {
	f := map[string]string{"kind": kind, "danger": w.Danger, "grade": w.Grade, "shown": "false"}
	if w.Shown {
		f["shown"] = "true"
	}
	for key, text := range map[string]string{
		"pass-lo": w.PassLo, "pass-hi": w.PassHi, "query-lo": w.QueryLo, "query-hi": w.QueryHi, "stop-lo": w.StopLo, "stop-hi": w.StopHi,
	} {
		if text != "" {
			f[key] = text
		}
	}
	return f
}

func TestJSONHoldsEveryReadingOnceWithItsWindow(t *testing.T) {
	for _, sheet := range []string{"table-radio", "sparse-radio", "earthed-radio"} {
		for _, bench := range []string{"one-meter", "two-meters", "three-meters"} {
			p := sessiontest.Plan(t, sheet, bench)
			d := decoded(t, jsonOf(t, p))
			byID, count := slotsOf(d)
			if len(count) != len(p.Slots) {
				t.Errorf("%s with %s: %d readings of %d", sheet, bench, len(count), len(p.Slots))
			}
			for _, s := range p.Slots {
				if count[s.ID] != 1 {
					t.Errorf("%s with %s: %s stands there %d times", sheet, bench, s.ID, count[s.ID])
				}
			}
			windows := 0
			for _, l := range session.Card(p) {
				for _, r := range l.Readings {
					windows += sameWindow(t, r, byID[r.Slot.ID])
				}
			}
			if all := d.Counts.Computed + d.Counts.Typical; windows != all {
				t.Errorf("%s with %s: %d windows, counted %d", sheet, bench, windows, all)
			}
			if windows < 60 {
				t.Errorf("%s with %s: %d windows", sheet, bench, windows)
			}
		}
	}
}

// No figure on the example sheets has so many digits.
var unrounded = regexp.MustCompile(`[0-9]+\.[0-9]{5,}`)

// sameWindow compares a reading's window in the document with that of the card,
// and counts it.
func sameWindow(t *testing.T, r session.CardReading, got readingDocument) int {
	t.Helper()
	switch {
	case got.Window == nil && (r.Danger != "" || r.Why != "" || r.Known && r.Expect != ""):
		t.Errorf("%s: no window, the card has %q", r.Slot.ID, r.Expect)
		return 0
	case r.Known != (got.Waits == ""):
		t.Errorf("%s: known %v, waits for %q", r.Slot.ID, r.Known, got.Waits)
		return 0
	case got.Window == nil:
		return 0
	}
	w, err := checks.ParseWindow(got.Window.fields(got.Unit))
	if err != nil || w.Kind != r.Window.Kind || w.Pass != r.Window.Pass || w.Query != r.Window.Query || w.Stop != r.Window.Stop || w.Danger != r.Window.Danger || w.Grade != r.Window.Grade {
		t.Errorf("%s: %v (%v), want %v", r.Slot.ID, w, err, r.Window)
	}
	if session.Span(w.Kind, w.Pass) != r.Expect || got.Window.Sum != r.Why {
		t.Errorf("%s: %s; %s, the card prints %s; %s", r.Slot.ID, session.Span(w.Kind, w.Pass), got.Window.Sum, r.Expect, r.Why)
	}
	if figure := unrounded.FindString(r.Why); figure != "" {
		t.Errorf("%s: the sum shows a computed %s as if it were known so closely: %s", r.Slot.ID, figure, r.Why)
	}
	return 1
}

func TestJSONRampIsTheTables(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	r := session.RampOf(p, session.Card(p))
	d := decoded(t, jsonOf(t, p))
	if len(d.Ramp.Steps) != len(r.Steps) || len(r.Steps) == 0 {
		t.Fatalf("%d steps, want %d", len(d.Ramp.Steps), len(r.Steps))
	}
	for i, s := range d.Ramp.Steps {
		want := r.Steps[i]
		if figure(s.HT1) != figure(want.Figures.HT1.X) || s.Most != want.HT1.Pass.Hi || s.LampIn != (want.Lamp != nil) {
			t.Errorf("step %d: %+v", i, s)
		}
		if (s.Least != nil) != want.TwoSided || s.Least != nil && *s.Least != want.HT1.Pass.Lo {
			t.Errorf("step %d: least %v", i, s.Least)
		}
	}
}

func TestSamePlanGivesTheSameBytes(t *testing.T) {
	first := jsonOf(t, sessiontest.Plan(t, "sparse-radio", "two-meters"))
	if again := jsonOf(t, sessiontest.Plan(t, "sparse-radio", "two-meters")); !bytes.Equal(first, again) {
		t.Error("two documents differ")
	}
}

// fieldsOf are the names of a document's fields and of all inside it.
func fieldsOf(t reflect.Type) []string {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		return fieldsOf(t.Elem())
	case reflect.Struct:
	default:
		return nil
	}
	var names []string
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		names = append(append(names, name), fieldsOf(t.Field(i).Type)...)
	}
	return names
}

func TestEveryJSONFieldIsDocumented(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(text), "## The plan as JSON")
	section, _, _ = strings.Cut(section, "\n## ")
	names := fieldsOf(reflect.TypeFor[cardDocument]())
	if len(names) < 50 {
		t.Fatalf("%d fields", len(names))
	}
	for _, name := range names {
		if strings.Trim(name, "abcdefghijklmnopqrstuvwxyz-0123456789") != "" || !strings.Contains(section, "`"+name+"`") {
			t.Errorf("%q is not in the table of DEVELOPERS.md", name)
		}
	}
}
