package transcriptlog

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

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
		{"a pattern", row("*", "", a), "name"},
		{"a pattern of one", row("j?", "", a), "name"},
		{"a denial", row("!j.smith", "", a), "name"},
		{"a list of names", row("j.smith,trainer", "", a), "name"},
		{"a name in quotes", row(`"j.smith"`, "", a), "name"},
		{"a name like an option", row("-j", "", a), "name"},
		{"letters that look like others", row("j.ѕmith", "", a), "name"},
		{"a name of 129", row(strings.Repeat("a", 129), "", a), "name"},
		{"a comment that does not begin its line", " # x", "name"},
		{"an unknown namespace", row("j.smith", "file", a), "want a quoted list"},
		{"a pattern of namespaces", row("j.smith", "powerup-*", a), "want a quoted list"},
		{"an empty list of namespaces", `j.smith namespaces="" ssh-ed25519 ` + key, "want a quoted list"},
		{"a comma too many", row("j.smith", NamespaceReal+",", a), "want a quoted list"},
		{"no quotes", "j.smith namespaces=" + NamespaceReal + " ssh-ed25519 " + key, "want a quoted list"},
		{"a quote that is not closed", `j.smith namespaces="` + NamespaceReal + " ssh-ed25519 " + key, "want a quoted list"},
		{"an option that limits", `j.smith valid-before="20300101" ssh-ed25519 ` + key, "want NAME"},
		{"an authority", "j.smith cert-authority ssh-ed25519 " + key, "want NAME"},
		{"an option in capitals", `j.smith NAMESPACES="` + NamespaceReal + `" ssh-ed25519 ` + key, "want NAME"},
		{"another kind of key", "j.smith " + string(bytes.TrimSpace(ssh.MarshalAuthorizedKey(ecdsa.PublicKey()))), "want NAME"},
		{"no key", "j.smith ssh-ed25519", "want NAME"},
		{"a name alone", "j.smith", "want NAME"},
		{"not base64", "j.smith ssh-ed25519 " + key[:len(key)-1] + "!", "not base64"},
		{"a key cut short", "j.smith ssh-ed25519 " + key[:len(key)-8], "not one of kind"},
		{"a key with more after it", "j.smith ssh-ed25519 " + key + "AAAA", "not one of kind"},
		{"another kind within", "j.smith ssh-ed25519 " + strings.Fields(string(ssh.MarshalAuthorizedKey(ecdsa.PublicKey())))[1], "not one of kind"},
		{"two names for a key", good + "\n" + row("trainer", NamespaceRelease, a), "line 2: the key is that of \"j.smith\" already in namespace powerup-release"},
		{"two names for a key, the other way", row("trainer", NamespaceReal, a) + "\n" + good, "line 2: the key is that of \"trainer\" already"},
		{"carriage returns", good + "\r\n", "line feeds alone"},
		{"a control character", good + " \x1b[2J", "line feeds alone"},
		{"not UTF-8", good + " \xff", "plain text"},
		{"too long", strings.Repeat("#\n", 1<<19) + "#", "1 MiB"},
	} {
		s, err := ParseSigners([]byte(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), "signers: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.why, err, c.want)
		}
		if _, ok := s.Principal(a.PublicKey(), NamespaceReal); ok {
			t.Errorf("%s: refused, and yet somebody is known", c.why)
		}
	}
	if _, err := ParseSigners([]byte(good + "\n\n" + "x\n")); err == nil || !strings.Contains(err.Error(), "line 3") {
		t.Errorf("the line is not named: %v", err)
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

func FuzzParseSigners(f *testing.F) {
	seeds := []string{row("j.smith", NamespaceReal, testKey(f, 1)), row("a", "", testKey(f, 2)) + "\n# x\n", ""}
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	for _, v := range vectorFiles(f) { // fails if there are none
		if v.Level == "signature" {
			f.Add(v.signers)
		}
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := ParseSigners(b)
		if err != nil && len(s.names) != 0 {
			t.Errorf("refused, and yet somebody is known: %q", b)
		}
	})
}
