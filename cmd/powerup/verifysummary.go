package main

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/record"
	"example.com/powerup/internal/transcriptlog"
)

// summaryLines is what an owner is asked to read at most.
const summaryLines = 25

// summary prints what an owner can read of a record.
func (f finding) summary(w world, o verifyOptions, file string) {
	rows := []part{{lines: console.Paragraph(f.heading()), least: 2}}
	if f.record.Ending == transcriptlog.Broken {
		rows = append(rows, part{console.Row("result", "NOT ACCEPTED: nothing of a broken record is relied on"), whole})
	} else {
		for _, r := range f.verified().Summary(w.clock.now().Wall) {
			rows = append(rows, part{console.Row(r.Label, r.Text), r.Least})
		}
	}
	if no := f.objection(); no.why != "" {
		rows = append(rows, part{console.Row("accepted", "no: "+no.why), 1})
	}
	if f.unfair != "" {
		rows = append(rows, part{console.Row("judged", "NOT again as recorded: "+f.unfair), 1})
	}
	if played := f.played(); played != "" {
		rows = append(rows, part{console.Row("recomputed", played), 4})
	}
	rows = append(rows, part{f.signature(o, file), whole},
		part{console.Row("says", f.says()), whole})
	for _, p := range shortened(rows, summaryLines) {
		for _, line := range p.lines {
			fmt.Fprintln(w.out, line)
		}
	}
}

// verified is the record as it is summed up.
func (f finding) verified() record.Verified {
	v := record.Verified{Facts: record.Of(f.record), Signer: f.by.Name, Not: f.whyNot().short}
	for _, l := range f.record.Lines {
		if l.Kind == transcriptlog.KindRecovered {
			v.Torn++
		}
	}
	if src, err := sourcesOf(f.record.Lines[0]); err == nil {
		if p, err := src.plan(); err == nil {
			v.Cannot, v.Kit = p.Cannot, true
		}
	}
	return v
}

// signature tells who signed and how that is checked without this program.
func (f finding) signature(o verifyOptions, file string) []string {
	switch {
	case f.record.Ending == transcriptlog.Broken:
		return console.Row("signed", "not accepted: "+brokenAt(f.record))
	case f.record.Ending != transcriptlog.Complete:
		return console.Row("signed", "not accepted: it is open, and an open record is not signed")
	case f.signed() && f.unfair != "":
		return console.Row("signed", f.signer())
	case f.doubt.short == "unlisted" && f.unfair == "":
		return append(console.Row("signed", "by a key that you have not listed; stock tools check the bytes:"),
			command("ssh-keygen -Y check-novalidate", "-n "+f.record.Namespace(), "-s "+shell(file+".sig"), "< "+shell(file))...)
	case !f.signed():
		return console.Row("signed", "not accepted: "+f.doubt.why)
	}
	parts := []string{"ssh-keygen -Y verify", "-f " + shell(o.signersFile()), "-I " + shell(f.by.Name), "-n " + f.record.Namespace(), "-s " + shell(file+".sig")}
	if f.by.Dated {
		parts = append(parts, "-O verify-time="+f.last().Time.UTC().Format("20060102150405Z"))
	}
	if revoked := o.revokedFile(); revoked != "" {
		parts = append(parts, "-r "+shell(revoked))
	}
	return append(console.Row("signed", f.signer()+"; without powerup, by stock tools:"),
		command(append(parts, "< "+shell(file))...)...)
}

// command is a command line that is copied whole, broken between its parts where
// the shell lets it.
func command(parts ...string) []string {
	const indent, more = "  ", " \\"
	var out []string
	line := indent + parts[0]
	for _, p := range parts[1:] {
		if lipgloss.Width(line+" "+p+more) > 80 {
			out = append(out, line+more)
			line = indent + " "
		}
		line += " " + p
	}
	return append(out, line)
}

// part is a row as it is printed, and how few lines may be left of it.
type part struct {
	lines []string
	least int
}

// whole is more lines than any row has.
const whole = 100

// shortened takes lines from the ends of the longest rows that may be shortened,
// until all have room.
func shortened(rows []part, room int) []part {
	total := 0
	for _, r := range rows {
		total += len(r.lines)
	}
	for ; total > room; total-- {
		longest := -1
		for i, r := range rows {
			if len(r.lines) > r.least && (longest < 0 || len(r.lines) > len(rows[longest].lines)) {
				longest = i
			}
		}
		if longest < 0 {
			break
		}
		r := &rows[longest]
		r.lines = r.lines[:len(r.lines)-1]
		last := len(r.lines) - 1
		r.lines[last] = strings.TrimRight(console.Cell(strings.TrimSuffix(r.lines[last], " ...")+" ...", 80), " ")
	}
	return rows
}
