package main

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// chainedAnew writes the record's lines as another would who has the program's
// own writer: after a change the chain is whole again.
func (v victim) chainedAnew(t *testing.T, practice bool, change func([]transcriptlog.Line) []transcriptlog.Line) []byte {
	t.Helper()
	lines := change(cloned(transcriptlog.Read(v.raw).Lines))
	path := filepath.Join(t.TempDir(), "x")
	if err := writeChain(path, practice, lines); err != nil {
		t.Fatal(err)
	}
	return read(t, path)
}

// writeChain writes lines as a new record.
func writeChain(path string, practice bool, lines []transcriptlog.Line) error {
	log, err := transcriptlog.Create(path, practice)
	if err != nil {
		return err
	}
	var batch []transcriptlog.Record // lines of one instant, in one write
	for i, l := range lines {
		batch = append(batch, transcriptlog.Record{Kind: l.Kind, Fields: l.Fields})
		if i+1 < len(lines) && lines[i+1].Time.Equal(l.Time) && lines[i+1].Mono == l.Mono {
			continue
		}
		if err := log.Append(transcriptlog.Stamp{Wall: l.Time, Mono: l.Mono}, batch...); err != nil {
			return err
		}
		batch = nil
	}
	return log.Close()
}

// setting changes fields of the first line of a kind; of the readings, of that of
// a pair of leads: 0.2 Ω where 0.5 Ω pass.
func setting(kind string, pairs ...string) func([]transcriptlog.Line) []transcriptlog.Line {
	return func(lines []transcriptlog.Line) []transcriptlog.Line {
		for _, l := range lines {
			if l.Kind != kind || kind == "reading" && l.Fields["check"] != "leads" {
				continue
			}
			for i := 0; i < len(pairs); i += 2 {
				if l.Fields[pairs[i]] = pairs[i+1]; pairs[i+1] == "" {
					delete(l.Fields, pairs[i])
				}
			}
			break
		}
		return lines
	}
}

// goneOn puts in, behind line 1, that another version of the program went on.
func goneOn(pairs ...string) func([]transcriptlog.Line) []transcriptlog.Line {
	return func(lines []transcriptlog.Line) []transcriptlog.Line {
		l := transcriptlog.Line{Time: lines[0].Time, Mono: lines[0].Mono, Kind: session.KindProgram, Fields: map[string]string{}}
		for i := 0; i < len(pairs); i += 2 {
			l.Fields[pairs[i]] = pairs[i+1]
		}
		return slices.Insert(lines, 1, l)
	}
}

// without leaves out the first line of a kind.
func without(kind string) func([]transcriptlog.Line) []transcriptlog.Line {
	return func(lines []transcriptlog.Line) []transcriptlog.Line {
		at := slices.IndexFunc(lines, func(l transcriptlog.Line) bool { return l.Kind == kind })
		return slices.Delete(lines, at, at+1)
	}
}

