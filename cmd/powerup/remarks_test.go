package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/powerup/procedures"
)

// changed is the example radio's sheet with lines of it changed.
func changed(t *testing.T, old, new string) string {
	t.Helper()
	text, _ := procedures.Find(procedures.Sheets(), "table-radio")
	if !bytes.Contains(text, []byte(old)) {
		t.Fatalf("the sheet has no %q", old)
	}
	path := filepath.Join(t.TempDir(), "set.yaml")
	if err := os.WriteFile(path, bytes.Replace(text, []byte(old), []byte(new), 1), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// On the 200 V tap the capacitors' 450 V do not stand the HT before the valves
// draw current: all that is wrong is listed, and nothing is planned or run.
func TestRefusedSheetIsNeitherPlannedNorRun(t *testing.T) {
	path := changed(t, "tap: 230 V", "tap: 200 V")
	h := newHome(t)
	for _, command := range []string{"plan", "run"} {
		var errs bytes.Buffer
		c := h.program(t, command, path, "--bench", "two-meters")
		c.Stderr = &errs
		err := c.Run()
		if c.ProcessState.ExitCode() != errUsage.code {
			t.Errorf("%s: %v", command, err)
		}
		for _, want := range []string{":59:13: reservoir.rating: ", "second.rating: ", "powerup: hint: fit a capacitor rated above it"} {
			if !strings.Contains(errs.String(), want) {
				t.Errorf("%s does not say %q:\n%s", command, want, &errs)
			}
		}
	}
	if found, _ := filepath.Glob(filepath.Join(h.dir, "data/powerup/*")); len(found) > 0 {
		t.Errorf("a session was begun: %v", found)
	}
}

// A reservoir a little above what the EZ80 may charge (50 µF by its data) is a
// warning; what is left out is counted.
func TestWarningsAreShownAndNotesCounted(t *testing.T) {
	warned := changed(t, "capacitance: 32 µF", "capacitance: 60 µF")
	for _, c := range []struct {
		reason, sheet string
		want, never   string
	}{
		{"a warning", warned, "powerup: warning: " + warned + ":", "leaves out"},
		{"notes", "sparse-radio", "powerup: sparse-radio leaves out ", "warning"},
		{"nothing", "table-radio", "", "warning"},
	} {
		var out, errs bytes.Buffer
		if err := runPlan(world{out: &out, err: &errs}, planOptions{procedure: "double-wound", bench: "two-meters"}, []string{c.sheet}); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(errs.String(), c.want) || strings.Contains(errs.String(), c.never) || c.want == "" && errs.Len() > 0 {
			t.Errorf("%s: %s", c.reason, &errs)
		}
	}
}

func TestVetListsWhatPlanCounts(t *testing.T) {
	for _, c := range []struct{ sheet, want string }{
		{"sparse-radio", "note: sparse-radio:"},
		{"table-radio", "table-radio: nothing wrong found"},
		{changed(t, "capacitance: 32 µF", "capacitance: 60 µF"), "warn: "},
	} {
		var out, errs bytes.Buffer
		if err := (vetOptions{}).run([]string{c.sheet}, &out, &errs); err != nil || !strings.Contains(out.String(), c.want) {
			t.Errorf("%s: %v\n%s%s", c.sheet, err, &out, &errs)
		}
	}
	var out, errs bytes.Buffer
	refused := changed(t, "tap: 230 V", "tap: 200 V")
	if err := (vetOptions{}).run([]string{refused}, &out, &errs); exitCode(err) != errUsage.code || !strings.Contains(errs.String(), "reservoir.rating") {
		t.Errorf("%v\n%s%s", err, &out, &errs)
	}
}

// Printed cathode volts that no corner of this circuit has are queried before
// anything is touched, with the likelier cause, and by each command that reads
// the sheet.
func TestPrintedVoltsThatShareNothingAreQueried(t *testing.T) {
	path := changed(t, "cathode: 6 V", "cathode: 8 V")
	h := newHome(t)
	for _, command := range [][]string{{"vet", path}, {"plan", path, "--bench", "two-meters"}, {"run", path, "--bench", "two-meters", "--answers", os.DevNull}} {
		out, _ := h.program(t, command...).CombinedOutput()
		for _, want := range []string{"printed.cathode: cathode: printed 8 V", "they do not agree", "likelier: the cathode resistor's ohms", "or no reading there passes"} {
			if text := strings.Join(strings.Fields(string(out)), " "); !strings.Contains(text, want) {
				t.Errorf("%s does not say %q:\n%.600s", command[0], want, out)
			}
		}
	}
}
