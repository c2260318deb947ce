package meter

import (
	"errors"
	"fmt"
	"math"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// Errors that a reading itself can be.
var (
	// ErrLive: a reading below zero where nothing but volts on the leads makes one.
	ErrLive = errors.New("volts on an ohms range: charged or live")
	// ErrNull: a little below zero on nulled leads; the null has moved.
	ErrNull = errors.New("below zero on nulled leads: null them again")
	// ErrRange: OL from a meter whose range is set by hand means nothing
	// without that range (INV-31).
	ErrRange = errors.New("OL means nothing without the range it was shown on\nhint: the top of that range, as >20M")
	// ErrNotRead: a dash.
	ErrNotRead = errors.New("not read")
)

// Shown is what a meter has shown: the truth lies in [Lo, Hi]. A censored one
// has shown no number; its interval does not hold the meter's own error yet,
// that is U. Only this package makes one that can pass: the zero value is no
// reading.
type Shown struct {
	Lo, Hi   float64
	X        float64 // the number; of a censored reading the end it names
	U        float64 // expanded uncertainty, at X
	Censored bool
	Note     string // in words, what a censored reading means
	taken    bool
}

// Read is the number x with expanded uncertainty u, from no meter that has a
// sheet: a rating read off a part (u 0), a value worked out from readings.
func Read(x, u float64) Shown { return Shown{Lo: x - u, Hi: x + u, X: x, U: u, taken: true} }

// Taken tells whether s is a reading: made by this package, its ends in order,
// its number between them, and no end infinite but that of a censored one.
func (s Shown) Taken() bool {
	finite := s.Lo-s.Lo == 0 && s.Hi-s.Hi == 0 || s.Censored && (s.Lo-s.Lo == 0 || s.Hi-s.Hi == 0)
	return s.taken && finite && s.Lo <= s.X && s.X <= s.Hi && s.X-s.X == 0 && s.U >= 0 && s.U-s.U == 0
}

// Classify makes of an entry what the meter has shown. OL lies above the top of
// the highest range, > above the value typed where the meter can show that much,
// < between zero and the value plus a digit, and 0.0 within a digit and the
// meter's error of zero.
func Classify(m *sheet.Meter, f sheet.Function, e unit.Entry) (Shown, error) {
	switch e.Form {
	case unit.Exact:
		return exact(m, f, e.Value)
	case unit.Over:
		if !m.AutoRange {
			return Shown{}, ErrRange
		}
		top, err := sureTop(m, f)
		if err != nil {
			return Shown{}, err
		}
		return above(m, f, top.Value)
	case unit.Above:
		return above(m, f, e.Value)
	case unit.Below:
		u, r, err := Uncertainty(m, f, e.Value)
		if err != nil {
			return Shown{}, err
		}
		hi := unit.Quantity{Kind: r.Top.Kind, Value: e.Value + r.Digit.Value}
		return Shown{Hi: hi.Value, X: e.Value, U: u, Censored: true, Note: "below " + text(hi), taken: true}, nil
	}
	return Shown{}, ErrNotRead
}

// above refuses a bound that the meter cannot show: it would be no evidence.
func above(m *sheet.Meter, f sheet.Function, bound float64) (Shown, error) {
	u, r, err := Uncertainty(m, f, bound)
	if err != nil {
		return Shown{}, err
	}
	note := "above " + text(unit.Quantity{Kind: r.Top.Kind, Value: bound})
	return Shown{Lo: bound, Hi: math.Inf(1), X: bound, U: u, Censored: true, Note: note, taken: true}, nil
}

func exact(m *sheet.Meter, f sheet.Function, x float64) (Shown, error) {
	u, r, err := Uncertainty(m, f, x)
	switch {
	case err != nil:
		return Shown{}, err
	case x < 0 && unsigned(f) && nulled(m, f) && -x <= u:
		return Shown{}, fmt.Errorf("%s: %w", text(unit.Quantity{Kind: r.Top.Kind, Value: x}), ErrNull)
	case x < 0 && f == sheet.ACVolts:
		return Shown{}, fmt.Errorf("%s: alternating volts have no sign", text(unit.Quantity{Kind: r.Top.Kind, Value: x}))
	case x < 0 && unsigned(f):
		return Shown{}, fmt.Errorf("%s: %w", text(unit.Quantity{Kind: r.Top.Kind, Value: x}), ErrLive)
	}
	s := Read(x, u)
	if math.Abs(x) < r.Digit.Value { // only zeros shown
		s.U += r.Digit.Value
		s.Lo, s.Hi, s.Note = -s.U, s.U, "below the last digit"
	}
	if x >= 0 && (unsigned(f) || f == sheet.ACVolts || f == sheet.Wattage || f == sheet.Touch) {
		s.Lo = max(s.Lo, 0)
	}
	return s, nil
}

// unsigned tells whether the quantity has no sign.
func unsigned(f sheet.Function) bool {
	return f == sheet.OhmsF || f == sheet.Insulation || f == sheet.Bond
}

// nulled tells whether the leads can be nulled on the function.
func nulled(m *sheet.Meter, f sheet.Function) bool {
	for i := range m.Functions {
		if m.Functions[i].Function == f && m.Functions[i].Null {
			return true
		}
	}
	return false
}

func text(q unit.Quantity) string { return unit.Round(q, 4).String() }
