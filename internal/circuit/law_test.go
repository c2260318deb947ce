package circuit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The law of a valve with a cathode resistor, Ik = K (Vg2/mu - Ik Rk)^1.5.
// Source: Radiotron Designer's Handbook, 4th ed., ch. 2, from memory; the
// numbers are computed from it.
func TestCathodeBias(t *testing.T) {
	el84 := Valve{K: 3.4305e-3, Mu: 19, CathodeR: 135}
	short := Valve{K: 3.4305e-3, Mu: 19}
	for _, c := range []struct {
		what     string
		v        Valve
		screen   float64
		ma, tol  float64
		exponent float64
	}{
		{"EL84 type with 135 Ω at 220 V", el84, 220, 44.73, 0.01, 1.190},
		{"at half the volts: not the plain three-halves law's 0.354 of it", el84, 110, 19.4, 0.05, 1.22},
		{"cathode resistor shorted", short, 220, 135.2, 0.05, 1.5},
	} {
		ik, slope := c.v.current(c.screen)
		about(t, c.what+": mA", ik*1e3, c.ma, c.tol)
		about(t, c.what+": exponent of current against volts", slope*c.screen/ik, c.exponent, 0.01)
		// exponent = 1.5 (1+b)/(1+1.5b), b = Ik R/(u - Ik R), u = Vg2/mu (computed)
		u, drop := c.screen/c.v.Mu, ik*float64(c.v.CathodeR)
		b := drop / (u - drop)
		about(t, c.what+": exponent by the formula", slope*c.screen/ik, 1.5*(1+b)/(1+1.5*b), 1e-9)
	}
	ik, _ := el84.current(220)
	about(t, "cathode volts", ik*135, 6.04, 0.005)
	if ik, slope := (&Valve{K: 1e-3, Mu: 10, Grid: -30}).current(200); ik != 0 || slope != 0 {
		t.Errorf("a valve biased beyond cut-off draws %v A", ik)
	}
}

func TestScreenResistorActsInTheCathode(t *testing.T) {
	// R = Rk + s Rg2/mu (computed): the same current with the screen's resistor or
	// its equivalent under the cathode.
	v := Valve{K: 1.823e-3, Mu: 20, CathodeR: 200, ScreenR: 18e3, Share: 0.673367}
	w := Valve{K: 1.823e-3, Mu: 20, CathodeR: 200 + 0.673367*18e3/20}
	a, _ := v.current(224)
	b, _ := w.current(224)
	about(t, "current", a, b, 1e-12)
	about(t, "ECH81 type, 200 Ω and 18 kΩ at 224 V: mA (computed)", a*1e3, 10.0, 0.05)
}

func TestRoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := math.Pow(10, rapid.Float64Range(-12, 4).Draw(t, "log u"))
		a := math.Pow(10, rapid.Float64Range(-12, 9).Draw(t, "log a"))
		x := root(u, a)
		if got := x*x + a*x*x*x; !(math.Abs(got-u) <= 1e-12*u) {
			t.Fatalf("x² + %g x³ = %g, want %g", a, got, u)
		}
	})
	for _, u := range []float64{0, -1, math.Inf(-1)} {
		if x := root(u, 1); x != 0 {
			t.Errorf("root(%v) = %v: no current flows", u, x)
		}
	}
	if x := root(math.NaN(), 1); !math.IsNaN(x) {
		t.Errorf("root(NaN) = %v: what is not known has become a current", x)
	}
}

// The rectifier's pulse against a plain sum over the half-cycle, found by
// bisection of its own equation at every step (computed).
func TestPulse(t *testing.T) {
	const crest, ht1, r, p = 370.0, 264.0, 320.0, 8.722e-4
	const n = 20000
	var want moments
	for k := range n {
		theta := (float64(k) + 0.5) / n * math.Pi / 2
		lo, hi := 0.0, 1.0
		for range 60 {
			i := (lo + hi) / 2
			if math.Pow(i/p, 2.0/3)+r*i < crest*math.Cos(theta)-ht1 {
				lo = i
			} else {
				hi = i
			}
		}
		want.mean += lo / n
		want.cosine += lo * math.Cos(theta) / n
		want.square += lo * lo / n
	}
	got := pulse(crest, ht1, r, p)
	within(t, "mean", got.mean, want.mean, 1e-6)
	within(t, "mean of i cos θ", got.cosine, want.cosine, 1e-6)
	within(t, "mean of i²", got.square, want.square, 1e-6)
	const step = 1e-3
	within(t, "slope", got.slope, (pulse(crest, ht1+step, r, p).mean-pulse(crest, ht1-step, r, p).mean)/(2*step), 1e-6)
	if m := pulse(crest, crest, r, p); m.mean != 0 {
		t.Errorf("current flows into HT at the crest: %v", m)
	}
	if q := surplus(crest, ht1, r, p, 1); q != 0 {
		t.Errorf("a pulse that never reaches the load current has a surplus: %v", q)
	}
	if q := surplus(crest, crest, r, p, 0); q != 0 {
		t.Errorf("no pulse, surplus %v", q)
	}
}
