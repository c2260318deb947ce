package transcriptlog

import (
	"bytes"
	"encoding/base64"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"golang.org/x/crypto/ssh"
)

func TestSignersAreFound(t *testing.T) {
	a, b, c := testKey(t, 1), testKey(t, 2), testKey(t, 3)
	s := signers(t,
		"# who works here", "",
		row("j.smith", NamespaceReal, a)+" a comment of words",
		row("j.smith", NamespaceRelease, a),
		row("trainer@bench", NamespaceReal+","+NamespaceRelease, b),
		strings.ReplaceAll(row("anna+b_c-d", "", c), " ", " \t "),
		row("practice", NamespacePractice, a),
		"  \t",
	)
	for _, c := range []struct {
		key       Signer
		namespace string
		want      string
	}{
		{a, NamespaceReal, "j.smith"},
		{a, NamespaceRelease, "j.smith"},
		{a, NamespacePractice, "practice"},
		{b, NamespaceReal, "trainer@bench"},
		{b, NamespaceRelease, "trainer@bench"},
		{b, NamespacePractice, ""},
		{c, NamespaceReal, "anna+b_c-d"},
		{c, NamespacePractice, "anna+b_c-d"},
		{c, "file", ""},
		{c, "", ""},
		{testKey(t, 9), NamespaceReal, ""},
	} {
		got, ok := s.Principal(c.key.PublicKey(), c.namespace)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("namespace %s: got %q, %v, want %q", c.namespace, got, ok, c.want)
		}
	}
}

// Whatever is not understood is refused with its line, never passed over.
func TestSignersThatAreRefused(t *testing.T) {
	a := testKey(t, 1)
	good := row("j.smith", "", a)
	key := strings.Fields(good)[2]
	_, ecdsa := ecdsaKey(t)
	for _, c := range []struct{ why, text, want string }{
		{"a name like an option", row("-j", "", a), "name"},
		{"letters that look like others", row("j.ѕmith", "", a), "name"},
		{"a name of 129", row(strings.Repeat("a", 129), "", a), "name"},
		{"no name in a list", row("j.smith,,trainer", "", a), "name"},
		{"a name in open quotes", row(`"j.smith`, "", a), "name"},
		{"an empty list of namespaces", `j.smith namespaces="" ssh-ed25519 ` + key, `want namespaces="powerup-transcript"`},
		{"namespaces without a list", `j.smith namespaces ssh-ed25519 ` + key, `want namespaces="powerup-transcript"`},
		{"no quotes", "j.smith namespaces=" + NamespaceReal + " ssh-ed25519 " + key, "values in quotes"},
		{"a quote that is not closed", `j.smith namespaces="` + NamespaceReal + " ssh-ed25519 " + key, "a quote is not closed"},
		{"an option too few", `j.smith namespaces="*", ssh-ed25519 ` + key, "parted by commas"},
		{"options parted by a blank", `j.smith namespaces="*" valid-after="20200101" ssh-ed25519 ` + key, "want NAMES"},
		{"an option twice", `j.smith namespaces="*",NAMESPACES="*" ssh-ed25519 ` + key, "option namespaces stands there twice"},
		{"an option nobody knows", `j.smith valid-for="30d" ssh-ed25519 ` + key, `option "valid-for" is not known: want namespaces="...", valid-after="...", valid-before="..."`},
		{"a date with strokes", `j.smith valid-before="2030-01-01" ssh-ed25519 ` + key, "want YYYYMMDD, YYYYMMDDHHMM or YYYYMMDDHHMMSS, and a Z"},
		{"a day that is none", `j.smith valid-before="20300230" ssh-ed25519 ` + key, "no day and hour of the calendar"},
		{"dates in the wrong order", `j.smith valid-after="20300102Z",valid-before="20300101Z" ssh-ed25519 ` + key, "would never be good"},
		{"an authority", "j.smith cert-authority ssh-ed25519 " + key, "certificates are not taken"},
		{"another kind of key", "j.smith " + string(bytes.TrimSpace(ssh.MarshalAuthorizedKey(ecdsa.PublicKey()))), `a key of kind "ecdsa-sha2-nistp256"; only ssh-ed25519, sk-ssh-ed25519@openssh.com and sk-ecdsa-sha2-nistp256@openssh.com are taken`},
		{"a certificate", "j.smith ssh-ed25519-cert-v01@openssh.com " + key, `a key of kind "ssh-ed25519-cert-v01@openssh.com"`},
		{"no key", "j.smith ssh-ed25519", "want NAMES"},
		{"a name alone", "j.smith", "want NAMES"},
		{"no name", "ssh-ed25519 " + key, "want NAMES"},
		{"not base64", "j.smith ssh-ed25519 " + key[:len(key)-1] + "!", "not base64"},
		{"a key cut short", "j.smith ssh-ed25519 " + key[:len(key)-8], "not one of kind"},
		{"a key with more after it", "j.smith ssh-ed25519 " + key + "AAAA", "not one of kind"},
		{"another kind within", "j.smith ssh-ed25519 " + strings.Fields(string(ssh.MarshalAuthorizedKey(ecdsa.PublicKey())))[1], "not one of kind"},
		{"carriage returns", good + "\r\n", "line feeds alone"},
		{"a control character", good + " \x1b[2J", "line feeds alone"},
		{"not UTF-8", good + " \xff", "plain text"},
		{"too long", strings.Repeat("#\n", 1<<19) + "#", "1 MiB"},
	} {
		s, err := ParseSigners([]byte(good + "\n" + c.text))
		if err == nil || !strings.HasPrefix(err.Error(), "signers: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.why, err, c.want)
		}
		if strings.Contains(c.want, " ") && !strings.Contains(err.Error(), "text") && !strings.Contains(err.Error(), "line 2: ") {
			t.Errorf("%s: the line is not named: %v", c.why, err)
		}
		if _, ok := s.Principal(a.PublicKey(), NamespaceReal); ok {
			t.Errorf("%s: refused, and yet somebody is known", c.why)
		}
	}
}

