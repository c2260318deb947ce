package transcriptlog

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/crypto/ssh"
)

// signerRow is one line of a signers file.
type signerRow struct {
	line       int
	names      patterns
	namespaces patterns // nil: all of ours
	validity   validity
	key        string // in wire form
}

// inNamespace tells whether the row is good for one of our namespaces.
func (r signerRow) inNamespace(namespace string) bool {
	return checkNamespace(namespace) == nil && (r.namespaces == nil || r.namespaces.match(namespace))
}

// namePattern is a name, or a pattern of names, that needs no quotes and is no
// option of a command line.
var namePattern = regexp.MustCompile(`^!?[A-Za-z0-9._@+*?][A-Za-z0-9._@+*?-]{0,127}$`)

const rowForm = `want NAMES [OPTIONS] KIND KEY [comment]`

// parseRow reads one line: names, options if there are any, kind, key, comment.
func parseRow(line string, zone *time.Location) (signerRow, error) {
	var r signerRow
	names, rest := cutWord(line)
	var err error
	if r.names, err = parseNames(names); err != nil {
		return r, err
	}
	if kind, _ := cutWord(rest); !looksLikeKind(kind) {
		var options string
		if options, rest, err = cutOptions(rest); err != nil {
			return r, err
		}
		if err := r.takeOptions(options, zone); err != nil {
			return r, err
		}
	}
	r.key, err = parseKey(rest)
	return r, err
}

// parseNames reads the list of names, which may stand in quotes as a whole.
func parseNames(list string) (patterns, error) {
	if n := len(list); n > 1 && list[0] == '"' && list[n-1] == '"' {
		list = list[1 : n-1]
	}
	for one := range strings.SplitSeq(list, ",") {
		if !namePattern.MatchString(one) {
			return nil, fmt.Errorf("name %.40q is not of letters, digits, '.', '_', '@', '+', '-', with * and ? for others and ! before one that is shut out", one)
		}
	}
	return splitPatterns(list), nil
}

// looksLikeKind tells the name of a kind of key from an option.
func looksLikeKind(word string) bool {
	return strings.HasPrefix(word, "ssh-") || strings.HasPrefix(word, "ecdsa-") || strings.HasPrefix(word, "sk-")
}

// parseKey reads the kind of key and the key, and gives its wire form; a
// comment may follow.
func parseKey(text string) (string, error) {
	kind, rest := cutWord(text)
	key, _ := cutWord(rest)
	if key == "" || !looksLikeKind(kind) {
		return "", errors.New(rowForm)
	}
	if err := checkKind(kind); err != nil {
		return "", err
	}
	blob, err := base64.StdEncoding.Strict().DecodeString(key)
	if err != nil {
		return "", errors.New("the key is not base64")
	}
	pub, err := ssh.ParsePublicKey(blob)
	if err != nil || pub.Type() != kind {
		return "", fmt.Errorf("the key is not one of kind %s", kind)
	}
	return string(pub.Marshal()), nil
}

// cutOptions parts the options from the key: at the first blank that is not in
// quotes.
func cutOptions(text string) (options, rest string, err error) {
	text = strings.TrimLeft(text, blanks)
	quoted := false
	for i, c := range text {
		switch {
		case c == '"':
			quoted = !quoted
		case !quoted && isBlank(c):
			return text[:i], text[i:], nil
		}
	}
	if quoted {
		return "", "", errors.New("a quote is not closed")
	}
	return "", "", errors.New(rowForm)
}

// takeOptions reads the options into the row. None is passed over: it could be
// the one that limits the key.
func (r *signerRow) takeOptions(text string, zone *time.Location) error {
	given := map[string]bool{}
	for more := true; more; {
		name, value, err := "", "", error(nil)
		if name, value, text, more, err = cutOption(text); err != nil {
			return err
		}
		if given[name] {
			return fmt.Errorf("option %s stands there twice", name)
		}
		given[name] = true
		if err := r.takeOption(name, value, zone); err != nil {
			return err
		}
	}
	if v := r.validity; !v.after.IsZero() && !v.before.IsZero() && !v.after.Before(v.before) {
		return errors.New("valid-before is not after valid-after: the key would never be good")
	}
	return nil
}

func (r *signerRow) takeOption(name, value string, zone *time.Location) error {
	switch name {
	case "namespaces":
		if value == "" {
			return fmt.Errorf("namespaces without a value: want namespaces=%q, or a list with commas", NamespaceReal)
		}
		r.namespaces = splitPatterns(value)
		return nil
	case "valid-after":
		_, late, err := parseInstant(value, zone)
		r.validity.after = late
		return err
	case "valid-before":
		early, _, err := parseInstant(value, zone)
		r.validity.before = early
		return err
	case "cert-authority":
		return errors.New("certificates are not taken: list the signer's own key, without cert-authority")
	}
	return fmt.Errorf("option %.40q is not known: want namespaces=\"...\", valid-after=\"...\", valid-before=\"...\", parted by commas", name)
}

// option is the name of an option and, where it has one, its value in quotes. A
// backslash would need rules of its own: there is none.
var option = regexp.MustCompile(`^([A-Za-z-]+)(?:="([^"\\]*)")?(,|$)`)

// cutOption takes the first option, whose name may be in capitals.
func cutOption(text string) (name, value, rest string, more bool, err error) {
	m := option.FindStringSubmatch(text)
	if m == nil {
		return "", "", "", false, fmt.Errorf("%.80q: want options parted by commas, with their values in quotes: namespaces=\"%s\"", text, NamespaceReal)
	}
	return strings.ToLower(m[1]), m[2], text[len(m[0]):], m[3] == ",", nil
}

// cutWord parts the first word from what follows it.
func cutWord(text string) (word, rest string) {
	text = strings.TrimLeft(text, blanks)
	if end := strings.IndexAny(text, blanks); end >= 0 {
		return text[:end], text[end:]
	}
	return text, ""
}

const blanks = " \t"

func isBlank(r rune) bool { return r == ' ' || r == '\t' }

// MaxKeys is the largest file of signers, or of revoked keys, in bytes.
const MaxKeys = 1 << 20

// checkText refuses what is no plain text of lines.
func checkText(b []byte) error {
	control := func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }
	if len(b) > MaxKeys || !utf8.Valid(b) || bytes.ContainsFunc(b, control) {
		return errors.New("not plain text of at most 1 MiB with line feeds alone")
	}
	return nil
}
