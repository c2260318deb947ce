// Package checks is the catalogue of checks: what is measured, where the leads
// go, how dangerous a wrong value is, and how the window of each check follows
// from the set sheet. It judges a reading against a window by one small rule.
package checks

import (
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Answer is the shape of what is typed for a check.
type Answer uint8

// A number with a unit, one letter of a list, item numbers or "none", free
// text, nothing typed because the value follows from readings already taken.
const (
	Number Answer = iota
	Letter
	Found
	Text
	Derived
)

// Choice is one letter or item of a check that is not a number.
type Choice struct {
	Key     string // "a", "3"
	Words   string
	Verdict engine.Verdict
}

// Check is one entry of the catalogue. Everything an author may not change is
// here: place, function, cautions, criticality, window.
type Check struct {
	ID       string // "ht-line"
	Title    string // "HT line to chassis"
	Short    string // column head of at most 9 characters: "HT1"
	Crit     engine.Crit
	Supply   engine.Supply // the state it is made in; Unknown: needs no state (bench, looking)
	Answer   Answer
	Choices  []Choice
	Kind     unit.Kind
	Function sheet.Function
	Range    string // "2 MΩ range"; empty: any that fits
	Red      string // where the red lead goes, {item} for the item
	Black    string
	Method   string // one or two sentences: how, wait, trap
	Meaning  string // what a bad reading most likely means
	Danger   limits.Side
	Causes   []string    // harmless causes a query can be accepted with, each with the test that would show it
	Cautions []string    // ids of caution texts
	Takes    unit.Second // a wait of its own within its line, for the time it costs; common practice, no source
	Void     string      // letters of alterations that void it
	Life     engine.Life
	Path     string                            // part or path for counting queries: "output-stage", "ht", "mains", ...
	Charges  []sheet.Node                      // nodes it puts more than 60 V on ("HT1", "HT2", "pins", "coupling")
	Retest   bool                              // QUERY of class S: re-measured, never accepted
	Items    func(*sheet.Set) []string         // nil: once, with no item
	Rule     func(Case) (Window, error)        // nil for letters and text
	Follows  []string                          // the checks whose readings its window is computed from
	Inputs   []string                          // Derived: the checks it is worked out from
	Derive   func(Case) (unit.Quantity, error) // Derived: its value, from what is Taken
}

// Case is what a window is computed from.
type Case struct {
	Set      *sheet.Set
	Bench    *sheet.Bench // nil: not known yet
	Profile  limits.Profile
	Meter    *sheet.Meter             // that will take the reading; nil: not known yet
	Model    *circuit.Supply          // the set's HT supply; nil when the sheet cannot give one
	Lamp     *circuit.Lamp            // in series, nil: out
	Item     string                   // "230 V", "V4", "half-a"
	Rung     unit.Percent             // of tap volts, 0: none
	AtSet    unit.Volt                // measured at the set's primary; 0: the rung's nominal
	Mains    unit.Volt                // today's mains; 0: nominal
	TwoSided bool                     // the cathodes are known to emit
	Settled  bool                     // three minutes or more at this rung
	Taken    map[string]unit.Quantity // accepted readings of this set so far, by slot id without the rung: "cathode-resistor@V4"
	Memory   *Memory                  // what the circuit gave before; nil: none is kept
}
