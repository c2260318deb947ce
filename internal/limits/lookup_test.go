package limits

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/unit"
)

func TestMarksReadAsTheRecordShowsThem(t *testing.T) {
	for _, c := range []struct {
		mark Mark
		want string
	}{
		{Mark(0), "common practice, no source"}, // a forgotten mark is the weakest
		{Practice, "common practice, no source"},
		{Memory, "from memory"},
		{Computed, "computed"},
		{Seen, "seen"},
		{Seen + 1, "common practice, no source"}, // a mark that is none of ours
	} {
		if got := c.mark.String(); got != c.want {
			t.Errorf("mark %d reads %q, want %q", c.mark, got, c.want)
		}
	}
}

func TestCiteNeverShowsASourceThatIsNone(t *testing.T) {
	for _, c := range []struct {
		why    string
		mark   Mark
		source string
		want   string
	}{
		{"a seen source carries its mark", Seen, "EN 50191:2010 cl. 1.2", "EN 50191:2010 cl. 1.2 (seen)"},
		{"so does a remembered one", Memory, "IEC 61008", "IEC 61008 (from memory)"},
		{"practice has no source, even with one written", Practice, "hearsay", "common practice, no source"},
		{"an unknown mark counts as practice", Seen + 1, "hearsay", "common practice, no source"},
		{"without a source the mark stands alone", Computed, "", "computed"},
	} {
		if got := (Figure{Mark: c.mark, Source: c.source}).Cite(); got != c.want {
			t.Errorf("%s: figure cites %q, want %q", c.why, got, c.want)
		}
		if got := (Band{Mark: c.mark, Source: c.source}).Cite(); got != c.want {
			t.Errorf("%s: band cites %q, want %q", c.why, got, c.want)
		}
	}
}

var idShape = regexp.MustCompile(`^[a-z0-9]+([.-][a-z0-9]+)*$`)

func TestEveryFigureSaysWhatItIsAndHowItIsKnown(t *testing.T) {
	all := All()
	if len(all) < 100 {
		t.Fatalf("%d figures: the tables are not all in", len(all))
	}
	for i, f := range all {
		if i > 0 && all[i-1].ID >= f.ID {
			t.Errorf("%q after %q: not sorted, or twice the same", f.ID, all[i-1].ID)
		}
		if !idShape.MatchString(f.ID) {
			t.Errorf("%q is no id", f.ID)
		}
		if f.What == "" || strings.HasSuffix(f.What, ".") {
			t.Errorf("%s: what is %q", f.ID, f.What)
		}
		if f.Mark > Seen {
			t.Errorf("%s: no mark", f.ID)
		}
		if (f.Mark == Practice) != (f.Source == "") {
			t.Errorf("%s: mark %q with source %q", f.ID, f.Mark, f.Source)
		}
		if f.Value.Kind == unit.None || math.IsNaN(f.Value.Value) || math.IsInf(f.Value.Value, 0) || f.Value.Value == 0 {
			t.Errorf("%s: value %v of kind %d", f.ID, f.Value.Value, f.Value.Kind)
		}
		if f.Value.Value < 0 && f.ID != "grid-low" {
			t.Errorf("%s: %v is negative", f.ID, f.Value)
		}
		if got := Lookup(f.ID); got != f {
			t.Errorf("Lookup(%q) = %v", f.ID, got)
		}
	}
}

func TestEveryFigurePrintsAsSomethingThatCanBeTyped(t *testing.T) {
	for _, f := range All() {
		if f.Value.Kind == unit.KindMetre || f.Value.Kind == unit.KindNumber {
			continue // printed in metres and plain numbers, never typed back
		}
		back, err := unit.Parse(f.Value.Kind, f.Value.String())
		if err != nil || back != f.Value.Value {
			t.Errorf("%s: %q reads back as %v, %v", f.ID, f.Value, back, err)
		}
	}
}

func TestEveryBandIsFoundByItsID(t *testing.T) {
	all := Bands()
	for i, b := range all {
		if i > 0 && all[i-1].ID >= b.ID {
			t.Errorf("%q after %q: not sorted, or twice the same", b.ID, all[i-1].ID)
		}
		if got := BandOf(b.ID); got != b {
			t.Errorf("BandOf(%q) = %v", b.ID, got)
		}
	}
}

func TestAnUnknownIDPanics(t *testing.T) {
	for name, f := range map[string]func(){
		"Lookup": func() { Lookup("dead-vols") },
		"BandOf": func() { BandOf("no such check") },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s of an unknown id returned", name)
				}
			}()
			f()
		}()
	}
}

func TestNobodyCanChangeTheTables(t *testing.T) {
	All()[0].ID = "changed"
	if slices.ContainsFunc(All(), func(f Figure) bool { return f.ID == "changed" }) {
		t.Error("a caller changed the figures")
	}
	if b := Bands(); len(b) > 0 {
		b[0].ID = "changed"
		if Bands()[0].ID == "changed" {
			t.Error("a caller changed the bands")
		}
	}
	Profiles()[0].MainsTop = 1000
	if p, _ := ProfileOf("uk"); p.MainsTop == 1000 {
		t.Error("a caller changed a profile")
	}
	Valves()[0].Type = "changed"
	if Valves()[0].Type == "changed" {
		t.Error("a caller changed a valve")
	}
	v, _ := ValveOf("EL84")
	v.Output.PaMax = 100
	v.Sections[0].PaMax = 100
	if again, _ := ValveOf("EL84"); again.Output.PaMax != 12 || again.Sections[0].PaMax != 12 {
		t.Error("a caller changed what a valve points to")
	}
	Preferred(24)[0] = 7
	if Preferred(24)[0] != 1 {
		t.Error("a caller changed the preferred values")
	}
}

// near tells whether got is within tol of want; NaN is near nothing.
func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func value(id string) float64 { return Lookup(id).Value.Value }
