package transcriptlog

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/crypto/ssh"
)

// agreement is a signers file that ssh-keygen and this package read. KEY stands
// for the signer's key, OTHER for somebody else's, ECDSA for one of a kind that
// is not taken. The record gives the name anna.
type agreement struct {
	file string
	at   string // the close, as ssh-keygen's verify-time; empty: noon on 1 July 2030, UTC
	want string // whose key it is; empty: nobody's
	// stricter says why a file is refused that ssh-keygen takes. The other way
	// round there is nothing.
	stricter string
}

const summerNoon = "20300701120000Z"

var agreements = []agreement{
	// names
	{file: "anna KEY", want: "anna"},
	{file: "anna\tKEY", want: "anna"},
	{file: "anna  \t KEY", want: "anna"},
	{file: " anna KEY", want: "anna"},
	{file: "\tanna KEY", want: "anna"},
	{file: "anna KEY a comment of words", want: "anna"},
	{file: "anna KEY # more", want: "anna"},
	{file: `"anna" KEY`, want: "anna"},
	{file: `"anna,bert" KEY`, want: "anna"},
	{file: "bert KEY", want: "bert"},
	{file: "Anna KEY", want: "Anna"},
	{file: "anna@club.example KEY", want: "anna@club.example"},
	{file: "anna,bert KEY", want: "anna"},
	{file: "bert,anna KEY", want: "anna"},
	{file: "bert,carl KEY"},
	{file: "anna,anna KEY", want: "anna"},
	{file: "anna, bert KEY"},
	{file: ",anna KEY", stricter: "a comma too many"},
	{file: "anna, KEY", stricter: "a comma too many"},
	{file: "an=na,anna KEY", stricter: "a name of other characters"},
	{file: "änna,anna KEY", stricter: "a name of other characters"},
	{file: "-anna,anna KEY", stricter: "a name like an option"},
	{file: `"anna"x KEY`},
	{file: `"anna KEY`},
	{file: `anna" KEY`},
	// patterns
	{file: "* KEY", want: "anna"},
	{file: "**** KEY", want: "anna"},
	{file: "a* KEY", want: "anna"},
	{file: "*a KEY", want: "anna"},
	{file: "a*a KEY", want: "anna"},
	{file: "*nn* KEY", want: "anna"},
	{file: "*n*n* KEY", want: "anna"},
	{file: "a*n*n*a KEY", want: "anna"},
	{file: "a*n*n*n*a KEY"},
	{file: "an*na* KEY", want: "anna"},
	{file: "anna* KEY", want: "anna"},
	{file: "*anna KEY", want: "anna"},
	{file: "b* KEY"},
	{file: "*b KEY"},
	{file: "???? KEY", want: "anna"},
	{file: "??? KEY"},
	{file: "????? KEY"},
	{file: "a??a KEY", want: "anna"},
	{file: "?*? KEY", want: "anna"},
	{file: "*? KEY", want: "anna"},
	{file: "*???? KEY", want: "anna"},
	{file: "*????? KEY"},
	{file: "anna? KEY"},
	{file: "ann? KEY", want: "anna"},
	{file: "A* KEY"},
	{file: "*@* KEY"},
	{file: "b*,a* KEY", want: "anna"},
	{file: "*a*a*a*a*a*a*a*b KEY"},
	// names taken away
	{file: "!anna KEY"},
	{file: "!bert KEY"},
	{file: "*,!anna KEY"},
	{file: "!anna,* KEY"},
	{file: "*,!bert KEY", want: "anna"},
	{file: "!bert,* KEY", want: "anna"},
	{file: "anna,!bert KEY", want: "anna"},
	{file: "anna,!a* KEY"},
	{file: "!a*,anna KEY"},
	{file: "!!anna,* KEY", stricter: "two exclamation marks"},
	{file: "anna,! KEY", stricter: "nothing is taken away"},
	{file: "!*,anna KEY"},
	{file: "*,!*a KEY"},
	{file: "a!na KEY"},
	// several lines
	{file: "bert KEY\nanna KEY", want: "anna"},
	{file: "anna KEY\nbert KEY", want: "anna"},
	{file: "anna KEY\nanna KEY", want: "anna"},
	{file: "!anna KEY\nanna KEY", want: "anna"},
	{file: "*,!anna KEY\na* KEY", want: "anna"},
	{file: "bert KEY\ncarl KEY"},
	{file: "anna OTHER\nbert KEY", want: "bert"},
	{file: "anna OTHER"},
	{file: "anna OTHER\n* KEY", want: "anna"},
	{file: "# anna KEY"},
	{file: "  # bert OTHER\nanna KEY", want: "anna"},
	{file: "\n \t\n#\nanna KEY\n\n", want: "anna"},
	{file: "#anna KEY\nanna OTHER"},
	// lines that are not understood
	{file: "anna"},
	{file: "KEY"},
	{file: "anna # KEY"},
	{file: "anna ssh-ed25519"},
	{file: "anna ssh-ed25519 AAAA"},
	{file: "anna KEYx"},
	{file: "bert\nanna KEY", stricter: "a line that is not understood"},
	{file: "bert option KEY\nanna KEY", stricter: "a line that is not understood"},
	{file: "bert ssh-ed25519 AAAA\nanna KEY", stricter: "a line that is not understood"},
	{file: "bert ECDSA\nanna KEY", stricter: "a kind of key that is not taken"},
	{file: "anna ECDSA"},
	{file: "anna KEY\r", stricter: "a carriage return"},
	{file: "bert cert-authority OTHER\nanna KEY", stricter: "a certificate authority"},
	{file: "anna cert-authority KEY"},
	{file: "anna Cert-Authority KEY"},
	{file: `anna cert-authority,namespaces="*" KEY`},
	// namespaces
	{file: `anna namespaces="powerup-transcript" KEY`, want: "anna"},
	{file: `anna NameSpaces="powerup-transcript" KEY`, want: "anna"},
	{file: `anna namespaces="powerup-release" KEY`},
	{file: `anna namespaces="powerup-release,powerup-transcript" KEY`, want: "anna"},
	{file: `anna namespaces="file,powerup-*" KEY`, want: "anna"},
	{file: `anna namespaces="*" KEY`, want: "anna"},
	{file: `anna namespaces="*,!powerup-practice" KEY`, want: "anna"},
	{file: `anna namespaces="*,!powerup-transcript" KEY`},
	{file: `anna namespaces="!powerup-transcript,*" KEY`},
	{file: `anna namespaces="powerup-transcrip?" KEY`, want: "anna"},
	{file: `anna namespaces="POWERUP-TRANSCRIPT" KEY`},
	{file: `anna namespaces="powerup-transcript " KEY`},
	{file: `anna namespaces="a b,powerup-transcript" KEY`, want: "anna"},
	{file: `anna namespaces="powerup-transcript," KEY`, want: "anna"},
	{file: `anna namespaces="" KEY`},
	{file: `anna namespaces KEY`},
	{file: `anna namespaces=powerup-transcript KEY`},
	{file: `anna namespaces="powerup-transcript KEY`},
	{file: `anna namespaces="powerup-transcript"x KEY`},
	{file: `anna namespaces="powerup-transcript", KEY`},
	{file: `anna ,namespaces="powerup-transcript" KEY`, stricter: "a comma too many"},
	{file: `anna namespaces="powerup-transcript",,valid-after="20200101" KEY`, stricter: "a comma too many"},
	{file: `anna namespaces="powerup-transcript",namespaces="*" KEY`},
	{file: `anna namespaces="a\"b,*" KEY`, stricter: "a backslash"},
	{file: `anna namespaces ="*" KEY`},
	{file: `anna namespaces="*" valid-after="20200101" KEY`},
	{file: `anna namespaces="powerup-release" KEY` + "\nbert KEY", want: "bert"},
	{file: `anna namespaces="powerup-release" KEY` + "\nanna KEY", want: "anna"},
	// options that nobody knows
	{file: "anna option KEY"},
	{file: `anna no-touch-required KEY`},
	{file: `anna option="x" KEY`},
	{file: `anna "" KEY`},
	{file: `anna "namespaces" KEY`},
	// dates, both ends with it
	{file: `anna valid-after="20300701Z" KEY`, want: "anna"},
	{file: `anna valid-after="20300702Z" KEY`},
	{file: `anna valid-before="20300701Z" KEY`},
	{file: `anna valid-before="20300702Z" KEY`, want: "anna"},
	{file: `anna valid-after="20300701120000Z" KEY`, want: "anna"},
	{file: `anna valid-after="20300701120001Z" KEY`},
	{file: `anna valid-before="20300701120000Z" KEY`, want: "anna"},
	{file: `anna valid-before="20300701115959Z" KEY`},
	{file: `anna valid-after="203007011200Z" KEY`, want: "anna"},
	{file: `anna valid-after="203007011201Z" KEY`},
	{file: `anna valid-before="203007011200z" KEY`, want: "anna"},
	{file: `anna valid-before="203007011159UTC" KEY`},
	{file: `anna valid-after="20300101Z",valid-before="20310101Z" KEY`, want: "anna"},
	{file: `anna valid-before="20310101Z",valid-after="20300101Z",namespaces="powerup-*" KEY`, want: "anna"},
	{file: `anna valid-after="20310101Z",valid-before="20300101Z" KEY`},
	{file: `anna valid-after="20300701120000Z",valid-before="20300701120000Z" KEY`},
	{file: `anna valid-after="20300701120000Z",valid-before="20300701120001Z" KEY`, want: "anna"},
	{file: `anna valid-after="20200101Z",valid-after="20210101Z" KEY`},
	{file: `Anna VALID-AFTER="20200101Z" KEY`, want: "Anna"},
	{file: `anna valid-before="20300101Z" KEY` + "\n" + `bert valid-after="20300101Z" KEY`, want: "bert"},
	{file: `anna valid-before="20300101Z" KEY` + "\n" + `anna valid-after="20300101Z" KEY`, want: "anna"},
	{file: `anna valid-before="20300101Z" KEY` + "\nanna KEY", want: "anna"},
	{file: `anna valid-before="99991231235959Z" KEY`, want: "anna"},
	{file: `anna valid-after="20400229Z" KEY`, at: "20400229Z", want: "anna"},
	{file: `anna valid-after="20300701" KEY`, at: "20300701Z", want: "anna"},
	// forms that are no date
	{file: `anna valid-after="" KEY`},
	{file: `anna valid-after KEY`},
	{file: `anna valid-after=20200101 KEY`},
	{file: `anna valid-after="2020" KEY`},
	{file: `anna valid-after="202001" KEY`},
	{file: `anna valid-after="2020010110" KEY`},
	{file: `anna valid-after="2020-01-01" KEY`},
	{file: `anna valid-after="20200101T1000" KEY`},
	{file: `anna valid-after="20201301" KEY`},
	{file: `anna valid-after="20200132" KEY`},
	{file: `anna valid-after="202001012400" KEY`},
	{file: `anna valid-after="202001011260" KEY`},
	{file: `anna valid-after=" 20200101" KEY`},
	{file: `anna valid-after="20200101 " KEY`},
	{file: `anna valid-after="-2020101" KEY`},
	{file: `anna valid-after="20200101ZZ" KEY`},
	{file: `anna valid-after="20200230" KEY`, stricter: "no day of the calendar"},
	{file: `anna valid-after="20200101120060" KEY`, stricter: "no second of the day"},
	{file: `anna valid-after="2020 101" KEY`, stricter: "a blank for a digit"},
	{file: `anna valid-after="19700101Z" KEY`},
	{file: `anna valid-before="19700101Z" KEY`},
	{file: `anna valid-after="19600101Z" KEY`},
	{file: `anna valid-after="19700102Z" KEY`, stricter: "a year before 1971"},
}

