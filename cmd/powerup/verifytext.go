package main

import (
	"fmt"
	"io"

	"example.com/powerup/internal/transcriptlog"
)

// accepted tells whether the record counts as what the caller asked for.
func (f finding) accepted(o verifyOptions) bool {
	ok := f.record.Ending == transcriptlog.Complete && f.signed != "" && f.unfair == ""
	return ok && (!o.passed || f.passed())
}

func (f finding) passed() bool {
	last := f.last()
	return last.Kind == "close" && last.Fields["open"] == "0"
}

func (f finding) last() transcriptlog.Line {
	if len(f.record.Lines) == 0 {
		return transcriptlog.Line{}
	}
	return f.record.Lines[len(f.record.Lines)-1]
}

// result words how the record left the set.
func (f finding) result() string {
	if f.record.Ending == transcriptlog.Broken {
		return fmt.Sprintf("line %d: %s", f.record.BadLine, f.record.Reason)
	}
	stopped := ""
	for _, l := range f.record.Lines {
		switch l.Kind {
		case "stop":
			stopped = "the set was STOPPED at " + l.Fields["check"] + ", not handed back"
		case "repair":
			stopped = ""
		case "close":
			return "the set was " + l.Fields["result"]
		}
	}
	if stopped != "" {
		return stopped
	}
	return "the session was not closed"
}

func (f finding) print(out io.Writer, file string, folder, summary bool) {
	name := ""
	if folder {
		name = file + ": "
	}
	kind := ""
	if len(f.record.Lines) > 0 && f.record.Lines[0].Practice {
		kind = "PRACTICE, no proof about a set: "
	}
	fmt.Fprintf(out, "%s%s: %s%s\n", name, f.record.Ending, kind, f.result())
	if folder {
		return
	}
	for _, n := range f.record.Notes {
		fmt.Fprintln(out, "note        "+n)
	}
	if f.signed != "" {
		fmt.Fprintln(out, "signed      by "+f.signed)
	} else {
		fmt.Fprintln(out, "signed      not accepted: "+f.why)
	}
	if f.unfair != "" {
		fmt.Fprintln(out, "judged      NOT as the rule says: "+f.unfair)
	} else {
		fmt.Fprintf(out, "judged      %d readings again, all as recorded\n", f.judged)
	}
	if f.recomputed != "" {
		fmt.Fprintln(out, "recomputed  "+f.recomputed)
	}
	if f.record.Ending == transcriptlog.Open || f.record.Ending == transcriptlog.RecoveredOpen {
		fmt.Fprintln(out, "open        who holds an open record can cut it back to an earlier line")
	}
	if summary {
		f.summary(out)
	}
	fmt.Fprintln(out, "says        who, what file, what order, unchanged since. Not that it is safe.")
}

// summary is what an owner can read, in at most 25 lines.
func (f finding) summary(out io.Writer) {
	if len(f.record.Lines) == 0 {
		return
	}
	first, last := f.record.Lines[0], f.last()
	row := func(label, text string) {
		if text != "" {
			fmt.Fprintf(out, "%-11s %s\n", label, text)
		}
	}
	row("number", first.Fields["label"])
	row("operator", first.Fields["operator"])
	row("profile", first.Fields["profile"])
	row("begun", first.Time.Format("2 Jan 2006 15:04 MST"))
	row("ended", last.Time.Format("2 Jan 2006 15:04 MST"))
	row("set", last.Fields["set"])
	row("mark", last.Fields["mark"])
	for _, k := range []string{"pass", "query", "accepted", "stop", "not-read", "typical", "witness"} {
		row(k, last.Fields[k])
	}
	for _, l := range f.record.Lines {
		if l.Kind == "accepted" {
			row("query", l.Fields["slot"]+": "+l.Fields["cause"])
		}
	}
	row("limits", "this record relates to this set on this day; it is no approval to any standard")
}
