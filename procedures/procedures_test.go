package procedures

import (
	"bytes"
	"testing"
)

func TestFilesAreThere(t *testing.T) {
	for _, kind := range []struct {
		files []Named
		name  string // one that others refer to
		key   string // its text begins with, after comments
	}{
		{Procedures(), "double-wound", "procedure:"},
		{Sheets(), "table-radio", "set:"},
		{Sheets(), "sparse-radio", "set:"},
		{Sheets(), "earthed-radio", "set:"},
		{Meters(), "general-digital", "meter:"},
		{Meters(), "good-digital", "meter:"},
		{Meters(), "moving-coil", "meter:"},
		{Meters(), "insulation-tester", "meter:"},
		{Benches(), "one-meter", "bench:"},
		{Benches(), "two-meters", "bench:"},
		{Benches(), "three-meters", "bench:"},
		{Answers(), "demo", "answers:"},
	} {
		text, ok := Find(kind.files, kind.name)
		if !ok || !bytes.HasPrefix(text, []byte("#")) || !bytes.Contains(text, []byte("\n"+kind.key)) {
			t.Errorf("%s: not there, without a comment for a newcomer, or not a file with %q", kind.name, kind.key)
		}
	}
	if _, ok := Find(Sheets(), "general-digital"); ok {
		t.Error("a meter was found among the set sheets")
	}
}
