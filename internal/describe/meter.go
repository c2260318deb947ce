package describe

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
)

// Meter asks for a meter sheet, as its booklet gives it.
var Meter = &Form{
	Key: "meter",
	Head: "A meter sheet: what one instrument can show, and how wrong it may be, from its\n" +
		"own booklet.",
	Lines: append(meterLines, functionLines()...),
	load: func(text []byte) spec.Errors {
		_, errs := spec.DraftMeter(text)
		return errs
	},
	given: givenOfMeter,
	write: writeMeter,
}

var yesNo = map[string]string{"yes": "true", "no": "false"}

var meterLines = []Line{
	{
		Title: "What you call it; digital, moving-coil or insulation-tester",
		Like:  "yellow meter, digital",
		Where: "Any name that tells it from your others. A moving coil has a pointer.",
		groups: []group{
			one(field{name: "name", path: "name", rest: true, comment: "What it is called here."}),
			one(field{name: "kind", path: "kind", comment: "digital, moving-coil or insulation-tester."}),
		},
	},
	{
		Title: "Input resistance on volts",
		Like:  "10M, or 20k/V for a moving coil",
		Where: "In the booklet under input impedance; nearly every digital meter has 10 MΩ. On a moving coil it stands on the dial.",
		when:  measuresVolts,
		groups: []group{{tidy: perVolt, forms: []form{
			{fields: []field{{name: "input", path: "input", kind: unit.KindOhm, comment: "Input resistance on volts."}}},
			{fields: []field{{name: "ohms per volt", path: "ohms-per-volt", kind: unit.KindOhmPerVolt, comment: "As on the dial."}}},
		}}},
	},
	{
		Title: "Category beside the sockets, or none; the most that meter and leads stand",
		Like:  "CAT III 600 V, 600 V",
		Where: "Beside the sockets, and on the leads: the lower of the two counts. At mains points CAT II is the least.",
		groups: []group{
			one(field{name: "category", path: "category", rest: true, comment: "As marked beside the sockets, or none."}),
			one(field{name: "the most it stands", path: "max-volts", kind: unit.KindVolt, comment: "What meter and leads stand."}),
		},
	},
	{
		Title: "Does it find its range itself? Is it true r.m.s.?",
		Like:  "yes, no",
		Where: "One that finds its range shows OL above its highest only; with a range that is set by hand OL says less. True r.m.s. stands on its front.",
		groups: []group{
			one(field{name: "finds its range", path: "auto-range", words: yesNo, count: true, comment: "Does it find its range itself?"}),
			one(field{name: "true r.m.s.", path: "true-rms", words: yesNo, count: true, comment: "Is it true r.m.s.?"}),
		},
	},
}

func kindIn(given map[string][]string, kinds ...sheet.MeterKind) bool {
	k := given["kind"]
	return len(k) == 1 && slices.Contains(kinds, sheet.MeterKind(k[0]))
}

func measuresVolts(given map[string][]string) bool {
	return kindIn(given, sheet.Digital, sheet.MovingCoil)
}

// functionLine is one function that is asked for, at test volts where it is of a
// tester.
type functionLine struct {
	sheet.Function
	test        unit.Volt
	title, like string
}

var functions = []functionLine{
	{Function: sheet.DCVolts, title: "Volts d.c.", like: "0.5 % 2, 600.0m 6.000 60.00 600.0"},
	{Function: sheet.ACVolts, title: "Volts a.c.", like: "1.2 % 3, 6.000 60.00 600.0"},
	{Function: sheet.OhmsF, title: "Ohms", like: "0.5 % 2, 600.0 6.000k 60.00k 600.0k 6.000M 60.00M, yes"},
	{Function: sheet.ACAmps, title: "Amperes a.c.", like: "1.5 % 3, 600.0m 6.000 10.00"},
	{Function: sheet.Capacitance, title: "Capacitance", like: "2 % 5, 10.00n 100.0n 1.000u 10.00u 100.0u"},
	{Function: sheet.Thermo, title: "Temperature", like: "2 % 10, 400.0"},
	{Function: sheet.Wattage, title: "Watts", like: "1 % 5, 100.0 1000"},
	{Function: sheet.Insulation, test: 250, title: "Insulation at 250 V", like: "5 %, 5.000M 50.00M 500.0M 5.000G, , 3m"},
	{Function: sheet.Insulation, test: 500, title: "Insulation at 500 V", like: "5 %, 5.000M 50.00M 500.0M 5.000G, , 1m"},
	{Function: sheet.Leakage, test: 250, title: "Current at 250 V", like: "5 %, 300.0u 3.000m, , 3m"},
	{Function: sheet.Bond, title: "Earth bond", like: "1 % 3, 2.000 20.00, yes, 200m"},
}

// path is where answers about the function stand; the file has a list instead.
func (f functionLine) path(part string) string {
	return fmt.Sprintf("functions.%s%s.%s", f.Function, strings.TrimSuffix(f.test.String(), " V"), part)
}

func (f functionLine) tester() bool {
	return f.Function == sheet.Insulation || f.Function == sheet.Leakage || f.Function == sheet.Bond
}

