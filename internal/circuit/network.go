package circuit

import "math"

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
