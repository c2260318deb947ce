package main

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/transcriptlog"
)

// judgeAgain judges every logged reading by its logged window, with the rule
// that it was judged by.
func judgeAgain(lines []transcriptlog.Line) (int, string) {
	return judgedBy(checks.Rules(), lines)
}

func judgedBy(rules []checks.Rule, lines []transcriptlog.Line) (int, string) {
	n := 0
	for _, l := range lines {
		if l.Kind != "reading" || !ruled(l.Fields) {
			continue
		}
		n++
		if why := unfair(rules, l); why != "" {
			return n, inShort(fmt.Sprintf("line %d: %s: %s", l.Seq, inShort(l.Fields["slot"]), why))
		}
	}
	return n, ""
}

// ruled tells whether a reading is judged again: it has a rule, or what only a rule
// judges by. A word or a letter has none of it.
func ruled(fields map[string]string) bool {
	return fields["rule"] != "" || len(under(fields, "window ")) > 0 || len(under(fields, "shown ")) > 0
}

// unfair is why a reading's verdict cannot stand; empty: it is the rule's.
func unfair(rules []checks.Rule, l transcriptlog.Line) string {
	if l.Fields["rule"] == "" {
		return "it has a window or a number to be judged by, and no rule"
	}
	version := ruleOf(l.Fields["rule"])
	if version < 1 || version > len(rules) {
		return "judged by rules " + unknownRules(l.Fields["rule"], len(rules))
	}
	got, err := rules[version-1](checks.Logged{Window: under(l.Fields, "window "), Shown: under(l.Fields, "shown "), Class: l.Fields["class"]})
	if err != nil {
		return err.Error()
	}
	escalated := got == engine.Query && l.Fields["verdict"] == "stop" // a second query on one path
	if got.String() != l.Fields["verdict"] && !escalated {
		return fmt.Sprintf("the record says %s, and the rule says %s", l.Fields["verdict"], got)
	}
	return ""
}

// ruleOf is the version that a text names, in its one spelling; 0: none.
func ruleOf(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || strconv.Itoa(n) != text || n < 1 {
		return 0
	}
	return n
}

// unknownRules says of rules that are none of the first so many what would know
// them.
func unknownRules(text string, known int) string {
	knows := "1"
	if known > 1 {
		knows += fmt.Sprintf(" to %d", known)
	}
	if ruleOf(text) == 0 {
		return fmt.Sprintf("%.20q, which no powerup has: this program knows %s", text, knows)
	}
	return fmt.Sprintf("%s, and this program knows %s: use a later powerup", text, knows)
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