// bench is a record, its signature and the keys that the files are made of.
type bench struct {
	key          Signer
	message, sig string
	fill         *strings.Replacer
}

func newBench(t *testing.T) bench {
	t.Helper()
	key := testKey(t, 1)
	line := func(pub ssh.PublicKey) string { return string(bytes.TrimSpace(ssh.MarshalAuthorizedKey(pub))) }
	_, ecdsa := ecdsaKey(t)
	message := writeTemp(t, "message", []byte("message\n"))
	sig := message + ".sig"
	if err := os.WriteFile(sig, sign(t, key, NamespaceReal, []byte("message\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	return bench{key, message, sig, strings.NewReplacer(
		"KEY", line(key.PublicKey()), "OTHER", line(testKey(t, 2).PublicKey()), "ECDSA", line(ecdsa.PublicKey()))}
}

// asks has ssh-keygen verify for a name, in a time zone.
func (b bench) asks(t *testing.T, zone, file, name, at string, more ...string) (string, bool) {
	t.Helper()
	t.Setenv("TZ", zone)
	return keygen(t, readFile(t, b.message), append([]string{
		"-Y", "verify", "-f", file, "-I", name,
		"-n", NamespaceReal, "-s", b.sig, "-O", "verify-time=" + at,
	}, more...)...)
}

// finds has ssh-keygen tell the names of the first line that has the key.
func (b bench) finds(t *testing.T, file, at string) string {
	t.Helper()
	c := []string{"-Y", "find-principals", "-f", file, "-s", b.sig, "-O", "verify-time=" + at}
	out, ok := keygen(t, nil, c...)
	if !ok {
		return ""
	}
	return out
}

func instant(t *testing.T, text string) time.Time {
	t.Helper()
	at, _, err := parseInstant(text, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// What is believed here ssh-keygen believes too; what is refused here it refuses,
// but for the rows that say why they are read more strictly.
func TestSignersAreReadAsOpenSSHReadsThem(t *testing.T) {
	b := newBench(t)
	file := filepath.Join(t.TempDir(), "allowed_signers")
	for _, c := range agreements {
		if c.at == "" {
			c.at = summerNoon
		}
		text := b.fill.Replace(c.file) + "\n"
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := parseSigners([]byte(text), time.UTC)
		who, unknown := s.At(instant(t, c.at)).Named("anna").Owner(b.key.PublicKey(), NamespaceReal)
		if who.Name != c.want || (unknown == nil) != (c.want != "") {
			t.Errorf("%q: it is %q's (%v, %v), want %q", c.file, who.Name, err, unknown, c.want)
		}
		name := c.want
		if name == "" {
			name = "anna"
		}
		out, ok := b.asks(t, "UTC0", file, name, c.at)
		if ok != (c.want != "" || c.stricter != "") {
			t.Errorf("%q: ssh-keygen says %v for %s: %s", c.file, ok, name, out)
		}
		if err != nil {
			continue
		}
		if got, want := b.finds(t, file, c.at), firstNames(s, b.key, instant(t, c.at)); !strings.HasSuffix(got, want) || (got == "") != (want == "") {
			t.Errorf("%q: ssh-keygen finds %q, want %q", c.file, got, want)
		}
	}
	if len(agreements) < 100 {
		t.Errorf("only %d files", len(agreements))
	}
}

// firstNames are the names of the first row that has the key and is good at that
// time, one a line.
func firstNames(s Signers, key Signer, at time.Time) string {
	for _, r := range s.rows {
		if r.key == string(key.PublicKey().Marshal()) && r.validity.holds(at) {
			return strings.ReplaceAll(r.names.String(), ",", "\n") + "\n"
		}
	}
	return ""
}

// A date without Z is that of the clock on the wall. Where summer time makes two
// hours of it, the limit holds by both; ssh-keygen knows one of them.
func TestDatesWithoutZAreLocal(t *testing.T) {
	london, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	b := newBench(t)
	const posix = "GMT0BST,M3.5.0/1,M10.5.0"
	for _, c := range []struct {
		option, at string
		zone       *time.Location
		tz         string
		ours, ssh  bool
	}{
		{`valid-after="20300101"`, "20300101000000Z", london, posix, true, true},
		{`valid-after="20300101"`, "20291231235959Z", london, posix, false, false},
		{`valid-before="20300101"`, "20300101000001Z", london, posix, false, false},
		{`valid-after="20300701"`, "20300630225959Z", london, posix, false, false},
		{`valid-after="20300701"`, "20300630233000Z", london, posix, false, false},
		{`valid-after="20300701"`, "20300701000000Z", london, posix, true, true},
		{`valid-before="20300701"`, "20300630230000Z", london, posix, true, true},
		{`valid-before="20300701"`, "20300630233000Z", london, posix, false, true},
		{`valid-before="20300701"`, "20300701000001Z", london, posix, false, false},
		{`valid-before="20300701Z"`, "20300630233000Z", london, posix, true, true},
		{`valid-before="20300701"`, "20300630210000Z", time.FixedZone("", 3*3600), "EAT-3", true, true},
		{`valid-before="20300701"`, "20300630210001Z", time.FixedZone("", 3*3600), "EAT-3", false, false},
		{`valid-after="203007010000"`, "20300701050000Z", time.FixedZone("", -5*3600), "EST5", true, true},
		{`valid-after="203007010000"`, "20300701045959Z", time.FixedZone("", -5*3600), "EST5", false, false},
	} {
		text := b.fill.Replace("anna "+c.option+" KEY") + "\n"
		s, err := parseSigners([]byte(text), c.zone)
		if err != nil {
			t.Fatal(err)
		}
		_, ours := s.At(instant(t, c.at)).Principal(b.key.PublicKey(), NamespaceReal)
		out, theirs := b.asks(t, c.tz, writeTemp(t, "allowed_signers", []byte(text)), "anna", c.at)
		if ours != c.ours || theirs != c.ssh || ours && !theirs {
			t.Errorf("%s at %s in %s: we say %v, want %v; ssh-keygen says %v, want %v: %s", c.option, c.at, c.tz, ours, c.ours, theirs, c.ssh, out)
		}
	}
}

// The two readings of a date are in order wherever the computer stands.
func TestBothReadingsOfADateAreInOrder(t *testing.T) {
	apart := 0
	for _, name := range []string{"Europe/London", "Europe/Dublin", "Africa/Casablanca", "Australia/Lord_Howe", "America/New_York", "Asia/Kolkata"} {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{"20300101", "20300201", "203004011200", "20300701235959"} {
			early, late, err := parseInstant(text, zone)
			if err != nil || late.Before(early) || late.Sub(early) > time.Hour {
				t.Errorf("%s in %s: %v to %v, %v", text, name, early, late, err)
			}
			if late.After(early) {
				apart++
			}
		}
	}
	if apart < 4 {
		t.Errorf("only %d dates have two readings: this tests little", apart)
	}
}

// Lists of revoked keys, and whether the signer's key verifies with them.
func TestRevokedKeysAreReadAsOpenSSHReadsThem(t *testing.T) {
	b := newBench(t)
	allowed := writeTemp(t, "allowed_signers", []byte(b.fill.Replace("anna KEY\n")))
	s, err := ParseSigners(readFile(t, allowed))
	if err != nil {
		t.Fatal(err)
	}
	krl := filepath.Join(t.TempDir(), "krl")
	public := writeTemp(t, "key.pub", []byte(b.fill.Replace("OTHER\n")))
	if out, ok := keygen(t, nil, "-q", "-k", "-f", krl, public); !ok {
		t.Fatal(out)
	}
	for _, c := range []struct {
		why, text, refused string
		ours, ssh          bool
	}{
		{"none", "", "", true, true},
		{"a remark alone", "# nobody\n\n  # x\n", "", true, true},
		{"somebody else", "OTHER lost in 2029\n", "", true, true},
		{"another kind of key", "ECDSA\n", "", true, true},
		{"the signer", "KEY\n", "", false, false},
		{"the signer, no line feed", "OTHER\nKEY", "", false, false},
		{"the signer, with blanks before", " \tKEY x\n", "", false, false},
		{"not understood", "anything\n", "line 1: want KIND KEY", false, false},
		{"not understood after a good line", "OTHER\nssh-ed25519 AAAA\n", "line 2: want KIND KEY", false, false},
		{"an option", "restrict OTHER\n", "line 1: want KIND KEY", false, false},
		{"text that a KRL is made of", "serial: 1\n", "line 1: want KIND KEY", false, false},
		{"another kind in the key", "ssh-rsa" + strings.TrimPrefix(b.fill.Replace("OTHER"), "ssh-ed25519") + "\n", `not one of kind "ssh-rsa"`, false, false},
		{"a carriage return", "OTHER\r\n", "line feeds alone", false, true},
		{"a KRL without the signer", string(readFile(t, krl)), "make a plain list", false, true},
		{"a KRL that is cut", krlMagic, "make a plain list", false, false},
	} {
		text := b.fill.Replace(c.text)
		r, err := ParseRevoked([]byte(text))
		if (err == nil) != (c.refused == "") || err != nil && !strings.Contains(err.Error(), c.refused) {
			t.Errorf("%s: got %v, want %q", c.why, err, c.refused)
		}
		_, known := s.Without(r).Principal(b.key.PublicKey(), NamespaceReal)
		if ours := err == nil && known; ours != c.ours {
			t.Errorf("%s: we say %v", c.why, ours)
		}
		out, ok := b.asks(t, "UTC0", allowed, "anna", summerNoon, "-r", writeTemp(t, "revoked", []byte(text)))
		if ok != c.ssh {
			t.Errorf("%s: ssh-keygen says %v: %s", c.why, ok, out)
		}
	}
}

// randomSigners is a signers file of a few lines, most of them well formed.
func randomSigners(r *rand.Rand) string {
	pick := func(from ...string) string { return from[r.IntN(len(from))] }
	var b strings.Builder
	for range 1 + r.IntN(3) {
		b.WriteString(pick("", "", "", " ", "# "))
		for n := range 1 + r.IntN(3) {
			if n > 0 {
				b.WriteByte(',')
			}
			b.WriteString(pick("", "", "", "!"))
			for range 1 + r.IntN(3) {
				b.WriteString(pick("a", "n", "na", "anna", "anna", "bert", "*", "?", "??"))
			}
		}
		b.WriteString(pick(" ", " ", "\t", "  "))
		for n := range r.IntN(3) {
			if n > 0 {
				b.WriteString(pick(",", ",", ",", " ", ", "))
			}
			b.WriteString(pick("namespaces=", "namespaces=", "valid-after=", "valid-before=", "VALID-BEFORE=", "cert-authority", "other"))
			b.WriteString(pick(`"powerup-transcript"`, `"*"`, `"*,!powerup-t*"`, `"file"`, `"20300701"`, `"20300701120000Z"`, `"203007011159Z"`, `"20200101"`, `"20400101Z"`, `"2030"`, "", `"`))
		}
		b.WriteString(pick(" ", " ", "\t", ""))
		b.WriteString(pick("KEY", "KEY", "KEY", "OTHER", "ssh-ed25519 AAAA", ""))
		b.WriteString(pick("\n", "\n", "\n", " x\n", "\n\n"))
	}
	return b.String()
}

// Random signers files: whom we believe ssh-keygen believes, and of a file that
// we read, whom we do not believe it does not. POWERUP_TEST_SIGNERS is how many.
func TestRandomSignersAreReadAsOpenSSHReadsThem(t *testing.T) {
	count := 150
	if n, err := strconv.Atoi(os.Getenv("POWERUP_TEST_SIGNERS")); err == nil {
		count = n
	}
	b := newBench(t)
	file := filepath.Join(t.TempDir(), "allowed_signers")
	seed := rand.Uint64()
	r := rand.New(rand.NewPCG(seed, 0))
	believed, refused := 0, 0
	for believed+refused < count {
		shape := randomSigners(r)
		text := b.fill.Replace(shape)
		s, err := parseSigners([]byte(text), time.UTC)
		if err != nil {
			continue
		}
		who, err := s.At(instant(t, summerNoon)).Named("anna").Owner(b.key.PublicKey(), NamespaceReal)
		name := "anna"
		if err == nil {
			believed++
			name = who.Name
		} else {
			refused++
		}
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, ok := b.asks(t, "UTC0", file, name, summerNoon); ok != (err == nil) {
			t.Errorf("seed %d: %q: %q, %v; ssh-keygen says %v for %s: %s", seed, shape, who.Name, err, ok, name, out)
		}
	}
	if believed < count/10 || refused < count/10 {
		t.Errorf("%d believed and %d refused: this tests little", believed, refused)
	}
}