func functionLines() []Line {
	var out []Line
	for _, f := range functions {
		groups := []group{
			one(
				field{name: "error", path: f.path("percent"), kind: unit.KindPercent},
				field{name: "and digits", path: f.path("digits"), count: true},
			),
			one(field{name: "ranges", path: f.path("ranges"), ranges: f.Kind(), kind: f.Kind()}),
			one(field{name: "leads nulled", path: f.path("null"), words: yesNo, count: true}),
		}
		title := f.title + ": error, ranges as printed"
		switch {
		case f.tester():
			title += ", are leads nulled, the current it still drives"
			groups = append(groups, one(field{name: "drives", path: f.path("min-current"), kind: unit.KindAmpere}))
		case f.Function == sheet.OhmsF:
			title += ", can the ohms of the leads be taken off"
		default:
			groups = groups[:2]
		}
		out = append(out, Line{
			Title: title, Like: f.like, groups: groups,
			Where: "In the booklet under accuracy, as ±(0.5 % + 2 digits): type 0.5 % 2. Ranges as they are printed, 600.0 for 600 V that counts tenths, or 600/0.1. A moving coil has per cent of full scale and no digits: 2.5 %, 10 30 100 300. - for what it does not measure.",
			when: func(given map[string][]string) bool {
				return f.tester() && kindIn(given, sheet.Tester) || !f.tester() && measuresVolts(given)
			},
		})
	}
	return out
}

// spanOf finds the span of a function that is asked for.
func (f functionLine) spanOf(m *sheet.Meter) (sheet.Span, bool) {
	if f.test > 0 {
		return m.SpanAt(f.Function, f.test)
	}
	return m.Span(f.Function)
}

// givenOfMeter is what a meter sheet gives, its functions by the paths of the
// lines.
func givenOfMeter(text []byte) map[string][]string {
	given := spec.Given(text, "meter")
	m, _ := spec.DraftMeter(text)
	if m == nil {
		return given
	}
	for _, f := range functions {
		s, ok := f.spanOf(m)
		if !ok {
			continue
		}
		given[f.path("percent")] = []string{s.Percent.String()}
		if s.Digits > 0 {
			given[f.path("digits")] = []string{strconv.Itoa(s.Digits)}
		}
		for _, r := range s.Ranges {
			given[f.path("ranges")] = append(given[f.path("ranges")], printed(r))
		}
		given[f.path("null")] = []string{map[bool]string{true: "yes", false: "no"}[s.Null]}
		if s.MinCurrent != nil {
			given[f.path("min-current")] = []string{s.MinCurrent.String()}
		}
	}
	return given
}

// printed is a range as an answer has it.
func printed(r sheet.Range) string {
	top := strings.ReplaceAll(r.TopText, " ", "")
	if r.DigitText == "" {
		return top
	}
	return top + "/" + strings.ReplaceAll(r.DigitText, " ", "")
}

// writeMeter writes plain fields as they are, and all functions anew where one of
// them was answered.
func writeMeter(text []byte, puts []Put) []spec.Put {
	var out []spec.Put
	changed := map[string]string{}
	for _, p := range puts {
		if strings.HasPrefix(p.Path, "functions.") {
			changed[p.Path] = p.Value
			continue
		}
		out = append(out, spec.Put{Path: p.Path, Value: p.Value, Comment: commentOf(meterLines, p.Path)})
	}
	if len(changed) == 0 {
		return out
	}
	return append(out, spec.Put{Path: "functions", Value: spans(text, changed), Comment: "What it measures, with its limits of error."})
}

// spans are all functions of the file with what was changed of one; those that are
// not asked for stay.
func spans(text []byte, changed map[string]string) string {
	m, _ := spec.DraftMeter(text)
	if m == nil {
		m = &sheet.Meter{}
	}
	var all []string
	asked := map[string]bool{}
	for _, f := range functions {
		s, _ := f.spanOf(m)
		asked[spanID(f.Function, s.Test)] = true
		if one := f.written(s, changed); one != "" {
			all = append(all, one)
		}
	}
	for _, s := range m.Functions {
		if !asked[spanID(s.Function, s.Test)] {
			all = append(all, functionLine{Function: s.Function}.written(s, nil))
		}
	}
	list := "[" + strings.Join(all, ", ") + "]"
	if m.Kind == sheet.MovingCoil {
		return step.ReplaceAllString(list, "") // 2.5 on a dial says nothing of steps
	}
	return list
}

var step = regexp.MustCompile(`, digit: [^}]*`)

func spanID(f sheet.Function, test *unit.Volt) string {
	if test == nil {
		return string(f)
	}
	return string(f) + test.String()
}

// written is one function as YAML; empty where the meter has none.
func (f functionLine) written(s sheet.Span, changed map[string]string) string {
	part := func(name, was string) string {
		if value, ok := changed[f.path(name)]; ok {
			return value
		}
		return was
	}
	var was []string
	for _, r := range s.Ranges {
		digit := ""
		if r.DigitText != "" {
			digit = ", digit: " + r.DigitText
		}
		was = append(was, "{top: "+r.TopText+digit+"}")
	}
	ranges := part("ranges", strings.Join(was, ", "))
	if ranges == "" {
		return ""
	}
	out := "{function: " + string(f.Function)
	for _, x := range []struct{ key, value, nothing string }{
		{"percent", part("percent", s.Percent.String()), "0 %"},
		{"digits", part("digits", strconv.Itoa(s.Digits)), "0"},
		{"null", part("null", strconv.FormatBool(s.Null)), "false"},
		{"test-volts", f.volts(s), ""},
		{"min-current", part("min-current", current(s)), ""},
	} {
		if x.value != x.nothing && x.value != "" {
			out += ", " + x.key + ": " + x.value
		}
	}
	return out + ", ranges: [" + strings.Trim(ranges, "[]") + "]}"
}

func (f functionLine) volts(s sheet.Span) string {
	switch {
	case f.test > 0:
		return f.test.String()
	case s.Test != nil:
		return s.Test.String()
	}
	return ""
}

func current(s sheet.Span) string {
	if s.MinCurrent == nil {
		return ""
	}
	return s.MinCurrent.String()
}

func commentOf(lines []Line, path string) string {
	for i := range lines {
		if c := lines[i].comment(path); c != "" {
			return c
		}
	}
	return ""
}
