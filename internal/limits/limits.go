// Package limits has the published limits and the common-practice figures as
// data, each with its source mark, the dated profiles they belong to, and the
// data of the valves. A number that guards a person stands here and nowhere
// else.
package limits

import "example.com/powerup/internal/unit"

// Mark tells how a figure is known. The zero value is the weakest.
type Mark uint8

// Common practice without a source, remembered, computed, seen in a source.
const (
	Practice Mark = iota
	Memory
	Computed
	Seen
)

// Figure is one number that guards a person or a set.
type Figure struct {
	ID     string // "dead-volts"
	What   string // "hands go in at or below"
	Value  unit.Quantity
	Mark   Mark
	Source string // empty only with Practice
	Why    string // why it is as wide as it is; every spread of good parts says so
}

// Side tells on which side of a window danger lies. The zero value is both.
type Side uint8

// The sides; a reading beyond a side without danger ends in a query.
const (
	Both Side = iota
	Low
	High
	Neither
)

// Band is a window as multiples of a computed value, or as plain values when
// Kind is set. An open side is ±Inf.
type Band struct {
	ID               string // the check's id
	What             string
	Kind             unit.Kind // None: multiples of the computed value
	PassLo, PassHi   float64
	QueryLo, QueryHi float64 // beyond is a stop on a danger side
	Danger           Side
	Mark             Mark
	Source           string
}
