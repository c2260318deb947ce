// Package casefile reads cases as JSON, each one HT supply by the names of its
// parameters, and writes what the model gives for them, by the names of the
// results. The names are those of the reference table in
// internal/circuit/testdata; [Parameters] and [Results] tell them.
package casefile

import (
	"encoding/json"
	"fmt"
	"math"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
)

// Case is one supply and the mains it stands on.
type Case struct {
	ID      any // the text or [json.Number] that names the case; nil: none
	Number  int // of the case in its file, from 1
	Supply  circuit.Supply
	Mains   unit.Volt // before the lamp
	Lamp    *circuit.Lamp
	cathode bool // its load is valves, whose volts are results too
}

// Answer is what the model gives for a case. All of its values are finite.
type Answer struct {
	ID       any
	Values   []Value
	Residual float64 // as in circuit.Solution
	Periods  int
	Remark   string // where law and model part, or law and valve; mostly empty
}

// Value is one result.
type Value struct {
	Result
	Quantity unit.Quantity
}

// Solve asks the model. An error has [circuit.ErrNoAnswer] in its chain.
func (c *Case) Solve() (Answer, error) {
	s, err := c.Supply.Solve(c.Mains, c.Lamp)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{ID: c.ID, Residual: s.Residual, Periods: s.Periods}
	for _, r := range results {
		if r.cathode && !c.cathode {
			continue
		}
		v := Value{r, r.of(&s)}
		if x := v.Quantity.Value; math.IsNaN(x) || math.IsInf(x, 0) {
			return Answer{}, fmt.Errorf("%w: %s comes out as no number", circuit.ErrNoAnswer, r.Name)
		}
		a.Values = append(a.Values, v)
	}
	if c.cathode {
		a.Remark = remark(&c.Supply.Output, &s)
	}
	return a, nil
}

// lawSlack is how far the current may be from the law before it is said: what
// cathode volts are held to.
const lawSlack = 0.005

// remark says where the answer is not what the law gives: the model lets a
// positive grid drive no valve that has next to no screen volts. And it says where
// the law itself is not a valve's: it takes no account of the anode.
func remark(v *circuit.Valve, s *circuit.Solution) string {
	drive := float64(v.Grid) + float64(s.Screen)/v.Mu - float64(s.Cathode)
	law := v.K * math.Pow(max(drive, 0), 1.5)
	switch ik := float64(s.CathodeCurrent); {
	case ik < (1-lawSlack)*law:
		return fmt.Sprintf("Ik is limited to %.3g of what the law gives at these volts: the grid is too far positive for so little screen", ik/law)
	case s.Anode < s.Cathode:
		return "Va is below Vk: the law takes no account of the anode, and no valve would pass this Ia"
	}
	return ""
}

// Name is the case's id as a person reads it, or its number where it has none.
func (c *Case) Name() string {
	if c.ID == nil || c.ID == "" {
		return fmt.Sprintf("case %d", c.Number)
	}
	return spec.Visible(fmt.Sprint(c.ID))
}

// NoAnswer is what is said of a case that the model has no answer for, as one
// JSON object in one line, without a line end.
func (c *Case) NoAnswer(err error) []byte {
	line := appendText([]byte(`{"id":`), c.ID)
	line = append(line, `,"error":`...)
	return append(appendText(line, err.Error()), '}')
}

// appendText appends a text, a number or null as JSON writes it.
func appendText(line []byte, v any) []byte {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // a text and the number that was read can be written
	}
	return append(line, text...)
}
