package checks_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

const (
	stop, query, pass = engine.Stop, engine.Query, engine.Pass
	s, g, e           = engine.S, engine.G, engine.E
)

var inf = math.Inf(1)

// onSheet is a window of sheet grade.
func onSheet(t testing.TB, k unit.Kind, p, q checks.Interval, danger limits.Side) checks.Window {
	t.Helper()
	w, err := checks.NewWindow(k, p, q, danger)
	if err != nil {
		t.Fatal(err)
	}
	w.Grade = checks.Sheet
	return w
}

func instrument(f sheet.Function, percent unit.Percent, digits int, top, digit float64) *sheet.Meter {
	return &sheet.Meter{AutoRange: true, Name: "meter", Kind: sheet.Digital, Functions: []sheet.Span{{
		Function: f, Percent: percent, Digits: digits,
		Ranges: []sheet.Range{{Top: unit.Quantity{Kind: f.Kind(), Value: top}, Digit: unit.Quantity{Kind: f.Kind(), Value: digit}}},
	}}}
}

// shown is what the meter shows for the text typed.
func shown(t testing.TB, m *sheet.Meter, typed string) meter.Shown {
	t.Helper()
	f := m.Functions[0].Function
	entry, err := unit.ParseEntry(f.Kind(), typed)
	if err != nil {
		t.Fatal(err)
	}
	out, err := meter.Classify(m, f, entry)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// The HT line of the table radio to chassis, 1.2 kΩ + 220 kΩ of path: pass 0.7
// to 1.3 of it, stop under 0.5 of it (common practice, no source). Ohms of
// 0.5 % + 2 digits of 100 Ω: U 1.5 kΩ at 221 kΩ, 0.87 kΩ at 110 kΩ (computed).
func TestHTLine(t *testing.T) {
	w := onSheet(t, unit.KindOhm, checks.Interval{Lo: 154.84e3, Hi: 287.56e3}, checks.Interval{Lo: 110.6e3, Hi: inf}, limits.Low)
	m := instrument(sheet.OhmsF, 0.5, 2, 600e3, 100)
	for _, c := range []struct {
		what, typed string
		want        engine.Verdict
		reason      string
	}{
		{"as it should be", "221k", pass, "inside 154.8 kΩ to 287.6 kΩ with the meter's error taken off"},
		{"a leak of 12 kΩ", "11.4k", stop, "below 110.6 kΩ: beyond the stop line"},
		{"a leak of 50 kΩ", "40.8k", stop, ""},
		{"just under the stop line", "110.5k", stop, ""},
		{"above it, but the meter may be wrong by more", "111.4k", stop, "within the meter's error of 870 Ω of 110.6 kΩ: it may be beyond the stop line"},
		{"clear of it", "111.6k", query, "below 154.8 kΩ: under the pass line"},
		{"inside, but within the meter's error of the line", "155k", query, ""},
		{"clear of the pass line", "156.5k", pass, ""},
		{"the high side has no danger", "400k", query, "above 287.6 kΩ: over the pass line"},
		{"nor has an open bleeder", "OL", query, "above 600 kΩ: it may be inside or outside 154.8 kΩ to 287.6 kΩ"},
		{"a censored reading that can only be a short", "<1k", stop, "below 110.6 kΩ: beyond the stop line"},
		{"one that can be anything from good to a query", ">100k", query, ""},
	} {
		for _, crit := range []engine.Crit{s, g} {
			got := w.Judge(shown(t, m, c.typed), crit)
			if got.Verdict != c.want || c.reason != "" && got.Reason != c.reason {
				t.Errorf("%s: %s is %v (%s), want %v (%s)", c.what, c.typed, got.Verdict, got.Reason, c.want, c.reason)
			}
		}
	}
}

// A coupling capacitor on a tester of ± 30 %, 224 V of rail and 470 kΩ: 1.5 GΩ
// shown passes, under 300 MΩ shown stops (computed). The limits are raised for
// the tester already, so the value itself is judged.
func TestCouplingCapacitor(t *testing.T) {
	w := onSheet(t, unit.KindOhm, checks.Interval{Lo: 1.5e9, Hi: inf}, checks.Interval{Lo: 300e6, Hi: inf}, limits.Low)
	w.Shown = true
	multimeter := instrument(sheet.OhmsF, 0.5, 2, 60e6, 10e3)
	tester := instrument(sheet.Insulation, 30, 0, 5e9, 1e6)
	for _, c := range []struct {
		what  string
		m     *sheet.Meter
		typed string
		want  engine.Verdict
	}{
		{"OL of a multimeter proves 60 MΩ and no more", multimeter, "OL", query},
		{"a leak of 20 MΩ", multimeter, "20M", stop},
		{"OL of a tester that ends at 5 GΩ", tester, "OL", pass},
		{"the pass line itself", tester, "1.5G", pass},
		{"short of it", tester, "1499M", query},
		{"the stop line itself", tester, "300M", query},
		{"short of it", tester, "299M", stop},
		{"more than the pass line, by the tester's word", tester, ">1.5G", pass},
		{"more than the stop line", tester, ">300M", query},
		{"less than the stop line", tester, "<100M", stop},
		{"less than something good", tester, "<2G", query},
	} {
		if got := w.Judge(shown(t, c.m, c.typed), s); got.Verdict != c.want {
			t.Errorf("%s: %s is %v (%s), want %v", c.what, c.typed, got.Verdict, got.Reason, c.want)
		}
	}
	// With a limit that is not raised the tester's own error counts: 5 GΩ less its
	// ± 30 % does not clear 4 GΩ.
	w = onSheet(t, unit.KindOhm, checks.Interval{Lo: 4e9, Hi: inf}, checks.Interval{Lo: 300e6, Hi: inf}, limits.Low)
	if got := w.Judge(shown(t, tester, "OL"), s); got.Verdict != query {
		t.Errorf("OL at 5 GΩ ± 30 %% against 4 GΩ: %v (%s)", got.Verdict, got.Reason)
	}
	if got := w.Judge(shown(t, tester, "OL"), e); got.Verdict != pass {
		t.Errorf("class E judges what is shown: %v (%s)", got.Verdict, got.Reason)
	}
}

// Earth bond, meter 1 % + 3 digits of 0.01 Ω. The query interval of a single
// limit ends U beyond it. Limit 0.30 Ω up to 5 m of flex (VDE 0701-0702), 0.152 Ω
// by 0.1 Ω + the lead's own ohms (older IET practice). Figures computed.
func TestEarthBond(t *testing.T) {
	m := instrument(sheet.Bond, 1, 3, 2, 0.01)
	at := func(limit float64) checks.Window {
		u, _, err := meter.Uncertainty(m, sheet.Bond, limit)
		if err != nil {
			t.Fatal(err)
		}
		return onSheet(t, unit.KindOhm, checks.Interval{Lo: math.Inf(-1), Hi: limit}, checks.Interval{Lo: math.Inf(-1), Hi: limit + u}, limits.High)
	}
	for _, c := range []struct {
		limit float64
		typed string
		want  engine.Verdict
	}{
		{0.30, "0.25", pass}, // U 0.038: 0.288
		{0.30, "0.262", pass},
		{0.30, "0.263", query},
		{0.30, "0.27", query},
		{0.30, "0.31", stop},
		{0.152, "0.116", pass},
		{0.152, "0.117", query},
		{0.152, "0.16", stop},
		{0.30, "OL", stop},
		{0.30, "<0.1", pass},
	} {
		if got := at(c.limit).Judge(shown(t, m, c.typed), s); got.Verdict != c.want {
			t.Errorf("%s of %v Ω: %v (%s), want %v", c.typed, c.limit, got.Verdict, got.Reason, c.want)
		}
	}
}

// The chance of passing what is beyond the limit, for a reading at the very edge
// of PASS and a normal error of U/2: under 2.5 % with the guard, 50 % without
// (ILAC-G8:09/2019, table 1; the figures computed here).
func TestFalseAcceptance(t *testing.T) {
	m := instrument(sheet.DCVolts, 0.8, 2, 600, 0.1)
	w := onSheet(t, unit.KindVolt, checks.Interval{Lo: math.Inf(-1), Hi: 250}, checks.Interval{Lo: math.Inf(-1), Hi: 300}, limits.High)
	edge := func(c engine.Crit) float64 {
		lo, hi := 200.0, 260.0
		for range 60 {
			x := (lo + hi) / 2
			sh, err := meter.Classify(m, sheet.DCVolts, unit.Entry{Form: unit.Exact, Value: x})
			if err != nil {
				t.Fatal(err)
			}
			if w.Judge(sh, c).Verdict == pass {
				lo = x
			} else {
				hi = x
			}
		}
		return lo
	}
	risk := func(x float64) float64 {
		u, _, err := meter.Uncertainty(m, sheet.DCVolts, x)
		if err != nil {
			t.Fatal(err)
		}
		return 0.5 * math.Erfc((250-x)/(u/2)/math.Sqrt2)
	}
	for _, c := range []engine.Crit{s, g} {
		if got := risk(edge(c)); !(got < 0.025 && got > 0.02) {
			t.Errorf("class %v: %.2f %% of readings at the edge are beyond the limit, want under 2.5", c, got*100)
		}
	}
	if got := risk(edge(e)); !(math.Abs(got-0.5) < 0.001) {
		t.Errorf("class E: %.2f %%, want 50", got*100)
	}
}

func TestClassEJudgesTheNumberItself(t *testing.T) {
	w := onSheet(t, unit.KindVolt, checks.Interval{Lo: 5, Hi: 10}, checks.Interval{Lo: 2, Hi: 20}, limits.Both)
	for x, want := range map[float64]engine.Verdict{5: pass, 10: pass, 4.999: query, 10.001: query, 2: query, 20: query, 1.999: stop, 20.001: stop} {
		if got := w.Judge(meter.Read(x, 3), e); got.Verdict != want {
			t.Errorf("%v ± 3: %v (%s), want %v", x, got.Verdict, got.Reason, want)
		}
	}
}

// A side without danger never stops, by the number or by the meter's error.
func TestSidesOfDanger(t *testing.T) {
	for _, c := range []struct {
		danger    limits.Side
		low, high engine.Verdict
	}{
		{limits.Both, stop, stop}, {limits.Low, stop, query}, {limits.High, query, stop}, {limits.Neither, query, query},
	} {
		w := onSheet(t, unit.KindVolt, checks.Interval{Lo: 5, Hi: 10}, checks.Interval{Lo: 2, Hi: 20}, c.danger)
		below, above := meter.Read(1, 0.5), meter.Read(21, 0.5)
		below.Censored, above.Censored = true, true
		for _, crit := range []engine.Crit{s, g, e} {
			for what, r := range map[string]meter.Shown{"beyond": meter.Read(1, 0.5), "all of it beyond": below} {
				if got := w.Judge(r, crit); got.Verdict != c.low {
					t.Errorf("danger %d, class %v, %s below: %v (%s), want %v", c.danger, crit, what, got.Verdict, got.Reason, c.low)
				}
			}
			for what, r := range map[string]meter.Shown{"beyond": meter.Read(21, 0.5), "all of it beyond": above} {
				if got := w.Judge(r, crit); got.Verdict != c.high {
					t.Errorf("danger %d, class %v, %s above: %v (%s), want %v", c.danger, crit, what, got.Verdict, got.Reason, c.high)
				}
			}
		}
		// The number inside the query interval, its error's end beyond it.
		if got := w.Judge(meter.Read(2.2, 0.5), s); got.Verdict != c.low {
			t.Errorf("danger %d, error reaches below: %v (%s), want %v", c.danger, got.Verdict, got.Reason, c.low)
		}
		if got := w.Judge(meter.Read(19.8, 0.5), s); got.Verdict != c.high {
			t.Errorf("danger %d, error reaches above: %v (%s), want %v", c.danger, got.Verdict, got.Reason, c.high)
		}
	}
}

// Typical figures give a query at most, except beyond the absolute lines.
func TestTypicalFiguresDoNotStop(t *testing.T) {
	w, err := checks.NewWindow(unit.KindOhm, checks.Interval{Lo: 30, Hi: 80}, checks.Interval{Lo: 20, Hi: 130}, limits.Both)
	if err != nil {
		t.Fatal(err)
	}
	if w.Grade != checks.Typical {
		t.Fatal("a window is of sheet grade before anyone said so")
	}
	if got := w.Judge(meter.Read(2, 0.1), s); got.Verdict != query || !strings.Contains(got.Reason, "typical") {
		t.Errorf("a typical window stopped, or did not say that it is typical: %v (%s)", got.Verdict, got.Reason)
	}
	if w, err = w.Absolute(checks.Interval{Lo: 5, Hi: 1e6}); err != nil {
		t.Fatal(err)
	}
	for x, want := range map[float64]engine.Verdict{2: stop, 5.05: stop, 5.2: query, 50: pass, 500: query, 2e6: stop} {
		got := w.Judge(meter.Read(x, 0.1), g)
		if got.Verdict != want {
			t.Errorf("%v Ω: %v (%s), want %v", x, got.Verdict, got.Reason, want)
		}
		if want == stop && !strings.Contains(got.Reason, "absolute") {
			t.Errorf("%v Ω: %q does not say which line", x, got.Reason)
		}
	}
	if _, err := (checks.Window{}).Absolute(checks.Interval{Lo: 0, Hi: 1}); !errors.Is(err, checks.ErrWindow) {
		t.Errorf("absolute lines on no window: %v", err)
	}
	if _, err := w.Absolute(checks.Interval{Lo: 1, Hi: 0}); !errors.Is(err, checks.ErrWindow) {
		t.Errorf("absolute lines that hold nothing: %v", err)
	}
}

// What nobody built or measured stops.
func TestTheForgottenStops(t *testing.T) {
	w := onSheet(t, unit.KindVolt, checks.Interval{Lo: math.Inf(-1), Hi: inf}, checks.Interval{Lo: math.Inf(-1), Hi: inf}, limits.Neither)
	nan := math.NaN()
	spoilt := w
	spoilt.Pass.Hi = nan
	wider := w
	wider.Query = checks.Interval{Lo: 0, Hi: 1}
	for what, c := range map[string]struct {
		w checks.Window
		s meter.Shown
	}{
		"zero window":          {checks.Window{}, meter.Read(0, 0)},
		"window made by hand":  {checks.Window{Kind: unit.KindVolt, Pass: w.Pass, Query: w.Query, Stop: w.Stop}, meter.Read(0, 0)},
		"window spoilt later":  {spoilt, meter.Read(0, 0)},
		"pass beyond query":    {wider, meter.Read(0, 0)},
		"zero reading":         {w, meter.Shown{}},
		"reading made by hand": {w, meter.Shown{Lo: 1, Hi: 1, X: 1}},
		"NaN":                  {w, meter.Read(nan, 0)},
		"uncertainty of NaN":   {w, meter.Read(1, nan)},
		"infinite":             {w, meter.Read(inf, 0)},
		"below everything":     {w, meter.Read(math.Inf(-1), 0)},
		"less than no error":   {w, meter.Read(1, -1)},
	} {
		for _, crit := range []engine.Crit{s, g, e, engine.Crit(9)} {
			if got := c.w.Judge(c.s, crit); got.Verdict != stop || got.Reason == "" {
				t.Errorf("%s, class %v: %v (%s)", what, crit, got.Verdict, got.Reason)
			}
		}
	}
	if got := w.Judge(meter.Read(1, 0), s); got.Verdict != pass {
		t.Errorf("the window itself is good: %v (%s)", got.Verdict, got.Reason)
	}
}

func TestReasons(t *testing.T) {
	down := math.Inf(-1)
	for _, c := range []struct {
		p, q   checks.Interval
		x, u   float64
		reason string
	}{
		{checks.Interval{Lo: 1, Hi: 2}, checks.Interval{Lo: 0, Hi: 3}, 1.5, 0, "inside 1 V to 2 V"},
		{checks.Interval{Lo: down, Hi: 10}, checks.Interval{Lo: down, Hi: 60}, 3, 0.1, "inside 10 V or less with the meter's error taken off"},
		{checks.Interval{Lo: 5, Hi: inf}, checks.Interval{Lo: 2, Hi: inf}, 7, 0, "inside 5 V or more"},
		{checks.Interval{Lo: down, Hi: inf}, checks.Interval{Lo: down, Hi: inf}, 7, 0, "inside any value"},
		{checks.Interval{Lo: 1, Hi: 2}, checks.Interval{Lo: 0, Hi: 3}, 1.95, 0.1, "inside 1 V to 2 V, but within the meter's error of 0.1 V of the line"},
		{checks.Interval{Lo: 1, Hi: 2}, checks.Interval{Lo: 0, Hi: 3}, 5, 0.1, "above 3 V: beyond the stop line"},
	} {
		if got := onSheet(t, unit.KindVolt, c.p, c.q, limits.Both).Judge(meter.Read(c.x, c.u), s); got.Reason != c.reason {
			t.Errorf("%v: %q, want %q", c.x, got.Reason, c.reason)
		}
	}
}

// draws a window and a reading round it, with all that can be odd about both.
func drawn(t *rapid.T) (checks.Window, meter.Shown, engine.Crit) {
	line := func(what string) float64 { return rapid.Float64Range(-1000, 1000).Draw(t, what) }
	end := func(what string, x, open float64) float64 {
		if rapid.IntRange(0, 4).Draw(t, what) == 0 {
			return open
		}
		return x
	}
	a, b, c, d := line("a"), line("b"), line("c"), line("d")
	lo, hi := min(a, b), max(a, b)
	p := checks.Interval{Lo: end("open below", lo, math.Inf(-1)), Hi: end("open above", hi, inf)}
	q := checks.Interval{Lo: min(p.Lo, end("query open below", c, math.Inf(-1))), Hi: max(p.Hi, end("query open above", d, inf))}
	danger := limits.Side(rapid.IntRange(0, 3).Draw(t, "danger"))
	w, err := checks.NewWindow(unit.KindVolt, p, q, danger)
	if err != nil {
		t.Skip("rounded away")
	}
	w.Grade = checks.Grade(rapid.IntRange(0, 1).Draw(t, "grade"))
	w.Shown = rapid.Bool().Draw(t, "shown")
	if rapid.Bool().Draw(t, "absolute") {
		if w, err = w.Absolute(checks.Interval{Lo: -900, Hi: 900}); err != nil {
			t.Fatal(err)
		}
	}
	x := rapid.OneOf(rapid.Float64Range(-1100, 1100), rapid.SampledFrom([]float64{w.Pass.Lo, w.Pass.Hi, w.Query.Lo, w.Query.Hi})).Draw(t, "x")
	if math.IsInf(x, 0) {
		x = 0
	}
	r := meter.Read(x, rapid.Float64Range(0, 100).Draw(t, "u"))
	switch rapid.IntRange(0, 3).Draw(t, "form") {
	case 1:
		r.Censored, r.Lo, r.Hi, r.Note = true, x, inf, "above"
	case 2:
		r.Censored, r.Lo, r.Hi, r.Note = true, math.Inf(-1), x, "below"
	}
	return w, r, engine.Crit(rapid.IntRange(0, 2).Draw(t, "crit"))
}

// rule is the decision rule again, in its own words: it looks at the interval
// the truth may lie in, not at its ends.
func rule(w checks.Window, r meter.Shown, c engine.Crit) engine.Verdict {
	guarded := c != e && !w.Shown
	truth := checks.Interval{Lo: r.X, Hi: r.X}
	if guarded {
		truth = checks.Interval{Lo: r.X - r.U, Hi: r.X + r.U}
	}
	if r.Censored {
		truth = checks.Interval{Lo: r.Lo, Hi: r.Hi}
	}
	beyond := func(i checks.Interval, low, high bool) bool {
		if r.Censored {
			return low && truth.Hi < i.Lo || high && truth.Lo > i.Hi
		}
		return low && truth.Lo < i.Lo || high && truth.Hi > i.Hi
	}
	low := w.Danger == limits.Low || w.Danger == limits.Both
	high := w.Danger == limits.High || w.Danger == limits.Both
	widened := truth
	if r.Censored && guarded {
		widened = checks.Interval{Lo: truth.Lo - r.U, Hi: truth.Hi + r.U}
	}
	switch {
	case beyond(w.Stop, true, true):
		return stop
	case beyond(w.Query, low, high) && w.Grade == checks.Sheet:
		return stop
	case beyond(w.Query, low, high):
		return query
	case widened.Lo >= w.Pass.Lo && widened.Hi <= w.Pass.Hi:
		return pass
	}
	return query
}

func TestEveryReadingHasOneVerdict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, r, c := drawn(t)
		got := w.Judge(r, c)
		if want := rule(w, r, c); got.Verdict != want || got.Reason == "" {
			t.Fatalf("%v (%s), want %v", got.Verdict, got.Reason, want)
		}
		if got != w.Judge(r, c) {
			t.Fatal("two verdicts of one reading")
		}
		if got.Verdict == pass && w.Judge(r, e).Verdict != pass {
			t.Fatal("a stricter class passed what class E does not")
		}
	})
}

