package checks

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/unit"
)

// ErrWindow is in the chain of every refused window.
var ErrWindow = errors.New("no window")

// unbounded is the interval without ends.
var unbounded = Interval{math.Inf(-1), math.Inf(1)}

// lineDigits is the number of significant digits a line keeps. Lines are
// rounded inward when the window is made, so that the log holds exactly what
// was judged by.
const lineDigits = 6

// NewWindow makes a window of kind, its lines rounded inward to six significant
// digits. Pass must lie inside query, and query is where a reading beyond stops
// on a danger side. Typical figures and open absolute lines are its defaults.
func NewWindow(kind unit.Kind, pass, query Interval, danger limits.Side) (Window, error) {
	w := Window{Kind: kind, Pass: pass.inward(), Query: query.inward(), Stop: unbounded, Danger: danger, built: true}
	return w.valid()
}

// Absolute gives w absolute lines, which stop even a typical window.
func (w Window) Absolute(lines Interval) (Window, error) {
	w.Stop = lines.inward()
	return w.valid()
}

// valid refuses a window that could pass what it should not.
func (w Window) valid() (Window, error) {
	switch {
	case !w.built:
		return Window{}, fmt.Errorf("%w: not made by NewWindow", ErrWindow)
	case !w.Pass.some() || !w.Query.some() || !w.Stop.some():
		return Window{}, fmt.Errorf("%w: pass %v, query %v, absolute %v: an interval holds nothing", ErrWindow, w.Pass, w.Query, w.Stop)
	case !(w.Pass.Lo >= w.Query.Lo && w.Pass.Hi <= w.Query.Hi):
		return Window{}, fmt.Errorf("%w: pass %v is not inside query %v", ErrWindow, w.Pass, w.Query)
	case w.Danger > limits.Neither:
		return Window{}, fmt.Errorf("%w: danger side %d is none", ErrWindow, w.Danger)
	}
	return w, nil
}

// Fits tells whether a meter of uncertainty u can pass anything here with room
// to spare: u is less than half the pass interval.
func (w Window) Fits(u float64) bool { return w.built && 2*u < w.Pass.Hi-w.Pass.Lo }

// some tells whether the interval holds a number; NaN ends hold none.
func (i Interval) some() bool {
	return i.Lo <= i.Hi && !math.IsInf(i.Lo, 1) && !math.IsInf(i.Hi, -1)
}

func (i Interval) inward() Interval { return Interval{roundUp(i.Lo), -roundUp(-i.Hi)} }

// String gives the ends, an open one as ∞.
func (i Interval) String() string { return fmt.Sprintf("[%g, %g]", i.Lo, i.Hi) }

// roundUp rounds x up to lineDigits significant digits.
func roundUp(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	y, exp := significant(x)
	if y < x {
		next, _ := strconv.ParseFloat("1e"+strconv.Itoa(exp-lineDigits+1), 64)
		y, _ = significant(y + next)
	}
	return y
}

// significant rounds x to lineDigits and gives its power of ten.
func significant(x float64) (y float64, exp int) {
	text := strconv.FormatFloat(x, 'e', lineDigits-1, 64)
	y, _ = strconv.ParseFloat(text, 64) // written by FormatFloat
	for i := len(text) - 1; ; i-- {
		if text[i] == 'e' {
			exp, _ = strconv.Atoi(text[i+1:])
			return y, exp
		}
	}
}

// How Fields spells the sides, the grades and the truth.
var (
	sideWords  = [...]string{limits.Both: "both", limits.Low: "low", limits.High: "high", limits.Neither: "neither"}
	gradeWords = [...]string{Typical: "typical", Sheet: "sheet"}
	truthWords = [...]string{"false", "true"}
)

// ends names the six lines of a window.
func (w *Window) ends() map[string]*float64 {
	return map[string]*float64{
		"pass-lo": &w.Pass.Lo, "pass-hi": &w.Pass.Hi, "query-lo": &w.Query.Lo, "query-hi": &w.Query.Hi,
		"stop-lo": &w.Stop.Lo, "stop-hi": &w.Stop.Hi,
	}
}

// Fields are the parts of w a verdict rests on, for the log: lines as exact
// decimals, an open one left out. A window that judges nothing has none.
func (w Window) Fields() map[string]string {
	if !w.built {
		return nil
	}
	f := map[string]string{
		"kind": w.Kind.Name(), "danger": sideWords[min(w.Danger, limits.Neither)], "grade": gradeWords[min(w.Grade, Sheet)],
		"shown": strconv.FormatBool(w.Shown),
	}
	for key, end := range w.ends() {
		if !math.IsInf(*end, 0) {
			f[key] = strconv.FormatFloat(*end, 'f', -1, 64)
		}
	}
	return f
}

// ParseWindow reads what Fields has written; the window judges every reading
// as the first did. Any other spelling is refused. Rule 1 reads windows by it: it
// is frozen with that.
func ParseWindow(f map[string]string) (Window, error) {
	w := Window{Pass: unbounded, Query: unbounded, Stop: unbounded, built: true}
	ends := w.ends()
	var kind, danger, grade, shown int
	for key, text := range f {
		var err error
		switch end := ends[key]; {
		case end != nil:
			if *end, err = meter.ParseDecimal(text); err == nil && roundUp(*end) != *end {
				err = fmt.Errorf("%s has more digits than a line keeps", text)
			}
		case key == "kind":
			kind, err = wordIndex(kindNames(), text)
		case key == "danger":
			danger, err = wordIndex(sideWords[:], text)
		case key == "grade":
			grade, err = wordIndex(gradeWords[:], text)
		case key == "shown":
			shown, err = wordIndex(truthWords[:], text)
		default:
			err = errors.New("no such part of a window")
		}
		if err != nil {
			return Window{}, fmt.Errorf("%w: %s: %w", ErrWindow, key, err)
		}
	}
	for _, key := range []string{"kind", "danger", "grade", "shown"} {
		if f[key] == "" {
			return Window{}, fmt.Errorf("%w: %s is missing", ErrWindow, key)
		}
	}
	w.Kind, w.Danger, w.Grade, w.Shown = unit.Kind(kind), limits.Side(danger), Grade(grade), shown == 1
	return w.valid()
}

func wordIndex(words []string, text string) (int, error) {
	for i, word := range words {
		if word == text {
			return i, nil
		}
	}
	return 0, fmt.Errorf("%q is none of %q", text, words)
}

func kindNames() []string {
	var names []string
	for k := unit.None; k <= unit.KindNumber; k++ {
		names = append(names, k.Name())
	}
	return names
}
