package circuit

import "math"

// charge is the state of the HT circuit at one instant: volts on reservoir and
// second capacitor, amperes in the choke.
type charge struct{ v1, v2, choke float64 }

// network is the HT circuit with lamp and heaters at fixed ohms: the mains
// through them, the rectifier, and what hangs on it. Capacitors, choke and the
// magnetising inductance are per radian of the mains.
type network struct {
	front
	s          *Supply
	d          draw
	anodes     [2]anode
	c1, c2, l  float64
	ohms, leak float64 // of the smoothing; siemens across the reservoir
}

func (s *Supply) network(f front, d draw) network {
	omega := 2 * math.Pi * float64(s.Frequency)
	return network{
		front: f, s: s, d: d, anodes: s.anodes(f.ohms()),
		c1: omega * float64(s.Reservoir), c2: omega * float64(max(s.Second, leastSecond)), l: omega * float64(s.Choke),
		ohms: max(float64(s.Smoothing), leastOhms), leak: siemens(s.Leak),
	}
}

// What a missing second capacitor and a missing smoothing resistor are taken
// as: too little to show in any reading.
const (
	leastSecond = 1e-9
	leastOhms   = 1e-2
)

// order is how many of the state's values are free: without a choke its current
// follows from the volts.
func (n *network) order() int {
	if n.l > 0 {
		return 3
	}
	return 2
}

// halves is how many half-cycles make a period of the HT.
func (s *Supply) halves() int {
	if a := s.anodes(0); a[0] == a[1] {
		return 1
	}
	return 2
}

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

func unitCharge(k int) charge {
	var c charge
	*c.value(k) = 1
	return c
}

func (c *charge) value(k int) *float64 {
	switch k {
	case 0:
		return &c.v1
	case 1:
		return &c.v2
	}
	return &c.choke
}

// load is what is drawn from the reservoir and from HT2 near base, with slopes
// against HT2. Below the knee the anode feed is a leak across the reservoir.
type load struct{ base, anode, dAnode, rest, dRest, leak float64 }

func (n *network) load(c charge) load {
	l := load{base: c.v2, anode: n.d.amps}
	if n.d.kind != constant {
		t := n.s.takes(c.v2, n.d.kind == working)
		l = load{c.v2, t.anode, t.dAnode, t.rest, t.dRest, 0}
	}
	if n.empty(c) {
		l.leak, l.anode, l.dAnode = l.anode/n.knee(), 0, 0
	}
	return l
}

// empty tells whether the reservoir is too low to feed an anode: no valve draws
// from nothing.
func (n *network) empty(c charge) bool { return c.v1 < n.knee() }

// knee is where that begins (common practice, no source): far below any reading.
func (n *network) knee() float64 { return 0.02 * n.crest() }

// drawn gives both currents at v2.
func (l *load) drawn(v2 float64) (anode, rest float64) {
	d := v2 - l.base
	return l.anode + l.dAnode*d, l.rest + l.dRest*d
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
	m, c := &st.matrix, st.at
	oldSlope := st.slope
	anode, rest := st.load.drawn(c.v2)
	b, alpha, p := m.right(c, rates{st.i - c.choke - (st.leak+st.load.leak)*c.v1 - anode, c.choke - rest, c.v1 - c.v2 - st.ohms*c.choke})
	b, alpha = m.loaded(b, alpha, &st.load)
	mains := st.src.crest * g.cosine[k+1]
	iron := (st.iron + st.b*st.step*(m.theta*st.part*mains+m.late*st.behind)) * m.yields
	st.i, st.slope, st.root = st.anodes[st.side].current(st.drive(mains, iron)-b*m.inverse, m.theta*m.inverse+st.pull()*m.takes, st.root)
	st.iron = iron - m.takes*st.sign*st.i
	st.primary(mains)
	st.at = m.state((b+m.theta*st.i)*m.inverse, alpha, p)
	inverse := 1 / (m.a + m.theta*st.slope)
	if st.b > 0 {
		st.drift.next(st, oldSlope, inverse)
	}
	for j := range st.order {
		t := &st.tangent[j]
		b, alpha, p := m.right(*t, rates{
			-oldSlope*t.v1 - t.choke - (st.leak+st.load.leak)*t.v1 - st.load.dAnode*t.v2, t.choke - st.load.dRest*t.v2, t.v1 - t.v2 - st.ohms*t.choke,
		})
		*t = m.state(b*inverse, alpha, p)
	}
}

