package transcriptlog

import (
	"errors"
	"maps"
	"strings"
	"testing"
)

// released is a record with one release, signed by the key for its own line.
func released(t *testing.T, trainer Signer, witness string) []Line {
	t.Helper()
	d := &badDisk{}
	l := &Log{f: d}
	if err := l.Append(stamp(0), records()[:2]...); err != nil {
		t.Fatal(err)
	}
	armored, err := SignRelease(trainer, 3, nextPrev(l))
	if err != nil {
		t.Fatal(err)
	}
	release := Record{Kind: KindReleased, Fields: map[string]string{"hold": "hold-1", "witness": witness, "signature": string(armored)}}
	if err := l.Append(stamp(1), release, release); err != nil {
		t.Fatal(err)
	}
	return Read(d.written).Lines
}

func nextPrev(l *Log) [32]byte { _, prev := l.Head(); return prev }

// A release is signed for one line, and holds for no other.
func TestAReleaseHoldsForOneLine(t *testing.T) {
	trainer := testKey(t, 3)
	known := signers(t, row("trainer", NamespaceRelease, trainer))
	lines := released(t, trainer, "trainer")
	for i, line := range lines[2:] {
		who, err := CheckRelease(line, known)
		if first := i == 0; first != (err == nil && who.Name == "trainer") {
			t.Errorf("line %d: %q, %v", line.Seq, who.Name, err)
		}
	}
	for _, l := range lines[:2] {
		if _, err := CheckRelease(l, known); err == nil || SignedRelease(l) {
			t.Errorf("line %d is no release", l.Seq)
		}
	}
	want := "3\n" + strings.Repeat("0", 63) + "1\n"
	if got := ReleaseMessage(3, [32]byte{31: 1}); string(got) != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestAReleaseIsThatOfItsWitness(t *testing.T) {
	trainer, other := testKey(t, 3), testKey(t, 4)
	line := released(t, trainer, "trainer")[2]
	with := func(key, value string) Line {
		l := line
		l.Fields = maps.Clone(line.Fields)
		l.Fields[key] = value
		return l
	}
	revoked, err := ParseRevoked([]byte(strings.TrimPrefix(row("", "", trainer), " ")))
	if err != nil {
		t.Fatal(err)
	}
	known := signers(t, row("trainer", NamespaceRelease, trainer))
	for _, c := range []struct {
		why   string
		line  Line
		known Signers
		want  error
	}{
		{"the trainer", line, known, nil},
		{"a key for many names, that of the witness too", line, signers(t, row("t*", NamespaceRelease, trainer)), nil},
		{"a key for many names, not that of the witness", line, signers(t, row("a*", NamespaceRelease, trainer)), ErrNoName},
		{"another witness in the line", with("witness", "anna"), known, ErrSignature},
		{"no witness in the line", with("witness", ""), known, ErrSignature},
		{"nobody is known", line, Signers{}, ErrUnlisted},
		{"another key is known", line, signers(t, row("trainer", NamespaceRelease, other)), ErrUnlisted},
		{"the key may sign records alone", line, signers(t, row("trainer", NamespaceReal, trainer)), ErrUnlisted},
		{"the key is revoked", line, known.Without(revoked), ErrRevoked},
		{"the key is good at another time", line, signers(t, strings.Replace(row("trainer", NamespaceRelease, trainer), "namespaces", `valid-before="20291231Z",namespaces`, 1)).At(stamp(1).Wall), ErrNotValid},
		{"no signature", with("signature", ""), known, ErrSignature},
		{"signed as a record", with("signature", string(sign(t, trainer, NamespaceReal, ReleaseMessage(line.Seq, line.Prev)))), known, ErrSignature},
		{"another line's", with("signature", string(sign(t, trainer, NamespaceRelease, ReleaseMessage(line.Seq+1, line.Prev)))), known, ErrSignature},
		{"another record's", with("signature", string(sign(t, trainer, NamespaceRelease, ReleaseMessage(line.Seq, [32]byte{})))), known, ErrSignature},
	} {
		who, err := CheckRelease(c.line, c.known)
		if !errors.Is(err, c.want) || (err == nil) != (who.Name == "trainer") {
			t.Errorf("%s: got %q, %v, want %v", c.why, who.Name, err, c.want)
		}
	}
}

// ssh-keygen signs a release that is taken here, and takes one signed here.
func TestReleasesGoBothWaysWithOpenSSH(t *testing.T) {
	trainer := testKey(t, 3)
	line := released(t, trainer, "trainer")[2]
	message := ReleaseMessage(line.Seq, line.Prev)
	allowed := writeTemp(t, "allowed_signers", []byte(row("trainer", NamespaceRelease, trainer)+"\n"))
	sig := writeTemp(t, "release.sig", []byte(line.Fields["signature"]))
	for _, c := range []struct {
		message   []byte
		namespace string
		want      bool
	}{
		{message, NamespaceRelease, true},
		{message, NamespaceReal, false},
		{ReleaseMessage(line.Seq+1, line.Prev), NamespaceRelease, false},
	} {
		out, ok := keygen(t, c.message, "-Y", "verify", "-f", allowed, "-I", "trainer", "-n", c.namespace, "-s", sig)
		if ok != c.want {
			t.Errorf("%q in %s: ssh-keygen says %s", c.message, c.namespace, out)
		}
	}
	key := writeTemp(t, "id", nil)
	private, _, err := NewKey(strings.NewReader(strings.Repeat("\x03", 32)), "", nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := replaceFile(key, private, 0o600); err != nil {
		t.Fatal(err)
	}
	out, ok := keygen(t, message, "-q", "-Y", "sign", "-f", key, "-n", NamespaceRelease)
	if _, after, found := strings.Cut(out, "-----BEGIN"); ok && found {
		line.Fields["signature"] = "-----BEGIN" + after
	}
	if who, err := CheckRelease(line, signers(t, row("trainer", "", trainer))); !ok || err != nil || who.Name != "trainer" {
		t.Errorf("%q, %v: %s", who.Name, err, out)
	}
}
