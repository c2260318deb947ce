package transcriptlog

import (
	"fmt"
	"maps"
	"strings"
	"testing"
)

// judged is a reading of 7 V, give or take 0.1 V, in a window that passes from 5
// to 10 V and stops outside 2 to 20 V on a dangerous side. A vector changes some
// of it: a value "-" takes the field out.
func judged(changes ...string) Record {
	f := map[string]string{
		"class": "G", "rule": "1", "say": "7", "slot": "ramp/ht", "verdict": "pass",
		"shown censored": "false", "shown hi": "7.1", "shown lo": "6.9", "shown u": "0.1", "shown x": "7",
		"window danger": "both", "window grade": "sheet", "window kind": "volts", "window shown": "false",
		"window pass-hi": "10", "window pass-lo": "5", "window query-hi": "20", "window query-lo": "2",
	}
	for i := 0; i < len(changes); i += 2 {
		if f[changes[i]] = changes[i+1]; changes[i+1] == "-" {
			delete(f, changes[i])
		}
	}
	return Record{Kind: "reading", Fields: f}
}

// at is a number with 0.1 V on either side.
func at(tenths int) []string {
	show := func(n int) string { return strings.TrimSuffix(fmt.Sprintf("%d.%d", n/10, n%10), ".0") }
	return []string{"shown x", show(tenths), "shown lo", show(tenths - 1), "shown hi", show(tenths + 1)}
}

// atLeast and atMost are readings that show no number.
func atLeast(x string) []string {
	return []string{"shown x", x, "shown lo", x, "shown hi", "-", "shown censored", "true"}
}

func atMost(x string) []string {
	return []string{"shown x", x, "shown hi", x, "shown lo", "-", "shown censored", "true"}
}

// ruled are readings with the verdict of rule 1 in FORMAT.md, worked out by hand
// from the intervals above.
var ruled = []struct {
	name, verdict, promise string
	changes                [][]string
}{
	{"inside", "pass", "all of the reading is inside", nil},
	{"at-low-line", "pass", "the reading's low end is the line", [][]string{at(51)}},
	{"at-high-line", "pass", "the reading's high end is the line", [][]string{at(99)}},
	{"low-end-outside", "query", "5 V is inside, its low end is not", [][]string{at(50)}},
	{"high-end-outside", "query", "10 V is inside, its high end is not", [][]string{at(100)}},
	{"between-lines", "query", "outside pass, inside query", [][]string{at(120)}},
	{"at-stop-line", "query", "the high end is the stop line, not beyond it", [][]string{at(199)}},
	{"end-beyond-stop-line", "stop", "20 V is not beyond, its high end is", [][]string{at(200)}},
	{"beyond-high", "stop", "beyond the stop line, and danger is high", [][]string{at(210), {"window danger", "high"}}},
	{"beyond-low", "stop", "beyond the stop line, and danger is low", [][]string{at(15), {"window danger", "low"}}},
	{"beyond-both-high", "stop", "danger lies on both sides: high", [][]string{at(210)}},
	{"beyond-both-low", "stop", "danger lies on both sides: low", [][]string{at(15)}},
	{"beyond-high-not-dangerous", "query", "too high, and danger is low", [][]string{at(210), {"window danger", "low"}}},
	{"beyond-low-not-dangerous", "query", "too low, and danger is high", [][]string{at(15), {"window danger", "high"}}},
	{"beyond-neither", "query", "no side is dangerous", [][]string{at(210), {"window danger", "neither"}}},
	{"absolute", "stop", "beyond the absolute line, whatever the danger side", [][]string{at(310), {"window danger", "neither", "window stop-hi", "30"}}},
	{"absolute-low", "stop", "below the absolute line", [][]string{at(5), {"window danger", "neither", "window stop-lo", "1"}}},
	{"typical", "query", "a typical figure does not stop", [][]string{at(210), {"window grade", "typical"}}},
	{"typical-absolute", "stop", "a typical figure stops at the absolute line", [][]string{at(310), {"window grade", "typical", "window stop-hi", "30"}}},
	{"class-e", "pass", "class E judges the number itself", [][]string{at(50), {"class", "E"}}},
	{"class-e-at-stop-line", "query", "class E: 20 V itself is not beyond", [][]string{at(200), {"class", "E"}}},
	{"class-e-beyond", "stop", "class E stops too", [][]string{at(201), {"class", "E"}}},
	{"class-s", "query", "class S is judged as class G", [][]string{at(50), {"class", "S"}}},
	{"class-unknown", "query", "a class that is not known is judged as class S", [][]string{at(50), {"class", "X"}}},
	{"raised-already", "pass", "limits that are raised for the instrument judge the number itself", [][]string{at(50), {"window shown", "true", "class", "S"}}},
	{"open-above", "pass", "a window that is open above", [][]string{at(210), {"window pass-hi", "-", "window query-hi", "-"}}},
	{"open-below", "pass", "a window that is open below", [][]string{at(5), {"window pass-lo", "-", "window query-lo", "-"}}},
	{"at-least-inside", "pass", "no number, and all it can be is inside", [][]string{atLeast("8"), {"window pass-hi", "-", "window query-hi", "-"}}},
	{"at-least-moved-out", "query", "its end is moved out by the meter's error", [][]string{atLeast("5"), {"window pass-hi", "-", "window query-hi", "-"}}},
	{"at-least-class-e", "pass", "class E: its end is not moved", [][]string{atLeast("5"), {"window pass-hi", "-", "window query-hi", "-", "class", "E"}}},
	{"at-least-perhaps", "query", "it may be inside or far beyond", [][]string{atLeast("8")}},
	{"at-least-beyond", "stop", "all it can be is beyond", [][]string{atLeast("21")}},
	{"at-most-inside", "pass", "no number, and all it can be is inside", [][]string{atMost("8"), {"window pass-lo", "-", "window query-lo", "-"}}},
	{"at-most-perhaps", "query", "it may be inside or far below", [][]string{atMost("8")}},
	{"at-most-beyond", "stop", "all it can be is below", [][]string{atMost("1")}},
}

