// Package transcriptlog keeps the record of a session: one text file, written
// only at its end, each line chained to the one before and on the disk before
// anyone acts on it, signed as a whole when it is closed.
//
// FORMAT.md beside this file is the format and says what a transcript proves
// and what it does not. In short: who closed it, what was entered, in which
// order, and that it is unchanged; never that a reading is true. Until it is
// signed, an open file can be cut back to any earlier line by whoever holds it.
//
// A writer uses [Create] or [Resume], then [Log.Append], and when the record of
// kind [KindClose] is on the disk [SignFile]. A reader uses [Read], then
// [VerifySignature] or [CheckSignature], and [CheckRelease] on each line that is
// a [SignedRelease]; all must be content, and [Transcript.Namespace] says which
// namespace the signature has to be in.
//
// The package knows nothing of readings or procedures: a record is a kind and
// strings. It reads no clock; instants come in as a [Stamp].
package transcriptlog

import "errors"

// What can be wrong, for errors.Is on what the functions here return.
var (
	// ErrDurability: a write or a sync failed, so it is not known what is on the
	// disk. A Log that has said so once writes nothing ever again.
	ErrDurability = errors.New("durability unknown")
	// ErrLocked: another program, or another Log in this one, has the file.
	ErrLocked = errors.New("the transcript is in use")
	// ErrBroken: the chain or a line of the transcript is not as it must be.
	ErrBroken = errors.New("the transcript is broken")
	// ErrClosed: the close line is written, or Close was called.
	ErrClosed = errors.New("the transcript is closed")
	// ErrPassphrase: the key is locked and the passphrase is missing or wrong.
	ErrPassphrase = errors.New("the key is locked")
	// ErrSignature: the signature does not belong to these bytes and namespace.
	ErrSignature = errors.New("the signature does not verify")
	// ErrNoAnswer: an agent runs, and hangs or went away.
	ErrNoAnswer = errors.New("it does not answer")
	// ErrUnlisted: the signature verifies, but nobody says whose key it is.
	ErrUnlisted = errors.New("the key is not listed")
	// ErrRevoked: the key is not believed any more.
	ErrRevoked = errors.New("the key is revoked")
	// ErrNotValid: the key is listed for another time.
	ErrNotValid = errors.New("the key was not good at that time")
	// ErrNoName: the key is listed under several names or patterns, and none of
	// them is the one that the record gives.
	ErrNoName = errors.New("the key has no one name")
)

// Namespaces of signatures: what a signature is worth.
const (
	NamespaceReal     = "powerup-transcript"
	NamespacePractice = "powerup-practice"
	NamespaceRelease  = "powerup-release"
)

// Kinds of line that have a meaning to the format; all others are the caller's.
const (
	KindClose     = "close"
	KindRecovered = "recovered"
	KindReleased  = "released"
)

// Format is the value of the field "format" that line 1 should carry.
const Format = "1"

// Bounds of the format. A line is counted without its line feed.
const (
	MaxLine  = 1 << 20
	MaxLines = 100_000
	MaxFile  = 256 << 20
)