// Why a key is nobody's is said, and each reason is an error of its own.
func TestWhyAKeyIsNobodys(t *testing.T) {
	a := testKey(t, 1)
	noon := time.Date(2030, 7, 1, 12, 0, 0, 999e6, time.UTC)
	revoked, err := ParseRevoked(ssh.MarshalAuthorizedKey(a.PublicKey()))
	if err != nil {
		t.Fatal(err)
	}
	dated := strings.Replace(row("j.smith", "", a), "ssh-", `valid-after="20300101Z",valid-before="20300701120000Z" ssh-`, 1)
	for _, c := range []struct {
		why  string
		s    Signers
		want error
		says string
	}{
		{"not there", signers(t, row("j.smith", "", testKey(t, 2))), ErrUnlisted, "for namespace powerup-transcript"},
		{"for practice alone", signers(t, row("j.smith", NamespacePractice, a)), ErrUnlisted, "for namespace powerup-transcript"},
		{"revoked", signers(t, row("j.smith", "", a)).Without(revoked), ErrRevoked, Fingerprint(a.PublicKey())},
		{"revoked, and not there", Signers{}.Without(revoked), ErrRevoked, Fingerprint(a.PublicKey())},
		{"a date, and nobody says when", signers(t, dated), ErrNotValid, "and it signed for no known time"},
		{"a last date, and nobody says when", signers(t, strings.Replace(row("j.smith", "", a), "ssh-", `valid-before="20300101Z" ssh-`, 1)), ErrNotValid, "good until 2030-01-01 00:00:00 UTC, and it signed for no known time"},
		{"too late by a second", signers(t, "", dated).At(noon.Add(time.Second)), ErrNotValid, "line 2 of the signers file has it good from 2030-01-01 00:00:00 UTC until 2030-07-01 12:00:00 UTC, and it signed for 2030-07-01 12:00:01 UTC"},
		{"within", signers(t, dated).At(noon), nil, "j.smith"},
		{"several names, and none claimed", signers(t, row("j.smith,trainer", "", a)), ErrNoName, `line 1 of the signers file has it as j.smith,trainer, and the record's own name is ""`},
		{"several names, and another claimed", signers(t, row("j.smith,trainer", "", a)).Named("anna"), ErrNoName, `"anna"`},
		{"several names, and one of them claimed", signers(t, row("j.smith,trainer", "", a)).Named("trainer"), nil, "trainer"},
		{"two lines with a name each", signers(t, row("j.smith", "", a), row("trainer", "", a)), ErrNoName, "has it as j.smith"},
		{"two lines, for one namespace each", signers(t, row("j.smith", NamespaceReal, a), row("trainer", NamespaceRelease, a)), nil, "j.smith"},
		{"a pattern claimed as a name", signers(t, row("*", "", a)).Named("*"), ErrNoName, "has it as *"},
		{"two lines claimed as a name", signers(t, row("*", "", a)).Named("a\nb"), ErrNoName, "has it as *"},
		{"one name, and another claimed", signers(t, row("j.smith", "", a)).Named("anna"), nil, "j.smith"},
	} {
		who, err := c.s.Owner(a.PublicKey(), NamespaceReal)
		if !errors.Is(err, c.want) || err != nil && !strings.Contains(err.Error(), c.says) || err == nil && who.Name != c.says {
			t.Errorf("%s: got %q, %v, want %v: %q", c.why, who.Name, err, c.want, c.says)
		}
	}
}

