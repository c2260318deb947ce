package transcriptlog

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"golang.org/x/crypto/ssh"
)

// Signers says whose keys are whose: in which namespaces, and when. The zero
// value knows nobody.
type Signers struct {
	rows    []signerRow
	at      time.Time
	claim   string
	revoked Revoked
}

// ParseSigners reads a signers file: OpenSSH's allowed_signers as FORMAT.md has
// it. Whatever is not understood is refused, with its line: an option that is
// passed over could be the one that limits a key. Dates without Z are those of
// this computer's time zone.
func ParseSigners(b []byte) (Signers, error) { return parseSigners(b, time.Local) }

func parseSigners(b []byte, zone *time.Location) (Signers, error) {
	if err := checkText(b); err != nil {
		return Signers{}, fmt.Errorf("signers: %w", err)
	}
	var s Signers
	for i, line := range strings.Split(string(b), "\n") {
		line = strings.Trim(line, blanks)
		if line == "" || line[0] == '#' {
			continue
		}
		row, err := parseRow(line, zone)
		if err != nil {
			return Signers{}, fmt.Errorf("signers: line %d: %w", i+1, err)
		}
		row.line = i + 1
		s.rows = append(s.rows, row)
	}
	return s, nil
}

// At is the instant at which dates are judged: the close of the record. Without
// one a row with a date is good for nothing.
func (s Signers) At(t time.Time) Signers { s.at = t; return s }

// Named is who the record says it was. A row that lists several names, or
// patterns, is believed for that name alone.
func (s Signers) Named(claim string) Signers { s.claim = claim; return s }

// Without takes the revoked keys away.
func (s Signers) Without(r Revoked) Signers { s.revoked = r; return s }

// Principal is the name of the owner of a key in a namespace.
func (s Signers) Principal(pub ssh.PublicKey, namespace string) (string, bool) {
	who, err := s.Owner(pub, namespace)
	return who.Name, err == nil
}

// Owner finds whose key it is in a namespace, or says why it is nobody's. Errors:
// ErrUnlisted, ErrRevoked, ErrNotValid, ErrNoName.
func (s Signers) Owner(pub ssh.PublicKey, namespace string) (Signed, error) {
	if s.revoked.Has(pub) {
		return Signed{}, fmt.Errorf("%w: %s", ErrRevoked, Fingerprint(pub))
	}
	listed := s.listed(pub, namespace)
	if len(listed) == 0 {
		return Signed{}, fmt.Errorf("%w: %s for namespace %s", ErrUnlisted, Fingerprint(pub), namespace)
	}
	good := s.good(listed)
	if len(good) == 0 {
		r := listed[0]
		return Signed{}, fmt.Errorf("%w: line %d of the signers file has it good %s, and it signed for %s", ErrNotValid, r.line, r.validity, s.when())
	}
	name := s.nameAmong(good)
	if name == "" {
		return Signed{}, fmt.Errorf("%w: line %d of the signers file has it as %s, and the record's own name is %.40q", ErrNoName, good[0].line, good[0].names, s.claim)
	}
	dated := slices.ContainsFunc(good, func(r signerRow) bool { return r.validity.limited() })
	return Signed{Name: name, Key: pub, Dated: dated}, nil
}

// good are those of the rows whose dates hold.
func (s Signers) good(rows []signerRow) []signerRow {
	return slices.DeleteFunc(slices.Clone(rows), func(r signerRow) bool { return !r.validity.holds(s.at) })
}

func (s Signers) when() string {
	if s.at.IsZero() {
		return "no known time"
	}
	return inUTC(s.at)
}

// listed are the rows of a key that are good for a namespace.
func (s Signers) listed(pub ssh.PublicKey, namespace string) []signerRow {
	key := string(pub.Marshal())
	var rows []signerRow
	for _, r := range s.rows {
		if r.key == key && r.inNamespace(namespace) {
			rows = append(rows, r)
		}
	}
	return rows
}

// principalName is a name that OpenSSH cannot take for a pattern, list or option.
var principalName = regexp.MustCompile(`^[A-Za-z0-9._@+][A-Za-z0-9._@+-]{0,127}$`)

// nameAmong is the claimed name where one of the rows has it; otherwise the one
// name that all of them spell out. Rows with several names or patterns give none:
// which of them it was, nobody knows.
func (s Signers) nameAmong(rows []signerRow) string {
	if principalName.MatchString(s.claim) {
		for _, r := range rows {
			if r.names.match(s.claim) {
				return s.claim
			}
		}
	}
	name := rows[0].names.name()
	for _, r := range rows {
		if r.names.name() != name {
			return ""
		}
	}
	return name
}

// AppendSigner adds a key to a signers file, which is made, with its folder, if
// it is not there. What is listed already is not listed twice; a file that does
// not parse, or that gives the key another name, is left as it is.
func AppendSigner(path, principal, namespace string, pub ssh.PublicKey) error {
	if err := checkNamespace(namespace); err != nil {
		return fmt.Errorf("signers: %w", err)
	}
	if !principalName.MatchString(principal) {
		return fmt.Errorf("signers: name %.40q is not of letters, digits, '.', '_', '@', '+', '-'", principal)
	}
	b, perm, err := readSigners(path)
	if err != nil {
		return err
	}
	s, err := ParseSigners(b)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	listed := s.listed(pub, namespace)
	if slices.ContainsFunc(listed, func(r signerRow) bool { return r.names.name() == principal && !r.validity.limited() }) {
		return nil
	}
	if len(listed) > 0 {
		return fmt.Errorf("%s: signers: line %d has the key already, as %s", path, listed[0].line, listed[0].names)
	}
	if len(b) > 0 && b[len(b)-1] != '\n' {
		b = append(b, '\n')
	}
	b = append(b, SignerLine(principal, namespace, pub)...)
	if _, err := ParseSigners(b); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if err := replaceFile(path, b, perm); err != nil {
		return fmt.Errorf("signers: %w", err)
	}
	return nil
}

// SignerLine is the line of a signers file that lists a key for one namespace.
func SignerLine(principal, namespace string, pub ssh.PublicKey) []byte {
	return publicLine(fmt.Sprintf("%s namespaces=%q ", principal, namespace), pub, "")
}

// Line is a line of a signers file that says of a key what is said here, for one
// namespace: its owner, and the dates if it has any. Errors: those of Owner.
func (s Signers) Line(pub ssh.PublicKey, namespace string) ([]byte, error) {
	who, err := s.Owner(pub, namespace)
	if err != nil {
		return nil, err
	}
	good := s.good(s.listed(pub, namespace))
	always := slices.IndexFunc(good, func(r signerRow) bool { return !r.validity.limited() })
	dates := good[max(always, 0)].validity.options()
	return publicLine(fmt.Sprintf("%s namespaces=%q%s ", who.Name, namespace, dates), pub, ""), nil
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
