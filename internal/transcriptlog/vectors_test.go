package transcriptlog

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the files under testdata anew")

const (
	vectorDir  = "../../testdata/vectors"
	everybody  = "allowed_signers" // the signers file of vectors that name no other
	vectorFile = ".transcript"
)

// A vector is a record that makes one promise. Its row in table.jsonl says what
// must be found; the columns are told in README.md beside it.
type vector struct {
	Name    string `json:"name"`
	Level   string `json:"level"`
	Asked   string `json:"asked"`
	Signers string `json:"signers"`
	Revoked string `json:"revoked"`
	Ending  string `json:"ending"`
	Line    int    `json:"line"`
	Chain   string `json:"chain"`
	Result  string `json:"result"`
	Signer  string `json:"signer"`
	Reason  string `json:"reason"` // whole, so that a refusal for a wrong reason does not pass
	Promise string `json:"promise"`

	body, sig, signers, revoked []byte
}

// files are those of one vector by their names.
func (v vector) files() map[string][]byte {
	all := map[string][]byte{v.Name + vectorFile: v.body}
	if v.sig != nil {
		all[v.Name+vectorFile+".sig"] = v.sig
	}
	if v.signers != nil {
		all[v.Signers] = v.signers
	}
	if v.revoked != nil {
		all[v.Revoked] = v.revoked
	}
	return all
}

func makeVectors(t testing.TB) []vector {
	t.Helper()
	all := slices.Concat(chainVectors(t), spellingVectors(), signatureVectors(t), verdictVectors(t))
	for i := range all {
		v := &all[i]
		v.Level, _, _ = strings.Cut(v.Name, "/")
		if v.Signers == "" {
			v.Signers = everybody
		}
		if v.Asked == "" {
			v.Asked = "real"
		}
	}
	return all
}

// madeFiles are all files under testdata/vectors that are made here.
func madeFiles(t testing.TB, all []vector) map[string][]byte {
	t.Helper()
	var table bytes.Buffer
	rows := json.NewEncoder(&table)
	rows.SetEscapeHTML(false)
	files := map[string][]byte{everybody: []byte(row("j.smith", "", testKey(t, 1)) + "\n")}
	for _, v := range all {
		if err := rows.Encode(v); err != nil {
			t.Fatal(err)
		}
		for name, b := range v.files() {
			if files[name] != nil {
				t.Fatalf("two vectors are called %s", name)
			}
			files[name] = b
		}
	}
	files["table.jsonl"] = table.Bytes()
	return files
}

// The files are what is made here, byte for byte, and no others: nobody edited
// them by hand. -update writes them anew.
func TestVectorsCanBeMadeAgain(t *testing.T) {
	made := madeFiles(t, makeVectors(t))
	if *update {
		writeVectors(t, made)
	}
	for name, want := range made {
		if got, err := os.ReadFile(filepath.Join(vectorDir, name)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what is made here (%v): see -update", name, err)
		}
	}
	for _, pattern := range []string{"*", "*/*"} {
		found, err := filepath.Glob(filepath.Join(vectorDir, pattern))
		if err != nil || len(found) == 0 {
			t.Fatalf("no vectors: this would test nothing (%v)", err)
		}
		for _, path := range found {
			name, _ := filepath.Rel(vectorDir, path)
			info, err := os.Stat(path)
			byHand := name == "README.md" || name == ".gitattributes"
			if err == nil && !info.IsDir() && !byHand && made[filepath.ToSlash(name)] == nil {
				t.Errorf("%s is made by nobody", name)
			}
		}
	}
}

func writeVectors(t *testing.T, made map[string][]byte) {
	t.Helper()
	for name, b := range made {
		path := filepath.Join(vectorDir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// vectorFiles are the vectors on the disk, as another program would read them;
// none at all is a failure.
func vectorFiles(t testing.TB) (all []vector) {
	t.Helper()
	rows := json.NewDecoder(bytes.NewReader(readFile(t, filepath.Join(vectorDir, "table.jsonl"))))
	for rows.More() {
		var v vector
		if err := rows.Decode(&v); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(vectorDir, v.Name+vectorFile)
		v.body = readFile(t, path)
		v.signers = readFile(t, filepath.Join(vectorDir, v.Signers))
		if v.Revoked != "" {
			v.revoked = readFile(t, filepath.Join(vectorDir, v.Revoked))
		}
		if sig, err := os.ReadFile(path + ".sig"); err == nil {
			v.sig = sig
		}
		all = append(all, v)
	}
	if len(all) < 150 {
		t.Fatalf("only %d vectors", len(all))
	}
	return all
}

// Every vector ends as its row says, at the line that it says; of a broken one
// the reason is given in these words.
func TestVectors(t *testing.T) {
	t.Parallel()
	for _, v := range vectorFiles(t) {
		t.Run(v.Name, func(t *testing.T) {
			got := Read(v.body)
			if got.Ending.String() != v.Ending || got.BadLine != v.Line {
				t.Errorf("%s: got %v, line %d, %q; want %s, line %d", v.Promise, got.Ending, got.BadLine, got.Reason, v.Ending, v.Line)
			}
			if got.Ending == Broken && (got.Reason != v.Reason || got.BadLine != len(got.Lines)+1) {
				t.Errorf("%s: got %q after %d lines, want %q at line %d", v.Promise, got.Reason, len(got.Lines), v.Reason, v.Line)
			}
			for workers := range 5 {
				if err := CheckChain(v.body, workers); (err == nil) != (v.Chain == "good") {
					t.Errorf("%d workers: the chain is %s, got %v", workers, v.Chain, err)
				}
			}
		})
	}
}

// attested is who signed a vector, and each release in it.
func (v vector) attested() (string, error) {
	known, err := ParseSigners(v.signers)
	if err != nil {
		return "", err
	}
	revoked, err := ParseRevoked(v.revoked)
	if err != nil {
		return "", err
	}
	t := Read(v.body)
	known = known.Without(revoked).At(t.Lines[len(t.Lines)-1].Time)
	who, err := CheckSignature(v.body, v.sig, t.Namespace(), known.Named(t.Lines[0].Fields["operator"]))
	return who.Name, err
}

// doubts are the errors behind the results of a good signature that is not taken.
var doubts = map[string]error{"unlisted": ErrUnlisted, "revoked": ErrRevoked, "out of date": ErrNotValid, "no one name": ErrNoName}

// A signature that is accepted says who; one that is not says why.
func TestSignatureVectors(t *testing.T) {
	t.Parallel()
	signed := 0
	for _, v := range vectorFiles(t) {
		if v.sig == nil || v.Level == "release" || v.Ending == "BROKEN" || v.Result == "practice" || v.Result == "real" {
			continue
		}
		signed++
		who, err := v.attested()
		good := v.Result == "accepted" || v.Result == "misjudged" || v.Result == "strange result"
		switch {
		case good != (err == nil) || good && who != v.Signer:
			t.Errorf("%s: %s: got %q, %v", v.Name, v.Promise, who, err)
		case !good && v.Ending == "COMPLETE" && v.Result == "refused" && err.Error() != v.Reason:
			t.Errorf("%s: %s: got %q, want %q", v.Name, v.Promise, err, v.Reason)
		case doubts[v.Result] != nil && !errors.Is(err, doubts[v.Result]):
			t.Errorf("%s: %s: got %q, want %s", v.Name, v.Promise, err, v.Result)
		}
	}
	if signed < 50 {
		t.Errorf("only %d signatures were looked at", signed)
	}
}
