//go:build unix

package main

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/powerup/internal/transcriptlog"
)

// ownKeyFor makes a key under a name and lists it, by a row of options.
func (h home) ownKeyFor(t *testing.T, name, signers, options string) transcriptlog.Signer {
	t.Helper()
	s, err := makeKey(filepath.Join(h.dir, name+".key"), name, filepath.Join(h.dir, "made"), transcriptlog.NamespaceReal, nil)
	if err != nil {
		t.Fatal(err)
	}
	h.list(t, name, signers, options)
	return s
}

// list writes a row of options and a key.
func (h home) list(t *testing.T, name, signers, options string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(h.dir, name+".key.pub"))
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(filepath.Join(h.dir, signers), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteString(options + " " + string(text)); err != nil {
		t.Fatal(err)
	}
}

// release changes the fields of the release that stands where the log is.
type release func(log *transcriptlog.Log, fields map[string]string)

// realRecord writes the lines of the demonstration as those of a real record,
// each release as it is changed, and signs it.
func (h home) realRecord(t *testing.T, name string, by transcriptlog.Signer, change release) {
	t.Helper()
	demo := filepath.Join(h.dir, "demo")
	if _, err := os.Stat(demo); err != nil {
		if out, err := h.program(t, "run", "--demo", "-o", "demo").CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
	}
	raw, err := os.ReadFile(demo)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(h.dir, name)
	log, err := transcriptlog.Create(path, false)
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	for _, l := range transcriptlog.Read(raw).Lines {
		fields := maps.Clone(l.Fields)
		if l.Kind == transcriptlog.KindReleased && change != nil {
			change(log, fields)
			changed++
		}
		if err := log.Append(transcriptlog.Stamp{Wall: l.Time, Mono: l.Mono}, transcriptlog.Record{Kind: l.Kind, Fields: fields}); err != nil {
			t.Fatal(err)
		}
	}
	if change != nil && changed < 2 {
		t.Fatalf("%d releases: this would test nothing", changed)
	}
	if err := log.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := transcriptlog.SignFile(path, transcriptlog.NamespaceReal, by); err != nil {
		t.Fatal(err)
	}
}

func (h home) verifyReal(t *testing.T, want int, args ...string) string {
	t.Helper()
	c := h.program(t, append([]string{"verify", "--signers", "signers"}, args...)...)
	c.Env = append(c.Env, nextMorning)
	out, err := c.Output()
	if got := code(err); got != want {
		t.Fatalf("%v: exit code %d, want %d\n%s", args, got, want, out)
	}
	return string(out)
}

// A release that somebody signed must be that of a second person who is listed,
// for its own line; another one makes the record not accepted.
func TestSignedReleasesAreASecondPersons(t *testing.T) {
	t.Parallel()
	h := newHome(t)
	anna := h.ownKeyFor(t, "anna", "signers", "anna")
	tess := h.ownKeyFor(t, "tess", "signers", `tess namespaces="powerup-release"`)
	eve := h.ownKeyFor(t, "eve", "strangers", "eve")
	annas := h.ownKeyFor(t, "annas", "signers", `anna namespaces="powerup-release"`)
	h.list(t, "anna", "signers", `ada namespaces="powerup-release"`)
	by := func(s transcriptlog.Signer, witness string, on int) release {
		return func(log *transcriptlog.Log, fields map[string]string) {
			seq, prev := log.Head()
			armored, err := transcriptlog.SignRelease(s, seq+on, prev)
			if err != nil {
				t.Fatal(err)
			}
			fields["witness"], fields["signature"] = witness, string(armored)
		}
	}
	for name, c := range map[string]struct {
		change release
		code   int
		says   string
	}{
		"nobody-signed":  {nil, 0, "signed      by anna"},
		"trainer":        {by(tess, "tess", 0), 0, "released    line "},
		"stranger":       {by(eve, "eve", 0), 5, "a hold was released: signed by a key that you have not listed"},
		"another-name":   {by(tess, "bert", 0), 5, `the line names "bert", and tess signed`},
		"another-line":   {by(tess, "tess", 1), 5, "a hold was released: the signature does not verify"},
		"himself":        {by(anna, "anna", 0), 5, "signed by who signed the record, and that is no"},
		"his-other-name": {by(anna, "ada", 0), 5, "signed by who signed the record, and that is no"},
		"his-other-key":  {by(annas, "anna", 0), 5, "signed by who signed the record, and that is no"},
		"no-signature":   {func(_ *transcriptlog.Log, f map[string]string) { f["signature"] = "" }, 5, "a hold was released: the signature does not verify: not"},
		"not-the-holder": {func(l *transcriptlog.Log, f map[string]string) { by(eve, "tess", 0)(l, f) }, 5, "have not listed"},
	} {
		h.realRecord(t, name+".transcript", anna, c.change)
		out := h.verifyReal(t, c.code, name+".transcript")
		if words := strings.Join(strings.Fields(out), " "); !strings.Contains(words, strings.Join(strings.Fields(c.says), " ")) {
			t.Errorf("%s: no %q in\n%s", name, c.says, out)
		}
		if strings.Contains(out, "line 1 names another key than the one that signed") != (c.code == 0) {
			t.Errorf("%s: the key of line 1 is the practice key's:\n%s", name, out)
		}
		if strings.Contains(out, "signed      by anna") != (c.code == 0) {
			t.Errorf("%s:\n%s", name, out)
		}
		fits(t, name, out)
		fits(t, "summary of "+name, h.verifyReal(t, c.code, "--summary", name+".transcript"))
	}
}

// Dates of a key are held against the close of the record, and the words say so;
// the stock command in the summary is told the same instant.
func TestDatesAreHeldAgainstTheClose(t *testing.T) {
	t.Parallel()
	for options, says := range map[string]string{
		`anna valid-after="20300102Z",valid-before="20300103Z"`: "signed by anna, whose key is listed with dates: good at the record's own close, 2 Jan 2030 ",
		`anna valid-before="20300102180000Z"`:                   "not accepted: signed by a key that was not good at the record's own close, by the clock of its computer: line 1 of the signers file has it good until 2030-01-02 18:00:00 UTC, and it signed for 2030-01-02 ",
		`anna valid-after="20300103Z"`:                          "not accepted: signed by a key that was not good at the record's own close",
		`*`:                                                     "signed by anna",
		`bert,carl`:                                             `not accepted: signed by a key that is listed, but not for one name: line 1 of the signers file has it as bert,carl, and the record's own name is "anna"`,
		`anna cert-authority`:                                   "not accepted: signers: signers: line 1: certificates are not taken",
	} {
		h := newHome(t)
		h.realRecord(t, "a.transcript", h.ownKeyFor(t, "anna", "signers", options), nil)
		want := 5
		if strings.HasPrefix(says, "signed by anna") {
			want = 0
		}
		if out := h.verifyReal(t, want, "a.transcript"); !strings.Contains(strings.Join(strings.Fields(out), " "), says) {
			t.Errorf("%s: no %q in\n%s", options, says, out)
		}
		summary := h.verifyReal(t, want, "--summary", "a.transcript")
		fits(t, "summary", summary)
		if dated := strings.Contains(says, "with dates"); dated != strings.Contains(summary, "-O verify-time=20300102") {
			t.Errorf("%s:\n%s", options, summary)
		}
		if _, command, ok := strings.Cut(summary, "by stock tools:\n"); ok {
			command, _, _ = strings.Cut(command, "\nsays ")
			h.shell(t, command)
		} else if want == 0 {
			t.Errorf("%s: no command in\n%s", options, summary)
		}
	}
}