// foul are readings that no verdict of the record can save.
var foul = []struct {
	name, reason, promise string
	changes               []string
}{
	{"rule-2", "judged by rules 2, and this program knows 1: use a later powerup", "a later rule", []string{"rule", "2"}},
	{"rule-spelling", `judged by rules "01", which no powerup has: this program knows 1`, "a rule has one spelling", []string{"rule", "01"}},
	{"window-no-kind", "no window: kind is missing", "no kind of quantity", []string{"window kind", "-"}},
	{"window-kind", `no window: kind: "furlongs" is none of ["nothing" "volts" "ohms" "amps" "farads" "watts" "degrees Celsius" "seconds" "per cent" "metres" "square millimetres" "hertz" "ohms per volt" "volt-amperes" "plain numbers"]`, "a kind that is none", []string{"window kind", "furlongs"}},
	{"window-no-danger", "no window: danger is missing", "no side of danger", []string{"window danger", "-"}},
	{"window-no-grade", "no window: grade is missing", "no grade", []string{"window grade", "-"}},
	{"window-no-shown", "no window: shown is missing", "not said whether it is raised", []string{"window shown", "-"}},
	{"window-side", `no window: danger: "up" is none of ["both" "low" "high" "neither"]`, "a side that is none", []string{"window danger", "up"}},
	{"window-grade", `no window: grade: "guess" is none of ["typical" "sheet"]`, "a grade that is none", []string{"window grade", "guess"}},
	{"window-truth", `no window: shown: "yes" is none of ["false" "true"]`, "a truth that is none", []string{"window shown", "yes"}},
	{"window-part", "no window: width: no such part of a window", "a part that windows do not have", []string{"window width", "3"}},
	{"window-exponent", `no window: pass-hi: "1e1" is not a plain decimal number`, "an exponent", []string{"window pass-hi", "1e1"}},
	{"window-nan", `no window: pass-hi: "NaN" is not a plain decimal number`, "not a number", []string{"window pass-hi", "NaN"}},
	{"window-infinite", `no window: pass-hi: "Inf" is not a plain decimal number`, "an open end is left out, not named", []string{"window pass-hi", "Inf"}},
	{"window-zeros", `no window: pass-hi: "10.0" is not a plain decimal number`, "a zero at the end", []string{"window pass-hi", "10.0"}},
	{"window-digits", "no window: pass-hi: 9.9999999 has more digits than a line keeps", "more than six digits", []string{"window pass-hi", "9.9999999"}},
	{"window-inside-out", "no window: pass [5, 4], query [2, 20], absolute [-Inf, +Inf]: an interval holds nothing", "an interval that holds nothing", []string{"window pass-hi", "4"}},
	{"window-pass-wider", "no window: pass [5, 30] is not inside query [2, 20]", "what passes would stop", []string{"window pass-hi", "30"}},
	{"shown-no-number", "map[censored:false hi:7.1 lo:6.9 u:0.1] is no reading", "no number", []string{"shown x", "-"}},
	{"shown-no-error", "map[censored:false hi:7.1 lo:6.9 x:7] is no reading", "the meter's error is not said", []string{"shown u", "-"}},
	{"shown-error-below-zero", "map[censored:false hi:7.1 lo:6.9 u:-0.1 x:7] is no reading", "an error below zero", []string{"shown u", "-0.1"}},
	{"shown-outside-itself", "map[censored:false hi:7.1 lo:6.9 u:0.1 x:8] is no reading", "the number lies outside its own ends", []string{"shown x", "8"}},
	{"shown-open-end", "map[censored:false hi:7.1 u:0.1 x:7] is no reading", "a number with an open end", []string{"shown lo", "-"}},
	{"shown-sign", `x: "+7" is not a plain decimal number`, "a sign", []string{"shown x", "+7"}},
	{"shown-long", `x: "7.00000000000000001" is not the shortest spelling of its number`, "more digits than the number has", []string{"shown x", "7.00000000000000001"}},
	{"shown-part", "about: no such part of a reading", "a part that readings do not have", []string{"shown about", "7"}},
	{"shown-censored", `censored: "no" is neither true nor false`, "neither true nor false", []string{"shown censored", "no"}},
}

