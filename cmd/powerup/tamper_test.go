package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"golang.org/x/crypto/ssh"

	"example.com/powerup/internal/transcriptlog"
)

// envTamper makes the tests below look at every so manieth byte of a record; "1"
// is all of them.
const envTamper = "POWERUP_TEST_TAMPER"

func stride(t *testing.T, least int) int {
	t.Helper()
	text := os.Getenv(envTamper)
	if text == "" {
		return least
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		t.Fatalf("%s=%s is no number of bytes", envTamper, text)
	}
	return n
}

// victim is a whole closed record of a scripted practice session, its signature,
// and the keys that are believed.
type victim struct {
	raw, sig []byte
	rows     [][]byte
	ends     []int // where each ends
	o        verifyOptions
	listed   transcriptlog.Signer // the key that is believed
	dir      string
}

// made is one record of the demonstration with the files of its home, as bytes.
type made struct{ raw, sig, key, signers []byte }

// Two records of the same session by two keys, made once for all tests.
var evidence = struct {
	sync.Once
	two [2]made
}{}

func newVictim(t *testing.T) (v victim, other made) {
	t.Helper()
	evidence.Do(func() {
		for n := range evidence.two {
			h := newHome(t)
			path, config := filepath.Join(h.dir, "x.transcript"), filepath.Join(h.dir, "config", "powerup")
			if out, err := h.program(t, "run", "--demo", "-o", path).CombinedOutput(); err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			evidence.two[n] = made{read(t, path), read(t, path+".sig"), read(t, filepath.Join(config, "practice_key")), read(t, filepath.Join(config, "practice_signers"))}
		}
	})
	m, other := evidence.two[0], evidence.two[1]
	v = victim{raw: m.raw, sig: m.sig, rows: rowsOf(m.raw), dir: t.TempDir(), listed: signer(t, m)}
	v.o = verifyOptions{signers: filepath.Join(v.dir, "signers"), practice: true}
	if err := os.WriteFile(v.o.signers, m.signers, 0o600); err != nil {
		t.Fatal(err)
	}
	for at, row := range v.rows {
		v.ends = append(v.ends, len(row))
		if at > 0 {
			v.ends[at] += v.ends[at-1]
		}
	}
	if len(v.rows) < 200 {
		t.Fatalf("only %d lines: this would test little", len(v.rows))
	}
	if f := v.verify(t, v.raw, v.sig); !f.accepted() {
		t.Fatalf("as it is: %+v", f.whyNot())
	}
	return v, other
}

// rowsOf are the lines of a record, each with its line feed.
func rowsOf(raw []byte) [][]byte {
	rows := bytes.SplitAfter(raw, []byte("\n"))
	return rows[:len(rows)-1]
}

