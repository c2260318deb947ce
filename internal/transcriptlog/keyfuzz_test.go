package transcriptlog

import (
	"bytes"
	"testing"
)

// FuzzLoadSigner reads any bytes as a private key: one that is taken signs, and
// its signature is that of the key it says it is.
func FuzzLoadSigner(f *testing.F) {
	for n := range byte(3) {
		private, public, err := NewKey(bytes.NewReader(bytes.Repeat([]byte{n}, 32)), "test", nil)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(private)
		f.Add(public)
	}
	for _, v := range vectorFiles(f) { // fails if there are none
		if v.Level == "signature" && v.sig != nil {
			f.Add(bytes.ReplaceAll(v.sig, []byte("SSH SIGNATURE"), []byte("OPENSSH PRIVATE KEY")))
		}
	}
	f.Fuzz(func(t *testing.T, key []byte) {
		s, err := LoadSigner(key, nil)
		if err != nil {
			return
		}
		armored, err := s.Sign(NamespaceReal, key)
		if err != nil {
			return // two halves that do not belong together
		}
		if _, err := VerifySignature(key, armored, NamespaceReal, signers(t, row("j.smith", "", s))); err != nil {
			t.Errorf("%q signs, and it does not verify: %v", key, err)
		}
	})
}
