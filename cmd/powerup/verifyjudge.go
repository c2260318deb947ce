package main

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/transcriptlog"
)

// judgeAgain judges every logged reading by its logged window, with the rule
// of the record's version.
func judgeAgain(lines []transcriptlog.Line) (int, string) {
	n := 0
	for _, l := range lines {
		if l.Kind != "reading" || l.Fields["rule"] == "" {
			continue
		}
		n++
		if why := unfair(l); why != "" {
			return n, inShort(fmt.Sprintf("line %d: %s: %s", l.Seq, inShort(l.Fields["slot"]), why))
		}
	}
	return n, ""
}

func unfair(l transcriptlog.Line) string {
	if l.Fields["rule"] != fmt.Sprint(checks.RulesVersion) {
		return "judged by rule " + l.Fields["rule"] + ", which this program does not know"
	}
	w, err := checks.ParseWindow(under(l.Fields, "window "))
	if err != nil {
		return err.Error()
	}
	s, err := meter.ParseShown(under(l.Fields, "shown "))
	if err != nil {
		return err.Error()
	}
	got := w.Judge(s, critOf(l.Fields["class"])).Verdict
	escalated := got == engine.Query && l.Fields["verdict"] == "stop" // a second query on one path
	if got.String() != l.Fields["verdict"] && !escalated {
		return fmt.Sprintf("the record says %s, and the rule says %s", l.Fields["verdict"], got)
	}
	return ""
}

func under(fields map[string]string, prefix string) map[string]string {
	out := map[string]string{}
	for k, v := range fields {
		if rest, ok := strings.CutPrefix(k, prefix); ok {
			out[rest] = v
		}
	}
	return out
}

func critOf(letter string) engine.Crit {
	for _, c := range []engine.Crit{engine.G, engine.E} {
		if c.String() == letter {
			return c
		}
	}
	return engine.S
}

// inShort is the beginning of a text that may be as long as its writer liked.
func inShort(text string) string {
	const most = 400
	n := 0
	for i := range text {
		if n++; n > most {
			return text[:i] + "..."
		}
	}
	return text
}
