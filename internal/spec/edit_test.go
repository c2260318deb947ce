package spec_test

import (
	"reflect"
	"strings"
	"testing"

	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

func TestEditingNothingLosesNothing(t *testing.T) {
	for _, s := range procedures.Sheets() {
		out, err := spec.Edit(s.Text, "set", "", nil)
		if err != nil {
			t.Fatal(err)
		}
		before, _ := spec.LoadSet("f", s.Text)
		after, err := spec.LoadSet("f", out)
		if err != nil || !reflect.DeepEqual(before, after) {
			t.Errorf("%s: %v", s.Name, err)
		}
		for line := range strings.Lines(string(s.Text)) {
			if comment := strings.TrimSpace(line); strings.HasPrefix(comment, "#") && !strings.Contains(string(out), comment) {
				t.Errorf("%s lost %q", s.Name, comment)
			}
		}
		again, err := spec.Edit(out, "set", "", nil)
		if err != nil || string(again) != string(out) {
			t.Errorf("%s: a second time changes it (%v)", s.Name, err)
		}
	}
}

func TestAFieldIsWrittenWhereItBelongs(t *testing.T) {
	text, err := spec.Edit(nil, "set", "a head", []spec.Put{
		{Path: "watts", Value: "52 W", Comment: "what it takes"},
		{Path: "transformer.half-a", Value: "260 Ω", Comment: "one half"},
		{Path: "name", Value: `"4711"`, Comment: "its name"},
		{Path: "transformer.primary", Value: "46 Ω", Comment: "the primary"},
		{Path: "mains.taps", Value: "[200 V, 230 V]", Comment: "the taps"},
		{Path: "bleed.none", Value: "true"},
		{Path: "bleed.none"},
		{Path: "reservoir.rating"},
	})
	const want = `# a head
set:
  # its name
  name: "4711"

  mains:
    # the taps
    taps: [200 V, 230 V]

  # what it takes
  watts: 52 W

  transformer:
    # the primary
    primary: 46 Ω
    # one half
    half-a: 260 Ω
`
	if err != nil || string(text) != want {
		t.Fatalf("%v\n%s", err, text)
	}
	text, err = spec.Edit([]byte(strings.Replace(want, "52 W", "52 W # on its label", 1)), "set", "", []spec.Put{{Path: "watts", Value: "60 W", Comment: "another"}})
	if err != nil || string(text) != strings.Replace(want, "52 W", "60 W # on its label", 1) {
		t.Fatalf("%v\n%s", err, text)
	}
}

func TestWhatIsNoSuchFileIsNotEdited(t *testing.T) {
	for _, text := range []string{"bench: {}", "set: 3", "- a", "set: {}\nmore: 1", "set: &a {}", "set: [", "set:\x00", "a: 1"} {
		if out, err := spec.Edit([]byte(text), "set", "", nil); err == nil {
			t.Errorf("%q became %q", text, out)
		}
		if g := spec.Given([]byte(text), "set"); len(g) > 0 {
			t.Errorf("%q gives %v", text, g)
		}
	}
}

func TestADraftGivesWhatItHasAndSaysWhatItLacks(t *testing.T) {
	set, errs := spec.DraftSet([]byte("set:\n  name: a\n  watts: 52 W\n  mains: {taps: [230 V], profile: nowhere}\n"))
	if set == nil || set.Name != "a" || set.Watts == nil || len(set.Mains.Taps) != 1 {
		t.Fatalf("%+v", set)
	}
	said := errs.Error()
	for _, want := range []string{"mark: this is missing", `"nowhere" is no profile`} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in %s", want, said)
		}
	}
	if set, errs := spec.DraftSet([]byte("set:\n  watts: 52\n")); set != nil || len(errs) != 1 {
		t.Errorf("%+v, %v", set, errs)
	}
}
