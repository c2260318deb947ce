package main

import (
	"fmt"
	"strconv"

	"example.com/powerup/internal/record"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// notPassed is why a record does not show that its set was tested with nothing
// open; empty: it does. A stop that was repaired and read again is no reason.
func notPassed(t transcriptlog.Transcript, judged int) string {
	if t.Ending != transcriptlog.Complete {
		return "it is not closed"
	}
	end := t.Lines[len(t.Lines)-1].Fields
	f := record.Of(t)
	switch {
	case !session.IsResult(end["result"]):
		return "it does not say, in words that this program knows, how it left the set"
	case f.State == record.Stopped:
		return f.Result() + ", and no repair is on record"
	case end["open"] != "0":
		return openWords(end["open"])
	case f.Live:
		return "it ends with mains on"
	case f.Stops > 0:
		return "not read again since it stopped the set: " + counted(f.Stops, "reading")
	case f.Doubts > 0:
		return counted(f.Doubts, "reading") + " in doubt, and nobody has answered for it"
	case judged == 0:
		return "no reading in it was judged"
	}
	return miscounted(t.Lines[:len(t.Lines)-1], end)
}

// openWords says how many things are open, by what the close line has for a number.
func openWords(text string) string {
	switch n, err := strconv.Atoi(text); {
	case err != nil || n < 1:
		return "it does not say that nothing is open"
	case n == 1:
		return "1 thing is open"
	default:
		return fmt.Sprintf("%d things are open", n)
	}
}

// miscounted is the first count of the close line that is not that of the lines
// before it; empty: they agree.
func miscounted(lines []transcriptlog.Line, end map[string]string) string {
	counts := map[string]int{}
	typical := map[string]bool{}
	for _, l := range lines {
		switch l.Kind {
		case "reading":
			counts[l.Fields["verdict"]]++
			if l.Fields["window grade"] == "typical" {
				typical[l.Fields["slot"]] = true
			}
		case "accepted", "not-read":
			counts[l.Kind]++
		}
	}
	counts["typical"] = len(typical)
	for _, what := range []string{"pass", "query", "stop", "accepted", "not-read", "typical"} {
		if says := end[what]; says != strconv.Itoa(counts[what]) {
			return fmt.Sprintf("at the close it counts %.20q of %s, and in its lines are %d", says, what, counts[what])
		}
	}
	return ""
}
