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
