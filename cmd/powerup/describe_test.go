//go:build unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// serviceSheet is what a person types from a service sheet, a line at a time.
var serviceSheet = []string{
	"kitchen radio, 12, 2-core, double-wound", "200 215 230, 230, uk", "52 W", "EZ80", "275-0-275 open", "46, 260 285",
	"32u 450, R 1k2, 32u 450", "220k HT2, chassis", "380, 3, own speaker", "ECH81 EF89 EABC80 EL84, 2 x 0.3 A",
	"135, 470k, 10n 400, 100, HT2, 1k", "264 224 248 220 6 6.3, 10M, 230, all electrolytics; all paper capacitors",
}

// A sheet is made in forms, left in its middle and gone on with; line by line the
// same answers make the same file.
func TestASheetIsMadeInFormsAsLineByLine(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	forms := newPane(t, h, "describe")
	for n, line := range serviceSheet[:5] {
		forms.field(fmt.Sprintf("%d of 12", n+1))
		forms.typed(line)
	}
	forms.field("6 of 12")
	forms.typed("46 Ω Ω")
	forms.see("is too much after primary")
	forms.keys("C-c")
	forms.ends(130)
	if !strings.Contains(forms.history(), "my-set.yaml to line 5 of 12") {
		t.Errorf("it does not say where it stands:\n%s", forms.history())
	}
	again := newPane(t, h, "describe")
	for n, line := range serviceSheet[5:] {
		again.field(fmt.Sprintf("%d of 12", n+6))
		again.typed(line)
	}
	again.ends(0)
	for _, p := range []*pane{forms, again} {
		for _, line := range tooWide([]byte(p.history()), h.dir) {
			t.Errorf("more than %d columns: %s", columns, line)
		}
	}

	plain := newHome(t)
	lines := newPane(t, plain, "describe", "--plain")
	for _, line := range serviceSheet {
		lines.say(line)
	}
	lines.ends(0)
	one, err := os.ReadFile(filepath.Join(h.dir, "my-set.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	other, err := os.ReadFile(filepath.Join(plain.dir, "my-set.yaml"))
	if err != nil || string(one) != string(other) {
		t.Errorf("%v\n%s\n%s", err, one, other)
	}
}

// A file that somebody else changes meanwhile is not written over.
func TestASheetThatChangesMeanwhileIsLeftAlone(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	p := newPane(t, h, "describe", "--plain")
	p.say(serviceSheet[0])
	p.prompt()
	path := filepath.Join(h.dir, "my-set.yaml")
	if err := os.WriteFile(path, []byte("set:\n  name: of another\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	p.say(serviceSheet[1])
	p.ends(1)
	if text, err := os.ReadFile(path); err != nil || string(text) != "set:\n  name: of another\n" {
		t.Errorf("%v: %s", err, text)
	}
	if !strings.Contains(p.history(), "was changed by somebody else meanwhile") {
		t.Error(p.history())
	}
}
