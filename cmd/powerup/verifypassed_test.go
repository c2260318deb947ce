package main

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/transcriptlog"
)

// onTape is the record that a session in memory leaves.
func onTape(r *sessiontest.Tape) transcriptlog.Transcript {
	t := transcriptlog.Transcript{Ending: transcriptlog.Complete, Lines: []transcriptlog.Line{{Seq: 1, Kind: "open"}}}
	for _, l := range r.Lines {
		t.Lines = append(t.Lines, transcriptlog.Line{Seq: l.Seq + 1, Time: l.At.Wall, Mono: l.At.Mono, Kind: l.Kind, Fields: l.Fields})
	}
	return t
}

// Honest sessions that were closed with nothing open were passed, whatever went
// before: a stop that was repaired, a night away, readings taken back.
func TestHonestSessionsPass(t *testing.T) {
	t.Parallel()
	for name, way := range map[string]func(r *sessiontest.Tape){
		"straight on": func(*sessiontest.Tape) {},
		"a stop, repaired": func(r *sessiontest.Tape) {
			r.Radio.Turns["ramp/output-grid#75"] = []string{"172.5 44.43 1.7"}
			r.Until("stop/repair")
			r.Say("p coupling capacitor V4 leaked, a new one fitted")
		},
		"a stop whose repair explains nothing": func(r *sessiontest.Tape) {
			r.Radio.Turns["ramp/output-grid#75"] = []string{"172.5 44.43 1.7"}
			r.Until("stop/repair")
			r.Say("y a new mains capacitor")
			r.Say("yes")
		},
		"a day away": func(r *sessiontest.Tape) {
			r.Until("hold-2")
			r.Say("park")
			r.Again(25 * time.Hour)
		},
		"altered and taken back": func(r *sessiontest.Tape) {
			r.Until("close/label")
			r.Say("park")
			r.Again(2 * time.Hour)
			r.Until("start/touched")
			r.Say("p coupling capacitor V4, a new one fitted")
			r.Until("close/close")
			r.TakeBack("cathode-resistor")
		},
	} {
		r := sessiontest.NewTape(t, "table-radio", "two-meters")
		way(r)
		r.Until("")
		record := onTape(r)
		judged, unfair := judgeAgain(record.Lines)
		if why := notPassed(record, judged); why != "" || unfair != "" || judged < 50 {
			t.Errorf("%s: %d judged, %q %q", name, judged, why, unfair)
		}
		if stops := record.Lines[len(record.Lines)-1].Fields["stop"]; strings.Contains(name, "stop") == (stops == "0") {
			t.Errorf("%s: it counts %s stops", name, stops)
		}
	}
}

// Of those that are kept, the closed ones were passed and the others not.
func TestKeptRecordsPassIfTheyAreClosed(t *testing.T) {
	t.Parallel()
	for _, k := range keptRecords(t) {
		o := k.options()
		o.passed = true
		f, err := check(o, k.path())
		if err != nil {
			t.Fatal(err)
		}
		if closed := k.Ending == "COMPLETE"; f.accepted() != closed || (f.failed == "") != closed {
			t.Errorf("%s: %q, %+v", k.Name, f.failed, f.whyNot())
		}
	}
}

// What does not hold at the end of a record is named, and it was not passed.
func TestWhyARecordWasNotPassed(t *testing.T) {
	t.Parallel()
	honest := sessiontest.NewTape(t, "table-radio", "two-meters")
	honest.Until("")
	line := func(kind string, pairs ...string) transcriptlog.Line {
		l := transcriptlog.Line{Kind: kind, Fields: map[string]string{}}
		for i := 0; i < len(pairs); i += 2 {
			l.Fields[pairs[i]] = pairs[i+1]
		}
		return l
	}
	atClose := func(name, value string) func([]transcriptlog.Line) []transcriptlog.Line {
		return func(lines []transcriptlog.Line) []transcriptlog.Line {
			end := maps.Clone(lines[len(lines)-1].Fields)
			if end[name] = value; value == "" {
				delete(end, name)
			}
			lines[len(lines)-1].Fields = end
			return lines
		}
	}
	before := func(more ...transcriptlog.Line) func([]transcriptlog.Line) []transcriptlog.Line {
		return func(lines []transcriptlog.Line) []transcriptlog.Line {
			return slices.Insert(lines, len(lines)-1, more...)
		}
	}
	for name, c := range map[string]struct {
		change func([]transcriptlog.Line) []transcriptlog.Line
		want   string
	}{
		"another result":       {atClose("result", "handed back"), "in words that this program knows"},
		"no result":            {atClose("result", ""), "in words that this program knows"},
		"one thing open":       {atClose("open", "1"), "1 thing is open"},
		"two things open":      {atClose("open", "2"), "2 things are open"},
		"open not said":        {atClose("open", ""), "it does not say that nothing is open"},
		"less than nothing":    {atClose("open", "-1"), "it does not say that nothing is open"},
		"stopped":              {before(line("stop", "check", "output-grid")), "STOPPED at output-grid, not handed back, and no repair"},
		"a stop stands":        {before(line("reading", "slot", "x", "verdict", "stop"), line("stop"), line("repair")), "not read again since it stopped the set: 1 reading"},
		"a query stands":       {before(line("reading", "slot", "x", "verdict", "query")), "1 reading in doubt"},
		"mains on":             {before(line("power", "supply", "full")), "it ends with mains on"},
		"a reading more":       {before(line("reading", "slot", "x", "verdict", "pass")), "of pass, and in its lines are"},
		"a stop not counted":   {before(line("reading", "slot", "x", "verdict", "stop"), line("reading", "slot", "x", "verdict", "pass")), "in its lines are"},
		"no count":             {atClose("query", ""), `it counts "" of query`},
		"another count":        {atClose("not-read", "7"), `it counts "7" of not-read, and in its lines are 0`},
		"an acceptance more":   {before(line("accepted", "slot", "x")), "of accepted"},
		"a typical value more": {atClose("typical", "0"), `it counts "0" of typical`},
	} {
		record := onTape(honest)
		record.Lines = c.change(record.Lines)
		judged, _ := judgeAgain(record.Lines)
		if why := notPassed(record, judged); !strings.Contains(why, c.want) {
			t.Errorf("%s: %q, want %q", name, why, c.want)
		}
	}
	if why := notPassed(onTape(honest), 0); why != "no reading in it was judged" {
		t.Errorf("nothing judged: %q", why)
	}
	open := onTape(honest)
	open.Ending = transcriptlog.Open
	if why := notPassed(open, 100); why != "it is not closed" {
		t.Errorf("open: %q", why)
	}
}
