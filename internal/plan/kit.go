package plan

import (
	"example.com/powerup/internal/sheet"
)

// kit is how many meters there are and where each stays.
type kit struct {
	lampBox string // letter of the meter that stays at the lamp box; empty: the one meter does all
	moving  string // letter of the meter in the set
	watch   string // letter of a third that stays across the reservoir
}

func kitOf(b *sheet.Bench) kit {
	k := kit{moving: b.Meters[0].Letter}
	if len(b.Meters) == 1 {
		return k
	}
	k.moving = ""
	for _, m := range b.Meters {
		switch m.Stays {
		case "lamp-box":
			k.lampBox = m.Letter
		case "ht-watch":
			k.watch = m.Letter
		default:
			k.moving = m.Letter
		}
	}
	return k
}

// one tells whether a single meter does everything.
func (k kit) one() bool { return k.lampBox == "" }

func (p *Plan) meter(letter string) *sheet.Meter {
	if letter == testerLetter {
		return p.Meters[p.Bench.Tester]
	}
	for _, m := range p.Bench.Meters {
		if m.Letter == letter {
			return p.Meters[m.Sheet]
		}
	}
	return nil
}

const testerLetter = "T"

// letterFor gives the instrument that takes a check.
func (p *Plan) letterFor(k kit, id, item string, f sheet.Function) string {
	switch f {
	case sheet.Insulation, sheet.Bond, sheet.Leakage:
		if p.Bench.Tester == "" {
			return ""
		}
		return testerLetter
	case sheet.Thermo, "":
		return ""
	}
	switch {
	case id == "meter-source" || id == "leads":
		return item
	case spotOf(id, item) == atLampBox && !k.one():
		return k.lampBox
	}
	return k.moving
}

// MovingMeter is the sheet of the meter that goes into the set.
func (p *Plan) MovingMeter() *sheet.Meter { return p.meter(kitOf(p.Bench).moving) }
