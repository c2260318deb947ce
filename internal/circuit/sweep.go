package circuit

import "math"

// sweep integrates one period from the state c by the implicit trapezoid, with
// two steps of backward Euler at its start against ringing. It gives what was
// gathered on the way and how the end moves with the beginning.
//
// Each step is linear but for the rectifier, which sees the rest of the step as
// further ohms in front of it: one equation in one unknown. The loads are taken
// by their slope, anew as soon as HT2 has moved.
func (n *network) sweep(g *grid, c charge, magnetising float64) swept {
	st := stepper{network: n, order: n.order(), at: c, load: n.load(c), sign: 1, iron: magnetising, drift: drift{iron: 1}}
	st.w.begin(c)
	for k := range st.tangent {
		st.tangent[k] = unitCharge(k)
	}
	if n.l == 0 {
		st.follow(&st.at)
		st.follow(&st.tangent[0])
		st.follow(&st.tangent[1])
	}
	st.conduct(g, 0)
	st.gather(g, 0)
	for k := range g.n {
		st.next(g, k)
		st.gather(g, k+1)
	}
	st.w.end, st.w.tangent, st.w.iron = st.at, st.tangent, -st.iron // in the frame of the next half-cycle
	st.w.drift = -st.drift.iron
	st.w.mean(float64(g.of) * math.Pi)
	return st.w
}

// stepper walks through a period.
type stepper struct {
	*network
	order   int
	at      charge
	tangent [3]charge // how the state moves with each value of the first
	load    load
	step    float64 // that the matrix is for
	matrix  matrix
	i       float64 // of the rectifier now
	slope   float64 // of that against the volts before all ohms
	root    float64 // the rectifier's own unknown
	side    int     // which anode
	sign    float64 // of the sine at it
	iron    float64 // magnetising current, in the frame of the half-cycle
	behind  float64 // volts behind the primary's resistance, in the same
	drift   drift
	w       swept
}

// follow sets the choke's current where there is no choke.
func (st *stepper) follow(c *charge) { c.choke = (c.v1 - c.v2) / st.ohms }

// conduct solves the rectifier at the state as it stands.
func (st *stepper) conduct(g *grid, k int) {
	mains := st.src.crest * g.cosine[k]
	st.i, st.slope, st.root = st.anodes[st.side].current(st.drive(mains, st.iron)-st.at.v1, 0, st.root)
	st.primary(mains)
}

// drive is the volts at the anode in use before all ohms.
func (st *stepper) drive(mains, iron float64) float64 {
	return st.sign * (st.ratio*st.part*mains + st.pull()*iron)
}

// primary keeps the volts behind the primary's resistance.
func (st *stepper) primary(mains float64) {
	st.behind = st.part * (mains - st.series*(st.sign*st.ratio*st.i+st.iron))
}

// next goes from instant k to the one after it.
func (st *stepper) next(g *grid, k int) {
	st.prepare(g, k)
	before := st.slope
	st.forward(st.src.crest * g.cosine[k+1])
	st.differentiate(before)
}

// forward solves the step that ends at the given mains volts.
func (st *stepper) forward(mains float64) {
	m, c := &st.matrix, st.at
	anode, rest := st.load.drawn(c.v2)
	b, alpha, p := m.right(c, st.rates(c, st.i, anode, rest))
	b, alpha = m.loaded(b, alpha, &st.load)
	iron := (st.iron + st.b*st.step*(st.part*mains+st.behind)/2) * m.yields
	st.i, st.slope, st.root = st.anodes[st.side].current(st.drive(mains, iron)-b*m.inverse, m.theta*m.inverse+st.pull()*m.takes, st.root)
	st.at = m.state((b+m.theta*st.i)*m.inverse, alpha, p)
	st.iron = iron - m.takes*st.sign*st.i
	st.primary(mains)
}

// differentiate takes the tangents over the same step; before is the rectifier's
// slope at its beginning.
func (st *stepper) differentiate(before float64) {
	m := &st.matrix
	inverse := 1 / (m.a + m.theta*st.slope)
	if st.b > 0 {
		st.drift.next(st, before, inverse)
	}
	for j := range st.order {
		t := &st.tangent[j]
		b, alpha, p := m.right(*t, st.moved(*t, -before*t.v1))
		*t = m.state(b*inverse, alpha, p)
	}
}

// prepare makes loads and matrix fit the step from instant k.
func (st *stepper) prepare(g *grid, k int) {
	if k == g.half {
		st.other()
	}
	fresh := st.step != g.step[k] || k == eulerSteps
	if v2 := st.at.v2; math.Abs(v2-st.load.base) > reload*math.Abs(v2) || st.empty(st.at) != (st.load.leak > 0) {
		st.load, fresh = st.network.load(st.at), true
	}
	if fresh {
		st.step = g.step[k]
		st.matrix = st.network.matrix(st.step, &st.load, k < eulerSteps)
	}
}

// other goes over to the second half-cycle: to the other anode, or where there is
// none to the negative side of the same one.
func (st *stepper) other() {
	st.iron, st.behind = -st.iron, -st.behind
	st.drift.iron = -st.drift.iron
	if math.IsInf(st.anodes[1].ohms, 1) {
		st.sign = -1
		return
	}
	st.side, st.root = 1, 0
}

// eulerSteps begin a period.
const eulerSteps = 2

// reload is how far HT2 may move, as a part of itself, before the loads are
// looked at anew: their bend then counts for less than a millionth.
const reload = 2e-3
