package main

import (
	"io"
	"strings"

	"example.com/powerup/internal/console"
)

// vetDocument is what vet --json writes; DEVELOPERS.md has its fields.
type vetDocument struct {
	Format int            `json:"format"`
	Files  []fileDocument `json:"files"`
}

type fileDocument struct {
	Name   string          `json:"name"`
	Found  []foundDocument `json:"found"`
	Proved []proofDocument `json:"proved,omitempty"`
}

type foundDocument struct {
	Severity string   `json:"severity"`
	Text     string   `json:"text"`
	Hints    []string `json:"hints,omitempty"`
	Story    []string `json:"story,omitempty"`
}

type proofDocument struct {
	Sheet     string  `json:"sheet"`
	Bench     string  `json:"bench"`
	Part      string  `json:"part"`
	Queries   string  `json:"open-queries,omitempty"`
	Readings  int     `json:"readings"`
	Places    int     `json:"places"`
	Steps     int     `json:"steps"`
	Seconds   float64 `json:"seconds"`
	Mebibytes int     `json:"mebibytes"`
}

func vetJSON(out io.Writer, all []vetted) error {
	d := vetDocument{Format: 1, Files: []fileDocument{}}
	for _, v := range all {
		d.Files = append(d.Files, v.document())
	}
	return console.JSON(out, d)
}

func (v vetted) document() fileDocument {
	d := fileDocument{Name: v.name, Found: []foundDocument{}}
	if v.wrong != nil {
		d.Found = append(d.Found, foundIn("wrong", v.wrong.Error())...)
	}
	for n, e := range v.remarks {
		d.Found = append(d.Found, foundIn(v.severity(n).String(), e.Error())...)
	}
	for _, p := range v.proved {
		d.Proved = append(d.Proved, proofDocument{
			Sheet: p.set, Bench: p.bench, Part: p.part(), Queries: p.queries, Readings: p.slots, Places: p.places, Steps: p.steps,
			Seconds: p.seconds, Mebibytes: p.mebibytes,
		})
	}
	return d
}

// foundIn parts what is told by its lines: a fact, its hints, its story.
func foundIn(severity, text string) []foundDocument {
	var all []foundDocument
	for line := range strings.SplitSeq(strings.TrimSpace(text), "\n") {
		last := len(all) - 1
		switch hint, isHint := strings.CutPrefix(line, "hint: "); {
		case isHint && last >= 0:
			all[last].Hints = append(all[last].Hints, hint)
		case strings.HasPrefix(line, "  ") && last >= 0:
			all[last].Story = append(all[last].Story, strings.TrimSpace(line))
		default:
			all = append(all, foundDocument{Severity: severity, Text: line})
		}
	}
	return all
}