// forged are edits by somebody who makes the chain anew. With the old signature,
// none, or a stranger's, every one is refused. Signed again by a key that is
// listed, plain verify sees what its row says, and --recompute what its row says:
// "" is nothing, by design, as FORMAT.md tells in section 7.
var forged = []struct {
	what       string
	change     func([]transcriptlog.Line) []transcriptlog.Line
	plain      string
	recomputed string
}{
	{"a verdict", setting("reading", "verdict", "query"), "the record says query, and the rule says pass", "the record says query, and the rule says pass"},
	{"a number beyond its window", setting("reading", "shown x", "99", "shown lo", "98", "shown hi", "100"), "and the rule says stop", "and the rule says stop"},
	{"a window that now stops", setting("reading", "window pass-hi", "0.0001", "window query-hi", "0.0002"), "and the rule says stop", "and the rule says stop"},
	{"a rule that nobody knows", setting("reading", "rule", "2"), "judged by rules 2, and this program knows 1: use a later powerup", "judged by rules 2, and this program knows 1: use a later powerup"},
	{"a wider window, its verdict still right", setting("reading", "window pass-hi", "1000", "window query-hi", "2000"), "", "says reading, and reading follows"},
	{"a window and its verdict, from pass to query", setting("reading", "window pass-hi", "0.0001", "window query-hi", "1000", "verdict", "query"), "", "says reading, and reading follows"},
	{"a number within its window", setting("reading", "shown x", "0.1", "shown lo", "0.09", "shown hi", "0.11"), "", "says reading, and reading follows"},
	{"what was typed", setting("reading", "say", "0.3"), "", "says reading, and reading follows"},
	{"the value in words", setting("reading", "value", "1 Ω"), "", "says reading, and reading follows"},
	{"a reading without its rule", setting("reading", "rule", ""), "to be judged by, and no rule", "to be judged by, and no rule"},
	{"a class", setting("reading", "class", "E"), "", "says reading, and reading follows"},
	{"an entry", setting("entry", "say", "other"), "", "the record does not follow from its own entries"},
	{"a reading left out", without("reading"), "", "the record does not follow from its own entries"},
	{"an entry left out", without("entry"), "", "the record does not follow from its own entries"},
	{"a query left out", without("accepted"), "", "the record does not follow from its own entries"},
	{"the counts of the close line", setting("close", "query", "0"), "", "says close, and close follows"},
	{"the result", setting("close", "result", "tested and boxed, not handed back"), "", "says close, and close follows"},
	{"the result, in words of one's own", setting("close", "result", "handed back, SAFE, accepted and signed by j.smith"), "closed with words that this program does not know", "says close, and close follows"},
	{"the set's sheet", setting("open", "set", "name: other\n"), "", "line 1 does not carry the set it was made with"},
	{"a meter left out", setting("open", "meter 1", "", "meter 1 name", "", "meter 1 sha256", ""), "", "line 1 is not what follows from the files in it"},
	{"the operator in line 1", setting("open", "operator", "somebody"), "", "line 1 is not what follows from the files in it"},
	{"the limits in line 1", setting("open", "profile", "none"), "", "line 1 is not what follows from the files in it"},
	{"a word more in line 1", setting("open", "owner", "somebody"), "", "line 1 is not what follows from the files in it"},
	{"another version of the program", setting("open", "program", "v9.9.9"), "", ""},
	{"another version of the program, and the value in words", func(lines []transcriptlog.Line) []transcriptlog.Line {
		return setting("reading", "value", "1 Ω")(setting("open", "program", "v9.9.9")(lines))
	}, "", `says reading, and reading follows with another "value"; made with another version of the program: powerup v9.9.9 with rules 1, and this is powerup`},
	{"other rules in line 1", setting("open", "rules", "2"), "", "it cannot be recomputed: made with other rules: powerup"},
	{"another version that went on", goneOn("program", "v9.9.9"), "", ""},
	{"a word more where another version went on", goneOn("program", version(), "by", "anna"), "", "program stands alone"},
	{"this version that went on", goneOn("program", version()), "", ""},
	{"the system in line 1", setting("open", "platform", "none"), "", ""},
	{"the key's name in line 1", setting("open", "key", "SHA256:none"), "", ""},
	{"all times, a day earlier", func(lines []transcriptlog.Line) []transcriptlog.Line {
		for i := range lines {
			lines[i].Time = lines[i].Time.AddDate(0, 0, -1)
		}
		return lines
	}, "", ""},
}

func TestWhatAForgerWithTheWriterCanDo(t *testing.T) {
	t.Parallel()
	v, other := newVictim(t)
	stranger := signer(t, other)
	detected := 0
	for _, c := range forged {
		raw := v.chainedAnew(t, true, c.change)
		if bytes.Equal(raw, v.raw) {
			t.Fatalf("%s: nothing was changed", c.what)
		}
		for how, sig := range map[string][]byte{"signed as it was": v.sig, "not signed": nil, "signed by a stranger": signed(t, stranger, transcriptlog.NamespacePractice, raw)} {
			f := v.verify(t, raw, sig)
			if f.record.Ending != transcriptlog.Complete || f.accepted() || f.whyNot().short == "" {
				t.Errorf("%s, %s: %s, %+v", c.what, how, f.record.Ending, f.whyNot())
			}
		}
		own := signed(t, v.listed, transcriptlog.NamespacePractice, raw)
		played := v
		played.o.recompute = true
		v.forgery(t, c.what+", plain", raw, own, c.plain)
		played.forgery(t, c.what+", played again", raw, own, c.recomputed)
		if c.recomputed != "" {
			detected++
		}
	}
	t.Logf("%d edits: all seen without the listed key; with it --recompute sees %d", len(forged), detected)
}

