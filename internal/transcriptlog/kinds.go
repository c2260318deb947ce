package transcriptlog

import (
	"bytes"
	"errors"
	"fmt"
	"math/big"
	"slices"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
)

// takenKinds are the kinds of key whose signatures are taken: the fewer kinds,
// the fewer ways to be fooled. The first alone also signs here; the others are
// keys that live in a token and sign at a touch.
var takenKinds = []string{ssh.KeyAlgoED25519, ssh.KeyAlgoSKED25519, ssh.KeyAlgoSKECDSA256}

// checkSigningKey refuses all kinds of key but the one that signs here.
func checkSigningKey(pub ssh.PublicKey) error {
	if pub.Type() != ssh.KeyAlgoED25519 {
		return fmt.Errorf("a key of kind %s; only %s is taken", pub.Type(), ssh.KeyAlgoED25519)
	}
	return nil
}

// checkKind refuses a kind of key whose signatures are not taken.
func checkKind(kind string) error {
	if !slices.Contains(takenKinds, kind) {
		return fmt.Errorf("a key of kind %.60q; only %s, %s and %s are taken", kind, takenKinds[0], takenKinds[1], takenKinds[2])
	}
	return nil
}

// checkForm refuses a second spelling of what a kind of key has signed, and a
// token's signature without the touch. (PROTOCOL.u2f in the OpenSSH sources:
// after the signature one byte of flags and four of a counter.)
func checkForm(sig *sshsig.Signature) error {
	const touched = 0x01
	made, kind := sig.Signature, sig.PublicKey.Type()
	switch {
	case kind == ssh.KeyAlgoED25519:
		if len(made.Rest) > 0 {
			return errMeaningless
		}
		return nil
	case len(made.Rest) != 5:
		return errors.New("not flags and counter of a token behind the signature")
	case made.Rest[0]&touched == 0:
		return errors.New("the token was not touched: a signature without user presence is not taken")
	case kind == ssh.KeyAlgoSKECDSA256:
		var pair struct{ R, S *big.Int }
		if err := ssh.Unmarshal(made.Blob, &pair); err != nil {
			return err
		}
		if !bytes.Equal(ssh.Marshal(pair), made.Blob) {
			return errMeaningless
		}
	}
	return nil
}

var errMeaningless = errors.New("bytes in the signature that mean nothing")
