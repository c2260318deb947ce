package transcriptlog

import (
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"
)

// Fields of a line of kind released that a second person signed.
const (
	fieldWitness   = "witness"
	fieldSignature = "signature"
)

// ReleaseMessage is what is signed, in NamespaceRelease, to release a hold: the
// seq and prev of the line in which the release is written.
func ReleaseMessage(seq int, prev [32]byte) []byte {
	b := append(strconv.AppendInt(nil, int64(seq), 10), '\n')
	return append(hex.AppendEncode(b, prev[:]), '\n')
}

// SignRelease signs the release that the line with this seq and prev will hold
// (Log.Head); the signature is its field "signature".
func SignRelease(s Signer, seq int, prev [32]byte) (armored []byte, err error) {
	return s.Sign(NamespaceRelease, ReleaseMessage(seq, prev))
}

// SignedRelease tells whether a line is a release that somebody signed.
func SignedRelease(l Line) bool {
	_, ok := l.Fields[fieldSignature]
	return ok && l.Kind == KindReleased
}

// CheckRelease says who signed the release in a line: the witness that the line
// names, and nobody else. Errors: those of CheckSignature.
func CheckRelease(l Line, s Signers) (Signed, error) {
	if !SignedRelease(l) {
		return Signed{}, errors.New("no signed release")
	}
	witness := l.Fields[fieldWitness]
	who, err := CheckSignature(ReleaseMessage(l.Seq, l.Prev), []byte(l.Fields[fieldSignature]), NamespaceRelease, s.Named(witness))
	if err != nil {
		return Signed{}, err
	}
	if who.Name != witness {
		return Signed{}, fmt.Errorf("%w: the line names %.40q, and %s signed it", ErrSignature, witness, who.Name)
	}
	return who, nil
}
