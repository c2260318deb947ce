package console

import (
	"encoding/json"
	"io"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/unit"
)

// cardDocument is a whole card for programs. Lines of windows are exact decimals
// as in the record, in the unit of the reading, an open one left out; all other
// numbers are in volts, amperes, watts, seconds and per cent.
type cardDocument struct {
	Format    int             `json:"format"` // of this document; 1
	Procedure string          `json:"procedure"`
	Set       setDocument     `json:"set"`
	Bench     string          `json:"bench"`
	Cannot    []string        `json:"cannot-measure"`
	Typical   []string        `json:"typical"`
	Lamps     *lampsDocument  `json:"lamps,omitempty"`
	Counts    countsDocument  `json:"counts"`
	Ramp      rampDocument    `json:"ramp"`
	Blocks    []blockDocument `json:"positions"`
	Stages    []stageDocument `json:"stages"`
	Done      []string        `json:"done"`
	Whole     bool            `json:"whole"`
	Ending    endingDocument  `json:"ending"`
	After     *afterDocument  `json:"after,omitempty"`
}

type setDocument struct {
	Name string `json:"name"`
	Mark string `json:"mark"`
}

type lampsDocument struct {
	First   float64 `json:"first-watts"`
	Ramp    float64 `json:"ramp-watts"`
	Ceiling float64 `json:"ceiling-volts"`
	Top     float64 `json:"top-step-percent"`
}

type countsDocument struct {
	Lines    int `json:"lines"`
	Minutes  int `json:"minutes"`
	Computed int `json:"windows-computed"`
	Typical  int `json:"windows-typical"`
	Later    int `json:"windows-from-readings"`
}

type blockDocument struct {
	ID     string         `json:"id"`
	Supply string         `json:"supply"`
	Lamp   float64        `json:"lamp-watts,omitempty"`
	Stands string         `json:"stands,omitempty"`
	Note   string         `json:"note,omitempty"`
	Lines  []lineDocument `json:"lines"`
}

type lineDocument struct {
	ID       string            `json:"id"`
	Wait     float64           `json:"wait-seconds"`
	Before   []string          `json:"before,omitempty"`
	Times    int               `json:"times"`
	Then     string            `json:"then,omitempty"`
	Readings []readingDocument `json:"readings"`
}

type readingDocument struct {
	ID      string          `json:"id"`
	Hold    string          `json:"hold,omitempty"`
	Check   string          `json:"check,omitempty"`
	Item    string          `json:"item,omitempty"`
	Class   string          `json:"class,omitempty"`
	Meter   string          `json:"meter,omitempty"`
	Leads   string          `json:"leads,omitempty"`
	Unit    string          `json:"unit,omitempty"`
	Step    float64         `json:"step-percent,omitempty"`
	Window  *windowDocument `json:"window,omitempty"`
	Waits   string          `json:"waits-for,omitempty"`
	Follows []string        `json:"follows,omitempty"`
}

type windowDocument struct {
	PassLo  string `json:"pass-lo,omitempty"`
	PassHi  string `json:"pass-hi,omitempty"`
	QueryLo string `json:"query-lo,omitempty"`
	QueryHi string `json:"query-hi,omitempty"`
	StopLo  string `json:"stop-lo,omitempty"`
	StopHi  string `json:"stop-hi,omitempty"`
	Danger  string `json:"danger"`
	Grade   string `json:"grade"`
	Shown   bool   `json:"shown"`
	Typical string `json:"typical,omitempty"`
	Sum     string `json:"sum,omitempty"`
}

// JSON writes the work as one document. The same plan gives the same bytes.
func (w Work) JSON(out io.Writer) error { return JSON(out, documentOf(w)) }

// JSON writes one document for programs.
func JSON(w io.Writer, document any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(document)
}

func documentOf(w Work) cardDocument {
	p, n, all := w.Plan, countWindows(w.cardLines()), w.all()
	d := cardDocument{
		Format: 1, Procedure: p.Procedure.Name, Set: setDocument{p.Set.Name, p.Set.Mark}, Bench: p.Bench.Name,
		Cannot: some(p.Cannot), Typical: some(p.Typical), Ramp: rampOf(w.Ramp), Done: some(w.Done), Whole: w.Whole, Blocks: []blockDocument{}, Stages: []stageDocument{},
		Counts: countsDocument{all.Lines, all.Minutes, n.known, n.weak, n.later},
		Ending: endingOf(w), After: afterOf(w.After),
	}
	if l := p.Lamps; l.Ramp.Watts > 0 {
		d.Lamps = &lampsDocument{float64(l.First.Watts), float64(l.Ramp.Watts), six(float64(l.Ceiling)), float64(l.Top)}
	}
	for _, s := range w.Stages {
		d.Stages = append(d.Stages, stageOf(s))
		for _, l := range s.Lines {
			if last := len(d.Blocks) - 1; last < 0 || d.Blocks[last].ID != l.Block.ID {
				d.Blocks = append(d.Blocks, blockOf(l.Block))
			}
			b := &d.Blocks[len(d.Blocks)-1]
			b.Lines = append(b.Lines, lineOf(l))
		}
	}
	return d
}

// some is a list that is written as [] when it is empty.
func some(list []string) []string { return append([]string{}, list...) }

func blockOf(b plan.Block) blockDocument {
	d := blockDocument{ID: b.ID, Supply: b.Supply.String(), Stands: b.Stands, Note: b.Note}
	if b.Lamp != nil {
		d.Lamp = float64(b.Lamp.Watts)
	}
	return d
}

func lineOf(l Line) lineDocument {
	d := lineDocument{ID: l.ID, Wait: l.Wait, Times: l.Times, Then: l.Then}
	for _, act := range l.Before {
		d.Before = append(d.Before, actNames[act])
	}
	for _, r := range l.Readings {
		d.Readings = append(d.Readings, readingOf(r))
	}
	return d
}

func readingOf(r session.CardReading) readingDocument {
	s := r.Slot
	d := readingDocument{ID: s.ID, Hold: s.Hold}
	if s.Hold != "" {
		return d
	}
	d.Meter, d.Leads = r.Meter, r.Leads
	d.Check, d.Item, d.Class, d.Step = s.Check.ID, s.Item, s.Check.Crit.String(), float64(s.Rung)
	if k := s.Check.Kind; k != unit.None {
		d.Unit = k.Name()
	}
	d.Window, d.Waits, d.Follows = windowOf(r.Window), r.Waits, s.Check.Follows
	return d
}

// windowOf is nil for a window that judges nothing.
func windowOf(w checks.Window) *windowDocument {
	f := w.Fields()
	if f == nil {
		return nil
	}
	return &windowDocument{
		Danger: f["danger"], Grade: f["grade"], Shown: w.Shown, Typical: w.Typical, Sum: w.Sum,
		PassLo: f["pass-lo"], PassHi: f["pass-hi"], QueryLo: f["query-lo"], QueryHi: f["query-hi"], StopLo: f["stop-lo"], StopHi: f["stop-hi"],
	}
}
