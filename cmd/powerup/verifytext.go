package main

import (
	"fmt"
	"io"
	"strings"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/record"
	"example.com/powerup/internal/transcriptlog"
)

// result words how the record left the set.
func (f finding) result() string {
	if f.record.Ending == transcriptlog.Broken {
		return brokenAt(f.record)
	}
	return record.Of(f.record).Result()
}

// heading is the first line of all that is said: ending, whether it is accepted, and
// result. A record whose verdicts do not follow is broken, whatever holds its lines
// together.
func (f finding) heading() string {
	kind := ""
	if f.practice() {
		kind = "PRACTICE, no proof about a set: "
	}
	switch no := f.whyNot().short; {
	case f.record.Ending != transcriptlog.Broken && f.unfair != "":
		why, _, _ := strings.Cut(f.unfair, "\n")
		return fmt.Sprintf("%s: %s%s", transcriptlog.Broken, kind, why)
	case f.record.Ending == transcriptlog.Broken || f.accepted():
		return fmt.Sprintf("%s: %s%s", f.record.Ending, kind, f.result())
	case no == "open":
		return fmt.Sprintf("%s, NOT ACCEPTED: %s%s", f.record.Ending, kind, f.result())
	default:
		return fmt.Sprintf("%s, NOT ACCEPTED (%s): %s%s", f.record.Ending, no, kind, f.result())
	}
}

func (f finding) print(out io.Writer) {
	for _, line := range console.Paragraph(f.heading()) {
		fmt.Fprintln(out, line)
	}
	row := func(label, text string) { console.PrintRow(out, label, text) }
	for _, n := range f.record.Notes {
		row("note", inShort(n))
	}
	if f.signed() {
		row("signed", f.signer())
	} else {
		row("signed", "not accepted: "+inShort(f.doubt.why))
	}
	if no := f.objection(); no.why != "" {
		row("accepted", "no: "+no.why)
	}
	if f.signed() && f.otherKey() {
		row("note", "line 1 names another key than the one that signed")
	}
	if others := programs(f.record.Lines); others != "" && f.record.Ending != transcriptlog.Broken {
		row("note", others)
	}
	if len(f.releases) > 0 {
		row("released", inShort(strings.Join(f.releases, ", ")))
	}
	switch {
	case f.unfair != "":
		row("judged", "NOT again as recorded: "+f.unfair)
	case f.record.Ending != transcriptlog.Broken:
		row("judged", f.judgedWords())
	}
	if played := f.played(); played != "" {
		row("recomputed", played)
	}
	if f.record.Ending != transcriptlog.Broken {
		for n, c := range record.Of(f.record).Cautions(f.signed()) {
			row([...]string{"mind", ""}[min(n, 1)], c)
		}
	}
	row("says", f.says())
}

func (f finding) judgedWords() string {
	if f.judged == 0 {
		return "nothing: no reading in it has a rule"
	}
	return counted(f.judged, "reading") + " again, all as recorded"
}

// played is what came of playing the record again; empty: nobody asked for it.
func (f finding) played() string {
	if f.undone != "" {
		return "not done: " + f.undone
	}
	return f.recomputed
}

// signer is who signed, and what was held against dates.
func (f finding) signer() string {
	if f.unfair != "" {
		return "by " + f.by.Name + ", which mends nothing of what does not follow"
	}
	if !f.by.Dated {
		return "by " + f.by.Name
	}
	return fmt.Sprintf("by %s, whose key is listed with dates: good at the record's own close, %s by the clock of its computer", f.by.Name, f.last().Time.UTC().Format("2 Jan 2006 15:04 UTC"))
}

// otherKey tells whether the record was made with another key than it was signed
// with.
func (f finding) otherKey() bool {
	made := f.record.Lines[0].Fields["key"]
	return made != "" && made != transcriptlog.Fingerprint(f.by.Key)
}

// says is what a record is worth.
func (f finding) says() string {
	if f.record.Ending == transcriptlog.Broken {
		return "nothing: no line of a broken record is relied on"
	}
	if f.unfair != "" {
		return "nothing: no record is relied on in which something does not follow"
	}
	return "who, what file, what order, unchanged since. Not that it is safe."
}
