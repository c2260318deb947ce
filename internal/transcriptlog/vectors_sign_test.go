package transcriptlog

import (
	"bytes"
	"encoding/pem"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
)

// The keys of the vectors are made of 32 equal bytes: for tests alone, worth
// nothing anywhere else. Those whose bytes are 1 belong to j.smith, whom every
// signers file but some lists; 2 to somebody else.

// ours makes a signature that need not be one of ours.
func ours(t testing.TB, key byte, hash sshsig.HashAlgorithm, namespace string, message []byte) *sshsig.Signature {
	t.Helper()
	sig, err := sshsig.Sign(bytes.NewReader(message), testKey(t, key).(keySigner).key, hash, namespace)
	if err != nil {
		t.Fatal(err)
	}
	return sig
}

// armour puts any bytes in the armour of a signature.
func armour(blob []byte) []byte {
	return pem.EncodeToMemory(&pem.Block{Type: sshsig.PEMType, Bytes: blob})
}

// wireSig is a signature by its parts, so that each can be wrong.
type wireSig struct {
	Magic                                     [6]byte
	Version                                   uint32
	Key, Namespace, Reserved, Hash, Signature string
}

// spoilt is j.smith's signature over the message with one part changed.
func spoilt(t testing.TB, message []byte, change func(*wireSig)) []byte {
	t.Helper()
	var w wireSig
	if err := ssh.Unmarshal(ours(t, 1, sshsig.HashSHA512, NamespaceReal, message).Marshal(), &w); err != nil {
		t.Fatal(err)
	}
	change(&w)
	return armour(ssh.Marshal(w))
}

// wireText is a text as a signature holds it: its length in four bytes before it.
func wireText(parts ...string) (all string) {
	for _, p := range parts {
		all += string(ssh.Marshal(struct{ Text string }{p}))
	}
	return all
}

// groupOrder is the order of the group of Ed25519 (RFC 8032, 5.1).
var groupOrder, _ = new(big.Int).SetString("7237005577332262213973186563042994240857116359379907606001950938285454250989", 10)

// plusOrder adds the group's order to the second half of a signature: the sum
// solves the same equation, and RFC 8032, 5.1.7 refuses it.
func plusOrder(raw string) string {
	s := []byte(raw[32:])
	slices.Reverse(s)
	sum := new(big.Int).Add(new(big.Int).SetBytes(s), groupOrder).FillBytes(make([]byte, 32))
	slices.Reverse(sum)
	return raw[:32] + string(sum)
}

const (
	notVerified = "the signature does not verify: "
	notArmour   = notVerified + "not an OpenSSH signature"
	notAlone    = notVerified + "not one OpenSSH signature and nothing else"
	badCurve    = notVerified + "ssh: signature did not verify"
	meansNought = notVerified + "bytes in the signature that mean nothing"
	kindsTaken  = "only ssh-ed25519, sk-ssh-ed25519@openssh.com and sk-ecdsa-sha2-nistp256@openssh.com are taken"
)

func madeIn(namespace, not string) string {
	return fmt.Sprintf("%smade in namespace %.40q, not %q", notVerified, namespace, not)
}

