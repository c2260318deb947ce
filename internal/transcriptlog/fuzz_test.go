package transcriptlog

import (
	"bytes"
	"os"
	"testing"
)

// FuzzVerifySignature reads any bytes as the signature of a record: none but
// the one that OpenSSH made verifies, and only for its own bytes.
func FuzzVerifySignature(f *testing.F) {
	read := func(name string) []byte {
		b, err := os.ReadFile("testdata/openssh/" + name)
		if err != nil {
			f.Fatal(err)
		}
		return b
	}
	message, armored := read("transcript.jsonl"), read("transcript.jsonl.sig")
	signers, err := ParseSigners(read("allowed_signers"))
	if err != nil {
		f.Fatal(err)
	}
	namespace := Read(message).Namespace()
	who, err := VerifySignature(message, armored, namespace, signers)
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range [][]byte{
		armored,
		{},
		[]byte("-----BEGIN SSH SIGNATURE-----\n-----END SSH SIGNATURE-----\n"),
		bytes.ReplaceAll(armored, []byte("\n"), []byte("\r\n")), append([]byte(" "), armored...), armored[:len(armored)/2],
		bytes.ReplaceAll(armored, []byte("A"), []byte("B")), append(bytes.Clone(armored), armored...),
	} {
		f.Add(seed)
	}
	for _, v := range vectorFiles(f) { // fails if there are none
		if v.Level == "signature" && v.sig != nil {
			f.Add(v.sig)
		}
	}
	f.Fuzz(func(t *testing.T, sig []byte) {
		got, err := VerifySignature(message, sig, namespace, signers)
		switch {
		case err != nil && got != "":
			t.Errorf("refused, and yet signed by %q", got)
		case err == nil && got != who:
			t.Errorf("signed by %q", got)
		}
		if _, err := VerifySignature(append(bytes.Clone(message), '\n'), sig, namespace, signers); err == nil {
			t.Errorf("%q verifies other bytes", sig)
		}
		if _, err := VerifySignature(message, sig, NamespaceRelease, signers); err == nil {
			t.Errorf("%q verifies in another namespace", sig)
		}
	})
}
