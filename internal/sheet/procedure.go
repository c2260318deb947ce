package sheet

import "example.com/powerup/internal/unit"

// Procedure is an author's file: which checks are made in which stage. What to
// measure, the window and the order of lead moves belong to the program.
type Procedure struct {
	Name    string  `yaml:"procedure" validate:"required,max=60"`
	Edition int     `yaml:"edition" validate:"min=1,max=9999"`
	For     For     `yaml:"for"`
	Stages  []Stage `yaml:"stages" validate:"min=1,dive"`
}

// For says which sets a procedure is written for.
type For struct {
	Construction Construction `yaml:"construction" validate:"oneof=double-wound auto-transformer series-heater series-heater-floating-negative battery"`
}

// Stage is a group of steps in one state of the supply.
type Stage struct {
	Stage  string   `yaml:"stage" validate:"required"`
	Supply string   `yaml:"supply" validate:"oneof=unknown dead limited raised full"`
	Part   string   `yaml:"part" validate:"omitempty,oneof=open boxed both"` // empty: open
	Note   string   `yaml:"note"`
	Needs  []string `yaml:"needs"`
	Steps  []Step   `yaml:"steps" validate:"min=1,dive"`
	Line   int      `yaml:"-"`
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
	Line     int            `yaml:"-"`
}

// Narrower is an author's own window; it may only lie inside the check's.
type Narrower struct {
	Min     string `yaml:"min"`
	Max     string `yaml:"max"`
	Because string `yaml:"because" validate:"required"`
}