// Away from the pass interval a verdict only gets worse, with a meter that fits
// the window: a worse one reaches across to the other side.
func TestVerdictsWorsenOutward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, r, c := drawn(t)
		if r.Censored || !w.Fits(r.U) {
			t.Skip("no number to move, or a meter that does not fit")
		}
		step := rapid.Float64Range(0, 500).Draw(t, "step")
		way := 1.0
		if r.X < w.Pass.Lo {
			way = -1
		} else if r.X <= w.Pass.Hi {
			t.Skip("inside")
		}
		further := meter.Read(r.X+way*step, r.U)
		if w.Judge(further, c).Verdict > w.Judge(r, c).Verdict {
			t.Fatalf("%v is %v, and %v is %v", r.X, w.Judge(r, c).Verdict, further.X, w.Judge(further, c).Verdict)
		}
	})
}

// A verifier that has the logged strings alone comes to the same verdict.
func TestLoggedWindowJudgesAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, r, c := drawn(t)
		if !r.Taken() {
			t.Skip("no reading")
		}
		back, err := checks.ParseWindow(w.Fields())
		if err != nil {
			t.Fatal(err)
		}
		again, err := meter.ParseShown(r.Fields())
		if err != nil {
			t.Fatal(err)
		}
		again.Note = r.Note
		if got, want := back.Judge(again, c), w.Judge(r, c); got != want {
			t.Fatalf("logged %v, judged %v", got, want)
		}
		newest := checks.Rules()[checks.RulesVersion-1]
		if got, err := newest(checks.Logged{Window: w.Fields(), Shown: r.Fields(), Class: c.String()}); err != nil || got != w.Judge(r, c).Verdict {
			t.Fatalf("by the rule of its version %v (%v), judged %v", got, err, w.Judge(r, c))
		}
	})
}

func FuzzJudge(f *testing.F) {
	for _, x := range []float64{0, -1, 1, 5, 10, 1e300, -1e300, math.NaN(), inf, math.Inf(-1), 4.999999, 10.000001} {
		f.Add(x, 0.1, uint8(0))
		f.Add(x, 0.0, uint8(2))
	}
	w := onSheet(f, unit.KindVolt, checks.Interval{Lo: 5, Hi: 10}, checks.Interval{Lo: 2, Hi: 20}, limits.Both)
	f.Fuzz(func(t *testing.T, x, u float64, c uint8) {
		got := w.Judge(meter.Read(x, u), engine.Crit(c)).Verdict
		if got == pass && !(x >= 5 && x <= 10) {
			t.Errorf("%v ± %v passed 5 to 10", x, u)
		}
		if got != stop && !(x >= 2 && x <= 20) {
			t.Errorf("%v ± %v did not stop outside 2 to 20", x, u)
		}
	})
}
