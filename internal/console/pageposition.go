package console

import (
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
)

// positionRows head a lead position.
func positionRows(b plan.Block) []session.Row {
	text := b.ID + ", supply " + b.Supply.String()
	switch {
	case b.Lamp != nil:
		text += ", lamp " + b.Lamp.Watts.String()
	case b.Supply.Energised():
		text += ", lamp out"
	}
	rows := []session.Row{{Label: "POSITION", Text: text}}
	if b.Stands != "" {
		rows = append(rows, session.Row{Text: b.Stands})
	}
	if b.Note != "" {
		rows = append(rows, session.Row{Label: "Note", Text: b.Note})
	}
	return rows
}

// actWords say what is typed before a line of readings.
func actWords(a engine.Act) session.Row {
	switch a {
	case engine.Unplug:
		return session.Row{Label: "off", Text: "switch off at the wall, plug out"}
	case engine.ProveLead:
		return session.Row{Label: "prove", Text: "mains off, plug out; dead for one move; then the leads move"}
	case engine.ProveFull:
		return session.Row{Label: "prove", Text: "plug out; the whole proof, first line"}
	case engine.ProveSecond:
		return session.Row{Label: "prove", Text: "the whole proof, second line"}
	case engine.ProveNodes:
		return session.Row{Label: "prove", Text: "dead, what a test has charged"}
	case engine.SwitchOn:
		return session.Row{Label: "power", Text: "mains on, when all stands as said and hands are out"}
	case engine.Unclip:
		return session.Row{Label: "clip", Text: "the shorting clip off, the HT line read"}
	case engine.Repair:
		return session.Row{Label: "repair", Text: "cause and repair named by their letter"}
	}
	return session.Row{Label: "line"}
}
