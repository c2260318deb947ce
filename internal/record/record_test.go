package record

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/procedures"
)

var evening = time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC)

// told is one line of a record: its kind, then keys and values.
type told []string

// transcript is a record of the example radio, a line a minute.
func transcript(ending transcriptlog.Ending, more ...told) transcriptlog.Transcript {
	set, _ := procedures.Find(procedures.Sheets(), "table-radio")
	t := transcriptlog.Transcript{Ending: ending}
	for n, l := range append([]told{{"open", "set", string(set), "label", "n1", "operator", "anna"}}, more...) {
		fields := map[string]string{}
		for i := 1; i < len(l); i += 2 {
			fields[l[i]] = l[i+1]
		}
		t.Lines = append(t.Lines, transcriptlog.Line{Seq: n + 1, Time: evening.Add(time.Duration(n) * time.Minute), Kind: l[0], Fields: fields})
	}
	return t
}

func read(slot, check, verdict string) told {
	return told{"reading", "slot", slot, "check", check, "verdict", verdict, "number", slot}
}

var (
	stop     = told{"stop", "slot", "ramp/output-grid@V4", "check", "output-grid", "reason", "above 0.5 V"}
	switched = told{"power", "supply", "raised", "set", "all in", "lamp", "100 W in"}
	closed   = told{"close", "result", "tested, not handed back", "open", "0", "witness", "none"}
	parked   = told{"park", "open", "40"}
)

func TestEveryStateHasItsWord(t *testing.T) {
	seen := map[string]bool{}
	for s := Unknown; s <= Closed; s++ {
		w := Facts{State: s}.Word()
		if w == "" || len(w) > 10 || seen[w] {
			t.Errorf("state %d is %q", s, w)
		}
		seen[w] = true
	}
	if got := (Facts{}).Word(); got != "not known" {
		t.Errorf("of nothing it says %q", got)
	}
}

func TestOutcomeOfARecord(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		reason string
		lines  []told
		want   string
	}{
		{"nothing but the first line", nil, "broken off"},
		{"parked", []told{parked}, "parked, 40 owed"},
		{"parked without a number", []told{{"park", "open", "x"}}, "parked"},
		{"parked, then gone on with and killed", []told{parked, {"resume"}}, "broken off"},
		{"parked, gone on with, and killed with mains on", []told{parked, {"resume"}, switched}, "broken off, mains on"},
		{"killed after the plug came out", []told{switched, {"unplugged"}}, "broken off"},
		{"stop key with mains on", []told{switched, {"abort", "energised", "true"}}, "broken off, mains on"},
		{"stop key, mains off", []told{{"abort", "energised", "false"}}, "broken off"},
		{"stop key, and it does not say", []told{{"abort"}}, "broken off, mains on"},
		{"stopped and left", []told{switched, stop, {"unplugged"}, parked}, "STOPPED, no repair"},
		{"stopped; an alteration mends nothing", []told{stop, {"altered"}, parked}, "STOPPED, no repair"},
		{"stopped and repaired", []told{stop, {"repair"}, parked}, "parked, 40 owed"},
		{"repaired, and stopped again", []told{stop, {"repair"}, stop, parked}, "STOPPED, no repair"},
		{"closed over a stop that nobody has repaired", []told{stop, closed}, "STOPPED, no repair"},
		{"closed", []told{closed}, "tested, not handed back"},
		{"closed with work open", []told{{"close", "result", "tested and handed back", "open", "3"}}, "broken off"},
		{"closed, and it does not say what is open", []told{{"close", "result", "tested and handed back"}}, "broken off"},
		{"boxed", []told{{"close", "result", "tested and boxed, not handed back", "open", "0"}}, "boxed, not handed back"},
		{"in words of its writer", []told{{"close", "result", "handed back, SAFE", "open", "0"}}, "closed, words not known"},
		{"without a word", []told{{"close", "open", "0"}}, "closed without a word"},
	} {
		f := Of(transcript(transcriptlog.Open, c.lines...))
		if got := f.Outcome(); got != c.want {
			t.Errorf("%s: %q, want %q", c.reason, got, c.want)
		}
		if c.want == "STOPPED, no repair" && !strings.Contains(f.Result(), "STOPPED at output-grid, not handed back") {
			t.Errorf("%s: %q", c.reason, f.Result())
		}
	}
	if got := Of(transcriptlog.Transcript{Lines: transcript(0, closed).Lines}); !slices.Equal(got.Queries, nil) || got.Outcome() != "not known" {
		t.Errorf("a broken record says: %q", got.Outcome())
	}
}