// certificate is a line with a certificate for a test key, made by another.
func certificate(t testing.TB, n byte) []byte {
	t.Helper()
	c := &ssh.Certificate{Key: testKey(t, n).PublicKey(), CertType: ssh.UserCert, ValidPrincipals: []string{"anna"}}
	if err := c.SignCert(bytes.NewReader(make([]byte, 32)), testKey(t, n+1).(keySigner).key); err != nil {
		t.Fatal(err)
	}
	return ssh.MarshalAuthorizedKey(c)
}

// A certificate in a list of revoked keys would revoke no key that is used here.
func TestNoCertificateIsRevoked(t *testing.T) {
	if _, err := ParseRevoked(certificate(t, 1)); err == nil || !strings.Contains(err.Error(), "line 1: certificates are not taken") {
		t.Errorf("got %v", err)
	}
}

func TestAppendSigner(t *testing.T) {
	path := filepath.Join(t.TempDir(), "config", "allowed_signers")
	a, b := testKey(t, 1), testKey(t, 2)
	add := func(name, namespace string, s Signer) error {
		t.Helper()
		return AppendSigner(path, name, namespace, s.PublicKey())
	}
	for range 2 { // twice is once
		for _, n := range []string{NamespaceReal, NamespaceRelease} {
			if err := add("j.smith", n, a); err != nil {
				t.Fatal(err)
			}
		}
	}
	text := string(readFile(t, path))
	if strings.Count(text, "\n") != 2 {
		t.Errorf("the file is\n%s", text)
	}
	if err := os.WriteFile(path, []byte("# ours\n"+strings.TrimSuffix(text, "\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := add("trainer", NamespaceRelease, b); err != nil {
		t.Fatal(err)
	}
	s, err := ParseSigners(readFile(t, path))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		key       Signer
		namespace string
		want      string
	}{
		{a, NamespaceReal, "j.smith"},
		{a, NamespaceRelease, "j.smith"},
		{a, NamespacePractice, ""},
		{b, NamespaceRelease, "trainer"},
		{b, NamespaceReal, ""},
	} {
		if got, _ := s.Principal(c.key.PublicKey(), c.namespace); got != c.want {
			t.Errorf("got %q in %s, want %q", got, c.namespace, c.want)
		}
	}
	if info, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("the mode was not kept: %v, %v", info.Mode(), err)
	}
}

