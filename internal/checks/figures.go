package checks

import (
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/unit"
)

// Figures are what the circuit says of a set at the volts of one case: the same
// circuit that its windows are computed from.
type Figures struct {
	circuit.Bounds
	Shown  unit.Volt // the ripple at HT1 as a meter on a.c. volts shows it
	Rating unit.Volt // the lowest rating of the two electrolytics; 0: not known
}

// FiguresOf computes c's circuit at the volts measured at its primary, or before
// there are any at those of its step. Without an HT circuit it is ErrNoData.
func FiguresOf(c Case) (Figures, error) {
	s, err := solve(c)
	if err != nil {
		return Figures{}, err
	}
	return Figures{
		Bounds: s.Bounds,
		Shown:  unit.Volt(s.Ripple.X / number("ripple-rms")),
		Rating: c.lowestRating(),
	}, nil
}