// prepare makes loads and matrix fit the step from instant k.
func (st *stepper) prepare(g *grid, k int) {
	if k == g.half {
		st.other()
	}
	fresh := st.step != g.step[k] || k == 2
	if v2 := st.at.v2; math.Abs(v2-st.load.base) > reload*math.Abs(v2) || st.empty(st.at) != (st.load.leak > 0) {
		st.load, fresh = st.network.load(st.at), true
	}
	if fresh {
		st.step = g.step[k]
		st.matrix = st.network.matrix(st.step, &st.load, k < 2)
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

// reload is how far HT2 may move, as a part of itself, before the loads are
// looked at anew: their bend then counts for less than a millionth.
const reload = 2e-3

// rates are the right sides of the three equations at the step's beginning.
type rates struct{ c1, c2, l float64 }

// matrix is one step with the second capacitor and the choke put into the
// equation of the reservoir: v2' = alpha + beta v1', choke' = p + q (v1' - v2').
type matrix struct {
	theta, late   float64 // weights of the step's end and of its beginning
	d1, d2        float64
	stays, drives float64 // of the choke's current and of the volts on it, in p
	q, beta, k2   float64
	anode         float64 // slope of the anode feed against v2, less q
	a, inverse    float64
	yields, takes float64 // of the magnetising current: against its own ohms, and for an ampere of the rectifier
}

// matrix is that of a step of h radians; the first steps of a sweep are by
// backward Euler.
func (n *network) matrix(h float64, l *load, euler bool) matrix {
	m := matrix{theta: 0.5, late: 0.5, d1: n.c1 / h, d2: n.c2 / h}
	if euler {
		m.theta, m.late = 1, 0
	}
	choke := n.l/h + m.theta*n.ohms
	if n.l > 0 {
		m.stays, m.drives = n.l/h/choke, m.late/choke
	}
	m.q = m.theta / choke
	m.k2 = 1 / (m.d2 + m.theta*(l.dRest+m.q))
	m.beta = m.theta * m.q * m.k2
	m.anode = l.dAnode - m.q
	m.a = m.d1 + m.theta*(n.leak+l.leak+m.q+m.anode*m.beta)
	m.inverse = 1 / m.a
	sees := n.b * h * m.theta * n.part * n.series
	m.yields = 1 / (1 + sees)
	m.takes = sees * n.ratio * m.yields
	return m
}

// right gives the right side of the reservoir's equation, and the constants of
// the other two, the loads' constant parts left out.
func (m *matrix) right(c charge, past rates) (b, alpha, p float64) {
	p = m.stays*c.choke + m.drives*past.l
	alpha = (m.d2*c.v2 + m.late*past.c2 + m.theta*p) * m.k2
	b = m.d1*c.v1 + m.late*past.c1 - m.theta*(p+m.anode*alpha)
	return b, alpha, p
}

// loaded adds those parts.
func (m *matrix) loaded(b, alpha float64, l *load) (float64, float64) {
	anode, rest := l.drawn(0)
	less := m.theta * rest * m.k2
	return b - m.theta*(anode-m.anode*less), alpha - less
}

func (m *matrix) state(v1, alpha, p float64) charge {
	c := charge{v1: v1, v2: alpha + m.beta*v1}
	c.choke = p + m.q*(c.v1-c.v2)
	return c
}

// drift is how state and magnetising current move with the magnetising current
// that the sweep began with.
type drift struct {
	charge
	iron float64
}

// pull is the volts at the anode in use for an ampere of magnetising current.
func (n *network) pull() float64 { return -n.ratio * n.part * n.series }

func (d *drift) next(st *stepper, oldSlope, inverse float64) {
	m := &st.matrix
	oldI := oldSlope * (st.sign*st.pull()*d.iron - d.v1)
	behind := -st.part * st.series * (st.sign*st.ratio*oldI + d.iron)
	iron := (d.iron + st.b*st.step*m.late*behind) * m.yields
	b, alpha, p := m.right(d.charge, rates{
		oldI - d.choke - (st.leak+st.load.leak)*d.v1 - st.load.dAnode*d.v2, d.choke - st.load.dRest*d.v2, d.v1 - d.v2 - st.ohms*d.choke,
	})
	drive := st.sign * st.pull() * iron
	d.charge = m.state((b+m.theta*st.slope*drive)*inverse, alpha, p)
	d.iron = iron - m.takes*st.sign*st.slope*(drive-d.v1)
}