func TestAppendSignerLeavesTheFileAsItIs(t *testing.T) {
	a := testKey(t, 1)
	_, ecdsa := ecdsaKey(t)
	good := row("j.smith", NamespaceReal, a) + "\n"
	for _, c := range []struct {
		why, text, name, namespace string
		key                        ssh.PublicKey
	}{
		{"another name for the key", good, "trainer", NamespaceReal, a.PublicKey()},
		{"the key stands under a pattern", row("*", "", a) + "\n", "trainer", NamespaceReal, a.PublicKey()},
		{"a name that is a pattern", good, "*", NamespaceReal, testKey(t, 2).PublicKey()},
		{"a name of two words", good, "j smith", NamespaceReal, testKey(t, 2).PublicKey()},
		{"a name of two lines", good, "j.smith\ntrainer", NamespaceReal, testKey(t, 2).PublicKey()},
		{"an unknown namespace", good, "trainer", "file", testKey(t, 2).PublicKey()},
		{"another kind of key", good, "trainer", NamespaceReal, ecdsa.PublicKey()},
		{"a file that does not parse", "?\n", "trainer", NamespaceReal, a.PublicKey()},
	} {
		path := writeTemp(t, "allowed_signers", []byte(c.text))
		if err := AppendSigner(path, c.name, c.namespace, c.key); err == nil {
			t.Errorf("%s was added", c.why)
		}
		if got := string(readFile(t, path)); got != c.text {
			t.Errorf("%s: the file is now %q", c.why, got)
		}
	}
	for _, path := range []string{t.TempDir(), filepath.Join(writeTemp(t, "file", nil), "a", "b")} {
		if err := AppendSigner(path, "j.smith", NamespaceReal, a.PublicKey()); err == nil {
			t.Errorf("%s is no signers file", path)
		}
	}
}

// FuzzParseSigners reads any bytes as a signers file. A file that is refused
// knows nobody; of one that is read nobody but the owner of a key in it is known,
// by a name that stands for itself, and what a row says can be read again.
func FuzzParseSigners(f *testing.F) {
	key, other := testKey(f, 1), testKey(f, 2)
	text := strings.Fields(row("a", "", key))[2]
	for _, c := range agreements {
		f.Add([]byte(strings.NewReplacer("KEY", "ssh-ed25519 "+text, "OTHER", row("", "", other)[1:]).Replace(c.file)))
	}
	for _, v := range vectorFiles(f) { // fails if there are none
		if v.Level == "signature" {
			f.Add(v.signers)
		}
	}
	revoked, err := ParseRevoked(ssh.MarshalAuthorizedKey(key.PublicKey()))
	if err != nil {
		f.Fatal(err)
	}
	at := time.Date(2030, 7, 1, 12, 0, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := ParseSigners(b)
		if err != nil && len(s.rows) != 0 {
			t.Errorf("refused, and yet somebody is known: %q", b)
		}
		for _, claim := range []string{"", "anna", "*", "a,b"} {
			name, ok := s.At(at).Named(claim).Principal(key.PublicKey(), NamespaceReal)
			if ok && (!principalName.MatchString(name) || !bytes.Contains(b, []byte(text))) {
				t.Errorf("known as %q by %q", name, b)
			}
			if _, ok := s.At(at).Named(claim).Without(revoked).Principal(key.PublicKey(), NamespaceReal); ok {
				t.Errorf("revoked, and yet known by %q", b)
			}
		}
		for _, r := range s.rows {
			if again, err := parseNames(r.names.String()); err != nil || again.String() != r.names.String() {
				t.Errorf("names %q are read as %q, %v", r.names, again, err)
			}
		}
	})
}

// FuzzParseRevoked reads any bytes as a list of revoked keys. One that is refused
// revokes nothing and is an error; of one that is read every key stands in it.
func FuzzParseRevoked(f *testing.F) {
	key := testKey(f, 1).PublicKey()
	f.Add(ssh.MarshalAuthorizedKey(key))
	lists := 0
	for _, v := range vectorFiles(f) { // fails if there are none
		if v.revoked != nil {
			f.Add(v.revoked)
			lists++
		}
	}
	if lists == 0 {
		f.Fatal("no vector has a list of revoked keys")
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := ParseRevoked(b)
		if err != nil && (len(r.keys) != 0 || r.Has(key)) {
			t.Errorf("refused, and yet revoked: %q", b)
		}
		for wire := range r.keys {
			if !bytes.Contains(b, []byte(base64.StdEncoding.EncodeToString([]byte(wire)))) {
				t.Errorf("a key is revoked that does not stand in %q", b)
			}
		}
	})
}
