package circuit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"example.com/powerup/internal/unit"
)

// racing is set where the race detector makes everything slow.
var racing bool

// fewer is n, or a fortieth of it where time is short.
func fewer(n int) int {
	if racing || testing.Short() {
		return n / 40
	}
	return n
}

// dice gives numbers evenly from 0 to 1, under a name.
type dice func(what string) float64

func seeded(seed uint64) dice {
	r := rand.New(rand.NewPCG(seed, 1))
	return func(string) float64 { return r.Float64() }
}

func (d dice) even(what string, lo, hi float64) float64 { return lo + (hi-lo)*d(what) }

func (d dice) log(what string, lo, hi float64) float64 {
	return lo * math.Pow(hi/lo, d(what))
}

func (d dice) chance(what string, part float64) bool { return d(what) < part }

// circuit is one set that is to be solved.
type circuit struct {
	*Supply
	mains unit.Volt
	lamp  *Lamp
}

// circuit rolls a supply of any kind, sound or not, with mains and lamp.
func (d dice) circuit() circuit {
	s := &Supply{
		Nominal: 230, Frequency: 50, Secondary: unit.Volt(d.even("secondary", 100, 450)), Primary: unit.Ohm(d.log("primary", 2, 150)),
		HeaterPower: unit.Watt(d.even("heaters", 0, 60)), HeaterExp: 0.4,
		Reservoir: unit.Farad(d.log("reservoir", 1e-6, 220e-6)), Second: unit.Farad(d.log("second", 1e-6, 220e-6)),
		Smoothing: unit.Ohm(d.log("smoothing", 50, 5000)),
	}
	s.HalfA = unit.Ohm(d.log("half a", 20, 600))
	s.HalfB = s.HalfA
	if d.chance("60 Hz", 0.5) {
		s.Frequency, s.Nominal = 60, 120
	}
	if d.chance("unequal halves", 0.5) {
		s.HalfB *= unit.Ohm(d.even("half b", 0.7, 1.4))
	}
	s.Topology = Topology(d.even("topology", 0, 3) * 0.9999999)
	if d.chance("choke", 0.5) {
		s.Choke, s.Smoothing = Henry(d.log("choke", 2, 20)), unit.Ohm(d.log("choke ohms", 50, 500))
	}
	if d.chance("leak", 0.5) {
		s.Leak = unit.Ohm(d.log("leak", 1, 1e6))
	}
	if d.chance("magnetising", 0.5) {
		s.Idle, s.Magnetising = unit.Watt(d.even("iron", 1, 10)), unit.Ampere(d.even("magnetising current", 0.01, 0.1))
	}
	d.rectifier(s)
	d.load(s)
	c := circuit{Supply: s, mains: s.Nominal * unit.Volt(d.even("mains", 0.05, 1.15))}
	if d.chance("lamp", 0.5) {
		c.lamp = &Lamp{Watts: unit.Watt(d.log("lamp watts", 15, 300)), Volts: s.Nominal}
	}
	return c
}

func (d dice) rectifier(s *Supply) {
	switch kind := d("rectifier"); {
	case kind < 0.5:
		s.Perveance = d.log("perveance", 1e-4, 5e-3)
	case kind < 0.75:
		s.Junction = &Junction{Is: 1e-9, N: 1.68, Series: 0.03}
	default: // a metal one: many discs in series
		s.Junction = &Junction{Is: 2e-6, N: d.even("discs", 10, 40), Series: unit.Ohm(d.even("disc ohms", 10, 100))}
	}
}

func (d dice) load(s *Supply) {
	switch kind := d("load"); {
	case kind < 0.33:
		s.Bleed = unit.Ohm(d.log("load ohms", 2e3, 500e3))
	case kind < 0.66:
		s.Lumped = Lumped{unit.Ampere(d.even("amperes", 0.01, 0.1)), unit.Ampere(d.even("from HT1", 0, 0.1)), 250, d.even("power", 1, 1.5)}
	default:
		r := tableRadio()
		s.Bleed, s.Rest, s.Output, s.Others = r.Bleed, r.Rest, r.Output, r.Others
		s.Output.CathodeR = unit.Ohm(d.log("cathode", 0.1, 1000))
		s.Output.Grid = unit.Volt(d.even("grid", -10, 5))
		s.Output.FromHT1 = d.chance("anode from HT1", 0.5)
	}
}

// resonant tells whether the choke resonates with the capacitors near the ripple's
// frequency: then even a load may raise HT1.
func (c *circuit) resonant() bool {
	if c.Choke == 0 {
		return false
	}
	ripple := float64(c.Frequency)
	if c.halves() == 1 {
		ripple *= 2
	}
	both := float64(c.Reservoir*c.Second) / float64(c.Reservoir+c.Second)
	return 1/(2*math.Pi*math.Sqrt(float64(c.Choke)*both)) > 0.6*ripple
}