// signatureVectors are about who signed what.
func signatureVectors(t testing.TB) []vector {
	t.Helper()
	good := rawLines(openLine, nextLine, lastLine)
	other := rawLines(openLine, strings.Replace(nextLine, "4k7", "4k8", 1), lastLine)
	practice := rawLines(strings.Replace(openLine, "false", "true", 1), strings.Replace(lastLine, "false", "true", 1))
	real512 := sign(t, testKey(t, 1), NamespaceReal, good)
	var all []vector
	add := func(name, ending, result, reason, promise string, body, sig []byte) *vector {
		v := vector{Name: "signature/" + name, Ending: ending, Chain: "good", Result: result, Reason: reason, Promise: promise, body: body, sig: sig}
		if result == "accepted" {
			v.Signer = "j.smith"
		}
		all = append(all, v)
		return &all[len(all)-1]
	}
	accepted := func(name, promise string, sig []byte) *vector {
		return add(name, "COMPLETE", "accepted", "", promise, good, sig)
	}
	refused := func(name, reason, promise string, sig []byte) *vector {
		return add(name, "COMPLETE", "refused", reason, promise, good, sig)
	}

	accepted("sha512", "signed by a key that is listed", real512)
	accepted("sha256", "the other hash is taken too", sshsig.Armor(ours(t, 1, sshsig.HashSHA256, NamespaceReal, good)))
	add("practice", "COMPLETE", "accepted", "", "practice signed as practice, and asked for as practice", practice,
		sign(t, testKey(t, 1), NamespacePractice, practice)).Asked = "practice"
	add("practice-signed-as-real", "COMPLETE", "refused", madeIn(NamespaceReal, NamespacePractice), "practice signed as proof", practice,
		sign(t, testKey(t, 1), NamespaceReal, practice)).Asked = "practice"

	for _, n := range []string{NamespacePractice, NamespaceRelease, "file", "powerup-transcripts", "Powerup-transcript"} {
		refused("in-"+strings.ToLower(n)+map[bool]string{true: "-capital"}[n[0] == 'P'], madeIn(n, NamespaceReal), "a real record signed in namespace "+n,
			sshsig.Armor(ours(t, 1, sshsig.HashSHA512, n, good)))
	}
	for _, c := range []struct {
		name, promise string
		message       []byte
	}{
		{"of-another-record", "the signature of another record", other},
		{"of-less", "the signature of all but the last line feed", good[:len(good)-1]},
		{"of-more", "the signature of a line feed more", append(bytes.Clone(good), '\n')},
		{"of-first-lines", "the signature of the record before it was closed", joined(lines(good)[:2]...)},
		{"of-digest", "the signature of the record's SHA-256 in hexadecimal", []byte(sumOf(string(good)))},
		{"of-nothing", "the signature of no bytes", nil},
	} {
		refused(c.name, badCurve, c.promise, sign(t, testKey(t, 1), NamespaceReal, c.message))
	}
	add("of-open-record", "OPEN", "refused", "only a closed record is signed, and this is not one: it was cut back or changed, or of-open-record.transcript.sig is another's", "an open record cannot be signed", joined(lines(good)[:2]...),
		sign(t, testKey(t, 1), NamespaceReal, joined(lines(good)[:2]...)))
	edited := bytes.Replace(good, []byte("4k7"), []byte("4k8"), 1)
	v := add("edited-record", "BROKEN", "broken", "3 does not follow 2", "a signature over the edited bytes does not mend a chain", edited, sign(t, testKey(t, 1), NamespaceReal, edited))
	v.Line, v.Chain = 3, "bad"
	refused("edited-and-chained-anew", badCurve, "an edited record whose chain was made anew, with the signature of the true one",
		real512).body = other

	// The armour.
	refused("empty", notArmour, "a signature file of no bytes", []byte{})
	refused("text-before", notArmour, "text before the signature", append([]byte("x\n"), real512...))
	refused("space-before", notArmour, "a space before the signature", append([]byte(" "), real512...))
	refused("text-after", notAlone, "text after the signature", append(bytes.Clone(real512), "x\n"...))
	refused("twice", notAlone, "two signatures", append(bytes.Clone(real512), real512...))
	refused("header", notAlone, "a header in the armour", bytes.Replace(real512, []byte("-----\n"), []byte("-----\nA: b\n\n"), 1))
	refused("other-armour", notArmour, "an armour with another name", bytes.ReplaceAll(real512, []byte("SSH SIGNATURE"), []byte("PGP SIGNATURE")))
	refused("crlf", notArmour, "an armour with carriage returns", bytes.ReplaceAll(real512, []byte("\n"), []byte("\r\n")))
	refused("no-end", notAlone, "the end of the armour is gone", real512[:bytes.LastIndex(real512, []byte("-----END"))])
	refused("cut", notAlone, "half of the armour", real512[:len(real512)/2])
	refused("not-base64", notAlone, "a sign that is not of base64", bytes.Replace(real512, []byte("U1NI"), []byte("U1N*"), 1))
	refused("too-long", notArmour, "more than 16 384 bytes", append(bytes.Clone(real512), make([]byte, 1<<14)...))

	// What stands in it.
	spoil := func(name, reason, promise string, change func(*wireSig)) {
		refused(name, reason, promise, spoilt(t, good, change))
	}
	spoil("version-2", notVerified+"unsupported signature version 2: expected 1", "a later version", func(w *wireSig) { w.Version = 2 })
	spoil("magic", notVerified+`invalid magic preamble "SSHSIh": expected "SSHSIG"`, "not the magic word", func(w *wireSig) { w.Magic[5] = 'h' })
	spoil("reserved", meansNought, "bytes in the reserved part, which no signature covers", func(w *wireSig) { w.Reserved = "x" })
	spoil("hash-name", notVerified+`unsupported hash algorithm "md5": must be "sha256" or "sha512"`, "another hash", func(w *wireSig) { w.Hash = "md5" })
	spoil("hash-swapped", badCurve, "made with sha512 and said to be made with sha256", func(w *wireSig) { w.Hash = "sha256" })
	spoil("namespace-written-over", madeIn("powerup-practice", NamespaceReal), "the namespace was written over", func(w *wireSig) { w.Namespace = NamespacePractice })
	spoil("key-written-over", badCurve, "another's key was written over the signer's", func(w *wireSig) { w.Key = string(testKey(t, 2).PublicKey().Marshal()) })
	spoil("rest-in-signature", meansNought, "bytes behind the raw signature", func(w *wireSig) { w.Signature += "x" })
	raw := func(w *wireSig) string { return w.Signature[len(wireText("ssh-ed25519"))+4:] }
	spoil("signature-kind", notVerified+"ssh: signature type \"rsa-sha2-512\" for key type \"ssh-ed25519\"", "a signature of another kind than its key",
		func(w *wireSig) { w.Signature = wireText("rsa-sha2-512", raw(w)) })
	spoil("one-bit", badCurve, "one bit of the raw signature", func(w *wireSig) { b := []byte(raw(w)); b[0] ^= 1; w.Signature = wireText("ssh-ed25519", string(b)) })
	spoil("zeros", badCurve, "a raw signature of zeros", func(w *wireSig) { w.Signature = wireText("ssh-ed25519", strings.Repeat("\x00", 64)) })
	spoil("plus-group-order", badCurve, "a second solution of the same equation (RFC 8032, 5.1.7)", func(w *wireSig) { w.Signature = wireText("ssh-ed25519", plusOrder(raw(w))) })
	spoil("other-kind-of-key", notVerified+`a key of kind "ecdsa-sha2-nistp256"; `+kindsTaken, "a key of another kind", func(w *wireSig) {
		point := "\x04" + unhex(t, "6b17d1f2e12c4247f8bce6e563a440f277037d812deb33a0f4a13945d898c2964fe342e2fe1a7f9b8ee7eb4a7c0f9e162bce33576b315ececbb6406837bf51f5")
		w.Key = wireText("ecdsa-sha2-nistp256", "nistp256", point)
		w.Signature = wireText("ecdsa-sha2-nistp256", wireText("\x01", "\x01"))
	})
	blob, _ := pem.Decode(real512)
	refused("bytes-behind", notVerified+"ssh: parse error in message type 0", "bytes behind the last part", armour(append(bytes.Clone(blob.Bytes), 'x')))

	// Keys that live in a token.
	byToken := func(name, result, reason, promise string, k token, change func(*sshsig.Signature)) {
		v := add(name, "COMPLETE", result, reason, promise, good, tokenArmour(t, k, good, change))
		v.Signers, v.signers = v.Name+".signers", publicLine("j.smith ", k.pub, "")
	}
	const untouched, noFlags = "the token was not touched: a signature without user presence is not taken", "not flags and counter of a token behind the signature"
	for i, of := range []func(testing.TB, byte) token{ed25519Token, ecdsaToken} {
		name := []string{"token", "token-p256"}[i]
		byToken(name, "accepted", "", "signed by a token that was touched", of(t, 1), nil)
		byToken(name+"-untouched", "refused", notVerified+untouched, "signed by a token without a touch", of(t, 0), nil)
		byToken(name+"-no-flags", "refused", notVerified+noFlags, "a token's signature without its flags", of(t, 1), func(s *sshsig.Signature) { s.Signature.Rest = nil })
		byToken(name+"-touch-written-in", "refused", badCurve, "the touch was written in afterwards", of(t, 0), func(s *sshsig.Signature) { s.Signature.Rest[0] = 1 })
	}
	byToken("token-p256-zeros", "refused", meansNought, "a zero before a number of a token's signature", ecdsaToken(t, 1), zeroBefore)
	return slices.Concat(all, signerVectors(t, good, real512), releaseVectors(t))
}

func unhex(t testing.TB, digits string) string {
	t.Helper()
	b, ok := new(big.Int).SetString(digits, 16)
	if !ok {
		t.Fatal("not hexadecimal")
	}
	return string(b.FillBytes(make([]byte, len(digits)/2)))
}