func signed(t *testing.T, s transcriptlog.Signer, namespace string, message []byte) []byte {
	t.Helper()
	armored, err := s.Sign(namespace, message)
	if err != nil {
		t.Fatal(err)
	}
	return armored
}

// forgery demands that an edit signed by a listed key is refused for a reason,
// or, where there is none, that it is taken.
func (v victim) forgery(t *testing.T, what string, raw, sig []byte, why string) {
	t.Helper()
	f := v.verify(t, raw, sig)
	no := f.whyNot()
	if why == "" {
		if !f.accepted() {
			t.Errorf("%s: refused after all (%s): say so here and in FORMAT.md", what, no.why)
		}
		return
	}
	if f.accepted() || !strings.Contains(no.why, why) {
		t.Errorf("%s: got %q, want %q", what, no.why, why)
	}
}

// A practice record whose every line is turned to real has a whole chain again,
// and no signature but that of practice. Only who holds a listed key could make
// it real, by signing a lie.
func TestPracticeCannotBeTurnedToReal(t *testing.T) {
	t.Parallel()
	v, _ := newVictim(t)
	asReal := v
	asReal.o.practice = false
	turned := bytes.ReplaceAll(v.raw, []byte(`,"practice":true,`), []byte(`,"practice":false,`))
	asReal.refused(t, "every mark, the chain left", turned, v.sig, "broken", follow(2))
	for i := range v.rows {
		one := slices.Clone(v.rows)
		one[i] = bytes.Replace(one[i], []byte(`,"practice":true,`), []byte(`,"practice":false,`), 1)
		f := v.verify(t, v.joined(one), v.sig)
		if at := f.record.BadLine; f.whyNot().short != "broken" || at != max(i+1, 2) && !(i == 0 && at == 2) {
			t.Errorf("the mark of line %d: line %d: %+v", i+1, at, f.whyNot())
		}
	}
	same := func(l []transcriptlog.Line) []transcriptlog.Line { return l }
	anew := v.chainedAnew(t, false, same)
	asReal.refused(t, "chained anew, signed as it was", anew, v.sig, "refused", doesNotVerify+`made in namespace "powerup-practice", not "powerup-transcript"`)
	v.refused(t, "chained anew, asked for as practice", anew, v.sig, "real", "it is a real record, and --practice accepts practice only")
	asReal.refused(t, "as it is, asked for as real", v.raw, v.sig, "practice", "it is a practice record: it proves nothing about a set (--practice accepts it as practice)")
	asReal.refused(t, "chained anew, signed by the practice key as real", anew, signed(t, v.listed, transcriptlog.NamespaceReal, anew), "unlisted",
		"signed by a key that you have not listed, and anybody can make one: "+transcriptlog.Fingerprint(v.listed.PublicKey())+" for namespace powerup-transcript")

	lie := asReal // by design: nothing but the signer's word says that a session was real
	lie.o.signers = filepath.Join(v.dir, "liars")
	if err := transcriptlog.AppendSigner(lie.o.signers, "eve", transcriptlog.NamespaceReal, v.listed.PublicKey()); err != nil {
		t.Fatal(err)
	}
	sig := signed(t, v.listed, transcriptlog.NamespaceReal, anew)
	lie.forgery(t, "signed as real by a key that is listed for it", anew, sig, "")
	lie.o.recompute = true
	lie.forgery(t, "and recomputed", anew, sig, "")
}
