package checks

import (
	"fmt"
	"math"
	"strconv"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// draft is a window in the making.
type draft struct {
	kind        unit.Kind
	pass, query Interval
	danger      limits.Side
	typical     string // what was taken from typical values; empty: the sheet gave it
	shown       bool
	sum, source string
}

// drafted takes the lines of a band, times nominal where the band counts in
// multiples. The sum says where nominal comes from.
func drafted(id string, kind unit.Kind, nominal float64, sum string) draft {
	b := limits.BandOf(id)
	if b.Kind != unit.None {
		kind, nominal = b.Kind, 1
	}
	d := draft{
		kind: kind, danger: b.Danger, source: b.Cite(), sum: bandWords(b),
		pass:  Interval{b.PassLo * nominal, b.PassHi * nominal},
		query: Interval{b.QueryLo * nominal, b.QueryHi * nominal},
	}
	if sum != "" {
		d.sum = sum + "; " + d.sum
	}
	return d
}

// least is the draft of a single lower limit below which a reading stops.
func least(kind unit.Kind, limit float64, sum, source string) draft {
	above := Interval{limit, math.Inf(1)}
	return draft{kind: kind, pass: above, query: above, danger: limits.Low, sum: sum, source: source}
}

// most is the draft of a single upper limit above which a reading stops.
func most(kind unit.Kind, limit float64, sum, source string) draft {
	below := Interval{math.Inf(-1), limit}
	return draft{kind: kind, pass: below, query: below, danger: limits.High, sum: sum, source: source}
}

// guess marks the draft as taken from typical values. Its query lines become
// the absolute ones: beyond them lies a dead short or an open circuit.
func (d draft) guess(what string) draft {
	d.typical = what
	return d
}

// guarded moves the query lines of a limit without a query zone out by the
// meter's uncertainty there: short of the limit by less is a query, and only
// beyond it a stop.
func (d draft) guarded(c Case, f sheet.Function) draft {
	d.query.Lo = -roundUp(c.errorAt(f, d.query.Lo) - d.query.Lo)
	d.query.Hi = roundUp(d.query.Hi + c.errorAt(f, d.query.Hi))
	return d
}

// errorAt is the meter's uncertainty at x, 0 where no meter is known or it
// cannot show x.
func (c Case) errorAt(f sheet.Function, x float64) float64 {
	if c.Meter == nil {
		return 0
	}
	u, _, err := meter.Uncertainty(c.Meter, f, x)
	if err != nil {
		return 0
	}
	return u
}

// within narrows the draft to a relation with another reading, which stops
// whatever the grade. Where the two share nothing no reading but the nearest
// end of the relation passes.
func (d draft) within(pass, query Interval) draft {
	d.query = d.query.meet(query)
	d.pass = d.pass.meet(pass).meet(d.query)
	return d
}

// window builds the draft.
func (d draft) window() (Window, error) {
	w, err := NewWindow(d.kind, d.pass, d.query, d.danger)
	if err == nil && d.typical != "" {
		w, err = w.Absolute(d.query)
	}
	if err != nil {
		return Window{}, err
	}
	w.Grade, w.Shown, w.Typical, w.Sum, w.Source = Sheet, d.shown, d.typical, d.sum, d.source
	if d.typical != "" {
		w.Grade = Typical
		w.Sum = "typical values: " + d.typical + "; " + d.sum
	}
	return w, nil
}

// meet is what both intervals hold, or the end of j nearest to i, rounded as a
// line is.
func (i Interval) meet(j Interval) Interval {
	switch end := j.inward(); {
	case i.Hi < j.Lo:
		return Interval{end.Lo, end.Lo}
	case i.Lo > j.Hi:
		return Interval{end.Hi, end.Hi}
	}
	return Interval{max(i.Lo, j.Lo), min(i.Hi, j.Hi)}
}

// inUnits says the draft's lines as they stand: "pass 34 Ω to 46 Ω, stop under
// 3.8 Ω and over 7.3 kΩ".
func (d draft) inUnits() string {
	b := limits.Band{PassLo: d.pass.Lo, PassHi: d.pass.Hi, QueryLo: d.query.Lo, QueryHi: d.query.Hi, Danger: d.danger, Kind: d.kind}
	at := func(x float64) string { return amount(d.kind, x) }
	return passWords(b, at) + ", " + stopWords(b, at)
}

// bandWords says a band in words: "pass 0.7 to 1.3 x, stop under 0.5 x".
func bandWords(b limits.Band) string {
	at := func(x float64) string {
		if b.Kind == unit.None {
			return strconv.FormatFloat(x, 'g', 4, 64) + " x"
		}
		return unit.Quantity{Kind: b.Kind, Value: x}.String()
	}
	return passWords(b, at) + ", " + stopWords(b, at)
}

func passWords(b limits.Band, at func(float64) string) string {
	open := Interval{math.Inf(-1), math.Inf(1)}
	switch {
	case b.PassLo == open.Lo && b.PassHi == open.Hi:
		return "any value passes"
	case b.PassLo == open.Lo:
		return "pass up to " + at(b.PassHi)
	case b.PassHi == open.Hi:
		return "pass from " + at(b.PassLo)
	case b.Kind == unit.None:
		return fmt.Sprintf("pass %.4g to %.4g x", b.PassLo, b.PassHi)
	}
	return "pass " + at(b.PassLo) + " to " + at(b.PassHi)
}

func stopWords(b limits.Band, at func(float64) string) string {
	low := b.Danger != limits.High && b.Danger != limits.Neither && !math.IsInf(b.QueryLo, -1)
	high := b.Danger != limits.Low && b.Danger != limits.Neither && !math.IsInf(b.QueryHi, 1)
	switch {
	case low && high:
		return "stop under " + at(b.QueryLo) + " and over " + at(b.QueryHi)
	case low:
		return "stop under " + at(b.QueryLo)
	case high:
		return "stop over " + at(b.QueryHi)
	}
	return "never a stop"
}
