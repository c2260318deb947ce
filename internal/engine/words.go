// Package engine is the finite state machine that decides what may happen next.
//
// It knows no number, instant or text: verdicts come in, decisions go out. Its
// zero values are the safe ones, so that a forgotten assignment stops.
package engine

// Verdict is what a reading was judged to be. The zero value is a stop.
type Verdict uint8

// The three verdicts.
const (
	Stop Verdict = iota
	Query
	Pass
)

// String gives the verdict as files spell it.
func (v Verdict) String() string {
	switch v {
	case Pass:
		return "pass"
	case Query:
		return "query"
	}
	return "stop"
}

// Crit is the criticality of a check; it is fixed by the catalogue and no
// procedure file can lower it. The zero value is the strictest.
type Crit uint8

// Person, gate to energy, equipment.
const (
	S Crit = iota
	G
	E
)

// String gives the letter of the class.
func (c Crit) String() string { return [...]string{"S", "G", "E"}[min(c, E)] }

// Supply is how the set stands to the mains. The zero value means that nobody
// knows, which is treated as live and charged.
type Supply uint8

// Unknown, proved dead, whole mains through the lamp, raised in steps, whole
// mains without a lamp.
const (
	Unknown Supply = iota
	Dead
	Limited
	Raised
	Full
)

// String gives the state as files spell it.
func (s Supply) String() string {
	return [...]string{"unknown", "dead", "limited", "raised", "full"}[min(s, Full)]
}

// Energised tells whether mains is on the set.
func (s Supply) Energised() bool { return s >= Limited }

// Life tells when a fact lapses without an alteration. The zero value is the
// shortest.
type Life uint8

// Period: until the supply state changes. Session: until an interruption.
// Day: 24 h. Lasting: only an alteration ends it.
const (
	Period Life = iota
	Session
	Day
	Lasting
)