func signer(t *testing.T, m made) transcriptlog.Signer {
	t.Helper()
	s, err := transcriptlog.LoadSigner(m.key, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// lineOf is the number of the line in which a byte stands.
func (v victim) lineOf(at int) int {
	n, _ := slices.BinarySearch(v.ends, at+1)
	return n + 1
}

func (v victim) last() int { return len(v.rows) }

// verify is the whole of verify over these bytes; sig nil: there is none.
func (v victim) verify(t *testing.T, raw, sig []byte) finding {
	t.Helper()
	path := filepath.Join(v.dir, "tampered.transcript")
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	os.Remove(path + ".sig")
	if sig != nil {
		if err := os.WriteFile(path+".sig", sig, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := check(v.o, path)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func (v victim) joined(rows ...[][]byte) []byte { return bytes.Join(slices.Concat(rows...), nil) }

// refused demands that verify does not accept, for this reason.
func (v victim) refused(t *testing.T, what string, raw, sig []byte, short, why string) {
	t.Helper()
	f := v.verify(t, raw, sig)
	if no := f.whyNot(); f.accepted() || no.short != short || no.why != why {
		t.Errorf("%s: got %s: %s; want %s: %s", what, no.short, no.why, short, why)
	}
}

const doesNotVerify = "the signature does not verify: "

func follow(n int) string {
	if n == 1 {
		return "line 1: 1 is not a first line"
	}
	return fmt.Sprintf("line %d: %d does not follow %d", n, n, n-1)
}

// One bit of a byte, or the byte itself: verify names the line or, if that still
// reads, the one after it; in the last line, which none follows, the signature
// tells. The count of each is shown.
func TestNoByteOfARecordCanBeChangedOrDropped(t *testing.T) {
	t.Parallel()
	v, _ := newVictim(t)
	every, lastEvery := stride(t, 499), min(5, stride(t, 5))
	seen := map[string]int{}
	one := func(what string, at int, raw []byte) {
		f := v.verify(t, raw, v.sig)
		no, line := f.whyNot(), v.lineOf(at)
		named := no.short == "broken" && (f.record.BadLine == line || f.record.BadLine == line+1)
		bySignature := line >= v.last() && no.short == "refused" && no.why != ""
		if f.accepted() || !named && !bySignature {
			t.Errorf("%s %d in line %d: %s, line %d: %s", what, at, line, no.short, f.record.BadLine, no.why)
		}
		seen[what+": "+no.short]++
	}
	tail := v.ends[v.last()-2]
	for at := range v.raw {
		if at < tail && at%every != 0 || at >= tail && at%lastEvery != 0 {
			continue
		}
		flipped := bytes.Clone(v.raw)
		flipped[at] ^= 1 << (at % 8)
		one("flipped", at, flipped)
		one("dropped", at, slices.Delete(bytes.Clone(v.raw), at, at+1))
	}
	for _, end := range v.ends {
		one("line feed dropped", end-1, slices.Delete(bytes.Clone(v.raw), end-1, end))
	}
	t.Logf("of %d bytes: %v", len(v.raw), seen)
}

// Lines dropped, swapped, doubled, or put in from another record of the same
// session: the first place where the order breaks is named.
func TestNoLineOfARecordCanBeMoved(t *testing.T) {
	t.Parallel()
	v, other := newVictim(t)
	strange := rowsOf(other.raw)                           // another key, so another line 1
	count, every := map[string]int{}, min(4, stride(t, 4)) // so manieth through the whole of verify
	broken := func(what string, n int, raw []byte) {
		t.Helper()
		count[what]++
		if got := transcriptlog.Read(raw); got.Ending != transcriptlog.Broken || "line "+strconv.Itoa(got.BadLine)+": "+got.Reason != follow(n) {
			t.Errorf("line %d %s: %s, line %d: %s", n, what, got.Ending, got.BadLine, got.Reason)
		}
		if n > 2 && n < v.last() && n%every != 0 {
			return
		}
		v.refused(t, fmt.Sprintf("line %d %s", n, what), raw, v.sig, "broken", follow(n))
	}
	closed := v.last()
	for i := range v.rows[:closed-1] {
		broken("dropped", i+1, v.joined(v.rows[:i], v.rows[i+1:]))
		broken("doubled", i+2, v.joined(v.rows[:i+1], v.rows[i:]))
		swapped := slices.Clone(v.rows)
		swapped[i], swapped[i+1] = swapped[i+1], swapped[i]
		broken("swapped", i+1, v.joined(swapped))
		if i > 0 { // line 1 is whole by itself: the next one tells
			broken("from another record", i+1, v.joined(v.rows[:i], strange[i:i+1], v.rows[i+1:]))
		}
	}
	broken("that follows another's line 1", 2, v.joined(strange[:1], v.rows[1:]))
	broken("from another record", closed, v.joined(v.rows[:closed-1], strange[closed-1:]))
	after := fmt.Sprintf("line %d: bytes after the close line", closed+1)
	for what, more := range map[string][]byte{
		"a byte": {'x'}, "a line feed": {'\n'}, "the last line again": v.rows[closed-1], "zeros": make([]byte, 512), "another record": other.raw,
	} {
		count["bytes after the close"]++
		v.refused(t, what+" after the close", append(bytes.Clone(v.raw), more...), v.sig, "broken", after)
	}
	t.Logf("of %d lines: %v", closed, count)
}

// A record cut back to an earlier line still follows: without its signature it is
// OPEN, which is all that plain verify can see; with it, that is what tells.
func TestARecordThatIsCutBackIsNeverWhole(t *testing.T) {
	t.Parallel()
	v, _ := newVictim(t)
	every := min(4, stride(t, 4))
	for n := 1; n < v.last(); n++ {
		cut := v.joined(v.rows[:n])
		if got := transcriptlog.Read(cut); got.Ending != transcriptlog.Open || len(got.Lines) != n {
			t.Errorf("cut back to line %d: %s", n, got.Ending)
		}
		if n%every != 0 && n < v.last()-1 {
			continue
		}
		v.refused(t, fmt.Sprintf("cut back to line %d", n), cut, nil, "open", "it is open, and an open record is not signed")
		v.refused(t, fmt.Sprintf("cut back to line %d, signed as it was", n), cut, v.sig, "refused",
			"only a closed record is signed, and this is not one: it was cut back or changed, or tampered.transcript.sig is another's")
	}
	v.refused(t, "the last line feed", v.raw[:len(v.raw)-1], nil, "open", "it is open, and an open record is not signed")
	t.Logf("%d times cut back", v.last()-1)
}

// What stands where the signature should, and never ends or is no file, holds
// nothing up.
func TestASignatureThatIsNoFile(t *testing.T) {
	t.Parallel()
	v, _ := newVictim(t)
	for what, put := range map[string]func(string) error{
		"folder": func(path string) error { return os.Mkdir(path, 0o700) },
		"device": func(path string) error { return os.Symlink("/dev/zero", path) },
	} {
		path := filepath.Join(v.dir, what)
		if err := os.WriteFile(path, v.raw, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := put(path + ".sig"); err != nil {
			t.Fatal(err)
		}
		f, err := check(v.o, path)
		if want := what + ".sig is no plain file"; err != nil || f.accepted() || f.whyNot().why != want && runtime.GOOS != "windows" {
			t.Errorf("%s: %v, %+v, want %q", what, err, f.whyNot(), want)
		}
	}
}

func TestNoOtherSignatureStandsForARecord(t *testing.T) {
	t.Parallel()
	v, other := newVictim(t)
	eve := signer(t, other)
	const notCurve = doesNotVerify + "ssh: signature did not verify"
	for _, c := range []struct {
		what       string
		sig        []byte
		short, why string
	}{
		{"no signature", nil, "unsigned", "it is not signed yet: there is no tampered.transcript.sig. Who closed it signs it by: powerup key sign " + shell(filepath.Join(v.dir, "tampered.transcript"))},
		{"another record's", other.sig, "refused", notCurve},
		{"by a key that is not listed", signed(t, eve, transcriptlog.NamespacePractice, v.raw), "unlisted", "signed by a key that you have not listed, and anybody can make one: " + transcriptlog.Fingerprint(eve.PublicKey()) + " for namespace powerup-practice"},
		{"as a real record", signed(t, v.listed, transcriptlog.NamespaceReal, v.raw), "refused", doesNotVerify + `made in namespace "powerup-transcript", not "powerup-practice"`},
		{"as a release", signed(t, v.listed, transcriptlog.NamespaceRelease, v.raw), "refused", doesNotVerify + `made in namespace "powerup-release", not "powerup-practice"`},
		{"of the record without its end", signed(t, v.listed, transcriptlog.NamespacePractice, v.raw[:len(v.raw)-1]), "refused", notCurve},
		{"text behind it", append(bytes.Clone(v.sig), "x\n"...), "refused", doesNotVerify + "not one OpenSSH signature and nothing else"},
		{"none of its bytes", []byte{}, "refused", doesNotVerify + "not an OpenSSH signature"},
	} {
		v.refused(t, c.what, v.raw, c.sig, c.short, c.why)
	}
}

// A good signature by a key that is revoked, or was not good at the close, is not
// believed, whoever it belonged to.
func TestASignatureByAKeyThatIsNotGoodAnyMore(t *testing.T) {
	t.Parallel()
	v, _ := newVictim(t)
	key := strings.TrimSpace(string(ssh.MarshalAuthorizedKey(v.listed.PublicKey())))
	put := func(name, text string) string {
		path := filepath.Join(v.dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good := v.o
	v.o.revoked = put("revoked", key+"\n")
	v.refused(t, "revoked", v.raw, v.sig, "revoked", "signed by a key that is revoked, and never believed again: "+transcriptlog.Fingerprint(v.listed.PublicKey()))
	v.o.revoked = put("revoked-too", "some key\n")
	v.refused(t, "revoked is not known", v.raw, v.sig, "refused", v.o.revoked+": revoked: line 1: want KIND KEY [comment], as in a .pub file: the key is not base64")
	v.o = good
	closed := transcriptlog.Read(v.raw).Lines[len(v.rows)-1].Time.Format("2006-01-02 15:04:05") + " UTC"
	v.o.signers = put("expired", `practice namespaces="powerup-practice",valid-before="20010101Z" `+key+"\n")
	v.refused(t, "expired", v.raw, v.sig, "out of date", "signed by a key that was not good at the record's own close, by the clock of its computer: line 1 of the signers file has it good until 2001-01-01 00:00:00 UTC, and it signed for "+closed)
}