// Whatever the circuit it has an answer, whose period returns to itself and whose
// source gives what the parts burn. A few with a choke in resonance, one in 5000 at
// the most, return to themselves nearly, and say how nearly.
func TestRandomCircuits(t *testing.T) {
	d, count := seeded(1), fewer(20000)
	off, worst, failed, restless := 0.0, 0.0, 0, 0
	for k := range count {
		c := d.circuit()
		p, err := c.Solve(c.mains, c.lamp)
		if err != nil {
			t.Errorf("%d: %v: %+v", k, err, *c.Supply)
			if failed++; failed > 10 {
				t.FailNow()
			}
			continue
		}
		balance := math.Abs(float64(p.Losses.Sum()/p.Source) - 1)
		if p.Residual > onMark {
			restless++
		}
		off, worst = max(off, p.Residual), max(worst, balance)
		// At resonance the reservoir swings below chassis.
		ordered := p.HT2 >= 0 && p.HT1 >= p.HT2*(1-ModelError) || c.Topology == HalfWave && c.Choke > 0
		if !(balance <= 0.01 && p.Residual <= nearly && ordered && p.Ripple > 0) || !finite(&p) {
			t.Errorf("%d: %v of mains, lamp %+v, %+v: energy off by %g, residual %g, %+v", k, c.mains, c.lamp, *c.Supply, balance, p.Residual, p)
			if failed++; failed > 10 {
				t.FailNow()
			}
		}
	}
	if restless > (count+4999)/5000 {
		t.Errorf("%d of %d return to themselves only nearly", restless, count)
	}
	t.Logf("energy within %.2g %%, residual %.2g of the crest at the most; %d of %d return to themselves only nearly", worst*100, off, restless, count)
}

// finite tells whether all that a meter could show is a number.
func finite(p *Solution) bool {
	for _, x := range []float64{
		float64(p.Set), float64(p.Lamp), float64(p.Primary), float64(p.HT1), float64(p.HT2), float64(p.HTCurrent), float64(p.OPT),
		float64(p.Cathode), float64(p.Screen), float64(p.Ripple), p.Heater, float64(p.Input), float64(p.Source), float64(p.Secondary),
		float64(p.RectifierPeak), float64(p.HT1Peak), float64(p.RippleRMS), float64(p.Ripple2), float64(p.Ripple2RMS), float64(p.Anode),
		float64(p.AnodePower), float64(p.Losses.Sum()),
	} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// Of any circuit that is not resonant: more mains give more HT1, a leak takes some away, and a set
// with equal halves is the same one by half-cycles and
// by whole cycles.
func TestAnyCircuit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := dice(func(what string) float64 { return rapid.Float64Range(0, 1).Draw(t, what) })
		c := d.circuit()
		if c.resonant() {
			t.Skip("resonant")
		}
		solve := func(s *Supply, mains unit.Volt) Solution {
			p, err := s.Solve(mains, c.lamp)
			if errors.Is(err, ErrNoAnswer) && s.Choke > 0 {
				t.Skip("a choke that rings without end") // fewer than one in 1000
			}
			if err != nil {
				t.Fatal(err)
			}
			return p
		}
		p := solve(c.Supply, c.mains)
		if more := solve(c.Supply, c.mains*1.02); !(more.HT1 > p.HT1) {
			t.Fatalf("more mains took HT1 from %v to %v", p.HT1, more.HT1)
		}
		leaky := *c.Supply
		leaky.Leak = 1 / (unit.Ohm(siemens(c.Leak)) + 1.0/5e3)
		if less := solve(&leaky, c.mains); !(less.HT1 < p.HT1) {
			t.Fatalf("a leak took HT1 from %v to %v", p.HT1, less.HT1)
		}
		if c.Topology != CentreTap {
			return
		}
		equal, whole := *c.Supply, *c.Supply
		equal.HalfB = equal.HalfA
		whole.HalfB = whole.HalfA * (1 + 1e-12)
		if equal.halves() != 1 || whole.halves() != 2 {
			t.Fatalf("%d and %d half-cycles are swept", equal.halves(), whole.halves())
		}
		least := 1e-4 * float64(c.NoLoadHT(c.mains)) // where HT is shorted or nothing draws
		a, b := solve(&equal, c.mains), solve(&whole, c.mains)
		for _, c := range []struct {
			what        string
			half, whole float64
			tol         float64
		}{
			{"HT1", float64(a.HT1), float64(b.HT1), ModelError*float64(a.HT1) + least},
			{"primary", float64(a.Primary), float64(b.Primary), ModelError * float64(a.Primary)},
			{"set", float64(a.Set), float64(b.Set), ModelError * float64(a.Set)},
			{"ripple", float64(a.Ripple), float64(b.Ripple), 2*RippleError*float64(a.Ripple) + least},
		} {
			if !(math.Abs(c.half-c.whole) <= c.tol) {
				t.Fatalf("%s: %v by half-cycles, %v by whole ones", c.what, c.half, c.whole)
			}
		}
	})
}

// The mean over many circuits.
func BenchmarkRandomCircuits(b *testing.B) {
	d := seeded(1)
	var list [1000]circuit
	for k := range list {
		list[k] = d.circuit()
	}
	for k := 0; b.Loop(); k++ {
		c := &list[k%len(list)]
		if _, err := c.Solve(c.mains, c.lamp); err != nil {
			b.Fatal(err)
		}
	}
}
