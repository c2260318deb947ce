package checks

import (
	"fmt"
	"math"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// extraLiveChecks are those on full mains that a procedure may name and the
// shipped one does not.
func extraLiveChecks() []Check {
	return []Check{
		{
			ID: "ripple-smoothed", Title: "Ripple after the smoothing, a.c. volts", Short: "ripple 2", Crit: engine.E, Supply: engine.Full,
			Kind: unit.KindVolt, Function: sheet.ACVolts,
			Red: "HT2: second capacitor +", Black: "chassis clip",
			Method:  "Through 0.1 µF rated for the HT in the red lead, clipped on dead: a low a.c. range then stands it. On a range for the whole HT nothing this small shows. It stays charged.",
			Meaning: "the second capacitor has lost its capacitance, or the ripple before it is high: the set hums, and nothing worse",
			Danger:  limits.Neither,
			Causes: []string{
				"ripple at the reservoir high: its own window",
				"signal on the line: volume down and read again",
			},
			Cautions: fullCautions, Void: voidHT, Life: engine.Lasting, Path: "ht", Items: filtered, Rule: rippleSmoothedRule,
		},
		{
			ID: "mains-current", Title: "Mains current of the whole set", Short: "mains A", Crit: engine.E, Supply: engine.Full,
			Kind: unit.KindAmpere, Function: sheet.ACAmps, Range: "highest a.c. current range",
			Red: "live of the supply outlet, in series", Black: "live of the set's lead",
			Method:  "Connected with the plug out, red lead in the amperes socket, before the set in its live lead. Never across the mains: there it is a dead short. Leads back in the volts sockets before anything else is measured.",
			Meaning: "high: bias lost, heater line or turns shorted, wrong tap; low: a stage draws nothing",
			Danger:  limits.High,
			Causes: []string{
				"meter that takes the mean of a peaky current: one of true r.m.s.",
				"old iron that takes much magnetising current: watts with the transformer alone",
			},
			Cautions: fullCautions, Void: voidStage, Life: engine.Lasting, Path: "mains", Rule: mainsCurrentRule,
		},
	}
}

// filtered: no sheet gives the inductance that a choke or a field smooths by.
func filtered(s *sheet.Set) []string {
	if s.Smoothing.Kind == sheet.Choke || s.Smoothing.Kind == sheet.Field {
		return nil
	}
	return once(s)
}

// rippleSmoothedRule divides the ripple at HT1 by resistor and capacitor at
// twice the mains frequency: what is left is nearly a sine.
func rippleSmoothedRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	m := c.Model
	if !(m.Second > 0) || !(m.Smoothing > 0) || len(filtered(c.Set)) == 0 {
		return Window{}, fmt.Errorf("%w: smoothing resistor and second capacitor", ErrNoData)
	}
	first := s.Ripple.X / number("ripple-rms")
	x := 1 / (2 * math.Pi * 2 * float64(m.Frequency) * float64(m.Second))
	r := float64(m.Smoothing)
	left := first * x / math.Hypot(r, x)
	d := drafted("ripple-smoothed", unit.KindVolt, left, fmt.Sprintf("ripple %s at HT1, over %v and %v: %s", volts(first), m.Smoothing, m.Second, volts(left)))
	if c.Set.Reservoir.Capacitance == nil || c.Set.Second.Capacitance == nil {
		s.typical = also(s.typical, "capacitances of the HT line")
	}
	return s.window(d, unbounded)
}

// mainsCurrentRule: what the circuit takes through the primary, heaters, iron
// and magnetising current with it.
func mainsCurrentRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	d := drafted("mains-current", unit.KindAmpere, s.Primary.X, "")
	d.pass = Interval{s.Primary.Lo, s.Primary.Hi}
	d = d.widened(s.Err)
	d.sum = fmt.Sprintf("%s computed at %s on the set; pass: %s; %s; lines %s wider for the formula",
		amount(unit.KindAmpere, s.Primary.X), volts(float64(s.set)), s.corners(), stopWords(limits.BandOf("mains-current"), times), percent(s.Err))
	if c.Set.DialLamps == nil {
		s.typical = also(s.typical, "dial lamps")
	}
	return s.window(d, unbounded)
}
