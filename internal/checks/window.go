package checks

import (
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// Grade says what a window's figures come from. The zero value is the weakest.
type Grade uint8

// Typical figures, or this set's own data.
const (
	Typical Grade = iota
	Sheet
)

// Interval is a closed interval; its ends may be infinite.
type Interval struct{ Lo, Hi float64 }

// Window is the pass and the query interval of one reading. Only NewWindow
// makes one that can pass anything.
type Window struct {
	Kind    unit.Kind
	Pass    Interval // inside Query
	Query   Interval
	Stop    Interval // absolute lines: beyond them is a stop even with typical figures; NewWindow leaves them open
	Danger  limits.Side
	Grade   Grade
	Shown   bool   // the limits are raised for the instrument already: the shown value itself is judged
	Typical string // what was taken from typical values
	Sum     string // "1.2 kΩ + 220 kΩ = 221.2 kΩ; pass 0.7 to 1.3 x, stop under 0.5 x"
	Source  string // "common practice, no source"
	built   bool
}
