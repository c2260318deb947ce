package transcriptlog

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/crypto/ssh"
)

// Signers says whose keys are whose, and in which namespaces. The zero value
// knows nobody.
type Signers struct{ names map[signerKey]string }

type signerKey struct{ namespace, key string } // key in wire form

// principalName is a name that OpenSSH cannot take for a pattern, list or option.
var principalName = regexp.MustCompile(`^[A-Za-z0-9._@+][A-Za-z0-9._@+-]{0,127}$`)

// ParseSigners reads a signers file: the subset of OpenSSH's allowed_signers
// that FORMAT.md gives. Whatever is not understood is refused, with its line:
// an option that is passed over could be the one that limits a key.
func ParseSigners(b []byte) (Signers, error) {
	control := func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }
	if len(b) > 1<<20 || !utf8.Valid(b) || bytes.ContainsFunc(b, control) {
		return Signers{}, errors.New("signers: not plain text of at most 1 MiB with line feeds alone")
	}
	s := Signers{names: map[signerKey]string{}}
	for i, line := range strings.Split(string(b), "\n") {
		if strings.Trim(line, " \t") == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if err := s.add(line); err != nil {
			return Signers{}, fmt.Errorf("signers: line %d: %w", i+1, err)
		}
	}
	return s, nil
}

// add reads one row. It does not give a key a second name in one namespace.
func (s Signers) add(line string) error {
	words := strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == '\t' })
	name, words := words[0], words[1:]
	if !principalName.MatchString(name) {
		return fmt.Errorf("name %.40q is not of letters, digits, '.', '_', '@', '+', '-'", name)
	}
	namespaces := []string{NamespaceReal, NamespacePractice, NamespaceRelease}
	if len(words) > 0 && strings.HasPrefix(words[0], "namespaces=") {
		var err error
		if namespaces, err = parseNamespaces(words[0]); err != nil {
			return err
		}
		words = words[1:]
	}
	key, err := parseKey(words)
	if err != nil {
		return err
	}
	for _, n := range namespaces {
		at := signerKey{n, key}
		if old, ok := s.names[at]; ok && old != name {
			return fmt.Errorf("the key is that of %q already in namespace %s", old, n)
		}
		s.names[at] = name
	}
	return nil
}

// parseKey reads the kind of key and the key, and gives its wire form; a
// comment may follow.
func parseKey(words []string) (string, error) {
	if len(words) < 2 || words[0] != ssh.KeyAlgoED25519 {
		return "", fmt.Errorf("want NAME [namespaces=\"...\"] %s KEY [comment]", ssh.KeyAlgoED25519)
	}
	blob, err := base64.StdEncoding.Strict().DecodeString(words[1])
	if err != nil {
		return "", errors.New("the key is not base64")
	}
	pub, err := ssh.ParsePublicKey(blob)
	if err != nil || pub.Type() != words[0] {
		return "", fmt.Errorf("the key is not one of kind %s", words[0])
	}
	return string(blob), nil
}

func parseNamespaces(option string) ([]string, error) {
	list, ok := strings.CutPrefix(option, `namespaces="`)
	list, end := strings.CutSuffix(list, `"`)
	names := strings.Split(list, ",")
	for _, n := range names {
		if !ok || !end || checkNamespace(n) != nil {
			return nil, fmt.Errorf("%.80s: want a quoted list of %s, %s, %s",
				option, NamespaceReal, NamespacePractice, NamespaceRelease)
		}
	}
	return names, nil
}

// Principal is the name of the owner of a key in a namespace.
func (s Signers) Principal(pub ssh.PublicKey, namespace string) (string, bool) {
	name, ok := s.names[signerKey{namespace, string(pub.Marshal())}]
	return name, ok
}

// AppendSigner adds a key to a signers file, which is made, with its folder, if
// it is not there. What is listed already is not listed twice; a file that does
// not parse, or that gives the key another name, is left as it is.
func AppendSigner(path, principal, namespace string, pub ssh.PublicKey) error {
	if err := checkNamespace(namespace); err != nil {
		return fmt.Errorf("signers: %w", err)
	}
	b, perm, err := readSigners(path)
	if err != nil {
		return err
	}
	s, err := ParseSigners(b)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if old, ok := s.Principal(pub, namespace); ok && old == principal {
		return nil
	}
	if len(b) > 0 && b[len(b)-1] != '\n' {
		b = append(b, '\n')
	}
	b = append(b, publicLine(fmt.Sprintf("%s namespaces=%q ", principal, namespace), pub, "")...)
	if _, err := ParseSigners(b); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if err := replaceFile(path, b, perm); err != nil {
		return fmt.Errorf("signers: %w", err)
	}
	return nil
}

// readSigners reads a signers file and its mode, or makes its folder.
func readSigners(path string) ([]byte, fs.FileMode, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if err := makeFolder(filepath.Dir(path)); err != nil {
			return nil, 0, fmt.Errorf("signers: %w", err)
		}
		return nil, 0o644, nil
	}
	if err != nil {
		return nil, 0, fmt.Errorf("signers: %w", err)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, 0, fmt.Errorf("signers: %w", err)
	}
	return b, info.Mode().Perm(), nil
}
