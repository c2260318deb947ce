package circuit

// rates are the right sides of the three equations at the step's beginning.
type rates struct{ c1, c2, l float64 }

// rates gives them at the state c with the current i of the rectifier.
func (st *stepper) rates(c charge, i, anode, rest float64) rates {
	return rates{i - c.choke - (st.leak+st.load.leak)*c.v1 - anode, c.choke - rest, c.v1 - c.v2 - st.ohms*c.choke}
}

// moved gives how they move when the state does by c and the current by i.
func (st *stepper) moved(c charge, i float64) rates {
	return st.rates(c, i, st.load.dAnode*c.v2, st.load.dRest*c.v2)
}

// matrix is one step of the three equations
//
//	C1 dv1 = i - choke - leak v1 - anode(v2)
//	C2 dv2 = choke - rest(v2)
//	L dchoke = v1 - v2 - ohms choke
//
// with the lower two put into the first. At the step's end choke = p + q (v1 - v2)
// and v2 = alpha + beta v1, which leaves a v1 = b + theta i.
type matrix struct {
	theta, late   float64 // weights of the step's end and of its beginning
	d1, d2        float64
	stays, drives float64 // of the choke's current and of the volts on it, in p
	q, beta, k2   float64
	anode         float64 // slope of the anode feed against v2, less q
	a, inverse    float64
	yields, takes float64 // the magnetising current over what it would be without ohms before it; less for an ampere of the rectifier
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
	sees := n.b * h / 2 * n.part * n.series // by the trapezoid always: it has no ringing to damp
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
