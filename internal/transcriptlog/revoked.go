package transcriptlog

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"golang.org/x/crypto/ssh"
)

// Revoked are keys that are not believed any more, whoever lists them and
// whenever they signed. The zero value holds none.
type Revoked struct{ keys map[string]bool } // in wire form

// krlMagic begins OpenSSH's binary list of revoked keys.
const krlMagic = "SSHKRL\n\x00"

// ParseRevoked reads a list of public keys, one a line as they stand in a .pub
// file. Whatever is not understood is refused: it could be the key that matters.
func ParseRevoked(b []byte) (Revoked, error) {
	if bytes.HasPrefix(b, []byte(krlMagic)) {
		return Revoked{}, errors.New("revoked: a binary KRL is not read: make a plain list of it, one line a key as in its .pub file")
	}
	if err := checkText(b); err != nil {
		return Revoked{}, fmt.Errorf("revoked: %w", err)
	}
	r := Revoked{keys: map[string]bool{}}
	for i, line := range strings.Split(string(b), "\n") {
		words := strings.FieldsFunc(line, isBlank)
		if len(words) == 0 || strings.HasPrefix(words[0], "#") {
			continue
		}
		key, err := parseRevokedKey(words)
		if err != nil {
			return Revoked{}, fmt.Errorf("revoked: line %d: %w", i+1, err)
		}
		r.keys[key] = true
	}
	return r, nil
}

// parseRevokedKey takes every kind of key that there is, but no certificate: it
// would stand for keys that are not in the list.
func parseRevokedKey(words []string) (string, error) {
	if len(words) < 2 {
		return "", errors.New("want KIND KEY [comment], as in a .pub file")
	}
	blob, err := base64.StdEncoding.Strict().DecodeString(words[1])
	if err != nil {
		return "", errors.New("want KIND KEY [comment], as in a .pub file: the key is not base64")
	}
	pub, err := ssh.ParsePublicKey(blob)
	if err != nil || pub.Type() != words[0] {
		return "", fmt.Errorf("want KIND KEY [comment], as in a .pub file: the key is not one of kind %.60q", words[0])
	}
	if _, certificate := pub.(*ssh.Certificate); certificate {
		return "", errors.New("certificates are not taken: list the key itself")
	}
	return string(pub.Marshal()), nil
}

// Has tells whether a key is revoked.
func (r Revoked) Has(pub ssh.PublicKey) bool { return r.keys[string(pub.Marshal())] }
