package main

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// maker is what made a record, as its lines name it: the version of the program
// and that of the rules it judged by.
type maker struct{ program, rules string }

// thisProgram is the maker of what is written now.
func thisProgram() maker { return maker{version(), strconv.Itoa(checks.RulesVersion)} }

// makerOf is what went on with a record last: line 1 names its program and its
// rules, and each other program that went on with it has a line.
func makerOf(lines []transcriptlog.Line) maker {
	m := maker{lines[0].Fields["program"], lines[0].Fields["rules"]}
	for _, l := range lines {
		if l.Kind == session.KindProgram {
			m.program = l.Fields["program"]
		}
	}
	return m
}

// programs names the versions that went on with a record that another had begun;
// empty: it was made by one.
func programs(lines []transcriptlog.Line) string {
	var others []string
	for _, l := range lines {
		if l.Kind == session.KindProgram {
			others = append(others, fmt.Sprintf("from line %d on by %s", l.Seq, maker{program: l.Fields["program"]}.named()))
		}
	}
	if len(others) == 0 {
		return ""
	}
	begun := maker{program: lines[0].Fields["program"]}
	return inShort(fmt.Sprintf("begun by %s, gone on with %s", begun.named(), strings.Join(others, ", ")))
}

// named is the maker's program in words; what came from a file is neutralised.
func (m maker) named() string {
	if m.program == "" {
		return "a powerup that is not named"
	}
	return "powerup " + console.Clean(shortly(m.program))
}

func (m maker) String() string {
	if m.rules == "" {
		return m.named() + " with rules that are not named"
	}
	return m.named() + " with rules " + console.Clean(shortly(m.rules))
}

// shortly is a version's beginning: a file's may be as long as its writer liked.
func shortly(version string) string { return fmt.Sprintf("%.60s", version) }

// other says what of a maker is not this program's; empty: nothing is.
func (m maker) other() string {
	own := thisProgram()
	switch {
	case m.rules != own.rules && m.program != own.program:
		return "another version of the program, with other rules"
	case m.rules != own.rules:
		return "other rules"
	case m.program != own.program:
		return "another version of the program"
	}
	return ""
}

// unplayed says why a record is not played again here, and what would do it.
func (m maker) unplayed() string {
	by := "which could play it is not known"
	if m.program != "" {
		by = "verify --recompute of " + m.named() + " can tell"
	}
	return fmt.Sprintf("made with %s: %s, and this is %s; %s", m.other(), m, thisProgram(), by)
}

// played says that a record was played again here.
func (m maker) played(lines int) string {
	all := fmt.Sprintf("all %d lines follow again from what was typed", lines)
	if m.other() == "" {
		return all
	}
	return fmt.Sprintf("%s; made by %s, and this is %s", all, m.named(), thisProgram().named())
}

// goesOn is the line by which this program says that it goes on with what another
// has made.
func goesOn() transcriptlog.Record {
	return transcriptlog.Record{Kind: session.KindProgram, Fields: map[string]string{"program": version()}}
}
