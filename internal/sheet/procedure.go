package sheet

import (
	"fmt"

	"example.com/powerup/internal/unit"
)

// Procedure is an author's file: which checks are made in which stage. What to
// measure, the window and the order of lead moves belong to the program.
type Procedure struct {
	Name    string  `yaml:"procedure" validate:"required,max=60"`
	Edition int     `yaml:"edition" validate:"min=1,max=9999"`
	For     For     `yaml:"for"`
	Stages  []Stage `yaml:"stages" validate:"min=1,dive"`
	At      Place   `yaml:"-"`
}

// For says which sets a procedure is written for.
type For struct {
	Construction Construction `yaml:"construction" validate:"oneof=double-wound auto-transformer series-heater series-heater-floating-negative battery"`
	At           Place        `yaml:"-"`
}

// Stage is a group of steps in one state of the supply.
type Stage struct {
	Stage  string   `yaml:"stage" validate:"required"`
	Supply string   `yaml:"supply" validate:"oneof=unknown dead limited raised full"`
	Part   string   `yaml:"part" validate:"omitempty,oneof=open boxed both"` // empty: open
	Note   string   `yaml:"note"`
	Needs  []string `yaml:"needs"`
	Steps  []Step   `yaml:"steps" validate:"min=1,dive"`
	At     Place    `yaml:"-"`
}

// Step names one check, or a hold, or a raise with what is read at each rung.
type Step struct {
	Check    string         `yaml:"check"`
	Narrower *Narrower      `yaml:"narrower"`
	After    []unit.Second  `yaml:"after" validate:"dive,gt=0,lte=14400"` // how long after switch-on it is read; several: each of them
	Hold     string         `yaml:"hold"`
	Cold     *unit.Second   `yaml:"cold" validate:"omitempty,gt=0,lte=3600"` // off this long, then on again at once at this supply; then Read
	Raise    []unit.Percent `yaml:"raise" validate:"dive,gt=0,lte=100"`
	Dwell    *unit.Second   `yaml:"dwell" validate:"omitempty,gt=0,lte=3600"`
	Read     []string       `yaml:"read"`
	Note     string         `yaml:"note"`
	At       Place          `yaml:"-"`
}

// Narrower is an author's own window; it may only lie inside the check's.
type Narrower struct {
	Min     string `yaml:"min"`
	Max     string `yaml:"max"`
	Because string `yaml:"because" validate:"required"`
	At      Place  `yaml:"-"`
}

// Place is where a part of a procedure stands in its file: lines and columns
// from 1, Field a path such as "stages[3].steps[0]", Fields the line and column
// of each value in it.
type Place struct {
	File         string
	Line, Column int
	Field        string
	Fields       map[string][2]int
}

// String gives "file:line:column: field", as every complaint about a file begins.
func (p Place) String() string {
	at := fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	if p.Field == "" {
		return at
	}
	return at + ": " + p.Field
}

// Below is the place of a field of the part; of one that the file does not give,
// where the part begins.
func (p Place) Below(field string) Place {
	below := Place{File: p.File, Line: p.Line, Column: p.Column, Field: p.Field + "." + field}
	if p.Field == "" {
		below.Field = field
	}
	if at, ok := p.Fields[field]; ok {
		below.Line, below.Column = at[0], at[1]
	}
	return below
}