// verdictVectors are whole signed records whose readings are judged again.
func verdictVectors(t testing.TB) (all []vector) {
	t.Helper()
	closed := "tested, not handed back"
	add := func(name, reason, promise string, readings ...Record) {
		recs := append([]Record{{Kind: "open", Fields: map[string]string{"format": Format}}}, readings...)
		body := encode(t, false, append(recs, Record{Kind: KindClose, Fields: map[string]string{"open": "0", "result": closed}})...)
		v := vector{Name: "verdict/" + name, Ending: "COMPLETE", Chain: "good", Result: "accepted", Signer: "j.smith", Promise: promise, body: body}
		if reason != "" {
			v.Result, v.Reason = "misjudged", "not judged as the rule says: "+reason
		}
		v.sig = sign(t, testKey(t, 1), NamespaceReal, body)
		all = append(all, v)
	}
	const line2 = "line 2: ramp/ht: "
	says := func(record, rule string) string {
		return line2 + fmt.Sprintf("the record says %s, and the rule says %s", record, rule)
	}
	for _, r := range ruled {
		changes := []string{"verdict", r.verdict}
		for _, c := range r.changes {
			changes = append(changes, c...)
		}
		add(r.name+"-"+r.verdict, "", r.promise, judged(changes...))
		if r.verdict != "pass" { // whatever made it no pass, it is no pass
			add(r.name+"-said-pass", says("pass", r.verdict), "said to pass, but: "+r.promise, judged(append(changes, "verdict", "pass")...))
		}
	}
	beyond := append(at(210), "verdict", "query")
	add("stop-said-query", says("query", "stop"), "a stop that was softened", judged(beyond...))
	add("pass-said-query", says("query", "pass"), "a pass that was made worse is not the rule's verdict either", judged("verdict", "query"))
	add("pass-said-stop", says("stop", "pass"), "a stop without cause", judged("verdict", "stop"))
	add("second-query-stops", "", "the second query on one path is a stop", judged(append(at(120), "verdict", "stop")...))
	add("verdict-missing", says("", "pass"), "no verdict", judged("verdict", "-"))
	add("verdict-unknown", says("fine", "pass"), "a verdict that is none", judged("verdict", "fine"))
	const noRule = line2 + "it has a window or a number to be judged by, and no rule"
	add("no-rule", noRule, "a rule that was taken out, and a number beyond its window left", judged("rule", "-", "verdict", "pass", "shown x", "99"))
	add("no-rule-window", noRule, "a rule that was taken out with the number", Record{Kind: "reading", Fields: map[string]string{"slot": "ramp/ht", "verdict": "pass", "window kind": "volts"}})
	add("no-rule-number", noRule, "a rule that was taken out with the window", Record{Kind: "reading", Fields: map[string]string{"slot": "ramp/ht", "verdict": "pass", "shown x": "99"}})
	add("no-number", "", "a word has no rule, no window and no number, and is not judged again", Record{Kind: "reading", Fields: map[string]string{"slot": "ramp/ht", "verdict": "pass", "say": "y"}})
	other := judged("verdict", "query")
	other.Kind = "second"
	add("not-a-reading", "", "only lines of kind reading are judged", other)
	add("first-of-two", "line 3: ramp/ht: the record says query, and the rule says pass", "the first reading that is not judged by the rule is named",
		judged(), judged("verdict", "query"), judged("verdict", "stop"))
	moved := maps.Clone(judged(append(at(210), "window pass-hi", "25", "window query-hi", "40")...).Fields)
	add("window-edited-with-verdict", "", "a window that was widened with its verdict follows the rule: only judging from the first line on shows it",
		Record{Kind: "reading", Fields: moved})
	for _, f := range foul {
		add(f.name, line2+f.reason, f.promise, judged(f.changes...))
	}
	for _, words := range []string{"tested and boxed, not handed back", "tested and handed back"} {
		closed = words
		add("result-"+strings.NewReplacer(" ", "-", ",", "").Replace(words), "", "a result that is one", judged())
	}
	closed = "handed back, SAFE, accepted and signed by j.smith"
	add("strange-result", "", "words at the close that are no result", judged())
	last := &all[len(all)-1]
	last.Result, last.Reason = "strange result", "it was closed with words that this program does not know"
	return all
}