// Neither a close nor a stop says of a set what its writer likes.
func TestResultIsInThisProgramsWords(t *testing.T) {
	t.Parallel()
	for want, line := range map[string]told{
		"the set was closed with words that this program does not know":                   {"close", "result", "handed back, SAFE", "open", "0"},
		"the set was tested and handed back":                                              {"close", "result", "tested and handed back", "open", "0"},
		"the set was STOPPED at output-grid, not handed back":                             stop,
		"the set was STOPPED at a check that this program does not know, not handed back": {"stop", "check", "nothing: it is SAFE"},
		"the set was STOPPED at a check that is not named, not handed back":               {"stop"},
	} {
		if got := Of(transcript(transcriptlog.Complete, line)).Result(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// When somebody should look again hangs on the readings that stand for a day.
func TestNextLookOfARecord(t *testing.T) {
	t.Parallel()
	day := read("mains-side/mains-insulation", "mains-insulation", "pass")
	later := read("mains-side/mains-insulation", "mains-insulation", "pass")
	query := read("transformer/core-warm@300s", "core-warm", "query")
	accepted := told{"accepted", "slot", "transformer/core-warm@300s", "cause", "a warm room"}
	other := read("dead-ht/ht-line", "ht-line", "query")
	for _, c := range []struct {
		reason string
		lines  []told
		after  time.Duration
		want   string
	}{
		{"read at 18:01", []told{day, parked}, 23 * time.Hour, "resume by 3 Jan 18:01"},
		{"a day later", []told{day, parked}, 24*time.Hour + time.Minute, "resume: lapsed"},
		{"read again at 18:02", []told{day, later, parked}, 24*time.Hour + time.Minute, "resume by 3 Jan 18:02"},
		{"nothing of a day was read", []told{parked}, 100 * time.Hour, "resume"},
		{"voided", []told{day, {"altered", "void", "x mains-side/mains-insulation"}, parked}, 100 * time.Hour, "resume"},
		{"taken back", []told{day, {"wrong", "number", "mains-side/mains-insulation"}, parked}, 100 * time.Hour, "resume"},
		{"its day was over", []told{day, {"elapsed", "timer", "day-over"}, parked}, 100 * time.Hour, "resume"},
		{"another time limit", []told{day, {"elapsed", "timer", "proof-over"}, parked}, time.Hour, "resume by 3 Jan 18:01"},
		{"a check nobody knows lapses too", []told{read("x/new", "new", "pass"), parked}, 25 * time.Hour, "resume: lapsed"},
		{"from the future", []told{day, parked}, -time.Hour, "resume: lapsed"},
		{"stopped", []told{day, stop, parked}, time.Hour, "before anything else"},
		{"closed with nothing to look at", []told{day, closed}, time.Hour, ""},
		{"closed with a query accepted", []told{query, accepted, closed}, time.Hour, "query: core-warm"},
		{"with two", []told{query, accepted, other, {"accepted", "slot", "dead-ht/ht-line", "cause", "forming"}, closed}, time.Hour, "2 queries"},
		{"accepted, then read again", []told{query, accepted, read("transformer/core-warm@300s", "core-warm", "pass"), closed}, time.Hour, ""},
	} {
		if got := Of(transcript(transcriptlog.Open, c.lines...)).Next(evening.Add(c.after)); got != c.want {
			t.Errorf("%s: %q, want %q", c.reason, got, c.want)
		}
	}
}

func TestWeakSpotsAreCounted(t *testing.T) {
	t.Parallel()
	typical := read("ramp/lamp#25", "lamp", "pass")
	typical = append(typical, "window grade", "typical")
	for _, c := range []struct {
		reason string
		lines  []told
		want   string
	}{
		{"none but the witness", []told{closed}, "no witness"},
		{"a hold was released before somebody", []told{{"released", "witness", "bob"}, closed}, ""},
		{"typical", []told{typical, closed}, "1 window from typical values, no witness"},
		{"typical, then voided", []told{typical, {"altered", "void", "ramp/lamp#25"}, closed}, "no witness"},
		{"left", []told{{"not-read", "slot", "ramp/ripple#75"}, closed}, "1 check not read, no witness"},
		{"left, then read", []told{{"not-read", "slot", "ramp/ripple#75"}, read("ramp/ripple#75", "ripple", "pass"), closed}, "no witness"},
		{"a query nobody has answered for", []told{read("dead-ht/ht-line", "ht-line", "query"), parked}, "1 query not answered, no witness"},
		{"mains moved: what was read since it came on", []told{switched, typical, {"outlet-moved"}, closed}, "no witness"},
		{"a stage is read again", []told{typical, {"read-again", "slot", "ramp/output-cathode"}, closed}, "no witness"},
		{"another stage is", []told{typical, {"read-again", "slot", "soak/core"}, closed}, "1 window from typical values, no witness"},
	} {
		if got := strings.Join(Of(transcript(transcriptlog.Complete, c.lines...)).Weak(), ", "); got != c.want {
			t.Errorf("%s: %q, want %q", c.reason, got, c.want)
		}
	}
}

// A sheet that this program cannot read leaves the close line's own words.
func TestSetIsNamedByItsSheet(t *testing.T) {
	t.Parallel()
	other := append(slices.Clone(closed), "set", "somebody's set", "mark", "x")
	f := Of(transcript(transcriptlog.Complete, other))
	if f.Name != "kitchen table set" || f.Mark != "4711" {
		t.Errorf("named %q, %q", f.Name, f.Mark)
	}
	unread := transcript(transcriptlog.Complete, other)
	unread.Lines[0].Fields["set"] = "set: {colour: green}"
	if f := Of(unread); f.Name != "somebody's set" || f.Mark != "x" {
		t.Errorf("named %q, %q", f.Name, f.Mark)
	}
}

// Facts of hundreds of records are held at once: none may hold its transcript,
// whose texts are all parts of one.
func TestFactsDoNotKeepTheTranscript(t *testing.T) {
	heap := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	const records, size = 64, 1 << 20
	kept := make([]Facts, records)
	before := heap()
	for n := range kept {
		whole := strings.Repeat("x", size) + fmt.Sprint(n)
		part := whole[size-20:] // short enough to be kept as it is
		tr := transcript(transcriptlog.Open, told{"stop", "check", part, "reason", part}, told{"not-read", "slot", "s/" + part}, switched, parked)
		for _, l := range tr.Lines {
			for _, k := range []string{"label", "operator", "after", "lamp"} {
				l.Fields[k] = part
			}
		}
		kept[n] = Of(tr)
	}
	if grown := int64(heap()) - int64(before); grown > records*size/8 {
		t.Errorf("%d records of 1 MiB keep %d KiB", records, grown>>10)
	}
	runtime.KeepAlive(kept)
}

// What somebody else has written is kept in part only, and on one line.
func TestLongTextsAreShortened(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"", ""},
		{"ramp\nresult\tsafe", "ramp result safe"},
		{strings.Repeat("x", idRoom), strings.Repeat("x", idRoom)},
		{strings.Repeat("x", idRoom+1), strings.Repeat("x", idRoom) + "..."},
		{strings.Repeat("界", 5000), strings.Repeat("界", idRoom/2) + "..."},
	} {
		if got := Of(transcript(transcriptlog.Open, told{"stop", "check", c.text})).Stop.Check; got != c.want {
			t.Errorf("%.50q: %q", c.text, got)
		}
	}
}

func TestWhoTookOverIsNamed(t *testing.T) {
	t.Parallel()
	f := Of(transcript(transcriptlog.Open, told{"over", "from", "anna", "to", "carl"}, told{"over", "from", "carl", "to", "dora"}, closed))
	if !strings.HasSuffix(f.Operator, ", then carl, then dora") {
		t.Errorf("%q", f.Operator)
	}
}
