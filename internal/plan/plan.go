// Package plan unrolls a procedure over one set sheet and one bench, and orders
// the work by lead position: leads are placed while the set is dead, one pass
// of a lead position goes through all its steps, and the readings of one
// position at one step are one line. It reads no clock and no file.
package plan

import (
	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Inputs are the four kinds of file a plan is made from.
type Inputs struct {
	Procedure *sheet.Procedure
	Set       *sheet.Set
	Bench     *sheet.Bench
	Meters    map[string]*sheet.Meter // by the name the bench uses
	Boxed     bool                    // the boxed part of the procedure, not the open one
}

// Plan is the whole work on one set at one bench.
type Plan struct {
	Inputs
	Profile limits.Profile
	Model   *circuit.Supply // nil: the sheet gives no HT supply to compute
	Typical []string        // what the model took from typical values
	Lamps   Lamps
	Slots   []Slot
	Lines   []Line
	Blocks  []Block
	Classes []Class
	Nodes   []sheet.Node // by bit of engine.Nodes
	Paths   []string     // by bit of engine.Paths
	Cannot  []string     // ids of checks that this kit cannot make
	Engine  engine.Procedure
}

// Slot is one reading.
type Slot struct {
	ID     string // "half-volts@a", "ht-reservoir#70"
	Check  checks.Check
	Item   string       // "a", "V4 g1-k"; empty: none
	Rung   unit.Percent // of tap volts; 0: none
	After  unit.Second  // after switch-on; 0: at once
	Stage  string
	Look   bool   // a look through the lamp, given again in every session
	Letter string // the bench's meter; "T" the tester; empty: no instrument
	Meter  *sheet.Meter
	Hold   string // name of a hold point; no reading
	Narrow *sheet.Narrower
	Line   int
	Block  int
}

// Line is what one entry line holds.
type Line struct {
	ID    string // "dead-ht/windings", "ramp/output-grid#75@300 s"
	Slots []int
	Nodes engine.Nodes // charged by its readings, proved dead at its end
	Wait  unit.Second  // since switch-on or, on a ramp, at this rung
}

// Block is one lead position in one state of the supply.
type Block struct {
	ID     string
	Stage  string
	Stands string // how the set stands; empty: as in the stage before
	Note   string // of the file's author
	Supply engine.Supply
	Lamp   *circuit.Lamp // nil: out
	Spot   string        // where the moving meter is
	Cold   unit.Second   // off this long before it is switched on; 0: none
	Watch  bool          // the moving meter, or a third, stands across the reservoir
}

// Lamps are the bulbs the plan uses, with what the last one allows.
type Lamps struct {
	First   circuit.Lamp // transformer and heaters only
	Ramp    circuit.Lamp
	Ceiling unit.Volt    // at the set's primary behind Ramp
	Top     unit.Percent // last rung with the lamp in
	Change  bool         // Ramp is another bulb than First
	Tells   bool         // Ramp separates a half fault from the healthy set
	Each    []circuit.Prospect
}
